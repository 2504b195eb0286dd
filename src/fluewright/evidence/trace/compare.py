"""Measured against computed, row by row: every channel that was measured and also follows from the others.

Dry carbon dioxide follows from oxygen and the fuel; gross efficiency from oxygen, carbon monoxide and two temperatures.
The difference is always measured - computed. A median away from zero points to fuel, sensor or basis; the tails to
moments when the rows of one line do not belong together.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from fluewright.evidence.trace.burning import Rule
from fluewright.evidence.trace.spool import Sample
from fluewright.evidence.trace.survey import Survey, quantiles_of
from fluewright.evidence.trace.trace import Trace
from fluewright.kernel import analysis
from fluewright.kernel.analysis import Prepared

MOST = 20_000
"""Most rows compared; of a longer trace every second, third ... burning row, so that time and memory stay bounded."""
BINS = 12
CHANGE = "firing_rate since the row before"
"""Name under which a row also carries the change of its firing rate."""
Place = Literal["inside", "first row", "last row", "next to a gap"]


@dataclass(frozen=True, slots=True)
class Row:
    """One burning row: when, where in its run, and its values by name (nan where not read)."""

    time: float
    place: Place
    values: dict[str, float]


@dataclass(frozen=True, slots=True)
class Spread:
    """A distribution: count, quantiles at 5, 25, 50, 75 and 95 %, ends, and counts in equal bins from low to high."""

    count: int
    quantiles: tuple[float, ...]
    low: float
    high: float
    edges: tuple[float, ...]
    bins: tuple[int, ...]

    @property
    def median(self) -> float:
        """The middle value."""
        return self.quantiles[2]


@dataclass(frozen=True, slots=True)
class Agreement:
    """Measured - computed for one channel.

    name    registry name; the differences are in its canonical unit
    basis   from what it was computed
    measured, oxygen  median of the measured channel and of oxygen in the same rows
    months  label and distribution of each month, or of each tenth of a shorter trace
    places  distribution by place in the run of burning
    tails   in words, what the rows below 5 % and above 95 % have in common
    """

    name: str
    basis: str
    spread: Spread
    measured: float
    oxygen: float
    months: tuple[tuple[str, Spread], ...]
    places: tuple[tuple[Place, Spread], ...]
    tails: tuple[str, ...]


def spread_of(values: Sequence[float]) -> Spread:
    """The distribution of some values; bins run from the 1st to the 99th percentile, the outer ones take the rest."""
    low, high = quantiles_of(list(values), (0.01, 0.99))
    width = (high - low) / BINS or 1.0
    bins = [0] * BINS
    for value in values:
        bins[min(max(int((value - low) / width), 0), BINS - 1)] += 1
    edges = tuple(low + width * i for i in range(BINS + 1))
    return Spread(len(values), quantiles_of(list(values)), min(values), max(values), edges, tuple(bins))


def burning_rows(trace: Trace, seen: Survey) -> list[Row]:
    """The burning rows with their place in the run; at most MOST, evenly thinned."""
    stride = max(1, math.ceil(seen.burning / MOST))
    return [row for number, row in enumerate(_placed(trace, seen.step.gap)) if number % stride == 0]


def _placed(trace: Trace, gap: float) -> Iterator[Row]:
    """Each burning row, once the row after it is known."""
    rule, names, load = Rule(trace), trace.names, trace.index("firing_rate")
    before: tuple[float, bool, float] | None = None
    waiting: tuple[Sample, float, str] | None = None
    for sample in trace:
        burning = rule.burning(sample)
        joined = before is not None and sample.time - before[0] <= gap
        if waiting is not None:
            after = ("inside" if burning else "last row") if joined else "next to a gap"
            yield _row(*waiting, after, names)
            waiting = None
        rate = sample.values[load] if load >= 0 else math.nan
        if burning:
            first = "next to a gap" if not joined else "inside" if before is not None and before[1] else "first row"
            waiting = (sample, rate - (before[2] if before is not None and joined else math.nan), first)
        before = (sample.time, burning, rate)
    if waiting is not None:
        yield _row(*waiting, "next to a gap", names)


def _row(sample: Sample, change: float, first: str, after: str, names: Sequence[str]) -> Row:
    place: Place = "inside"
    for candidate in ("first row", "last row", "next to a gap"):
        if candidate in (first, after):
            place = candidate
            break
    return Row(sample.time, place, {**dict(zip(names, sample.values, strict=True)), CHANGE: change})


def agreements(
    trace: Trace, rows: Sequence[Row], *, prepared: Prepared, airs: Sequence[tuple[str, float | str]]
) -> tuple[Agreement, ...]:
    """Every channel that is both measured and computable.

    prepared  fuel and air, from analysis.prepare
    airs      combustion air in words, with its temperature in K or the name of a channel; one efficiency for each
    -> agreements, empty when the trace has no pair to compare
    """
    found = [_agreement(trace, rows, "carbon_dioxide_dry", "oxygen and the fuel", _carbon_dioxide(prepared))]
    for words, air in airs:
        basis = f"oxygen, carbon monoxide, flue temperature and {words}"
        found.append(_agreement(trace, rows, "efficiency_gross", basis, _efficiency(prepared, air)))
    return tuple(one for one in found if one is not None)


def _carbon_dioxide(prepared: Prepared) -> Callable[[Row], float]:
    def value(row: Row) -> float:
        return float(_analysed(row, prepared, 450.0, 298.15).carbon_dioxide_dry)

    return value


def _efficiency(prepared: Prepared, air: float | str) -> Callable[[Row], float]:
    def value(row: Row) -> float:
        intake = row.values.get(air, math.nan) if isinstance(air, str) else air
        return float(_analysed(row, prepared, row.values.get("flue_temperature", math.nan), intake).efficiency_gross)

    return value


def _analysed(row: Row, prepared: Prepared, flue: float, air: float) -> analysis.Analysis:
    monoxide = row.values.get("carbon_monoxide_dry", 0.0)
    return analysis.analyse(
        prepared=prepared,
        oxygen_dry_fraction=row.values.get("oxygen_dry", math.nan),
        carbon_monoxide_dry_fraction=monoxide if monoxide == monoxide else 0.0,
        flue_temperature=flue,
        air_temperature=air,
    )


def _agreement(
    trace: Trace, rows: Sequence[Row], name: str, basis: str, computed: Callable[[Row], float]
) -> Agreement | None:
    pairs = [(row, row.values[name] - computed(row)) for row in rows if not math.isnan(row.values.get(name, math.nan))]
    pairs = [(row, difference) for row, difference in pairs if math.isfinite(difference)]
    if len(pairs) < 3:
        return None
    differences = [difference for _, difference in pairs]
    whole = spread_of(differences)
    measured = quantiles_of([row.values[name] for row, _ in pairs], (0.5,))[0]
    oxygen = quantiles_of([row.values.get("oxygen_dry", math.nan) for row, _ in pairs], (0.5,))[0]
    places: list[tuple[Place, Spread]] = []
    for place in ("inside", "first row", "last row", "next to a gap"):
        some = [difference for row, difference in pairs if row.place == place]
        if some:
            places.append((place, spread_of(some)))
    return Agreement(name, basis, whole, measured, oxygen, _months(trace, pairs), tuple(places), tails_of(pairs, whole))


def _months(trace: Trace, pairs: Sequence[tuple[Row, float]]) -> tuple[tuple[str, Spread], ...]:
    """By month of the trace's own clock, or by tenth where it spans less than two months or knows no date."""
    groups: dict[str, list[float]] = {}
    first, last = pairs[0][0].time, pairs[-1][0].time
    dated = trace.form.order not in {"elapsed seconds", "clock"} and last - first > 60.0 * 86_400.0
    for row, difference in pairs:
        tenth = min(int(10.0 * (row.time - first) / ((last - first) or 1.0)), 9)
        label = trace.shown(row.time)[:7] if dated else f"{tenth + 1}. tenth"
        groups.setdefault(label, []).append(difference)
    return tuple((label, spread_of(values)) for label, values in groups.items())


