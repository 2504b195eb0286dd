"""Registry entries for adjusting: swings of the year, play of linkages, positions of a curve set."""

from fluewright.quantity.meaning import GAS_PERCENT, PERCENT, POSITIVE_PERCENT, SHARE, Possible, Quantity

ADJUSTING: tuple[Quantity, ...] = (
    PERCENT.quantity(
        "wobbe_swing",
        "change of the Wobbe index of the gas",
        (-0.15, 0.15),
        "a distribution network keeps its gas within about a tenth (from memory)",
        kernel=("wobbe_change",),
        possible=Possible(-0.5, 1.0, "gas with half or twice the Wobbe index is another family of gas"),
    ),
    GAS_PERCENT.quantity(
        "oxygen_play",
        "oxygen by which linkage and control play",
        (0.0, 0.03),
        "worn linkages play by a point or two (common practice, no source)",
        possible=Possible(0.0, 0.1, "a linkage that plays by ten points of oxygen holds nothing"),
    ),
    PERCENT.quantity(
        "air_wanted_change",
        "change of the air that a step asks for",
        (-0.5, 1.0),
        "no step takes half of the air away or doubles it",
    ),
    SHARE.quantity(
        "actuator_position",
        "position of an actuator",
        (0.0, 1.0),
        "from its closed to its open stop",
    ),
    POSITIVE_PERCENT.quantity(
        "blower_speed_share",
        "speed of the fan as a share of full speed",
        (0.05, 1.2),
        "fans of burners turn down to about a tenth",
    ),
    SHARE.quantity(
        "flue_gas_returned",
        "flue gas led back to the burner on purpose",
        (0.0, 0.3),
        "low-NOx burners take back up to a quarter (from memory)",
    ),
)
