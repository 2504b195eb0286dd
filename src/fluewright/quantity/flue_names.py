"""Registry entries for what is read at the flue and in the room: gases, temperatures, draft, smoke."""

from fluewright.quantity.gas_names import GASES
from fluewright.quantity.meaning import (
    DIFFERENCE,
    GAUGE,
    GAUGE_HPA,
    MORE_THAN_NOTHING,
    ON_EARTH,
    PERCENT,
    POSITIVE_PERCENT,
    RATIO,
    SPOT,
    TEMPERATURE,
    ZERO_CELSIUS,
    Quantity,
)

_C = ZERO_CELSIUS
TEMPERATURES: tuple[Quantity, ...] = (
    TEMPERATURE.quantity(
        "flue_temperature",
        "flue-gas temperature",
        (_C - 20.0, _C + 900.0),
        "flue gas is no colder than winter air and above 900 °C the probe is in the flame",
        aliases=("flue", "stack", "stack_temperature", "flue_gas_temperature"),
    ),
    TEMPERATURE.quantity(
        "air_temperature",
        "combustion-air temperature",
        (_C - 50.0, _C + 350.0),
        "outdoor air in the hardest winter to air behind a preheater",
        aliases=("air", "combustion_air", "combustion_air_temperature"),
    ),
    TEMPERATURE.quantity(
        "room_temperature",
        "room temperature",
        (_C - 20.0, _C + 60.0),
        "an unheated cellar in winter to a boiler house in summer",
        aliases=("room", "ambient", "ambient_temperature"),
    ),
    TEMPERATURE.quantity(
        "outdoor_temperature",
        "outdoor temperature",
        (_C - 60.0, _C + 55.0),
        "coldest and hottest inhabited places (from memory)",
        aliases=("outdoor", "outside", "outside_temperature"),
    ),
    TEMPERATURE.quantity(
        "fuel_temperature",
        "temperature of the fuel as it arrives",
        (_C - 40.0, _C + 150.0),
        "outdoor tank in winter to preheated heavy oil (common practice, no source)",
        possible=ON_EARTH,
    ),
    TEMPERATURE.quantity(
        "trap_temperature",
        "temperature where the sample last touched water",
        (_C - 5.0, _C + 60.0),
        "a trap hangs in the room or in a cooler",
        aliases=("trap", "cooler_temperature"),
    ),
    TEMPERATURE.quantity(
        "diluted_temperature",
        "temperature of flue gas mixed with room air",
        (_C - 20.0, _C + 600.0),
        "no colder than winter air, no hotter than undiluted flue gas",
        aliases=("diluted", "vent_temperature"),
    ),
    TEMPERATURE.quantity(
        "water_dew_point",
        "water dew point of the flue gas",
        (_C - 10.0, _C + 100.0),
        "flue gas from methane in exact air has its dew point near 59 °C, pure hydrogen near 73 °C (computed)",
        aliases=("dew_point", "dewpoint"),
    ),
    TEMPERATURE.quantity(
        "acid_dew_point",
        "acid dew point of the flue gas",
        (_C + 40.0, _C + 180.0),
        "correlations for oil and coal run from about 90 to 160 °C",
        aliases=("acid",),
    ),
    TEMPERATURE.quantity(
        "return_water_temperature",
        "return water temperature",
        (_C + 2.0, _C + 120.0),
        "colder it freezes, hotter it is a pressurised plant",
        aliases=("return", "return_water", "return_temperature"),
    ),
    TEMPERATURE.quantity(
        "supply_water_temperature",
        "supply water temperature",
        (_C + 2.0, _C + 150.0),
        "colder it freezes, hotter it is a pressurised plant",
        aliases=("supply_water", "supply_temperature", "flow_temperature"),
    ),
    TEMPERATURE.quantity(
        "wet_bulb_temperature",
        "wet-bulb temperature",
        (_C - 40.0, _C + 40.0),
        "human beings do not survive a wet bulb far above 35 °C",
        aliases=("wet_bulb", "wetbulb"),
    ),
    TEMPERATURE.quantity(
        "temperature",
        "temperature",
        (_C - 60.0, _C + 2500.0),
        "the coldest winter air to the hottest air-fed flame",
    ),
    DIFFERENCE.quantity(
        "temperature_difference",
        "temperature difference",
        (-100.0, 1000.0),
        "two temperatures on one appliance are rarely further apart",
        aliases=("rise", "temperature_rise", "delta_t", "net_temperature"),
    ),
)

DRAFT_AND_SMOKE: tuple[Quantity, ...] = (
    GAUGE.quantity(
        "draft",
        "draft",
        (-250.0, 250.0),
        "counted from the room: chimneys pull to 100 Pa, vent fans stay below 1 in w.c. (common practice, no source)",
        aliases=("draught", "flue_draft", "overfire_draft"),
        kernel=("draft_pressure", "draft"),
    ),
    GAUGE_HPA.quantity(
        "gas_pressure",
        "gas pressure",
        (0.0, 35000.0),
        "appliance trains work below 5 psi",
        aliases=("manifold", "supply", "gas", "manifold_pressure", "supply_pressure", "burner_pressure"),
    ),
    SPOT.quantity(
        "smoke_spot",
        "smoke spot number",
        (0.0, 9.0),
        "the smoke scale has ten spots, 0 to 9",
        aliases=("smoke", "soot", "spot"),
        kernel=("smoke_spot_number", "smoke_spot"),
    ),
)

STATE: tuple[Quantity, ...] = (
    PERCENT.quantity(
        "excess_air",
        "excess air",
        (-0.3, 10.0),
        "below -30 % a flame soots out, above 1000 % the sample is nearly room air",
        aliases=("excess",),
    ),
    PERCENT.quantity(
        "excess_air_method_3b",
        "excess air by Method 3B",
        (-0.3, 10.0),
        "below -30 % a flame soots out, above 1000 % the sample is nearly room air",
    ),
    RATIO.quantity(
        "air_ratio",
        "air ratio",
        (0.7, 11.0),
        "below 0.7 a flame soots out, above 11 the sample is nearly room air",
        aliases=("lambda",),
        possible=MORE_THAN_NOTHING,
    ),
    RATIO.quantity(
        "equivalence_ratio",
        "fuel-air equivalence ratio",
        (0.09, 1.4),
        "the inverse of an air ratio between 0.7 and 11",
        aliases=("phi",),
    ),
    POSITIVE_PERCENT.quantity(
        "firing_rate",
        "firing rate as a share of full input",
        (0.02, 1.2),
        "few burners turn down below a fiftieth or fire a fifth above their plate",
        aliases=("rate", "load"),
    ),
)

FLUE: tuple[Quantity, ...] = GASES + TEMPERATURES + DRAFT_AND_SMOKE + STATE
