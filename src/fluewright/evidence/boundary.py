"""Whether the two temperatures of a stretch enclose the appliance at one boundary, and what a stray one does."""

from fluewright.evidence.finding import Finding, unsettled
from fluewright.evidence.flue import Worked
from fluewright.evidence.reading import Stretch
from fluewright.kernel import ops

BELONGS = {
    "appliance in room": ("room", "collar"),
    "collar to collar": ("collar", "collar"),
    "terminal to outdoors": ("outdoors", "terminal"),
    "with economiser": ("room", "after economiser"),
}
"""Where air and flue temperature must be read for each boundary (practice P3)."""
WARMED = 313.15
"""K: air that a concentric vent has warmed on its way in, for saying how much a mixed boundary can matter."""
WARMER = ("collar", "room")
"""Where air is read warmer than outdoors."""
TOO_COLD_FOR_A_ROOM = 283.15
"""K: air colder than this is seldom that of a room with an appliance in it (common practice, no source)."""


def _if_warmed(worked: Worked) -> float:
    """Points of loss that would go if the air had reached the burner at WARMED."""
    taken = worked.taken
    cold = float(ops.value_of(taken.air_temperature))
    if cold >= WARMED:
        return 0.0
    flue, carriers = worked.flue, taken.prepared.carriers
    more = ops.polynomial(WARMED, carriers.air) - ops.polynomial(cold, carriers.air)
    return float(ops.value_of(flue.air * more / taken.prepared.fuel.heating_value_gross)) * 100.0


def _air_astray(worked: Worked, stretch: Stretch, wanted: str) -> str:
    """What an air temperature from elsewhere does to the loss."""
    if stretch.air_at in WARMER and wanted not in WARMER:
        return "air warmer than that of this boundary makes the loss look too low"
    return (
        "heat that came back with the incoming air is then counted twice: if the air was warmed to 40 °C on its way "
        f"in, the loss is too high by up to {_if_warmed(worked):.1f} points"
    )


def _flue_astray(stretch: Stretch) -> str:
    """What a flue temperature from elsewhere does to the loss."""
    if stretch.flue_at in ("terminal", "after economiser"):
        return "flue gas that has cooled beyond this boundary makes the loss look too low"
    return "flue gas hotter than at this boundary makes the loss look too high"


def mixed_boundary(worked: Worked, stretch: Stretch) -> Finding | None:
    """Air and flue temperature that do not belong to the same boundary."""
    air, flue = BELONGS[stretch.boundary]
    strays = []
    if stretch.air_at and stretch.air_at != air:
        strays.append(("air read " + _at(stretch.air_at), _air_astray(worked, stretch, air)))
    if stretch.flue_at and stretch.flue_at != flue:
        strays.append(("flue gas read " + _at(stretch.flue_at), _flue_astray(stretch)))
    if not worked.taken.has_temperatures:
        return None
    if not strays:
        return _cold_for_a_room(worked, stretch, air)
    where, why = " and ".join(place for place, _ in strays), "; ".join(effect for _, effect in strays)
    return unsettled(
        "mixed-boundary",
        stretch,
        f"{stretch.word.capitalize()}: the two temperatures belong to different boundaries.",
        f"The boundary is {stretch.boundary}, but {where}: {why}. Read both at one boundary, within one stretch.",
        "air_temperature",
        "flue_temperature",
    )


def _at(place: str) -> str:
    return place if place in ("outdoors", "after economiser") else f"at the {place}"


def _cold_for_a_room(worked: Worked, stretch: Stretch, wanted: str) -> Finding | None:
    """Air so cold that it may have been read outdoors, where nobody said where."""
    if stretch.air_at or wanted not in WARMER:
        return None
    if float(ops.value_of(worked.taken.air_temperature)) >= TOO_COLD_FOR_A_ROOM:
        return None
    return unsettled(
        "air-from-where",
        stretch,
        f"{stretch.word.capitalize()}: where was air of {stretch.readings['air_temperature'].typed.text} read?",
        f"The boundary is {stretch.boundary}, and air that cold is seldom what reached the burner. If it was read "
        f"outdoors, {_air_astray(worked, stretch, wanted)}. Say where it was read.",
        "air_temperature",
    )
