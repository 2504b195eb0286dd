"""Registry entries for draft, vents and pressures of the house."""

from fluewright.quantity.meaning import (
    AIR_FLOW,
    DENSITY,
    GAUGE,
    LENGTH,
    PER_HOUR,
    RATIO,
    SMALL_GAUGE,
    TEMPERATURE,
    TIME,
    WIND,
    ZERO_CELSIUS,
    Quantity,
    Scale,
)

_C = ZERO_CELSIUS
_EITHER_WAY = Scale("ratio", "1", "1", "1")
_FLUE = (-250.0, 250.0)
_COUNTED = "counted from the room, below zero where the chimney pulls; chimneys pull to 100 Pa (common practice)"

PLACES: tuple[Quantity, ...] = (
    GAUGE.quantity("draft_over_fire", "draft over the fire", _FLUE, _COUNTED),
    GAUGE.quantity("draft_breech", "draft at the breech", _FLUE, _COUNTED),
    GAUGE.quantity("draft_above_hood", "draft above the hood", _FLUE, _COUNTED),
    GAUGE.quantity("draft_common_flue", "draft in the common flue", _FLUE, _COUNTED),
    GAUGE.quantity(
        "draft_drop",
        "draft lost between fire and breech",
        (-50.0, 150.0),
        "a clean boiler takes a few pascals, a choked one some tens (common practice, no source)",
    ),
)

CHIMNEY: tuple[Quantity, ...] = (
    LENGTH.quantity(
        "chimney_height",
        "height of the chimney over the appliance",
        (0.5, 120.0),
        "a stub through the roof to the stack of a plant",
        kernel=("height", "distance"),
    ),
    TEMPERATURE.quantity(
        "mean_flue_temperature",
        "mean temperature of the gas in the chimney",
        (_C - 20.0, _C + 700.0),
        "no colder than winter air; hotter the chimney burns",
    ),
    DENSITY.quantity(
        "gas_density",
        "density of air or flue gas",
        (0.2, 1.8),
        "flue gas of a furnace to air of the hardest winter",
        kernel=("density", "outdoor_density", "flue_density"),
    ),
    GAUGE.quantity(
        "chimney_pull",
        "pull of the chimney at rest",
        (-50.0, 1500.0),
        "a stub to a stack of 120 m; above zero it pulls",
        kernel=("draft", "flow_loss"),
    ),
    GAUGE.quantity(
        "chimney_pull_left",
        "pull left at the foot of the chimney",
        (-100.0, 1500.0),
        "wind and fans may take all of it",
    ),
    WIND.quantity("wind_speed", "wind speed", (0.0, 40.0), "still air to a gale that nobody works in"),
    _EITHER_WAY.quantity(
        "wind_coefficient",
        "pressure coefficient of the wind",
        (-1.5, 1.0),
        "1 where wind is stopped, below zero in its lee",
        kernel=("pressure_coefficient",),
    ),
    SMALL_GAUGE.quantity(
        "wind_pressure", "pressure of wind on the mouth", (-150.0, 150.0), "a gale of 15 m/s stops at 135 Pa"
    ),
)

HOUSE: tuple[Quantity, ...] = (
    SMALL_GAUGE.quantity(
        "house_pressure",
        "pressure of the room against outdoors",
        (-60.0, 60.0),
        "below zero the room is drawn down; at more than 50 Pa doors no longer open",
    ),
    SMALL_GAUGE.quantity(
        "house_pressure_change",
        "change of the room's pressure by the fans",
        (-60.0, 60.0),
        "below zero fans draw the room down; at more than 50 Pa doors no longer open",
    ),
    SMALL_GAUGE.quantity(
        "depressurisation",
        "how far the room is drawn below outdoors",
        (-60.0, 60.0),
        "at more than 50 Pa doors no longer open",
        kernel=("depressurisation", "test_pressure"),
    ),
    AIR_FLOW.quantity(
        "leak_flow", "flow of a leakage test", (0.005, 20.0), "a tight flat to a leaky old house, at 50 Pa"
    ),
    PER_HOUR.quantity(
        "tested_air_changes",
        "air changes of a leakage test",
        (0.0001, 0.015),
        "a passive house has 0.6 an hour at 50 Pa, a leaky old one up to about 40 (common practice, no source)",
    ),
    RATIO.quantity(
        "leakage_exponent",
        "exponent of the leaks",
        (0.5, 1.0),
        "0.5 for holes, 1 for fine cracks",
        kernel=("exponent",),
    ),
)

VENTS: tuple[Quantity, ...] = (
    TIME.quantity(
        "spill_time", "time until it stopped spilling", (0.0, 1800.0), "nobody lets a hood spill for half an hour"
    ),
    TEMPERATURE.quantity(
        "vent_limit_temperature",
        "temperature marked on the vent",
        (_C + 40.0, _C + 800.0),
        "plastic pipe from about 65 °C to factory-built chimneys (common practice, no source)",
    ),
    TEMPERATURE.quantity(
        "hottest_flue_temperature",
        "flue temperature with the hottest water",
        (_C, _C + 900.0),
        "a condensing appliance on cold water to a furnace",
    ),
    TEMPERATURE.quantity(
        "water_temperature",
        "water temperature when the flue was read",
        (_C + 2.0, _C + 150.0),
        "colder it freezes, hotter it is a pressurised plant",
    ),
    TEMPERATURE.quantity(
        "hottest_water_temperature",
        "hottest water that the control allows",
        (_C + 20.0, _C + 150.0),
        "a heated floor to a pressurised plant",
    ),
    RATIO.quantity(
        "flue_follows_water",
        "how far the flue follows the water",
        (0.0, 2.0),
        "kelvins of flue for each kelvin of water, about one",
    ),
)

HOOD: tuple[Quantity, ...] = (
    RATIO.quantity(
        "air_added",
        "room air let in for each volume of dry flue gas",
        (0.0, 10.0),
        "a hood lets in about as much air as there is flue gas, an open damper several times as much",
    ),
    _EITHER_WAY.quantity(
        "air_added_difference",
        "air let in by temperature less that by gas",
        (-5.0, 5.0),
        "the two ways differ by what mixes badly and what the hood cools",
    ),
)

DRAFT: tuple[Quantity, ...] = PLACES + CHIMNEY + HOUSE + VENTS + HOOD
