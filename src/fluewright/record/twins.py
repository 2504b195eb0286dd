"""Entries under one id on two devices: one thing told to both is read once; what differs never takes its place.

Ids are random, so two entries under one id were either sent to two devices by whoever chose the id, and say the same,
or somebody took the id of another's entry. A later one of that sort is kept in its chain like any other, but it is not
read for the one that this store got first, and the check names both.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.engine import Connection

from fluewright.record.entry import Entry, entry_from
from fluewright.record.personal import ERASED
from fluewright.record.reading import AT_ONCE, values_of
from fluewright.record.tables import ENTRY
from fluewright.record.today import Read, as_today


def agrees(kept: Any, told: Any) -> bool:
    """Whether what was kept is what is told; of an erased text nobody knows, and it agrees with any."""
    if isinstance(kept, Mapping) and isinstance(told, Mapping):
        return set(kept) == set(told) and all(agrees(kept[name], told[name]) for name in kept)
    if isinstance(kept, list | tuple) and isinstance(told, list | tuple):
        return len(kept) == len(told) and all(map(agrees, kept, told))
    return kept == ERASED or ((type(kept) is bool) == (type(told) is bool) and kept == told)


def _author(entry: Entry) -> str:
    return "" if entry.author == entry.device else entry.author


def says_the_same(one: Read, other: Read) -> bool:
    """Whether two entries say the same, whichever device keeps them."""
    ours, theirs = one.entry, other.entry
    if (ours.kind, ours.version, _author(ours)) != (theirs.kind, theirs.version, _author(theirs)):
        return False
    return agrees(one.body, other.body) or agrees(other.body, one.body)


def each_once(reads: Iterable[Read]) -> list[Read]:
    """One entry of each id.

    reads  in the order in which the store got them
    -> of those that say the same the first by device and number; one that says something else is left out
    """
    found: dict[str, Read] = {}
    for read in reads:
        other = found.get(read.entry.id)
        if other is None or (_place(read) < _place(other) and says_the_same(read, other)):
            found[read.entry.id] = read
    return list(found.values())


def _place(read: Read) -> tuple[str, int]:
    return read.entry.device, read.entry.sequence


def differing(connection: Connection) -> Iterator[str]:
    """Sentences on entries that bear one id and do not say the same."""
    several = select(ENTRY.c.id).group_by(ENTRY.c.id).having(func.count() > 1).order_by(ENTRY.c.id)
    ids = [str(found) for found in connection.scalars(several)]
    for start in range(0, len(ids), AT_ONCE):
        part = ids[start : start + AT_ONCE]
        asked = select(ENTRY.c.text).where(ENTRY.c.id.in_(part)).order_by(ENTRY.c.id, ENTRY.c.arrival)
        entries = [entry_from(text) for text in connection.scalars(asked)]
        values = values_of(connection, entries)
        first: dict[str, Read] = {}
        for read in (as_today(entry, values) for entry in entries):
            one = first.setdefault(read.entry.id, read)
            if not says_the_same(one, read):
                yield (
                    f"cannot tell who took the id {read.entry.id} of another: entry {one.entry.sequence} of device "
                    f"{one.entry.device}, which came first and is read, and entry {read.entry.sequence} of device "
                    f"{read.entry.device} do not say the same"
                )
