"""Registry entries for air for burning: rooms, openings, fans, and what flames and rules ask for."""

from fluewright.quantity.meaning import (
    AIR_FLOW,
    AREA,
    PER_HOUR,
    POWER,
    RATIO,
    ROOM_VOLUME,
    SHARE,
    SMALL_GAUGE,
    SMALL_LENGTH,
    VOLUME_PER_HEAT,
    Quantity,
    Scale,
)

_NEGATIVE = "it cannot be less than nothing"
_FLOWS = "a pilot light to a plant room with its fans"

ROOM_PER_INPUT = Scale("volume per power", "m3/W", "ft3/kBtu/h", "m3/kW", 0.0, None, _NEGATIVE)
OPENING_PER_INPUT = Scale("area per power", "m2/W", "in2/kBtu/h", "cm2/kW", 0.0, None, _NEGATIVE)
BALANCE = Scale("volume flow", "m3/s", "cfm", "m3/h")

OPENINGS: tuple[Quantity, ...] = (
    AREA.quantity(
        "opening_area",
        "area of an opening",
        (0.0, 2.0),
        "a blocked grille to an open gate",
        kernel=("opening_area", "free_area", "opening_base", "opening_least"),
    ),
    AREA.quantity("opening_needed", "free area of opening asked for", (0.0, 20.0), "a pilot light to a plant room"),
    SMALL_LENGTH.quantity("opening_side", "shortest side of an opening", (0.005, 3.0), "a slot to a gate"),
    SHARE.quantity(
        "free_share",
        "free share of a grille",
        (0.05, 1.0),
        "a wooden louvre leaves about a quarter, a bare hole all of it",
        aliases=("louvre_free", "louver_free"),
    ),
    RATIO.quantity(
        "discharge_coefficient",
        "share of the ideal flow that passes an opening",
        (0.3, 1.0),
        "a dense grille to a rounded inlet",
    ),
    SMALL_GAUGE.quantity(
        "air_supply_pressure",
        "pressure that drives air into the room",
        (0.0, 100.0),
        "outdoors above room; more than some tens of pascals moves doors",
    ),
)

FLOWS: tuple[Quantity, ...] = (
    AIR_FLOW.quantity(
        "exhaust_flow",
        "air that a fan takes out of the room",
        (0.0, 20.0),
        "a bath fan to the hood of a large kitchen",
        aliases=("fan_flow",),
    ),
    AIR_FLOW.quantity("burning_air_flow", "air that the flames take", (0.0, 50.0), _FLOWS),
    AIR_FLOW.quantity(
        "room_air_supply", "air that comes into the room", (0.0, 50.0), _FLOWS, kernel=("supply_flow", "leakage_flow")
    ),
    BALANCE.quantity("room_air_left", "air left for the flames", (-50.0, 50.0), _FLOWS),
)

ASKED: tuple[Quantity, ...] = (
    ROOM_VOLUME.quantity(
        "room_volume_needed", "room volume asked for", (0.0, 100_000.0), "a small heater to a plant room"
    ),
    ROOM_PER_INPUT.quantity(
        "room_volume_per_input", "room volume per heat input", (1e-4, 1e-2), "rules ask for 2 to 5 m3 per kW"
    ),
    OPENING_PER_INPUT.quantity(
        "opening_per_input", "free area per heat input", (1e-8, 1e-5), "rules ask for 1 to 25 cm2 per kW"
    ),
    POWER.quantity(
        "fuel_input_fan_assisted", "heat input of fan-assisted appliances", (0.0, 1.0e8), "none to a large plant boiler"
    ),
    POWER.quantity("free_input", "heat input that needs no opening", (0.0, 1.0e6), "rules free 5 to 100 kW"),
    PER_HOUR.quantity(
        "most_air_changes", "most air changes that a rule counts", (1e-5, 1e-3), "rules cap at 0.6 an hour or so"
    ),
    VOLUME_PER_HEAT.quantity(
        "air_per_heat",
        "air per heat burned, as the room counts it",
        (1e-7, 5e-6),
        "about 0.27 m3 per MJ at exact air; rules ask for up to twice as much",
        kernel=("air_per_heat", "air_per_heat_fan_assisted"),
    ),
)

BURNING_AIR: tuple[Quantity, ...] = OPENINGS + FLOWS + ASKED
