"""A trace that was taken: channels under registry names in canonical units, rows in order of time, any length."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, pairwise
from statistics import median
from types import TracebackType

from fluewright.evidence.trace.edges import Edges
from fluewright.evidence.trace.spool import Sample, Spool, opened
from fluewright.evidence.trace.times import Form, shown


@dataclass(frozen=True, slots=True)
class Channel:
    """One channel of a trace.

    name      registry name such as oxygen_dry, or a plain word made of the header when the quantity is not known
    unit      canonical unit of the registry, or the unit as written
    header    the column's name in the file
    quantity  True when the name is a registry name
    """

    name: str
    unit: str
    header: str
    quantity: bool = True


class Trace:
    """Rows of readings in order of time, each time once; iterating gives samples, as often as wanted.

    edges  by channel, what stands for a cell that only says "over range": the highest figure of its column
    tick   told now and then how many rows of how many have gone by
    """

    def __init__(
        self, *, channels: Sequence[Channel], spool: Spool, form: Form, subject: str = "trace",
        edges: Sequence[float] = (),
    ) -> None:  # fmt: skip
        self.channels = tuple(channels)
        self.form = form
        self.subject = subject
        self.tick: Callable[[int, int], None] | None = None
        self._spool, self._edges = spool, edges

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the channels, in the order of the values of a sample."""
        return tuple(channel.name for channel in self.channels)

    def index(self, name: str) -> int:
        """Where a channel stands in the values of a sample, -1 when the trace does not have it."""
        names = self.names
        return names.index(name) if name in names else -1

    def __iter__(self) -> Iterator[Sample]:
        last = math.nan
        for number, flat in enumerate(self._spool.packed()):
            if self.tick is not None and number % 4096 == 0:
                self.tick(number, self._spool.count)
            if flat[0] != last:
                last = flat[0]
                yield opened(flat, self._edges)

    def rows(self) -> Iterator[Sample]:
        """Every row, also those that repeat a time."""
        return (opened(flat, self._edges) for flat in self._spool.packed())

    def shown(self, seconds: float) -> str:
        """A moment of this trace as text."""
        return shown(seconds, self.form)

    def close(self) -> None:
        """Let the temporary storage go; the trace cannot be read any more."""
        self._spool.close()

    def __enter__(self) -> "Trace":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        self.close()


def from_rows(
    *, channels: Sequence[Channel], rows: Iterable[tuple[float, Sequence[float]]], form: Form | None = None
) -> Trace:
    """A trace from rows at hand, such as a simulated appliance.

    channels  one for each value of a row
    rows      (seconds, values in canonical units), in order of time; nan for no reading
    form      how times are shown; elapsed seconds when not given
    -> Trace
    """
    spool = Spool(len(channels))
    for number, (time, values) in enumerate(rows, start=1):
        spool.append(time, number, values)
    return Trace(channels=channels, spool=spool, form=form or Form("elapsed seconds"))


def averaged(trace: Trace, *, step_seconds: float) -> Trace:
    """The same trace in means of equal steps, on whole multiples of the step; a step without a value is a gap.

    A bound in a step stands at its edge and makes the step a bound of its channel: a floor or a ceiling. Carbon
    monoxide that was not read in more than a tenth of a step is a gap there; other channels may come more seldom.

    step_seconds  length of a step, larger than 0
    -> Trace with one row for each step that holds a row, at the middle of the step
    """
    spool = Spool(len(trace.channels))
    sums = [Edges() for _ in trace.channels]
    monoxide = [channel.name.startswith("carbon_monoxide") for channel in trace.channels]
    place, row = -math.inf, 0

    def write() -> None:
        above, below = (
            sum(1 << index for index, one in enumerate(sums) if one.side == side) for side in ("at least", "at most")
        )
        values = [math.nan if toxic and one.sparse else one.mean for one, toxic in zip(sums, monoxide, strict=True)]
        spool.append((place + 0.5) * step_seconds, row, values, above, below)

    for sample in trace:
        now = math.floor(sample.time / step_seconds)
        if now != place:
            if row:
                write()
            place, sums = now, [Edges() for _ in trace.channels]
        row = sample.row
        for index, one in enumerate(sums):
            one.add(sample, index)
    if row:
        write()
    return Trace(channels=trace.channels, spool=spool, form=trace.form, subject=trace.subject)


STEPS = 10_000
"""Steps looked at for the usual one."""


@dataclass(frozen=True, slots=True)
class Step:
    """The usual time from row to row. regular: nearly all steps are equal. gap: a longer step than this is a gap."""

    seconds: float
    regular: bool
    gap: float


def step_of(trace: Trace) -> Step:
    """The usual step from the first ten thousand rows: the median, and whether 9 in 10 steps are within 2 % of it.

    -> Step; a gap is more than one and a half regular steps, or more than five irregular ones
    """
    times = [sample.time for sample in islice(trace, STEPS + 1)]
    steps = [b - a for a, b in pairwise(times)]
    if not steps:
        return Step(0.0, True, math.inf)
    usual = median(steps)
    regular = sum(abs(step - usual) <= 0.02 * usual for step in steps) >= 0.9 * len(steps)
    return Step(usual, regular, usual * (1.5 if regular else 5.0))
