"""Registry entries for place, weather, fuel supply, heat and time."""

from fluewright.quantity.meaning import (
    ABSOLUTE,
    CONDENSATE_FLOW,
    CONDENSATE_MASS,
    CURRENT,
    ENERGY,
    GAS_FLOW,
    GAUGE_PSI,
    HUMIDITY,
    HUMIDITY_RATIO,
    LENGTH,
    LONG_TIME,
    MASS_FLOW,
    MORE_THAN_NOTHING,
    NOT_NEGATIVE,
    OIL_FLOW,
    POWER,
    SHARE,
    TIME,
    VACUUM,
    WATER_FLOW,
    Possible,
    Quantity,
)

_AIR = Possible(
    30000.0, 120000.0, "people work between the highest mountain, 33 kPa, and mines and caissons little above 110 kPa"
)
_FIRED = "a pilot light to a large plant boiler"

PLACE: tuple[Quantity, ...] = (
    LENGTH.quantity(
        "altitude",
        "altitude above sea level",
        (-430.0, 5500.0),
        "the lowest shore and the highest lasting settlements (from memory)",
        aliases=("elevation", "height"),
    ),
    LENGTH.quantity(
        "length",
        "length",
        (0.0, 1000.0),
        "ducts, vents and rooms are shorter",
        possible=NOT_NEGATIVE,
    ),
    ABSOLUTE.quantity(
        "barometer",
        "barometric pressure at the place",
        (50000.0, 109000.0),
        "not reduced to sea level: 5500 m altitude to the highest sea-level pressure recorded (from memory)",
        aliases=("barometric_pressure", "atmospheric_pressure", "baro", "air_pressure"),
        kernel=("pressure", "barometer"),
        possible=_AIR,
    ),
    ABSOLUTE.quantity(
        "pressure",
        "absolute pressure",
        (500.0, 2.0e6),
        "water vapour in cold air to gas in a high-pressure main",
        aliases=("absolute_pressure", "vapour_pressure"),
        kernel=("pressure", "vapour_pressure"),
    ),
    HUMIDITY.quantity(
        "relative_humidity",
        "relative humidity",
        (0.02, 1.0),
        "air drier than 2 % or above saturation points to the sensor",
        aliases=("humidity", "rh"),
    ),
    HUMIDITY_RATIO.quantity(
        "humidity_ratio",
        "water vapour per dry air, by mass",
        (0.0, 0.05),
        "saturated air at 40 °C holds 0.049 (computed)",
        basis="dry",
        aliases=("mixing_ratio",),
    ),
    SHARE.quantity(
        "moisture",
        "water in the fuel as fired, share of mass",
        (0.0, 0.65),
        "green logs hold up to about 60 % water",
        basis="wet",
        aliases=("water_content", "moisture_content"),
        kernel=("moisture_fraction", "moisture"),
    ),
)

SUPPLY: tuple[Quantity, ...] = (
    POWER.quantity(
        "fuel_input",
        "gross heat input",
        (50.0, 1.0e8),
        _FIRED,
        basis="gross",
        aliases=("input", "heat_input", "nameplate_input"),
        possible=MORE_THAN_NOTHING,
    ),
    POWER.quantity(
        "fuel_input_net",
        "net heat input",
        (50.0, 1.0e8),
        _FIRED,
        basis="net",
        aliases=("input_net", "net_input"),
        possible=MORE_THAN_NOTHING,
    ),
    POWER.quantity(
        "heat_output",
        "heat delivered",
        (0.0, 1.0e8),
        _FIRED,
        aliases=("output", "heat_delivered"),
    ),
    ENERGY.quantity(
        "heat",
        "heat",
        (0.0, 1.0e15),
        "a year of the largest plant boiler",
        aliases=("energy",),
    ),
    GAS_FLOW.quantity(
        "gas_flow",
        "gas flow at the meter",
        (1.0e-6, 3.0),
        _FIRED,
        aliases=("meter_flow", "gas_rate"),
    ),
    OIL_FLOW.quantity(
        "oil_flow",
        "oil flow by volume",
        (2.0e-7, 3.0e-3),
        "the smallest vaporising burner to a plant boiler",
        aliases=("nozzle", "oil", "oil_rate", "nozzle_flow"),
    ),
    MASS_FLOW.quantity(
        "fuel_mass_flow",
        "fuel flow by mass",
        (1.0e-5, 5.0),
        "a small oil stove to a plant boiler",
        aliases=("oil_mass_flow", "fuel_mass", "wood_flow", "pellet_flow"),
    ),
    WATER_FLOW.quantity(
        "water_flow",
        "water flow by volume",
        (1.0e-6, 1.0),
        "a trickle at a tap to a plant main",
        aliases=("water", "circulation"),
    ),
    CONDENSATE_FLOW.quantity(
        "condensate_flow",
        "condensate flow",
        (0.0, 2.0),
        "methane gives at most 0.146 kg per kWh of gross heat (computed)",
        aliases=("condensate_rate",),
    ),
    CONDENSATE_MASS.quantity(
        "condensate_mass",
        "condensate collected",
        (0.0, 1000.0),
        "what a vessel holds",
        aliases=("condensate",),
    ),
    GAUGE_PSI.quantity(
        "oil_pressure",
        "oil pump pressure",
        (0.0, 4.0e6),
        "nozzle burners run from 100 psi to some 30 bar",
        aliases=("pump", "pump_pressure"),
        possible=NOT_NEGATIVE,
    ),
    VACUUM.quantity(
        "oil_vacuum",
        "pressure at the oil pump inlet",
        (-80000.0, 50000.0),
        "counted from room pressure and normally below it; oil gives off gas in deeper vacuum",
        aliases=("pump_vacuum", "vacuum"),
    ),
    CURRENT.quantity(
        "flame_current",
        "flame sensing current",
        (0.0, 2.0e-4),
        "rectified flame signals are a few microampere, oil sensors some tens",
        aliases=("flame", "flame_signal"),
    ),
)

TIMES: tuple[Quantity, ...] = (
    TIME.quantity(
        "duration",
        "duration",
        (0.0, 864000.0),
        "ten days is longer than any run watched from a visit",
        aliases=("time", "seconds"),
    ),
    LONG_TIME.quantity(
        "minutes_since_lit",
        "time since the burner lit",
        (0.0, 864000.0),
        "ten days is longer than any run watched from a visit",
        aliases=("since_lit", "lit"),
    ),
)

SITE: tuple[Quantity, ...] = PLACE + SUPPLY + TIMES
