"""Which visits an error of a cell could judge otherwise, told from figures alone, so that only these are opened.

Left out is only what cannot change: no limit of any book of the place, whatever it is for, lies between the reading as
it was and the reading put right, nor within the doubt of either. Margins cover what a figure alone does not tell.
"""

import json
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product
from typing import Any

from fluewright.errors import FluewrightError
from fluewright.evidence.checked import ANOTHER_METER, MONOXIDE, OXYGEN, cell_of
from fluewright.evidence.corrected import Errors, of_share
from fluewright.evidence.limits import CERTAIN, HARDLY, places_of
from fluewright.evidence.origins import FAR_MORE_HYDROGEN, class_for
from fluewright.evidence.reading import Instrument
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.odds import beyond
from fluewright.quantity import names, parse, uncertain, units
from fluewright.record.views.shown import MOVED
from fluewright.rules import apply
from fluewright.rules.schema import Limit
from fluewright.rules.shop import Shop
from fluewright.visit.could_flip_oxygen import kinds_of, may_flip, plain

NO_GAS = frozenset(
    ("visit", "appliance", "fuel", "place", "house", "safety", "cost", "gas_supply", "gas_input", "gas_survey",
     "tightness", "vent", "event", "note", "step", "water_side", "oil_supply", "air_for_burning", "cycling",
     "spillage", "room.alarm", "room.symptoms", "room.where", "room.zero", "room.without_alarm", "room.personal",
     "room.personal_zero", "room.reading.time", "room.reading.place")
)  # fmt: skip
"""Tables of a visit, and keys in them, in which no reading of the cell in question stands."""


def _no_gas(name: str) -> bool:
    """Whether a table and key hold no reading of a cell."""
    parts = name.split(".")
    return any(".".join(parts[:depth]) in NO_GAS for depth in range(1, len(parts) + 1))


PLAIN_POINTS = ("", "undiluted")
"""What is said of a point in undiluted flue gas; elsewhere a reading carries more doubt than a figure tells."""

IN_ROOM = ("carbon_monoxide_room", "carbon_monoxide_outdoor", "carbon_monoxide_delivered")
QUIET = 3e-6
"""mol/mol in a room up to which several readings cannot make up a mean or an exposure near any limit."""
NEAR_END = 0.9
"""Share of a cell's range from which on it may be at its end."""

AIR_FREE = (0.85, 1.15)
"""Air-free value by the fuel over that by oxygen alone: a margin, no law."""
OXYGEN_DOUBT = 0.016
"""Relative doubt that oxygen adds to an air-free value, per unit of dilution: 0.6 points at two sides, of 20.95."""
FOLLOWING: Mapping[str, tuple[float, float]] = {
    "carbon_monoxide_air_free": AIR_FREE,
    "co_co2_ratio": (0.85 / 0.21, 1.15 / 0.08),
    "carbon_monoxide_mass_per_heat": (2.0e-7, 5.0e-7),
    "carbon_monoxide_mass_concentration": (0.4, 1.45),
}
"""Least and most of what follows from carbon monoxide in the flue, per mol/mol free of air."""
MASS = 1.35
"""kg/m3 per mol/mol of carbon monoxide in air, at its coldest and lowest."""
AS_READ = ("carbon_monoxide_room", "carbon_monoxide_highest", "carbon_monoxide_delivered")
"""Limits of air that one reading alone is put to."""
MEANS = ("15_min", "30_min", "1_h", "8_h", "24_h")


Pair = tuple[float, float]
Here = tuple[Instrument, frozenset[str]]


@dataclass(slots=True)
class _Seen:
    """What one visit has of the cell in question.

    flue, room  carbon monoxide in the flue with its stretch, and in the air people breathe
    oxygen      by stretch
    open        whether some figure is not in the entries
    plain       whether nothing but a flame and a room was read
    hot         K, by stretch, flue temperature
    """

    condition: str
    places: frozenset[str]
    flue: list[tuple[str, str, float]] = field(default_factory=list)
    room: list[float] = field(default_factory=list)
    oxygen: dict[str, float] = field(default_factory=dict)
    open: bool = False
    plain: bool = True
    hot: dict[str, float] = field(default_factory=dict)


