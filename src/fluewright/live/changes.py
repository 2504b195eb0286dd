"""The moments at which one channel changed: level or slope, how much, and since when; online, in constant memory.

Moving sums on several lengths at once: the mean of the last m rows against the mean of the m rows before, for
m = 2, 4, 8, ... A change is told when the difference stands out from what the channel does by itself on that very
length (tremor.py) and the whole rise is worth a sentence (channel.py). It then stays open until the channel stands
still again, and what it came to is the mean of the rows after against that of the rows before.

Source  moving sums: P. Bauer, P. Hackl, Technometrics 20 (1978) 431; on several lengths: B. Eichinger, C. Kirch,
        Bernoulli 24 (2018) 526 (both from memory)
"""

import math
from dataclasses import dataclass, replace
from typing import Literal

from fluewright.live.channel import GUSTS, Channel, gusty, tellable
from fluewright.live.tremor import Tremor

STANDS_OUT = 6.0
"""Usual differences that a change must stand out by: chosen on quiet made-up traces (steady-and-events.md)."""
STILL = 2.5
"""Usual differences below which it counts as standing still again."""
LONGEST = 256
"""Rows of the longest mean: with a row a second, changes of slope over some eight minutes are seen."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change of one channel.

    channel  which
    number   of the change within its channel, 1 and up
    start    s, when it began, as far as the channel can tell
    found    s, when it stood out
    now      s, up to when it is known
    before   canonical unit, mean of the rows before
    after    mean of the latest rows, or of the rows after it
    farthest the value farthest from before, a mean of the shortest length
    doubt    standard uncertainty of after - before, from the channel's own wavering
    open     whether it still moves
    """

    channel: Channel
    number: int
    start: float
    found: float
    now: float
    before: float
    after: float
    farthest: float
    doubt: float
    open: bool

    @property
    def amount(self) -> float:
        """After less before."""
        return self.after - self.before

    @property
    def worth(self) -> bool:
        """Whether it is worth a sentence: while it is open it may become so."""
        return self.open or abs(self.farthest - self.before) >= tellable(self.channel.quantity).at(self.before)

    @property
    def way(self) -> Literal["up", "down", "back"]:
        """Where it went; back where it left and came home by more than half."""
        if abs(self.amount) < 0.5 * abs(self.farthest - self.before):
            return "back"
        return "up" if self.farthest > self.before else "down"


