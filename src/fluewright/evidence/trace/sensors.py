"""What a long trace reveals about its own sensors: held values, dead rows, copies, clamped zeros, drift."""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from fluewright.evidence.trace.burning import Rule
from fluewright.evidence.trace.compare import Agreement
from fluewright.evidence.trace.measure import display
from fluewright.evidence.trace.spool import Sample
from fluewright.evidence.trace.survey import Reservoir, Survey, quantiles_of
from fluewright.evidence.trace.trace import Trace

HELD = 12
"""Rows of exactly one value while burning from which a channel is called held (common practice, no source)."""
NOTHING = 0.001
"""Oxygen, as a share, below which a row that does not burn is no reading (common practice, no source)."""
WALK = 0.001
"""Smallest walk of a median that is called a drift: 0.1 points, a least count (common practice, no source)."""
CALM = 0.02
"""Spread of a ratio of two channels, relative, below which one is a copy of the other (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing the trace reveals: which channels, what in one sentence, and what it means for use."""

    channels: tuple[str, ...]
    what: str
    means: str


@dataclass(slots=True)
class _Tally:
    """Counts of one pass."""

    rows: int = 0
    burning: int = 0
    identical: int = 0
    held_while_off: Counter[str] = field(default_factory=Counter)
    off: int = 0
    zeros: Counter[str] = field(default_factory=Counter)
    dead: int = 0


def signs(trace: Trace, seen: Survey, agreements: Sequence[Agreement] = ()) -> tuple[Sign, ...]:
    """Everything the trace reveals, in two further passes and constant memory.

    seen        its survey
    agreements  measured against computed, for the drift
    -> signs, those that forbid a use first
    """
    tally = _tally(trace, seen)
    found = [
        *_off(tally),
        *_rows(tally),
        *_held(trace, seen),
        *_zeros(tally, seen),
        *_copies(trace, seen),
        *_gaps(seen),
    ]
    return (*found, *(sign for agreement in agreements for sign in drift(agreement)))


def _tally(trace: Trace, seen: Survey) -> _Tally:
    tally, rule = _Tally(), Rule(trace)
    oxygen = trace.index("oxygen_dry")
    known = [channel.quantity for channel in trace.channels]
    before: Sample | None = None
    was_off = False
    for sample in trace:
        tally.rows += 1
        vote = rule.vote(sample)
        burning = rule.burning(sample)
        tally.burning += burning
        if before is not None and sample.values == before.values:
            tally.identical += 1
        dead = not burning and oxygen >= 0 and sample.values[oxygen] <= NOTHING
        tally.dead += dead
        off = "firing_rate" in vote.no and not dead
        if off and was_off and before is not None and sample.time - before.time <= seen.step.gap:
            tally.off += 1
            same = zip(trace.names, sample.values, before.values, known, strict=True)
            tally.held_while_off.update(
                name for name, now, then, use in same if use and now == then and name != "firing_rate"
            )
        was_off = off
        if burning:
            tally.zeros.update(name for name, value in zip(trace.names, sample.values, strict=True) if value == 0.0)
        before = sample
    return tally


def _off(tally: _Tally) -> Iterator[Sign]:
    held = [name for name, count in tally.held_while_off.items() if count >= 0.8 * tally.off and tally.off > 10]
    if held:
        words = ", ".join(f"{name.replace('_', ' ')} in {tally.held_while_off[name]}" for name in held)
        yield Sign(
            tuple(held),
            f"of {tally.off} rows in which the firing rate says off, exactly the value of the row before stands "
            f"again: {words}",
            "the analyser or the recorder holds its last values when the burner stops: gas values of a "
            "flame do not show that it burns, and no mean may be taken over such rows",
        )


def _rows(tally: _Tally) -> Iterator[Sign]:
    if tally.dead:
        yield Sign(
            (),
            f"{tally.dead} rows in which nothing burns show no oxygen, where fresh air has 20.9 %",
            "the recorder or the analyser was off: these are no readings",
        )
    if tally.identical:
        yield Sign(
            (),
            f"{tally.identical} rows repeat every value of the row before",
            "a recorder that writes its last row again counts one moment twice",
        )


