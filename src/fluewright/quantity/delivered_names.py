"""Registry entries for heat delivered by air and by water."""

from fluewright.quantity.meaning import (
    AIR_FLOW,
    AREA,
    DIFFERENCE,
    GAUGE,
    LONG_TIME,
    PERCENT,
    POWER,
    RATIO,
    SHARE,
    TEMPERATURE,
    TURNS,
    VELOCITY,
    ZERO_CELSIUS,
    Quantity,
    Scale,
)

_C = ZERO_CELSIUS
_NEGATIVE = "it cannot be less than nothing"
_ELECTRIC = Scale("power", "W", "W", "W", 0.0, None, _NEGATIVE)
_PER_AIR = Scale("heat per volume and kelvin", "J/(m3·K)", "Btu/h per cfm·°F", "J/(m3·K)", 0.0, None, _NEGATIVE)
_PER_WATER = Scale("heat per volume and kelvin", "J/(m3·K)", "Btu/h per gpm·°F", "kWh/(m3·K)", 0.0, None, _NEGATIVE)
_GAP = Scale("power", "W", "kBtu/h", "kW")
_BLOWERS = "a fan coil to a large air handler"
_STATIC = "blowers of houses make up to some 1.5 in w.c. (common practice, no source)"

_AIR_SIDE: tuple[Quantity, ...] = (
    TEMPERATURE.quantity(
        "return_air_temperature",
        "return air temperature",
        (_C - 20.0, _C + 50.0),
        "an unheated shed to a drying room",
    ),
    TEMPERATURE.quantity(
        "supply_air_temperature",
        "supply air temperature",
        (_C - 10.0, _C + 120.0),
        "limit switches open below some 120 °C (common practice, no source)",
    ),
    DIFFERENCE.quantity(
        "air_rise",
        "temperature rise of the air",
        (0.0, 70.0),
        "plates allow at most some 100 °F (common practice, no source)",
    ),
    GAUGE.quantity("supply_static", "static pressure of the supply", (-50.0, 1000.0), _STATIC),
    GAUGE.quantity("return_static", "static pressure of the return", (-1000.0, 50.0), _STATIC),
    GAUGE.quantity("external_static", "total external static pressure", (0.0, 1000.0), _STATIC),
    GAUGE.quantity("static_pressure", "static pressure", (-1000.0, 1000.0), _STATIC),
    GAUGE.quantity("filter_drop", "pressure drop of the filter", (0.0, 400.0), _STATIC),
    GAUGE.quantity("coil_drop", "pressure drop of the coil", (0.0, 400.0), _STATIC),
    GAUGE.quantity("supply_drop", "pressure drop of the supply ducts", (0.0, 600.0), _STATIC),
    GAUGE.quantity("return_drop", "pressure drop of the return ducts", (0.0, 600.0), _STATIC),
    GAUGE.quantity("static_unexplained", "static pressure unaccounted for", (-250.0, 250.0), _STATIC),
    GAUGE.quantity(
        "velocity_pressure",
        "velocity pressure",
        (0.0, 1000.0),
        "40 m/s in a duct is loud",
        kernel=("velocity_pressure", "velocity_pressures"),
    ),
    VELOCITY.quantity("duct_velocity", "air velocity in the duct", (0.0, 40.0), "40 m/s in a duct is loud"),
    AREA.quantity("duct_area", "area of the duct", (0.001, 10.0), "a hose to the trunk of a hall"),
    AIR_FLOW.quantity("air_flow", "air flow", (0.001, 100.0), _BLOWERS, kernel=("air_flow",)),
    _PER_AIR.quantity(
        "air_factor",
        "heat that this air carries",
        (400.0, 1800.0),
        "hot air on a high mountain to winter air",
    ),
    TURNS.quantity("fan_speed", "speed of the fan", (0.5, 100.0), "a belt-driven wheel to a small motor's own"),
    _ELECTRIC.quantity("fan_power", "power of the fan", (1.0, 50_000.0), _BLOWERS),
    _ELECTRIC.quantity("blower_power", "electric power of the blower", (1.0, 50_000.0), _BLOWERS),
    RATIO.quantity("system_exponent", "exponent of the system curve", (0.8, 2.5), "laminar media to rough ducts"),
)

_WATER_SIDE: tuple[Quantity, ...] = (
    SHARE.quantity("glycol_share", "glycol in the water, share of mass", (0.05, 0.6), "less protects nothing"),
    DIFFERENCE.quantity("water_rise", "temperature rise of the water", (0.0, 60.0), "a boiler in its circuit"),
    _PER_WATER.quantity(
        "water_factor",
        "heat that this liquid carries",
        (3.0e6, 4.3e6),
        "strong glycol to cold water",
    ),
)

_BALANCE: tuple[Quantity, ...] = (
    POWER.quantity("pilot_input", "gross input of the pilot", (10.0, 2000.0), "pilots burn some 100 to 500 W"),
    POWER.quantity(
        "idle_loss", "heat lost while the burner is off", (0.0, 1.0e6), "a tight small boiler to a plant boiler"
    ),
    SHARE.quantity("run_fraction", "share of the time that the burner is on", (0.0, 1.0), "from never to always"),
    LONG_TIME.quantity("burner_on_time", "time with the burner on", (0.0, 864000.0), "ten days is beyond any watch"),
    LONG_TIME.quantity("burner_off_time", "time with the burner off", (0.0, 864000.0), "ten days is beyond any watch"),
    POWER.quantity(
        "fuel_input_mean", "mean gross heat input", (0.0, 1.0e8), "a pilot light to a large plant boiler", basis="gross"
    ),
    POWER.quantity("heat_output_mean", "mean heat delivered", (0.0, 1.0e8), "a pilot light to a large plant boiler"),
    PERCENT.quantity(
        "carbon_dioxide_gap",
        "carbon dioxide read less expected from oxygen",
        (-0.2, 0.2),
        "more is another gas altogether",
        basis="dry",
    ),
    _GAP.quantity("input_gap", "difference of two ways to the input", (-1.0e7, 1.0e7), "a tenth of a large boiler"),
    _GAP.quantity("heat_gap", "heat unaccounted for", (-1.0e7, 1.0e7), "a tenth of a large plant boiler"),
)

DELIVERED: tuple[Quantity, ...] = _AIR_SIDE + _WATER_SIDE + _BALANCE
