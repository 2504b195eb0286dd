"""What a check finds, and how it tells how far it is."""

from collections.abc import Callable
from dataclasses import dataclass, field

from fluewright.record.chain import Anchor

MOST = 100
"""Findings that are listed; more are counted."""

EACH = 1000
"""Rows after which progress is told."""

Tick = Callable[[str, int, int], None]
"""What is looked at, how much is done, how much there is."""


def silent(what: str, done: int, total: int) -> None:
    """For when nobody watches."""


@dataclass
class Checked:
    """What a check found.

    ends     the last entry of each device as it stands in the store
    entries, secrets, files  how many were looked at
    wrong    what does not hold, the first of it first, at most `MOST`
    found    how much does not hold in all
    unknown  what cannot be told, and why
    """

    ends: list[Anchor] = field(default_factory=list)
    entries: int = 0
    secrets: int = 0
    files: int = 0
    wrong: list[str] = field(default_factory=list)
    found: int = 0
    unknown: list[str] = field(default_factory=list)

    def add(self, sentence: str) -> None:
        """Take up one thing that does not hold."""
        if sentence in self.wrong:
            return
        self.found += 1
        if len(self.wrong) < MOST:
            self.wrong.append(sentence)

    def holds(self) -> bool:
        """Whether nothing was found."""
        return self.found == 0
