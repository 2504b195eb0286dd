"""The steady stretches of a trace as results: mean of each channel with its doubt, start, end, rows and the reason."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from fluewright.evidence.trace.edges import MOST_GAPS, Side, side_of, values_of
from fluewright.evidence.trace.steady import ROWS, Criterion, Span, criterion_of, kind_of, spans
from fluewright.evidence.trace.survey import Survey, survey
from fluewright.evidence.trace.trace import Channel, Trace

Accuracy = Callable[[str, float], float]
"""Registry name and value (canonical) -> standard uncertainty of the instrument, same unit."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """One steady stretch, one row of results.

    start, end  seconds as in the trace
    count       rows
    means       by channel name, canonical unit
    spreads     standard uncertainty of each mean: scatter with autocorrelation counted, and the instrument, in squares
    scatters    standard deviation of the rows
    bounds      rows whose cell was only a bound: they stand at their edge, and the mean is no mean but a floor or
                ceiling, see `side`
    above       those of them that read "more than"
    climbs      how much carbon monoxide rose from first row to last, mol/mol, only where its noise cannot explain that
    kind        "settled" (instrument) or "steady" (appliance too); never the steady of a rule
    reason      why it counts as steady and what ended it
    """

    number: int
    start: float
    end: float
    count: int
    means: Mapping[str, float]
    spreads: Mapping[str, float]
    scatters: Mapping[str, float]
    bounds: Mapping[str, int]
    kind: str
    reason: str
    above: Mapping[str, int] = field(default_factory=dict)
    climbs: Mapping[str, float] = field(default_factory=dict)

    def side(self, name: str) -> Side:
        """Whether the mean of a channel is only "at least" or "at most"; empty where it is a mean."""
        beyond = self.above.get(name, 0)
        return side_of(beyond, self.bounds.get(name, 0) - beyond)


def stretches(
    trace: Trace, *, response_seconds: float, accuracy: Accuracy | None = None, seen: Survey | None = None,
    least_rows: int = ROWS,
) -> list[Stretch]:  # fmt: skip
    """All steady stretches of a trace, in order of time.

    response_seconds  T90 of the slowest sensor
    accuracy          the instrument's own doubt; left out of the spreads when not given
    seen              a survey made before, to spare a pass
    least_rows        fewest rows of a window
    -> stretches; empty when it never burns steadily
    """
    return list(each(trace, response_seconds=response_seconds, accuracy=accuracy, seen=seen, least_rows=least_rows))


def each(
    trace: Trace, *, response_seconds: float, accuracy: Accuracy | None = None, seen: Survey | None = None,
    least_rows: int = ROWS,
) -> Iterator[Stretch]:  # fmt: skip
    """The same, one after the other, in constant memory."""
    criterion = criterion_of(trace, seen or survey(trace), response_seconds=response_seconds, least_rows=least_rows)
    for number, found in enumerate(spans(trace, criterion), start=1):
        yield _stretch(number, found, trace.channels, criterion, accuracy)


def _stretch(
    number: int, found: Span, channels: Sequence[Channel], criterion: Criterion, accuracy: Accuracy | None
) -> Stretch:
    means, spreads, scatters, bounds, above, climbs = {}, {}, {}, {}, {}, {}
    left_out, rows = "", len(found.samples)
    for index, channel in enumerate(channels):
        values = values_of(found.samples, index)
        limited = sum((sample.above | sample.below) >> index & 1 for sample in found.samples)
        if limited:
            bounds[channel.name] = limited
            above[channel.name] = sum(sample.above >> index & 1 for sample in found.samples)
        if not values:
            continue
        if rows - len(values) > MOST_GAPS * rows and not above.get(channel.name):
            named = channel.name.replace("_", " ")
            left_out += f"; no mean of {named}: {rows - len(values)} of {rows} rows have no reading of it"
            continue
        mean, scatter, doubt = mean_of(values)
        own = accuracy(channel.name, mean) if accuracy and channel.quantity else 0.0
        means[channel.name], scatters[channel.name] = mean, scatter
        spreads[channel.name] = math.hypot(doubt, own)
        if channel.name.startswith("carbon_monoxide") and (climb := climb_of(values)) > 0.0:
            climbs[channel.name] = climb
    start, end = found.samples[0].time, found.samples[-1].time
    reason = (
        f"over every {criterion.window:g} s each deciding channel stayed within its allowance; ended: {found.ended}"
        f"{left_out}"
    )
    kind = kind_of(criterion)
    return Stretch(number, start, end, rows, means, spreads, scatters, bounds, kind, reason, above, climbs)


def mean_of(values: Sequence[float]) -> tuple[float, float, float]:
    """Mean, standard deviation, and standard uncertainty of the mean with autocorrelation counted.

    Neighbours that resemble each other tell less than independent rows: with correlation r of neighbours (first-order
    process) n rows are worth n (1 - r) / (1 + r). Where a quick noise lies over a slow one, neighbours hide the slow
    one; the scatter of the means of sqrt(n) and of 2 sqrt(n) rows each does not. The largest doubt of all is taken.

    -> mean, scatter, doubt

    Holds   disturbances that die away within sqrt(n) rows; r below 0 is taken as 0
    Fails   one value alone has no scatter: 0
    Source  variance of the mean of a first-order autoregressive process, large n (Priestley 1981, from memory); batch
            means (Conway 1963, from memory)
    """
    count = len(values)
    mean = math.fsum(values) / count
    off = [value - mean for value in values]
    square = math.fsum(d * d for d in off)
    if count < 2 or square == 0.0:
        return mean, 0.0, 0.0
    scatter = math.sqrt(square / (count - 1))
    alike = math.fsum(a * b for a, b in pairwise(off)) / square
    alike = min(max(alike + 1.0 / count, 0.0), 1.0 - 2.0 / (count + 1.0))  # + 1/n: the estimate is low by about that
    worth = max(count * (1.0 - alike) / (1.0 + alike), 1.0)
    return mean, scatter, max(scatter / math.sqrt(worth), _by_batches(off, 1), _by_batches(off, 2))


FEWEST_BATCHES = 4
"""Batches from which their scatter is worth anything (common practice, no source)."""


def _by_batches(off: Sequence[float], times: int) -> float:
    """Standard uncertainty of the mean of deviations from it, by the scatter of means of `times` sqrt(n) rows each."""
    size = times * math.isqrt(len(off))
    batches = [math.fsum(off[first : first + size]) / size for first in range(0, len(off) - size + 1, size)]
    count = len(batches)
    if count < FEWEST_BATCHES:
        return 0.0
    middle = math.fsum(batches) / count
    square = math.fsum((batch - middle) ** 2 for batch in batches)
    return math.sqrt(square / (count - 1) / count)


LEAST_CLIMB = 10e-6
"""mol/mol that carbon monoxide must rise by to be told (common practice, no source)."""
LEAST_SHARE = 0.10
"""The same, as a share of the mean."""


def climb_of(values: Sequence[float]) -> float:
    """How much evenly spaced rows rise from first to last along their straight line; 0 where noise can explain it.

    The doubt of the slope counts neighbours that resemble each other, as `mean_of` does; four times that is asked.

    -> rise, unit of the values

    Holds   a rise that is roughly steady
    Fails   fewer than eight rows: 0
    Source  least squares; common practice for the four times, no source
    """
    count = len(values)
    if count < 8:
        return 0.0
    middle, mean = (count - 1) / 2.0, math.fsum(values) / count
    width = count * (count * count - 1.0) / 12.0
    slope = math.fsum((row - middle) * value for row, value in enumerate(values)) / width
    left = [value - mean - slope * (row - middle) for row, value in enumerate(values)]
    _, scatter, doubt = mean_of(left)
    stretched = doubt * math.sqrt(count) if scatter else 0.0
    rise, unsure = slope * (count - 1), stretched / math.sqrt(width) * (count - 1)
    least = max(4.0 * unsure, LEAST_CLIMB, LEAST_SHARE * mean)
    return rise if rise >= least else 0.0
