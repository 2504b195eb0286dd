"""One pass over a trace: what each channel did, how noisy it is, and what half a year reveals about its sensor."""

import math
import random
from dataclasses import dataclass
from statistics import median

from fluewright.evidence.trace.burning import Rule
from fluewright.evidence.trace.spool import Sample
from fluewright.evidence.trace.trace import Channel, Step, Trace, step_of

KEPT = 4096
"""Values kept of each channel for quantiles: enough for 1 % of the 5th percentile, constant memory (no source)."""
QUANTILES = (0.05, 0.25, 0.5, 0.75, 0.95)
ROBUST = 1.4826
"""Standard deviation / median absolute deviation of a normal distribution: 1 / Phi^-1(3/4), computed."""


def quantiles_of(values: list[float], shares: tuple[float, ...] = QUANTILES) -> tuple[float, ...]:
    """Quantiles by linear interpolation between order statistics; nan for each when there are no values."""
    ordered = sorted(values)
    if not ordered:
        return tuple(math.nan for _ in shares)
    places = [share * (len(ordered) - 1) for share in shares]
    return tuple(
        ordered[int(at)] + (at - int(at)) * (ordered[min(int(at) + 1, len(ordered) - 1)] - ordered[int(at)])
        for at in places
    )


class Reservoir:
    """A fair sample of a stream of unknown length: each value is kept with the same chance, the same in every run."""

    def __init__(self, size: int = KEPT) -> None:
        self.values: list[float] = []
        self._size, self._seen, self._chance = size, 0, random.Random(20260101)

    def add(self, value: float) -> None:
        """Offer one value."""
        self._seen += 1
        if len(self.values) < self._size:
            self.values.append(value)
        else:
            place = int(self._chance.random() * self._seen)
            if place < self._size:
                self.values[place] = value


@dataclass(frozen=True, slots=True)
class Held:
    """The longest time a channel showed exactly one value while burning: from, to, rows, value."""

    start: float
    end: float
    count: int
    value: float


@dataclass(frozen=True, slots=True)
class Seen:
    """What one channel did.

    count, gaps, bounds  cells with a value, without, and with a bound only
    quantiles            at 5, 25, 50, 75 and 95 %
    resolution           smallest usual step between different values
    noise                robust standard deviation from row to row while burning, without slow change, and not less
                         than the resolution leaves (JCGM 100:2008 F.2.2.1: step / sqrt(12))
    held                 longest run of one value while burning, None when the trace never burns
    """

    channel: Channel
    count: int
    gaps: int
    bounds: int
    low: float
    high: float
    quantiles: tuple[float, ...]
    resolution: float
    noise: float
    held: Held | None


@dataclass(frozen=True, slots=True)
class Survey:
    """What a whole trace did. missing: rows that a regular logger should have written and did not."""

    count: int
    start: float
    end: float
    step: Step
    gaps: int
    missing: int
    burning: int
    runs: int
    disagree: int
    channels: tuple[Seen, ...]

    def seen(self, name: str) -> Seen | None:
        """One channel by name."""
        return next((seen for seen in self.channels if seen.channel.name == name), None)


class _Collector:
    """Gathers one channel; memory does not grow with the trace."""

    def __init__(self, channel: Channel) -> None:
        self.channel = channel
        self.count = self.gaps = self.bounds = 0
        self.low, self.high = math.inf, -math.inf
        self.kept, self.changes, self.steps = Reservoir(), Reservoir(), Reservoir(1024)
        self.last = math.nan
        self.run: Held | None = None
        self.held: Held | None = None

    def add(self, value: float, time: float, follows: bool, burning: bool) -> None:
        if value != value:
            self.gaps += 1
            self.run = None
        else:
            self.count += 1
            self.low, self.high = min(self.low, value), max(self.high, value)
            self.kept.add(value)
            change = value - self.last
            if follows and change == change:
                if change:
                    self.steps.add(abs(change))
                if burning:
                    self.changes.add(abs(change))
            self._hold(value, time, burning and follows)
        self.last = value

    def _hold(self, value: float, time: float, goes_on: bool) -> None:
        run = self.run
        if run is not None and goes_on and run.value == value:
            self.run = Held(run.start, time, run.count + 1, value)
        else:
            self.run = Held(time, time, 1, value)
        if self.held is None or self.run.count > self.held.count:
            self.held = self.run

    def seen(self) -> Seen:
        changes = self.changes.values
        steps = self.steps.values
        resolution = quantiles_of(steps, (0.05,))[0] if steps else 0.0
        noise = ROBUST * median(changes) / math.sqrt(2.0) if changes else 0.0
        noise = max(noise, resolution / math.sqrt(12.0))
        return Seen(
            self.channel,
            self.count,
            self.gaps,
            self.bounds,
            self.low,
            self.high,
            quantiles_of(self.kept.values),
            resolution,
            noise,
            self.held,
        )


def survey(trace: Trace) -> Survey:
    """One pass over the whole trace in constant memory.

    -> Survey; noise is 1.4826 x median |difference of neighbours| / sqrt(2), from burning rows that follow one another
    """
    step, rule = step_of(trace), Rule(trace)
    collectors = [_Collector(channel) for channel in trace.channels]
    count = gaps = missing = burning_count = runs = disagree = 0
    start = last = math.nan
    was = False
    for sample in trace:
        follows = sample.time - last <= step.gap
        if count and not follows:
            gaps += 1
            missing += round((sample.time - last) / step.seconds) - 1 if step.regular and step.seconds else 0
        burning = rule.burning(sample)
        vote = rule.vote(sample)
        disagree += bool(vote.yes and vote.no)
        burning_count += burning
        runs += burning and not (was and follows)
        _gather(collectors, sample, follows, burning and was)
        start = sample.time if not count else start
        count, last, was = count + 1, sample.time, burning
    return Survey(
        count,
        start,
        last,
        step,
        gaps,
        missing,
        burning_count,
        runs,
        disagree,
        tuple(collector.seen() for collector in collectors),
    )


def _gather(collectors: list[_Collector], sample: Sample, follows: bool, burning: bool) -> None:
    for collector, value in zip(collectors, sample.values, strict=True):
        collector.add(value, sample.time, follows, burning)
    for index, _ in sample.bounds:
        collectors[index].bounds += 1
        collectors[index].gaps -= 1
