"""How fast a door answers one address or one person: a bucket of turns that fills at a steady rate, kept in memory."""

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Lock

MOST = 10_000
"""Buckets that are kept; the one asked for longest ago goes first."""


@dataclass(frozen=True, slots=True)
class Pace:
    """How many turns.

    each   turns that come back in a second
    most   turns that may be taken at once
    """

    each: float
    most: float


ASKED = Pace(50.0, 500.0)
"""Requests from one address: a page with all that belongs to it many times over. Common practice, no source."""
CHANGED = Pace(10.0, 200.0)
"""Changes by one person or program: faster than anybody types, slow enough to notice. Common practice, no source."""
SIGNING_IN = Pace(0.2, 10.0)
"""Passwords tried from one address, since each costs 64 MiB and a tenth of a second. Common practice, no source."""


@dataclass(slots=True)
class Buckets:
    """The buckets of one pace.

    pace     turns
    seconds  a clock that only runs forward
    most     buckets kept
    """

    pace: Pace
    seconds: Callable[[], float]
    most: int = MOST
    _kept: "OrderedDict[str, tuple[float, float]]" = field(default_factory=OrderedDict)
    _turn: Lock = field(default_factory=Lock)

    def wait(self, who: str) -> float:
        """Take a turn.

        who  whose bucket
        -> 0 when there was one; else the seconds until there is one again, and then none was taken
        """
        with self._turn:
            now = self.seconds()
            left, since = self._kept.pop(who, (self.pace.most, now))
            left = min(self.pace.most, left + (now - since) * self.pace.each)
            wait = 0.0 if left >= 1.0 else (1.0 - left) / self.pace.each
            self._kept[who] = (left if wait else left - 1.0, now)
            while len(self._kept) > self.most:
                self._kept.popitem(last=False)
            return wait