def _held(trace: Trace, seen: Survey) -> Iterator[Sign]:
    for one in seen.channels:
        if one.held is not None and one.held.count >= HELD and one.channel.quantity and one.held.value != 0.0:
            yield Sign(
                (one.channel.name,),
                f"{one.channel.name.replace('_', ' ')} held exactly one value for {one.held.count} rows while "
                f"burning, from {trace.shown(one.held.start)}",
                "a frozen sensor, or a resolution coarser than the change",
            )


def _zeros(tally: _Tally, seen: Survey) -> Iterator[Sign]:
    for name, count in tally.zeros.items():
        if name.startswith(("carbon_monoxide", "nit")) and count >= 0.2 * tally.burning:
            yield Sign(
                (name,),
                f"{name.replace('_', ' ')} is exactly zero in {count} of {tally.burning} burning rows",
                "negative readings are cut off, so that no drift of the zero shows and a mean is too high by the noise",
            )


def _gaps(seen: Survey) -> Iterator[Sign]:
    if seen.missing:
        share = 100.0 * seen.missing / (seen.missing + seen.count)
        yield Sign(
            (),
            f"{seen.missing} rows are missing in {seen.gaps} gaps ({share:.0f} % of the time)",
            "what happened in them is unknown; a first or last row beside a gap may be a start or a stop",
        )


def _copies(trace: Trace, seen: Survey) -> Iterator[Sign]:
    """Pairs of channels whose ratio never changes while both do."""
    varied = [i for i, one in enumerate(seen.channels) if one.count > 50 and one.low >= 0.0 and _varies(one.quantiles)]
    ratios = {(i, j): Reservoir(1024) for i in varied for j in varied if i < j}
    for sample in trace:
        for (i, j), kept in ratios.items():
            a, b = sample.values[i], sample.values[j]
            if a > 0.05 * seen.channels[i].high and b > 0.05 * seen.channels[j].high:
                kept.add(a / b)
    for (i, j), kept in ratios.items():
        low, middle, high = quantiles_of(kept.values, (0.05, 0.5, 0.95))
        if len(kept.values) > 50 and (high - low) / middle < 0.1 * CALM:
            one, other = trace.channels[i], trace.channels[j]
            yield Sign(
                (one.name, other.name),
                f"{one.name.replace('_', ' ')} is {middle:.4g} times {other.name.replace('_', ' ')} in every row",
                "one of the two is the other in another unit under a wrong name: count it once",
            )


def _varies(quantiles: Sequence[float]) -> bool:
    return quantiles[-1] - quantiles[0] > CALM * abs(quantiles[2] or quantiles[-1])


def drift(agreement: Agreement) -> Iterator[Sign]:
    """A median that walks from month to month by more than the rows of one month scatter."""
    medians = [spread.median for _, spread in agreement.months if spread.count >= 20]
    if len(medians) < 3:
        return
    widths = [spread.quantiles[3] - spread.quantiles[1] for _, spread in agreement.months if spread.count >= 20]
    walk = medians[-1] - medians[0]
    steps = [b - a for a, b in pairwise(medians)]
    typical = sorted(widths)[len(widths) // 2]
    if abs(walk) < max(typical, WALK):
        return
    unit, scale, _ = display(agreement.name)
    points = "points" if unit == "%" else unit
    same = sum(math.copysign(1.0, step) == math.copysign(1.0, walk) for step in steps)
    yield Sign(
        (agreement.name,),
        f"the median of measured - computed {agreement.name.replace('_', ' ')} walked from {scale * medians[0]:+.2f} "
        f"to {scale * medians[-1]:+.2f} {points}, {same} of {len(steps)} steps in the same direction, while half the "
        f"rows of one month lie within {scale * typical:.2f}",
        _DRIFT.get(agreement.name, "a sensor drifts, or what was assumed changed with the season"),
    )


_DRIFT = {
    "carbon_dioxide_dry": "the oxygen or the carbon dioxide sensor drifts; a gas that changed so far would leave "
    "the range of natural gas (see what would close it)",
    "efficiency_gross": "a temperature sensor drifts, or the season changes an air temperature that one side assumes",
}
