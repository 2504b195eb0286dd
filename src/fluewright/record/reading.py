"""Entries as they are read from a store: in today's form, texts about people in the open where they still are."""

from collections.abc import Iterable, Iterator, Sequence

from sqlalchemy import Select, bindparam, func, select
from sqlalchemy.engine import Connection

from fluewright.record.chain import Anchor, Row
from fluewright.record.entry import Entry
from fluewright.record.personal import commitments_in
from fluewright.record.tables import ENTRY, SECRET
from fluewright.record.today import Read, as_today

__all__ = ["Read", "anchors_of", "as_today", "devices_of", "last_of", "rows_of", "values_of"]

AT_ONCE = 500
"""Values asked for in one statement."""


_LAST = (
    select(ENTRY.c.sequence, ENTRY.c.hash)
    .where(ENTRY.c.device == bindparam("device"))
    .order_by(ENTRY.c.sequence.desc())
    .limit(1)
)


def values_of(connection: Connection, entries: Iterable[Entry]) -> dict[str, str]:
    """What is still known about people in these entries, by commitment."""
    asked = [found for entry in entries for found in commitments_in(entry.body)]
    values: dict[str, str] = {}
    for start in range(0, len(asked), AT_ONCE):
        part = asked[start : start + AT_ONCE]
        rows = connection.execute(select(SECRET.c.commitment, SECRET.c.value).where(SECRET.c.commitment.in_(part)))
        values.update({row.commitment: row.value for row in rows})
    return values


def last_of(connection: Connection, device: str) -> Anchor | None:
    """The last entry of a device; None when it has none here."""
    found = connection.execute(_LAST, {"device": device}).first()
    return Anchor(device, int(found.sequence), str(found.hash)) if found is not None else None


def anchors_of(connection: Connection) -> list[Anchor]:
    """The last entry of every device that the store knows, by device."""
    ends = (last_of(connection, device) for device in devices_of(connection))
    return [end for end in ends if end is not None]


def rows_of(connection: Connection, device: str, *, after: int = 0, most: int | None = None) -> Iterator[Row]:
    """The kept rows of one device by rising number, read as they are walked."""
    asked = (
        select(ENTRY.c.device, ENTRY.c.sequence, ENTRY.c.id, ENTRY.c.hash, ENTRY.c.text)
        .where(ENTRY.c.device == device, ENTRY.c.sequence > after)
        .order_by(ENTRY.c.sequence)
        .limit(most)
    )
    for found in connection.execution_options(stream_results=True, yield_per=1000).execute(asked):
        yield Row(str(found.device), int(found.sequence), str(found.id), str(found.hash), str(found.text))


def _devices() -> Select[tuple[str]]:
    """The devices, by stepping from one to the next in the index: a scan would look at every entry."""
    first = select(func.min(ENTRY.c.device).label("device")).cte("walk", recursive=True)
    following = select(func.min(ENTRY.c.device)).where(ENTRY.c.device > first.c.device).scalar_subquery()
    walk = first.union_all(select(following).where(first.c.device.is_not(None)))
    return select(walk.c.device).where(walk.c.device.is_not(None)).order_by(walk.c.device)


_DEVICES = _devices()


def devices_of(connection: Connection) -> Sequence[str]:
    """Ids of all devices with entries here."""
    return [str(found) for found in connection.scalars(_DEVICES)]
