"""The sender's clocks set against ours: one clock for all, what came late, and clocks that jump."""

import math
from collections import deque
from dataclasses import dataclass, field

KEPT = 600
"""Differences that the setting of one clock rests on."""

JUMP = 2.0
"""s: a clock that moves by more than this at once was set anew (common practice, no source)."""

IN_A_ROW = 30
"""Rows before the last moment, one after the other, that tell a clock set back from rows that came late."""


@dataclass(slots=True)
class SetClock:
    """One sender's clock against ours.

    Rows travel, so what lies between its moment and ours is its offset and a delay that is never below nothing: the
    least difference of late is the offset, with the shortest delay in it. Only rows that come at the pace at which they
    were made tell the offset; those that waited somewhere come faster, and keep their moment. Until a row told it, the
    sender's clock is taken to be right, or at least not ahead of ours.

    jumps  how often its clock was set anew
    """

    jumps: int = 0
    _differences: deque[float] = field(default_factory=lambda: deque(maxlen=KEPT))
    _least: float = math.inf
    _last: float = 0.0
    _behind: int = 0
    _before: tuple[float, float] = (math.nan, math.nan)

    @property
    def offset(self) -> float:
        """s that ours is ahead of the sender's; 0 while nothing is known."""
        return 0.0 if math.isinf(self._least) else self._least

    def at(self, *, stamped: float, arrived: float) -> tuple[float, bool]:
        """The moment of a row on our clock, and whether a later one came before it.

        stamped  s, by the sender
        arrived  s, by us
        -> s on our clock, never after it came; True where it is late
        """
        difference = arrived - stamped
        self._behind = self._behind + 1 if stamped < self._last - JUMP else 0
        if difference < self._least - JUMP < math.inf or self._behind >= IN_A_ROW:
            self._anew()
        made, came = stamped - self._before[0], arrived - self._before[1]
        self._before = (stamped, arrived)
        if difference < min(self._least, 0.0) or (made > 0.0 and 0.5 * made <= came):
            self._learn(difference)
        late = stamped < self._last
        self._last = max(self._last, stamped)
        return min(arrived, stamped + self.offset), late

    def _learn(self, difference: float) -> None:
        gone = self._differences[0] if len(self._differences) == KEPT else math.nan
        self._differences.append(difference)
        self._least = min(self._differences) if gone == self._least else min(self._least, difference)

    def _anew(self) -> None:
        self._differences.clear()
        self._least, self._last, self._behind = math.inf, 0.0, 0
        self.jumps += 1