class Moving:
    """Watches one channel, row by row.

    channel  which
    tick     s from row to row
    longest  rows of the longest mean
    """

    def __init__(self, channel: Channel, *, tick: float, longest: int = LONGEST) -> None:
        self.channel, self.tick = channel, tick
        self.tremor = Tremor(step=channel.step, longest=longest)
        self.open: Change | None = None
        self.count = 0
        self._least = tellable(channel.quantity)
        self._times: list[float] = []
        self._values: list[float] = []
        self._sums: list[float] = [0.0]
        self._kept = 2 * longest
        self._learned = [0] * len(self.tremor.lengths)
        self._rows = 0
        response = max(channel.t90 / tick, 1.0)
        gusts = GUSTS / tick if gusty(channel.quantity) else 2.0
        self._calm = self._length(gusts)
        self._after = self._length(max(response / 2.0, gusts, 4.0))
        self._marked = -math.inf

    def _length(self, rows: float) -> int:
        """The shortest length of so many rows or more."""
        return next((m for m in self.tremor.lengths if m >= rows), self.tremor.lengths[-1])

    def mark(self, until: float) -> None:
        """Something was done: up to that moment a change that came of it is told at once."""
        self._marked = max(self._marked, until)

    def _mean(self, rows: int, skip: int = 0) -> float:
        """Mean of some rows, leaving out the latest `skip`."""
        end = len(self._values) - skip
        return (self._sums[end] - self._sums[end - rows]) / rows + self._origin

    @property
    def _origin(self) -> float:
        return self._values[0]

    def forget(self, keep: int = 0) -> None:
        """Leave all rows but the latest few; what was learned of the wavering stays."""
        self._times, self._values = self._times[len(self._times) - keep :], self._values[len(self._values) - keep :]
        self._again()
        self._rows = len(self._values)
        self._learned = [0] * len(self.tremor.lengths)

    def _again(self) -> None:
        self._sums = [0.0]
        for value in self._values:
            self._sums.append(self._sums[-1] + value - self._values[0])

    def broken(self) -> Change | None:
        """Nothing was read for too long: what is open ends here, and the rows before count no more."""
        ended = replace(self.open, open=False) if self.open else None
        self.open = None
        self.forget()
        return ended

    def step(self, at: float, value: float) -> Change | None:
        """Take one row.

        at     s
        value  canonical unit
        -> the change that was found, moved on or ended with this row; None in quiet
        """
        if len(self._values) >= 2 * self._kept:
            self._times, self._values = self._times[-self._kept :], self._values[-self._kept :]
            self._again()
        self._times.append(at)
        self._values.append(value)
        self._sums.append(self._sums[-1] + value - self._values[0])
        self._rows += 1
        if self.open is not None:
            return self._on(at, value)
        place = self._stands_out()
        if place >= 0:
            return self._begun(at, self.tremor.lengths[place])
        self._learn()
        return None

    def _learn(self) -> None:
        for place, rows in enumerate(self.tremor.lengths):
            if self._rows - self._learned[place] >= 3 * rows and len(self._values) >= 3 * rows:
                self._learned[place] = self._rows
                self.tremor.learn(place, self._mean(rows), self._mean(rows, rows), self._mean(rows, 2 * rows))

    def _stands_out(self) -> int:
        """Place of the shortest length on which the latest rows stand out, -1 where none does."""
        if not self.tremor.ready:
            return -1
        have, sums = len(self._values), self._sums
        shortest = 2 if self._times[-1] <= self._marked else self._calm
        for place, rows in enumerate(self.tremor.lengths):
            if 2 * rows > have:
                return -1
            off = (sums[have] - 2.0 * sums[have - rows] + sums[have - 2 * rows]) / rows
            if rows < shortest or abs(off) <= STANDS_OUT * self.tremor.usual(place):
                continue
            before = self._mean(rows, rows)
            part = max(rows // 2, 1)
            whole = self._mean(part) - self._mean(part, 2 * rows - part)
            latest = self._values[-1] - before
            if abs(whole) > self._least.at(before) and whole * off > 0.0 and latest * off > 0.0:
                return place
        return -1

    def _begun(self, at: float, rows: int) -> Change:
        """A change has been found: where it began, and what stood before."""
        have = len(self._values)
        first = have - 2 * rows
        part = max(rows // 2, 1)
        before = self._mean(part, 2 * rows - part)
        rise = self._mean(part) - before
        least = max(3.0 * self.tremor.row, 0.1 * abs(rise))
        begun = have - 1
        while begun > first and (self._values[begun] - before) * math.copysign(1.0, rise) > least:
            begun -= 1
        end = max(begun, first + part - 1)
        quiet = min(max(end - first + 1, self._after if rows < self._after else 1), end + 1)
        before = self._mean(quiet, have - end - 1)
        self.count += 1
        after = self._mean(min(2, have - begun - 1) or 1)
        doubt = self.tremor.usual(self.tremor.lengths.index(rows))
        self.open = Change(self.channel, self.count, self._times[begun], at, at, before, after, after, doubt, True)
        return self.open

    def _on(self, at: float, value: float) -> Change:
        """A change that is open goes on, or ends where the channel stands still."""
        was = self.open
        assert was is not None
        short = self._mean(2)
        farther = short if abs(short - was.before) > abs(was.farthest - was.before) else was.farthest
        still, rows = self._still(was), self._after
        after = self._mean(min(rows, max(len(self._values) // 4, 1))) if still else short
        doubt = self.tremor.usual(self.tremor.lengths.index(rows)) if still else was.doubt
        now = replace(was, now=at, after=after, farthest=farther, doubt=doubt, open=not still)
        self.open = now if not still else None
        if still:
            self.forget(2 * rows)
        return now

    def _still(self, was: Change) -> bool:
        """Whether it stands still: the last two means of half a response are alike."""
        rows = self._after
        passed = (self._times[-1] - was.start) / self.tick
        if passed < 2 * rows + 2 or len(self._values) < 2 * rows:
            return False
        off = abs(self._mean(rows) - self._mean(rows, rows))
        usual = self.tremor.usual(self.tremor.lengths.index(rows))
        return off < max(STILL * usual, self._least.at(was.before) / 3.0)
