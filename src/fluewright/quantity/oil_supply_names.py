"""Registry entries for oil supply, nozzle and smoke."""

from fluewright.quantity.meaning import (
    GAUGE_PSI,
    LENGTH,
    MORE_THAN_NOTHING,
    NOT_NEGATIVE,
    OIL_FLOW,
    ON_EARTH,
    PERCENT,
    RATIO,
    SHARE,
    SMALL_LENGTH,
    TEMPERATURE,
    TIME,
    VISCOSITY,
    ZERO_CELSIUS,
    Possible,
    Quantity,
    Scale,
)

_LIFT = Possible(-100.0, 15.0, "the air pushes oil no higher than some 12 m, and no tank stands 100 m above a burner")
_DEPTH = Scale(
    "pressure",
    "Pa",
    "inHg",
    "mbar",
    0.0,
    108500.0,
    "a vacuum is counted downwards from the room and ends where nothing is left; an oil that pushes has none",
)

_OF_THE_SUPPLY: tuple[Quantity, ...] = (
    OIL_FLOW.quantity(
        "nozzle_rated_flow",
        "flow stamped on the nozzle",
        (2.0e-7, 1.0e-4),
        "the smallest nozzle of a house to a large one of a plant",
        kernel=("rated_flow",),
        possible=MORE_THAN_NOTHING,
    ),
    GAUGE_PSI.quantity(
        "nozzle_rated_pressure",
        "pressure at which the stamped flow counts",
        (6.0e5, 1.1e6),
        "100 psi in the US, 10 bar elsewhere (from memory)",
        kernel=("rated_pressure",),
        possible=MORE_THAN_NOTHING,
    ),
    TEMPERATURE.quantity(
        "oil_temperature",
        "oil temperature",
        (ZERO_CELSIUS - 35.0, ZERO_CELSIUS + 140.0),
        "a tank in a hard winter to preheated heavy oil",
        kernel=("oil_temperature", "cold_temperature", "warm_temperature"),
        possible=ON_EARTH,
    ),
    VISCOSITY.quantity(
        "oil_viscosity",
        "kinematic viscosity of the oil",
        (0.8e-6, 1.0e-3),
        "hot kerosene to cold heavy oil",
        kernel=("viscosity", "cold_viscosity", "warm_viscosity"),
        possible=MORE_THAN_NOTHING,
    ),
    RATIO.quantity(
        "viscosity_exponent",
        "power of the viscosity that the flow of a nozzle follows",
        (0.0, 0.4),
        "nothing to what is told of the smallest nozzles (common practice, no source)",
    ),
    PERCENT.quantity(
        "oil_flow_change",
        "change of the oil burned per hour",
        (-0.5, 0.6),
        "cold and heat between them rarely change a nozzle by half",
    ),
    LENGTH.quantity(
        "suction_lift",
        "height of the pump above the oil",
        (-10.0, 8.0),
        "an oil pump hardly lifts higher; below nothing the tank stands above it",
        possible=_LIFT,
    ),
    LENGTH.quantity(
        "oil_line_length",
        "length of the oil line",
        (0.0, 60.0),
        "tanks of houses stand nearer",
        kernel=("line_length",),
        possible=NOT_NEGATIVE,
    ),
    SMALL_LENGTH.quantity(
        "oil_line_bore",
        "inner width of the oil line",
        (0.003, 0.03),
        "a quarter-inch tube to a pipe of an inch",
        kernel=("line_bore",),
        possible=MORE_THAN_NOTHING,
    ),
    _DEPTH.quantity(
        "suction_vacuum",
        "vacuum at the oil pump",
        (0.0, 85000.0),
        "oil gives off gas in deeper vacuum",
    ),
    PERCENT.quantity(
        "cutoff_fall",
        "fall of the pump pressure after cut-off",
        (-0.05, 1.0),
        "a sound pump holds most of its pressure, one that leaks holds none",
    ),
    TIME.quantity(
        "ignition_time",
        "time from oil on to flame",
        (0.0, 120.0),
        "the safety time of any burner has ended by then",
    ),
    TIME.quantity(
        "lock_out_time", "time to lock-out without a flame", (1.0, 180.0), "controls of oil burners, old ones included"
    ),
)

_OF_SMOKE: tuple[Quantity, ...] = (
    SHARE.quantity(
        "smoke_transmission",
        "light that passes the spot",
        (0.0, 1.0),
        "a clean paper to a black one",
        kernel=("transmission",),
    ),
    SHARE.quantity(
        "smoke_reflectance",
        "light that the spot throws back, against clean paper",
        (0.0, 1.0),
        "a clean paper to a black one",
        kernel=("reflectance",),
    ),
    PERCENT.quantity(
        "oxygen_margin",
        "oxygen added above the knee",
        (0.0, 0.04),
        "half a point to two for weather and wear (common practice, no source)",
    ),
)

OIL_SUPPLY: tuple[Quantity, ...] = _OF_THE_SUPPLY + _OF_SMOKE
