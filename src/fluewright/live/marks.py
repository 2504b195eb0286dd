"""What a person did while it was recorded, and whether the burner burns: what changes are held against."""

import math
from dataclasses import dataclass

from fluewright.evidence.trace.burning import Rule
from fluewright.evidence.trace.spool import Sample as Row
from fluewright.live.rows import Names

WORDS = (
    "lit", "off", "blower on", "blower off", "fan on", "fan off", "door shut", "door open", "step", "other lit",
    "other off",
)  # fmt: skip
"""Actions that sentences know. Any other word is kept and shown beside what followed."""


BELIEVED = 180.0
"""s for which a mark of lighting or shutting off stands against the channels: three responses of a slow cell."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One thing that was done.

    at         s
    word       one of WORDS, or any other
    appliance  to which, empty for the house or where there is one
    note       as a person said it
    unsure     s by which it may have been later: written down by the minute
    """

    at: float
    word: str
    appliance: str = ""
    note: str = ""
    unsure: float = 0.0


class Burner:
    """Whether one appliance burns and since when: by what was marked, else by what its channels say.

    since  s, when it was lit, None while it does not burn or nobody can tell
    starts when it was lit, the last few
    """

    KEPT = 12

    def __init__(self, names: Names) -> None:
        self.rule = Rule(names)
        self.told = any(names.index(one) >= 0 for one in ("firing_rate", "oxygen_dry", "oxygen_wet",
                                                          "carbon_dioxide_dry", "flue_temperature"))  # fmt: skip
        self.burning = False
        self.since: float | None = None
        self.starts: list[float] = []
        self._marked_at = -math.inf
        self._known = False
        self._votes = 0

    def mark(self, mark: Mark) -> None:
        """Somebody lit it or shut it off: that stands until its channels have had time to say otherwise.

        Of a mark that names only the minute the channels tell the second.
        """
        if mark.word not in ("lit", "off") or mark.unsure:
            return
        self._marked_at = mark.at
        self._become(mark.word == "lit", mark.at, certain=True)

    def step(self, row: Row) -> None:
        """Take one row; without a mark three rows that agree decide."""
        if not self.told or row.time - self._marked_at < BELIEVED:
            return
        vote = self.rule.vote(row)
        now = vote.burning if (vote.yes or vote.no) else self.burning
        if now == self.burning and self._known:
            self._votes = 0
            return
        self._votes += 1
        if self._votes >= 3:
            self._become(now, row.time - 2.0, certain=self._known)

    def _become(self, burning: bool, at: float, *, certain: bool) -> None:
        if burning and not self.burning:
            self.since = at if certain else None
            if certain:
                self.starts = [*self.starts[-self.KEPT :], at]
        if not burning:
            self.since = None
        self.burning, self._known, self._votes = burning, True, 0
