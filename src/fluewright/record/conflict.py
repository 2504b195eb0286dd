"""Edits of one field made on different devices without knowing of each other: all are shown, none is chosen.

An amendment names those that its writer had before them (`knows`), and a device knows what it wrote itself. What nobody
knew of when writing later still stands; where more than one stands and they differ, people must say which one holds.
They do so by one more amendment, which then knows of all of them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fluewright.record.amend import standing
from fluewright.record.fold import AMENDS, Change, Current
from fluewright.record.journal import Journal
from fluewright.record.today import Read


@dataclass(frozen=True, slots=True)
class Side:
    """One of the edits.

    read   the amendment: who, where, when and why
    value  what it sets the field to
    """

    read: Read
    value: Any

    def sentence(self) -> str:
        """Who says what, in words."""
        entry = self.read.entry
        return (
            f"{self.value!r} by {entry.author} on device {entry.device}, its entry {entry.sequence}, "
            f"entered {entry.entered}, because {self.read.body.get('because', '')}"
        )


@dataclass(frozen=True, slots=True)
class Conflict:
    """Edits of one field of one entry that differ.

    of     the entry
    field  its field
    was    the field as it was entered
    sides  the edits, by device and number, so in the same order everywhere
    """

    of: Read
    field: str
    was: Any
    sides: tuple[Side, ...]

    def sentences(self) -> list[str]:
        """The conflict in words, one line for each edit."""
        head = f"{self.of.entry.kind} {self.of.entry.id}, {self.field}: entered as {self.was!r}, edited apart to"
        return [head, *(f"  {side.sentence()}" for side in self.sides)]


def _knew(later: Read, earlier: Read) -> bool:
    """Whether whoever wrote one amendment had the other before them."""
    known = later.body.get("knows")
    named = isinstance(known, list | tuple) and earlier.entry.id in known
    same = later.entry.device == earlier.entry.device
    return named or (same and later.entry.sequence > earlier.entry.sequence)


def _last_words(found: Current, name: str) -> list[Change]:
    """Amendments of a field that no later one of that field knew of."""
    those = [each for each in found.history if name in each.after]
    return [each for each in those if not any(_knew(other.read, each.read) for other in those)]


def conflicts_of(found: Current) -> list[Conflict]:
    """The conflicts in an entry as it stands."""
    conflicts = []
    for name in sorted(found.disputed):
        last = sorted(_last_words(found, name), key=lambda each: (each.read.entry.device, each.read.entry.sequence))
        sides = tuple(Side(each.read, each.after[name]) for each in last)
        conflicts.append(Conflict(found.read, name, found.read.body.get(name), sides))
    return conflicts


def conflicts_in(journal: Journal) -> Iterator[Conflict]:
    """All conflicts of a journal; only entries that two devices amended are looked at."""
    by: dict[str, set[str]] = {}
    for read in journal.of_kind(AMENDS):
        by.setdefault(str(read.body.get("of", "")), set()).add(read.entry.device)
    for entry_id, devices in by.items():
        found = standing(journal, entry_id) if len(devices) > 1 else None
        if found is not None and found.counts:
            yield from conflicts_of(found)