def tails_of(pairs: Sequence[tuple[Row, float]], whole: Spread) -> tuple[str, ...]:
    """What the rows of each tail have in common: conditions at least twice as frequent there as in all rows."""
    found = []
    for side, rows in (
        ("lowest 5 %", [row for row, difference in pairs if difference <= whole.quantiles[0]]),
        ("highest 5 %", [row for row, difference in pairs if difference >= whole.quantiles[-1]]),
    ):
        common = []
        for words, test in _CONDITIONS:
            share = sum(test(row) for row in rows) / len(rows)
            usual = sum(test(row) for row, _ in pairs) / len(pairs)
            if share >= 2.0 * usual and share >= 0.05:
                common.append(f"{words} in {100.0 * share:.0f} of 100 (all rows: {100.0 * usual:.0f})")
        found.append(f"{side}: " + ("; ".join(common) or "nothing in common with start, stop, load or reading"))
    return tuple(found)


def _below(name: str, limit: float) -> Callable[[Row], bool]:
    return lambda row: row.values.get(name, math.nan) < limit


def _above(name: str, limit: float) -> Callable[[Row], bool]:
    return lambda row: row.values.get(name, math.nan) > limit


_CONDITIONS: tuple[tuple[str, Callable[[Row], bool]], ...] = (
    ("first row after lighting", lambda row: row.place == "first row"),
    ("last row before it stopped", lambda row: row.place == "last row"),
    ("next to a gap", lambda row: row.place == "next to a gap"),
    ("firing rate below 15 %", _below("firing_rate", 0.15)),
    ("firing rate above 60 %", _above("firing_rate", 0.6)),
    ("oxygen below 2 %", _below("oxygen_dry", 0.02)),
    ("oxygen above 6 %", _above("oxygen_dry", 0.06)),
    ("carbon monoxide above 10 ppm, a mean that hides short rich moments", _above("carbon_monoxide_dry", 10e-6)),
    ("firing rate 10 points above the row before", _above(CHANGE, 0.10)),
    ("firing rate 10 points below the row before", _below(CHANGE, -0.10)),
    ("flue below 350 K (77 °C)", _below("flue_temperature", 350.0)),
)
"""Conditions tried on the tails; the limits only sort rows into groups (common practice, no source)."""
