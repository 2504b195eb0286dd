"""How old what a channel shows is: its usual interval, and whether three of them went by without a sample."""

from collections import deque
from dataclasses import dataclass, field
from statistics import median

SILENT = 3.0
"""Intervals without a sample after which a line is no longer of now (design: age of live lines)."""

FIRST = 1.0
"""s, the interval of a channel of which one sample has come."""

LEAST = 0.5
"""s: a page is drawn twice a second, so that nothing shorter is told apart."""


@dataclass(slots=True)
class Pulse:
    """When the samples of one channel came.

    last   s, the latest
    trust  grade of its sender with that sample
    """

    last: float
    trust: str = "unknown"
    _gaps: deque[float] = field(default_factory=lambda: deque(maxlen=9))

    def beat(self, at: float, trust: str) -> None:
        """One more sample."""
        if at > self.last:
            self._gaps.append(at - self.last)
            self.last = at
        self.trust = trust

    @property
    def interval(self) -> float:
        """s, as its samples usually come."""
        return max(LEAST, median(self._gaps) if self._gaps else FIRST)

    def silent(self, now: float) -> bool:
        """Whether three of its own intervals went by without a sample."""
        return now - self.last > SILENT * self.interval