@dataclass(slots=True)
class Sieve:
    """Tells visits that could be judged otherwise from those that could not.

    shop    whose limits count
    errors  of the instrument
    """

    shop: Shop
    errors: Errors
    _limits: dict[tuple[str, frozenset[str]], tuple[Limit, ...]] = field(default_factory=dict)
    _known: dict[tuple[Any, ...], bool] = field(default_factory=dict)

    def through(self, rows: Iterable[Any]) -> list[str]:
        """Visits that have to be opened, in the order in which they were seen.

        rows  visit, stretch, name, figure and condition of each figure
        """
        seen: dict[str, _Seen] = {}
        for row in rows:
            one = seen.setdefault(row.visit, _Seen(row.condition, places_of(row.jurisdiction)))
            self._take(one, row)
        return [visit for visit, one in seen.items() if self._could(one)]

    def _take(self, one: _Seen, row: Any) -> None:
        one.plain &= plain(row.name, row.figure)
        if not row.figure:
            one.open |= bool(cell_of(row.name)) or ("." in row.name and not _no_gas(row.name))
            return
        figure = float(row.figure)
        one.open |= bool(cell_of(row.name)) and row.point not in PLAIN_POINTS
        if row.name in IN_ROOM:
            one.room.append(figure)
        elif cell_of(row.name) == MONOXIDE and row.name not in ANOTHER_METER:
            one.flue.append((row.stretch, row.name, figure))
        elif row.name in ("oxygen_dry", "oxygen_wet", "oxygen_dried"):
            one.open |= OXYGEN in self.errors and one.oxygen.get(row.stretch, figure) != figure
            one.oxygen[row.stretch] = figure
        elif row.name == "flue_temperature":
            one.hot[row.stretch] = min(figure, one.hot.get(row.stretch, figure))

    def _could(self, one: _Seen) -> bool:
        """Whether a visit has to be opened."""
        if one.open or set(self.errors) - {MONOXIDE, OXYGEN} or (OXYGEN in self.errors and self._by_oxygen(one)):
            return True
        instrument = _instrument(one.condition)
        if instrument is None:
            return True
        flue = (self._in_flue(instrument, one, *each) for each in one.flue)
        return any(flue) or self._in_room(instrument, one)

    def _by_oxygen(self, one: _Seen) -> bool:
        """Whether an error of the oxygen cell could matter by itself, or reaches what cannot be told from figures."""
        kinds = kinds_of(one.condition)
        if not one.plain or kinds is None or not one.oxygen:
            return True
        key = (OXYGEN, one.places, kinds, tuple(one.oxygen.items()), tuple(one.hot.items()))
        if key not in self._known:
            self._known[key] = any(
                may_flip(self.shop, one.places, kinds, self._ends(figure), one.hot.get(word))
                for word, figure in one.oxygen.items()
            )
        return self._known[key]

    def _ends(self, oxygen: float) -> tuple[float, float]:
        """Oxygen as it was read and put right."""
        return oxygen, oxygen * of_share(self.errors.get(OXYGEN, 0.0))

    def _range(self, figure: float) -> tuple[float, float]:
        other = figure * of_share(self.errors.get(MONOXIDE, 0.0))
        return min(figure, other), max(figure, other)

    def _in_flue(self, instrument: Instrument, one: _Seen, stretch: str, name: str, figure: float) -> bool:
        oxygen = one.oxygen.get(stretch)
        if figure < 0.0 or name not in ("carbon_monoxide_dry", "carbon_monoxide_wet"):
            return True
        if figure == 0.0:
            return False
        if not stretch or oxygen is None or not 0.0 <= oxygen < 0.2:
            return True
        key = (instrument, one.places, figure, round(oxygen, 4))
        if key not in self._known:
            low, high = self._range(figure)
            few, free = sorted(DRY_AIR.oxygen / (DRY_AIR.oxygen - one) for one in self._ends(oxygen))
            followed = [("carbon_monoxide_dry", 1.0, 1.0)]
            followed += [(name, low * few, high * free) for name, (low, high) in FOLLOWING.items()]
            self._known[key] = _ends(instrument, high) or any(
                self._apart(
                    (instrument, one.places), name, (low, low * least), (high, high * most), OXYGEN_DOUBT * free
                )
                for name, least, most in followed
            )
        return self._known[key]

    def _in_room(self, instrument: Instrument, one: _Seen) -> bool:
        figures = one.room
        if not figures:
            return False
        low, high = self._range(min(figures))[0], self._range(max(figures))[1]
        if low < 0.0 or (len(figures) > 1 and high > QUIET):
            return True
        key = (instrument, one.places, low, high, len(figures) > 1)
        if key not in self._known:
            asked = dict.fromkeys(AS_READ, (low, high))
            if len(figures) > 1:  # one reading alone has no mean
                asked |= {f"carbon_monoxide_mean_{span}": (0.0, high) for span in MEANS}
                asked |= {f"carbon_monoxide_mass_mean_{span}": (0.0, high * MASS) for span in MEANS}
            self._known[key] = _ends(instrument, high) or any(
                self._apart((instrument, one.places), name, (low, least), (high, most))
                for name, (least, most) in asked.items()
            )
        return self._known[key]

    def _apart(self, here: Here, name: str, low: Pair, high: Pair, extra: float = 0.0) -> bool:
        """Whether some limit of a quantity may be answered differently at the two ends.

        here       instrument and places
        low, high  figure of the cell there, and what follows from it
        extra      relative doubt that something else may add to what follows
        """
        instrument, places = here
        if (name, places) not in self._limits:
            self._limits[name, places] = tuple(r for r in self.shop.limits_of(name) if r.jurisdiction in places)
        return any(
            len({state for end in (low, high) for state in _answers(rule, instrument, *end, extra)}) > 1
            for rule in self._limits[name, places]
        )


