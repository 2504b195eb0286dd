"""What an error of the oxygen cell could judge otherwise, told from figures alone.

It reaches the flame's air, everything that is set free of air, losses and dew point. Left out are only visits in which
nothing but a plain flame and a room was read, and in which none of these comes near an edge at either end.
"""

import json
from collections.abc import Collection, Iterable

from fluewright.appliance import load
from fluewright.errors import FluewrightError
from fluewright.evidence.judge import HARDLY_AIR, PLENTY
from fluewright.quantity import names, units
from fluewright.record.views.shown import APPLIANCE
from fluewright.rules.schema import Limit
from fluewright.rules.shop import Shop

PLAIN = frozenset(
    ("oxygen_dry", "carbon_monoxide_dry", "flue_temperature", "air_temperature", "carbon_monoxide_room",
     "carbon_monoxide_outdoor", "carbon_monoxide_delivered", "carbon_monoxide_personal", "barometer", "altitude",
     "relative_humidity", "fuel_input", "heat_output")
)  # fmt: skip
"""Quantities beside which no other part of a visit rests on the oxygen of the flame."""

SAID_ONLY = frozenset(("visit", "appliance", "fuel", "place", "house", "safety", "event", "note", "step", "room"))
"""Tables whose words alone bring in no such part."""

EDGE = 0.006
"""mol/mol: further than this from an edge oxygen lies on one side of it with all its doubt (three standard ones)."""
LEAST, MOST = 2.5 * HARDLY_AIR, 3.0 * PLENTY
"""mol/mol of oxygen between which air is left over without doubt, and it is no fresh air."""
HOT = 380.0
"""K of flue gas from which on no dew point of a fuel burned with that much air is near."""
LOSSES = ("loss_siegert", "loss_net", "efficiency_gross", "efficiency_net")
"""What the oxygen changes wherever temperatures were read."""


def plain(name: str, figure: str) -> bool:
    """Whether a figure of a visit, or a key that holds none, brings in nothing but flame and room."""
    return name in PLAIN if figure else not name or name.partition(".")[0] in SAID_ONLY


def kinds_of(condition: str) -> frozenset[str] | None:
    """By which kinds of appliance limits speak to a visit; None where that cannot be told."""
    try:
        held = json.loads(condition)
        told = held.get(APPLIANCE, {})
        of_class = load.load(told["class"]) if told.get("class") else None
    except (FluewrightError, ValueError, KeyError):
        return None
    if "trap" in held:
        return None
    classes = (*of_class.kinds, *of_class.burners) if of_class is not None else ()
    condensing = ("condensing boiler",) if told.get("condensing") or of_class is not None else ()
    return frozenset((str(told.get("burner") or "unknown"), *classes, *condensing))


def may_flip(
    shop: Shop, places: Collection[str], kinds: Collection[str], ends: tuple[float, float], hot: float | None
) -> bool:
    """Whether two values of oxygen may be judged differently by themselves.

    places, kinds  of the visit
    ends           oxygen as it was read and put right, mol/mol
    hot            K, coldest flue temperature that was read; None for none
    """
    low, high = min(ends), max(ends)
    if low < LEAST or high > MOST or (hot is not None and hot < HOT):
        return True
    speaking = [one for one in shop.limits_of("oxygen_dry") if _speaks(one, places, kinds)]
    if any(low - EDGE <= edge <= high + EDGE for edge in _edges(speaking)):
        return True
    return hot is not None and any(_speaks(one, places, kinds) for name in LOSSES for one in shop.limits_of(name))


def _speaks(rule: Limit, places: Collection[str], kinds: Collection[str]) -> bool:
    appliances = rule.applies.appliances
    return rule.jurisdiction in places and (not appliances or bool(set(appliances) & set(kinds)))


def _edges(rules: Iterable[Limit]) -> Iterable[float]:
    """The limits of oxygen, and half of each: far below a window weighs more."""
    for rule in rules:
        quantity = names.of(rule.quantity)
        edge = units.canonical(rule.limit, unit=units.unit_named(rule.unit, quantity=quantity), quantity=quantity)
        yield from (edge, 0.5 * edge)
