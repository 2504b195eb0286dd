"""Means over time of what was read in a room, and the means that rules limit."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from fluewright.evidence.doubt import Origin
from fluewright.evidence.finding import WRONG, Finding
from fluewright.evidence.limits import Question, answered, rules_for
from fluewright.evidence.monoxide import speaking
from fluewright.evidence.origins import spread_of
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.kernel import means, room
from fluewright.kernel.means import Sample, Window
from fluewright.kernel.ops import Number
from fluewright.quantity import names, units
from fluewright.quantity.meaning import Typed
from fluewright.quantity.room_names import PERIODS
from fluewright.rules import averages
from fluewright.rules.schema import Limit

LONGEST_GAP = 3600.0
"""s between readings that are still joined by a line (common practice, no source). The same for every period: else a
mean over 15 minutes could come out below that over an hour."""
MASS_TEMPERATURE, MASS_PRESSURE = 293.15, 101_325.0
"""K and Pa at which air quality is counted in mg/m3 (Directive 2008/50/EC, Annex VI, from memory)."""
ROOM = "carbon_monoxide_room"

_PLACES = {
    "dwelling": ("outdoor air", "air people breathe"),
    "outdoors": ("outdoor air", "air people breathe"),
    "work space": ("work space",),
    "parking garage": ("work space", "parking garage"),
}
"""Which rows of the books speak, by where it was read: the place in the row."""


@dataclass(frozen=True, slots=True)
class Timed:
    """One reading with its time.

    seconds  from any zero, the same for all
    words    the time as typed
    place    where in the house, empty when not said
    """

    seconds: float
    words: str
    reading: Reading
    place: str = ""


def _figured(timed: Sequence[Timed]) -> list[Timed]:
    return [one for one in timed if one.reading.figure is not None]


def _levels(timed: Sequence[Timed], level: Callable[[Reading], float]) -> list[Sample]:
    return [Sample(one.seconds, level(one.reading)) for one in timed]


def _figure(reading: Reading) -> float:
    return reading.figure or 0.0


def _bounded(side: str) -> Callable[[Reading], float]:
    return lambda reading: _figure(reading) if reading.bound == side else 0.0


@dataclass(frozen=True, slots=True)
class _Span:
    """Length of a window, and what its area is divided by; s, or 1 for no mean."""

    duration: float
    over: float


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Readings of one place, and what becomes a number of a window of them.

    floor  whether every reading may be too low, as after a zero taken indoors
    """

    timed: Sequence[Timed]
    reckon: Reckoning
    floor: bool

    def number(self, window: Window, span: _Span, *, whole: bool) -> Number:
        """Area of a window over a time, with the doubt of its instrument: one cell errs alike in all its readings."""
        over = span.over

        def share(level: Callable[[Reading], float]) -> float:
            samples = _levels(self.timed, level)
            found = means.window_from(
                samples=samples, start=window.start, duration=span.duration, longest_gap=LONGEST_GAP
            )
            return found.area / over

        most, least = share(_bounded("at most")), share(_bounded("at least"))
        plain = share(_figure) - most - least
        if least > 0.0 or self.floor or not whole:
            most = 0.0  # a floor stays one when what is only known to be small counts as nothing
        width = share(lambda reading: reading.half_width) / math.sqrt(3.0)
        below, above = self._spread((plain + most + least) * over / window.covered)
        small = window.covered / over
        floor = "at least" if self.floor or not whole else ""
        add = self.reckon.ledger.number
        doubt = (math.hypot(below * small, width), math.hypot(above * small, width))
        total: Number = add(Origin(ROOM, "the readings", plain, *doubt, "typed", floor))
        if least > 0.0:
            total = total + add(Origin(ROOM, "readings at the end of the cell", least, 0.0, 0.0, "typed", "at least"))
        if most > 0.0:
            total = total + add(Origin(ROOM, "readings given as less than", most, 0.0, 0.0, "typed", "at most"))
        return total

    def _spread(self, level: float) -> tuple[float, float]:
        typed = Typed("", ROOM, "value", level, None, None, "ppm", "", 0, 0.0)
        account = self.reckon.account
        return spread_of(Reading(ROOM, typed), account.instrument, record=account.fuel)


def by_place(timed: Sequence[Timed]) -> dict[str, list[Timed]]:
    """Readings with a figure by where they were taken, in the order of time."""
    found: dict[str, list[Timed]] = {}
    for one in sorted(_figured(timed), key=lambda one: one.seconds):
        found.setdefault(one.place, []).append(one)
    return found


def exposure(timed: Sequence[Timed], reckon: Reckoning, *, floor: bool) -> Result:
    """Concentration times time over all readings, in the order they were taken: what was breathed beside them."""
    name = "carbon_monoxide_exposure"
    ordered = sorted(_figured(timed), key=lambda one: (one.seconds, -_figure(one.reading)))
    unique = [one for index, one in enumerate(ordered) if index == 0 or ordered[index - 1].seconds < one.seconds]
    window = means.area_below(samples=_levels(unique, _figure), longest_gap=LONGEST_GAP)
    if window is None or window.covered <= 0.0:
        return refused(name, "no two readings within an hour of each other")
    length = unique[-1].seconds - unique[0].seconds
    number = _Stretch(unique, reckon, floor).number(window, _Span(length, 1.0), whole=not gaps(unique))
    return reckon.result(
        name,
        number,
        formula="sum of concentration x time, straight from reading to reading",
        substitution=f"{len(unique)} readings over {window.covered / 60.0:.0f} min = {window.area / 6e-5:.3g} ppm min",
        source="time integral",
        holds="somebody who stayed beside the instrument; gaps of more than an hour count for nothing, so that it is "
        "at least this. It says what was breathed, not what it did.",
    )