def _instrument(condition: str) -> Instrument | None:
    """The instrument as far as its doubt goes by it; None where that cannot be told."""
    try:
        held = json.loads(condition)
        over = held.get("over_range")
        top = None if over is None else parse.single(str(over), quantity="carbon_monoxide_dry").value
        hydrogen = held.get("hydrogen_compensated", "unknown")
        if MOVED in held or hydrogen not in ("yes", "no", "unknown"):
            return None
        found = Instrument(accuracy=held.get("accuracy", "service"), hydrogen=hydrogen, over_range_ppm=top)
        class_for("carbon_monoxide_dry", found)
    except (FluewrightError, ValueError):
        return None
    return found


def _ends(instrument: Instrument, figure: float) -> bool:
    """Whether a figure lies near the end of the cell."""
    kind = class_for("carbon_monoxide_dry", instrument)
    ends = [instrument.over_range_ppm] if instrument.over_range_ppm else []
    ends += [kind.channel("carbon_monoxide_dry").high] if kind is not None else []
    return not ends or figure >= NEAR_END * min(ends)


def _answers(
    rule: Limit, instrument: Instrument, figure: float, value: float, extra: float
) -> Iterator[tuple[str, int]]:
    """How a limit may be answered at a value: with the doubt of the cell, and with that of hydrogen in the fuel."""
    kind = class_for("carbon_monoxide_dry", instrument)
    quantity = names.of(rule.quantity)
    unit = units.unit_named(rule.unit, quantity=quantity)
    limit = units.canonical(rule.limit, unit=unit, quantity=quantity)
    share = value / figure if figure else 1.0
    for ratio, more in product((uncertain.HYDROGEN_PER_CARBON_MONOXIDE, FAR_MORE_HYDROGEN), (0.0, extra)):
        if kind is None:
            continue
        both = uncertain.standard_uncertainty(
            quantity="carbon_monoxide_dry", value=figure, instrument_class=kind, hydrogen_ratio=ratio
        )
        spread = math.hypot((both.above if value < limit else both.below) * share, more * value)
        passes = apply.judged(
            rule,
            value=units.in_unit(value, unit=unit, quantity=quantity),
            spread=spread / units.per_unit(unit=unit, quantity=quantity),
        ).passes
        over = beyond(value=value, spread=spread, limit=limit) if spread > 0.0 else float(value > limit)
        yield passes, sum(over >= edge for edge in (HARDLY, 0.5, CERTAIN))
