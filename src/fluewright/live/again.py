"""What came before: copies of a row, numbers that were used up, and stretches that were recorded and are replayed.

A copy is nothing bad: a broker that was not answered brings it again. A stretch that repeats an earlier one row by row
is: no instrument reads the same thirty moving rows twice, so somebody sends what was recorded.
"""

import hashlib
from collections import OrderedDict, deque
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

KEYS = 4096
"""Keys of rows that are remembered. A broker whose client comes back sends all that waited at once, whatever bound it
was told: 535 unanswered rows were seen where 200 were asked for."""

WINDOW = 64
"""How far a signed number may lie behind the highest: rows can pass one another on the way."""

RUN, DIFFERENT = 30, 12
"""Rows that have to repeat, and how many different ones must be among them: a steady display repeats by nature
(common practice, no source)."""

ONE_IN, RUNS = 16, 4096
"""Which runs are remembered, one in sixteen by chance, and how many: at ten rows a second nearly two hours."""

Found = Literal["new", "copy", "used up"]


def _digest(cells: Mapping[str, str]) -> bytes:
    return hashlib.blake2b("\0".join(f"{k}\1{v}" for k, v in sorted(cells.items())).encode(), digest_size=8).digest()


def mark_of(number: int | None, cells: Mapping[str, str], *, proven: bool) -> str:
    """What a second copy of a numbered row shares with it; empty where it has no number.

    The number alone where its sender is proven. Anybody could send the next numbers beforehand, so that the rows of an
    instrument would pass for copies and its alarm never be heard: of unproven rows the content has to be the same too.
    """
    if number is None:
        return ""
    return str(number) if proven else f"{number}:{_digest(cells).hex()}"


@dataclass(slots=True)
class Seen:
    """What one source has sent so far, in bounded memory.

    copies    rows that were brought twice and kept once
    used_up   signed rows whose number was used before
    replayed  whether a stretch of it repeated an earlier one; stays so
    """

    copies: int = 0
    used_up: int = 0
    replayed: bool = False
    _keys: OrderedDict[str, None] = field(default_factory=OrderedDict)
    _marks: OrderedDict[str, None] = field(default_factory=OrderedDict)
    _highest: int = -1
    _last: deque[int] = field(default_factory=lambda: deque(maxlen=RUN))
    _runs: OrderedDict[int, None] = field(default_factory=OrderedDict)

    def found(self, *, key: str, again: bool, mark: str) -> Found:
        """Whether a row is new.

        key, again  as of the row
        mark        of its number, see `mark_of`
        -> new; copy where it was kept before; used up where a signed number lies behind what was kept
        """
        if mark and mark in self._marks:
            self.copies += 1
            return "copy"
        if mark.isdigit() and int(mark) <= self._highest - WINDOW:
            self.used_up += 1
            return "used up"
        if again and key and key in self._keys:
            self.copies += 1
            return "copy"
        return "new"

    def keep(self, *, key: str, mark: str) -> None:
        """Remember a row that is kept."""
        if key:
            self._keys[key] = None
            if len(self._keys) > KEYS:
                self._keys.popitem(last=False)
        if mark:
            self._marks[mark] = None
            self._highest = max(self._highest, int(mark) if mark.isdigit() else -1)
            if len(self._marks) > KEYS:
                self._marks.popitem(last=False)

    def look(self, cells: Mapping[str, str]) -> bool:
        """Look whether rows repeat an earlier stretch; -> whether this row is the one that shows it."""
        self._last.append(int.from_bytes(_digest(cells), "little"))
        if len(self._last) < RUN or len(set(self._last)) < DIFFERENT:
            return False
        run = hash(tuple(self._last))
        if run % ONE_IN:
            return False
        known = run in self._runs
        self._runs[run] = None
        if len(self._runs) > RUNS:
            self._runs.popitem(last=False)
        shows = known and not self.replayed
        self.replayed = self.replayed or known
        return shows

    def state(self) -> dict[str, object]:
        """What has to be known after a restart, so that a copy is known as one."""
        return {"keys": list(self._keys), "marks": list(self._marks), "replayed": self.replayed}

    def restore(self, state: Mapping[str, object]) -> None:
        """Take up what was known before a restart."""
        keys, marks = state.get("keys", []), state.get("marks", [])
        assert isinstance(keys, list) and isinstance(marks, list)
        for key in keys:
            self.keep(key=str(key), mark="")
        for mark in marks:
            self.keep(key="", mark=str(mark))
        self.replayed = self.replayed or state.get("replayed") is True
