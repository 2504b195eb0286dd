"""Registry entries for gas input: meter count, orifice, height, another gas."""

from fluewright.quantity.meaning import (
    MORE_THAN_NOTHING,
    POSITIVE_PERCENT,
    POWER,
    RATIO,
    ROOM_VOLUME,
    SHARE,
    SMALL_LENGTH,
    TIME,
    Possible,
    Quantity,
    Scale,
)

_INDEX = Scale("ratio", "1", "1", "1")
_DISCHARGE = Possible(0.0, 1.0, "a hole passes something, and no more than the ideal flow", exclusive=True)
_FIRED = "a pilot light to a large plant boiler"
_SAME_GAS = "a burner set for one gas is not run on one so different"

METER: tuple[Quantity, ...] = (
    ROOM_VOLUME.quantity(
        "metered_volume",
        "gas counted by the meter",
        (1.0e-4, 1.0e4),
        "a tenth of a litre to an hour of a plant boiler",
        aliases=("counted_gas",),
        kernel=("volume", "metered_volume"),
    ),
    ROOM_VOLUME.quantity(
        "volume_step",
        "step of the meter",
        (0.0, 10.0),
        "meters show steps from a tenth of a litre to ten cubic metres",
        possible=MORE_THAN_NOTHING,
    ),
    TIME.quantity(
        "time_step",
        "how near start and stop were caught",
        (0.0, 60.0),
        "a hand on a watch is within half a second",
    ),
    POSITIVE_PERCENT.quantity(
        "meter_accuracy",
        "how far off the meter may be by its own check",
        (0.001, 0.1),
        "a standard of a laboratory to a meter due for scrap",
        possible=MORE_THAN_NOTHING,
    ),
    POSITIVE_PERCENT.quantity(
        "count_resolution",
        "steps of meter and watch over what was counted",
        (0.0, 1.0),
        "one step counted is all there is",
        kernel=("count_resolution", "resolution"),
    ),
    RATIO.quantity(
        "volume_correction",
        "volume at the reference for each volume counted",
        (0.5, 10.0),
        "5500 m of altitude to gas metered at some bar",
        aliases=("state_number",),
        possible=MORE_THAN_NOTHING,
    ),
    RATIO.quantity(
        "gross_net_ratio",
        "gross over net heating value",
        (1.0, 1.2),
        "1.00 for carbon monoxide to 1.18 for hydrogen (computed)",
    ),
)

INPUT: tuple[Quantity, ...] = (
    POWER.quantity(
        "derated_input", "heat input allowed at this height", (50.0, 1.0e8), _FIRED, basis="gross", aliases=("derated",)
    ),
    POWER.quantity("fuel_input_after", "gross heat input after the change", (50.0, 1.0e8), _FIRED, basis="gross"),
    POSITIVE_PERCENT.quantity(
        "input_of_plate",
        "heat input as a share of that allowed",
        (0.2, 2.0),
        "half to double the plate is a wrong orifice, a wrong gas or a misread dial",
    ),
    SHARE.quantity(
        "altitude_share",
        "share of the sea-level input allowed",
        (0.5, 1.0),
        "nobody lives where less than half is left",
        kernel=("altitude_share",),
    ),
    POSITIVE_PERCENT.quantity(
        "manifold_of_plate",
        "manifold pressure as a share of the plate's",
        (0.3, 3.0),
        "beyond that another pressure was read, or another gas is on the plate",
    ),
    RATIO.quantity("input_ratio", "input for each unit of input before", (0.2, 5.0), _SAME_GAS),
)

ORIFICE: tuple[Quantity, ...] = (
    SMALL_LENGTH.quantity(
        "orifice_diameter",
        "diameter of the orifice",
        (1.0e-4, 0.05),
        "pilot orifices of a few tenths of a millimetre to large burners",
        aliases=("orifice",),
        kernel=("diameter",),
        possible=MORE_THAN_NOTHING,
    ),
    RATIO.quantity(
        "orifice_discharge",
        "discharge coefficient of the orifice",
        (0.5, 1.0),
        "a sharp edge passes 0.6 of the ideal flow, a drilled spud 0.8 to 0.9 (from memory)",
        kernel=("discharge",),
        possible=_DISCHARGE,
    ),
)

ANOTHER_GAS: tuple[Quantity, ...] = (
    RATIO.quantity("heat_rate_ratio", "heat input with the new gas over that before", (0.2, 5.0), _SAME_GAS),
    RATIO.quantity("air_ratio_later", "air ratio with the new gas", (0.5, 5.0), "richer or leaner burns no more"),
    RATIO.quantity("primary_air_ratio", "air asked for with the new gas over that before", (0.2, 5.0), _SAME_GAS),
    _INDEX.quantity("lifting_index", "lifting index", (-5.0, 20.0), _SAME_GAS),
    _INDEX.quantity("flash_back_index", "flash-back index", (-20.0, 20.0), _SAME_GAS),
)

GAS_INPUT: tuple[Quantity, ...] = METER + INPUT + ORIFICE + ANOTHER_GAS