@dataclass(frozen=True, slots=True)
class Mean:
    """The highest running mean over one period.

    whole  whether enough of the period was read to let it stand
    """

    end: str
    result: Result
    mass: Result
    whole: bool
    place: str


def _mean(end: str, stretch: _Stretch, place: str) -> Mean | None:
    words, duration = PERIODS[end]
    window = means.highest_window(
        samples=_levels(stretch.timed, _figure),
        duration=duration,
        longest_gap=LONGEST_GAP,
        least_share=averages.LEAST_SHARE,
    )
    if window is None or window.covered <= 0.0:
        return None
    whole = means.whole(window=window, duration=duration, least_share=averages.LEAST_SHARE)
    over = window.covered if whole else duration
    number = stretch.number(window, _Span(duration, over), whole=whole)
    reckon, where = stretch.reckon, f" {place}" if place else ""
    rest = "" if whole else "; what was not read is counted as nothing, so it was at least this much"
    mean = window.area / over
    shared = {
        "source": "time integral; 40 CFR 50.8(c) for the 75 %",
        "holds": f"air that changes evenly from reading to reading{where}; {window.covered / 60.0:.0f} min of "
        f"{duration / 60.0:.0f} were read{rest}. The doubt is that of the cell, the same in all its readings.",
    }
    ppm = reckon.result(
        f"carbon_monoxide_mean_{end}",
        number,
        formula=f"highest of all means over {words}: concentration x time / time",
        substitution=f"{window.area / 6e-5:.3g} ppm min / {over / 60.0:.0f} min = {mean * 1e6:.3g} ppm",
        **shared,
    )
    return Mean(end, ppm, _by_mass(end, number, mean, reckon, shared), whole, place)


def _by_mass(end: str, number: Number, mean: float, reckon: Reckoning, shared: Mapping[str, str]) -> Result:
    """The same mean as mass in a volume, as guidelines print it."""
    at = {"temperature": MASS_TEMPERATURE, "pressure": MASS_PRESSURE}
    grams = room.mass_from_fraction(fraction=mean, **at)
    return reckon.result(
        f"carbon_monoxide_mass_mean_{end}",
        room.mass_from_fraction(fraction=number, **at),
        formula="mean x molar mass x pressure / (gas constant x temperature), at 20 C and 101.325 kPa",
        substitution=f"{mean * 1e6:.3g} ppm = {grams * 1e6:.3g} mg/m3",
        **shared,
    )


def highest(timed: Sequence[Timed], reckon: Reckoning, *, floor: bool) -> dict[str, Mean]:
    """The highest mean over each period that some rule averages over, of whichever place had it."""
    found: dict[str, Mean] = {}
    for place, of_place in by_place(timed).items():
        stretch = _Stretch(of_place, reckon, floor)
        for end in PERIODS:
            mean = _mean(end, stretch, place)
            best = found.get(end)
            if mean is not None and (best is None or _size(mean) > _size(best)):
                found[end] = mean
    return found


def _size(mean: Mean) -> tuple[bool, float]:
    return mean.whole, mean.result.value or 0.0


def _counted(result: Result, rule: Limit) -> Result:
    """A mean as its rule counts it: to one decimal first where whole numbers are compared."""
    if rule.rounding != "to whole numbers" or result.value is None:
        return result
    quantity = names.of(result.name)
    unit = units.unit_named(rule.unit, quantity=quantity)
    taken = averages.in_tenths(units.in_unit(result.value, unit=unit, quantity=quantity))
    return replace(result, value=units.canonical(taken, unit=unit, quantity=quantity))


def _doubt(rule: Limit, where: str, doubt: str) -> str:
    """Why a mean below this limit clears nothing here."""
    if rule.place == "outdoor air" and where != "outdoors":
        return "The law is for outdoor air, and indoors these readings have only a yardstick in it"
    return doubt


def answers(found: Mapping[str, Mean], account: Account, *, where: str, doubt: str, word: str) -> list[Finding]:
    """Every mean against every limit that speaks where it was read; the answers worth saying."""
    said: list[Finding] = []
    for mean in found.values():
        for result in (mean.result, mean.mass):
            for rule in rules_for(result.name, account):
                if rule.place not in _PLACES[where]:
                    continue
                asked = Question(rule, _counted(result, rule), word, account, _doubt(rule, where, doubt))
                finding = answered(asked, over=rule.severity)
                if finding is not None and (mean.whole or finding.grade in WRONG):
                    said.append(finding)
    return speaking(said)


def gaps(timed: Sequence[Timed]) -> tuple[str, ...]:
    """Where nobody read for more than an hour, as sentences."""
    samples = _levels(sorted(timed, key=lambda one: one.seconds), lambda _: 0.0)
    return tuple(
        f"What the air held in the {length / 60.0:.0f} min that began {(start - samples[0].time) / 60.0:.0f} min after "
        "the first reading: nobody read it, and no mean counts it."
        for start, length in means.gaps(samples=samples, longest_gap=LONGEST_GAP)
    )
