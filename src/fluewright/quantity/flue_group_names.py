"""Registry entries for a flue and the appliances that hang on it."""

from fluewright.quantity.meaning import AREA, GAUGE, LENGTH, MASS_FLOW, SHARE, SMALL_GAUGE, SMALL_LENGTH, Quantity

FLUE_GROUP: tuple[Quantity, ...] = (
    LENGTH.quantity(
        "flue_height", "height above the floor the appliances stand on", (-5.0, 100.0), "a cellar to a stack"
    ),
    LENGTH.quantity(
        "connector_length", "length of a connector", (0.0, 30.0), "a connector runs through a plant room at most"
    ),
    SMALL_LENGTH.quantity(
        "flue_diameter", "inside diameter of a flue or connector", (0.04, 3.0), "a small vent to a stack"
    ),
    AREA.quantity(
        "hood_opening", "free opening of a draft hood or damper to the room", (1e-4, 2.0), "a small hood to a big one"
    ),
    GAUGE.quantity(
        "draft_predicted",
        "draft predicted at the opening, against the room",
        (-250.0, 250.0),
        "counted from the room; above 0 gas comes out",
    ),
    SMALL_GAUGE.quantity(
        "room_pressure_at_spill",
        "pressure of the room, against outdoors, below which it spills",
        (-200.0, 60.0),
        "below what fans can do it never comes to that",
    ),
    GAUGE.quantity(
        "draft_gap", "measured draft less predicted", (-100.0, 100.0), "a flue that is not what was typed in"
    ),
    MASS_FLOW.quantity(
        "diluting_air", "room air drawn in at the opening", (0.0, 5.0), "a heater's hood to a big damper"
    ),
    MASS_FLOW.quantity(
        "spilled_gas", "gas that comes out into the room", (0.0, 5.0), "a heater's hood to a blocked stack"
    ),
    SHARE.quantity(
        "flue_share", "share of what goes up the flue", (0.0, 1.0), "one of several appliances to the only one"
    ),
)
