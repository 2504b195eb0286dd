"""How much a channel wavers by itself, learned on several lengths of time while it runs.

For each length m (1, 2, 4, ... rows) the means of neighbouring blocks of m rows are compared. How much they usually
differ is what a true change has to stand out from, whatever kind of noise it is: neighbours that resemble each other,
a flame that flickers, rounding. No model of the noise is needed.
"""

import math
from collections import deque
from statistics import median

ROBUST = 1.4826
"""Standard deviation / median absolute deviation of a normal distribution: 1 / Phi^-1(3/4), computed."""
SECOND = math.sqrt(3.0)
"""Second differences of block means over first ones, for independent rows: sqrt(6 / 2), computed."""
PIECES = 48
"""Pieces remembered for each length."""
FEW = 8
"""Pieces from which their median is believed."""


class Tremor:
    """The usual difference of neighbouring block means, by length of block, in constant memory.

    step     least step that the channel shows
    longest  rows of the longest block

    Holds   noise of one kind for the time remembered
    Fails   while fewer than eight pieces of the shortest length are known: `ready` is then False
    Source  deviation of neighbouring means: D. W. Allan, Proc. IEEE 54 (1966) 221; with second differences a steady
            drift drops out; median of absolute values for outliers (all from memory)
    """

    def __init__(self, *, step: float, longest: int) -> None:
        self.lengths = [1 << power for power in range(longest.bit_length()) if 1 << power <= longest]
        self._least = step / math.sqrt(12.0)
        self._seen: list[deque[float]] = [deque(maxlen=PIECES) for _ in self.lengths]
        self._own: list[float | None] = [None] * len(self.lengths)
        self._usual = [math.inf] * len(self.lengths)

    @property
    def ready(self) -> bool:
        """Whether enough is known to tell a change from noise."""
        return len(self._seen[0]) >= FEW

    def learn(self, place: int, first: float, second: float, third: float) -> None:
        """Three neighbouring block means of one length, none of which overlaps one learned before."""
        seen = self._seen[place]
        seen.append(abs(first - 2.0 * second + third))
        if len(seen) >= FEW:
            self._own[place] = ROBUST * median(seen) / SECOND
        self._usual = self._again()

    def _again(self) -> list[float]:
        """A longer mean is calmer only where that has been seen: until then it counts as no calmer."""
        usual: list[float] = []
        before = self._least
        for own in self._own:
            before = max(before if own is None else own, before / 2.0, self._least * (0.5 if usual else 1.0))
            usual.append(before)
        return usual

    def usual(self, place: int) -> float:
        """Standard deviation of the difference of neighbouring means of one length; infinite while nothing is known."""
        return self._usual[place] if self.ready else math.inf

    @property
    def row(self) -> float:
        """Standard deviation of one row; infinite while nothing is known."""
        return self.usual(0) / math.sqrt(2.0)

    def slow(self, rows: int) -> float:
        """What independent rows would have to waver by, one by one, for means of some rows to waver as they do.

        rows  the longest length that is asked for; the largest of those that were learned up to there
        -> standard deviation of one such row; 0 while nothing is known
        """
        learned = [
            own * math.sqrt(length / 2.0)
            for length, own in zip(self.lengths, self._own, strict=True)
            if own is not None and length <= rows
        ]
        return max(learned, default=0.0)
