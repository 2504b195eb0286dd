"""Means over time of readings taken when there was time: the air goes straight from one reading to the next.

Plain floats: readings come with times, and times have to be put in order.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple


class Sample(NamedTuple):
    """One reading: time in s from any zero, and what was read, any unit."""

    time: float
    level: float


class Window(NamedTuple):
    """A stretch of time and what was read in it.

    start    s, on the clock of the samples
    area     level times s, over the time that was covered
    covered  s between readings near enough to each other to be joined
    """

    start: float
    area: float
    covered: float


class _Line:
    """Readings joined by straight lines, with what has gone by until each; wider gaps count for nothing."""

    def __init__(self, samples: Sequence[Sample], longest_gap: float) -> None:
        self.samples = samples
        self.times = [sample.time for sample in samples]
        self.gap = longest_gap
        self.areas, self.covered = [0.0], [0.0]
        for one, two in pairwise(samples):
            step = two.time - one.time
            joined = step <= longest_gap
            self.areas.append(self.areas[-1] + (0.5 * step * (one.level + two.level) if joined else 0.0))
            self.covered.append(self.covered[-1] + (step if joined else 0.0))

    def level(self, time: float) -> float:
        """What the line shows at a time, the nearest end outside."""
        index = min(max(bisect_right(self.times, time) - 1, 0), len(self.samples) - 2)
        one, two = self.samples[index], self.samples[index + 1]
        share = min(max((time - one.time) / (two.time - one.time), 0.0), 1.0)
        return one.level + share * (two.level - one.level)

    def until(self, time: float) -> tuple[float, float]:
        """Area and time covered from the first reading to a time."""
        index = bisect_right(self.times, time) - 1
        if index < 0:
            return 0.0, 0.0
        if index >= len(self.samples) - 1 or self.times[index + 1] - self.times[index] > self.gap:
            return self.areas[index], self.covered[index]
        step = time - self.times[index]
        area = 0.5 * step * (self.samples[index].level + self.level(time))
        return self.areas[index] + area, self.covered[index] + step

    def window(self, start: float, duration: float) -> Window:
        """What lies between two times."""
        area, covered = self.until(start)
        area_then, covered_then = self.until(start + duration)
        return Window(start, area_then - area, covered_then - covered)

    def starts(self, duration: float) -> Iterator[float]:
        """Where the mean of a window can be highest: at a reading, or where both its ends read the same."""
        first, last = self.times[0], self.times[-1] - duration
        if last <= first:
            yield first
            return
        turns = {first, last, *(t for t in self.times if first < t < last)}
        turns |= {t - duration for t in self.times if first < t - duration < last}
        ordered = sorted(turns)
        yield from ordered
        for one, two in pairwise(ordered):
            gain, loss = (self.level(start + duration) - self.level(start) for start in (one, two))
            if gain > 0.0 > loss:
                yield one + (two - one) * gain / (gain - loss)


def whole(*, window: Window, duration: float, least_share: float) -> bool:
    """Whether enough of a window was read to let its mean stand.

    window       from highest_window
    duration     s, of the whole window
    least_share  0..1 of it that must have been read
    -> yes or no

    Holds   rules that count hours and rules that count time alike
    Fails   -
    Source  40 CFR 50.8(c): 75 % of the hours (read); checks ROOM-HOURS
    """
    return window.covered >= least_share * duration * (1.0 - 1e-12)


def highest_window(
    *, samples: Sequence[Sample], duration: float, longest_gap: float, least_share: float
) -> Window | None:
    """The stretch of a given length with the highest mean.

    Of the windows that were read for long enough the one with the highest mean over the time read; where there is none,
    the one with the most area.

    samples      in the order of time, no two at the same
    duration     s, of the window
    longest_gap  s, between readings that are still joined by a line
    least_share  0..1 of the window that must have been read
    -> window; None for fewer than two readings

    Holds   levels that change evenly between readings; exact for such a line without gaps
    Fails   a peak between two readings that nobody saw
    Source  integral of straight lines; checks ROOM-MEAN-1, ROOM-MEAN-2
    """
    if len(samples) < 2:
        return None
    line = _Line(samples, longest_gap)
    windows = [line.window(start, duration) for start in line.starts(duration)]
    standing = [one for one in windows if whole(window=one, duration=duration, least_share=least_share)]
    if standing:
        return max(standing, key=lambda one: one.area / one.covered)
    return max(windows, key=lambda one: one.area)


def window_from(*, samples: Sequence[Sample], start: float, duration: float, longest_gap: float) -> Window:
    """Level times time between two times.

    What `highest_window` found, asked again of other levels at the same times: the area is linear in the levels.

    samples      at least two, in the order of time, no two at the same
    start        s, on the clock of the samples
    duration     s, of the window
    longest_gap  s, between readings that are still joined by a line
    -> window

    Holds   levels that change evenly between readings
    Fails   IndexError for fewer than two readings
    Source  integral of straight lines; checks ROOM-MEAN-1, ROOM-MEAN-2
    """
    return _Line(samples, longest_gap).window(start, duration)


def area_below(*, samples: Sequence[Sample], longest_gap: float) -> Window | None:
    """Level times time over all readings.

    samples      in the order of time, no two at the same
    longest_gap  s, between readings that are still joined by a line
    -> window from the first reading on; None for fewer than two readings

    Holds   levels that change evenly between readings
    Fails   gaps count for nothing, so what was breathed then is missing
    Source  integral of straight lines; check ROOM-MEAN-3
    """
    if len(samples) < 2:
        return None
    line = _Line(samples, longest_gap)
    return Window(line.times[0], line.areas[-1], line.covered[-1])


def gaps(*, samples: Sequence[Sample], longest_gap: float) -> tuple[tuple[float, float], ...]:
    """Where nobody read for too long: start and length of each gap.

    samples      in the order of time
    longest_gap  s, between readings that are still joined by a line
    -> pairs of start and length, s

    Holds   always
    Fails   -
    Source  a count
    """
    return tuple((one.time, two.time - one.time) for one, two in pairwise(samples) if two.time - one.time > longest_gap)
