"""Carbon monoxide beyond a limit anywhere in a trace, steady or not: when, how long, how much at least."""

import heapq
import math
from dataclasses import dataclass

from fluewright.evidence.trace.burning import Rule
from fluewright.evidence.trace.edges import edge_of
from fluewright.evidence.trace.spool import Sample
from fluewright.evidence.trace.survey import Survey
from fluewright.evidence.trace.trace import Trace

LIMIT = 1000e-6
"""mol/mol as read: the shut-off value of the trade (common practice, no source; practice-co-stop of the rule books)."""
LIGHTING = 30.0
"""Seconds after the first burning row in which a puff of lighting shows itself (common practice, no source)."""
FEW = 10.0
"""Seconds that such a puff lasts at most in the gas itself (common practice, no source)."""
KEPT = 20
"""Most peaks kept, the highest; the others are counted."""
CHANNELS = ("carbon_monoxide_dry", "carbon_monoxide_wet")


@dataclass(frozen=True, slots=True)
class Peak:
    """One time beyond the limit.

    start, end  first and last row beyond it, seconds as in the trace
    seconds     how long it lasted: each row stands for one step
    highest     most that was shown, mol/mol, with the time
    mean        of its rows, mol/mol; a floor where a row was a bound
    bound       a row read only "more than"
    ignition    a few seconds right after lighting, as far as the cell can tell
    """

    start: float
    end: float
    seconds: float
    highest: float
    at: float
    mean: float
    bound: bool
    ignition: bool


@dataclass(frozen=True, slots=True)
class Peaks:
    """What carbon monoxide reached.

    channel  registry name, empty when the trace has no carbon monoxide
    highest  most that was shown in any row, bounds at their edge; nan when there is none
    at       when
    over     the peaks beyond the limit while burning, in order of time
    count    how many there were, also those not kept
    """

    channel: str = ""
    highest: float = math.nan
    at: float = math.nan
    over: tuple[Peak, ...] = ()
    count: int = 0


def alight(rule: Rule, sample: Sample) -> bool:
    """Whether gas of a flame can be in the probe: a flue that is not yet warm does not speak against it."""
    vote = rule.vote(sample)
    return rule.burning(sample) or (bool(vote.yes) and set(vote.no) <= {"flue_temperature"})


def peaks(trace: Trace, seen: Survey, *, response_seconds: float) -> Peaks:
    """Every time beyond the limit, in one pass and constant memory.

    response_seconds  T90 of the cell: what it shows of a puff falls back over so long for each power of ten
    -> Peaks
    """
    channel = next((name for name in CHANNELS if trace.index(name) >= 0), "")
    if not channel:
        return Peaks()
    finder = _Finder(trace, channel, seen, response_seconds)
    for sample in trace:
        finder.step(sample)
    finder.close()
    over = sorted((peak for _, _, peak in finder.kept), key=lambda peak: peak.start)
    return Peaks(channel, finder.highest[0], finder.highest[1], tuple(over), finder.count)


class _Finder:
    """Walks over the rows once."""

    def __init__(self, trace: Trace, channel: str, seen: Survey, response_seconds: float) -> None:
        self.index = trace.index(channel)
        self.rule, self.seen, self.response = Rule(trace), seen, response_seconds
        self.highest = (math.nan, math.nan)
        self.kept: list[tuple[float, int, Peak]] = []
        self.count = 0
        self.lit = math.nan
        self.was: bool | None = None
        self.last = math.nan
        self.open: list[tuple[float, float, bool]] = []
        self.total = (0, 0.0)

    def step(self, sample: Sample) -> None:
        """Take one row."""
        value = edge_of(sample, self.index)
        if value == value and not value <= self.highest[0]:
            self.highest = (value, sample.time)
        joined = sample.time - self.last <= self.seen.step.gap
        burns = alight(self.rule, sample)
        if burns and self.was is not True:
            self.lit = sample.time if joined and self.was is False else math.nan
        if not burns or not joined:
            self.close()
        self.was, self.last = burns, sample.time
        if not burns or value != value:
            return
        if value <= LIMIT:
            self.close()
            return
        row = (sample.time, value, bool(sample.above >> self.index & 1))
        self.open = [row, row, row] if not self.open else [self.open[0], max(self.open[1], row, key=_height), row]
        self.total = (self.total[0] + 1, self.total[1] + value)

    def close(self) -> None:
        """What is open ends here."""
        if not self.open:
            return
        (start, _, _), (at, highest, bound), (end, _, _) = self.open
        seconds = end - start + self.seen.step.seconds
        longest = FEW + self.response * math.log10(highest / LIMIT)
        brief = start - self.lit <= LIGHTING and seconds <= longest
        mean = self.total[1] / self.total[0]
        peak = Peak(start, end, seconds, highest, at, mean, bound, brief)
        self.count += 1
        heapq.heappush(self.kept, (_weight(peak), self.count, peak))
        if len(self.kept) > KEPT:
            heapq.heappop(self.kept)
        self.open, self.total = [], (0, 0.0)


def _height(row: tuple[float, float, bool]) -> tuple[float, bool]:
    return row[1], row[2]


def _weight(peak: Peak) -> float:
    """What is kept when there are many: those that are no lighting first, then the highest times the longest."""
    return peak.highest * peak.seconds + (0.0 if peak.ignition else 1e6)
