"""Entries as they are read from a store: in today's form, texts about people in the open where they still are."""

from collections.abc import Iterable, Iterator, Sequence

from sqlalchemy import Select, bindparam, func, select
from sqlalchemy.engine import Connection

from fluewright.record.chain import Anchor, Row
from fluewright.record.entry import Entry
from fluewright.record.personal import commitments_in
from fluewright.record.prepared import Prepared
from fluewright.record.tables import ENTRY, SECRET
from fluewright.record.today import Read, as_today

__all__ = ["Read", "anchors_of", "as_today", "devices_of", "last_of", "rows_of", "values_of"]

AT_ONCE = 500
"""Values asked for in one statement."""


_LAST = Prepared(
    select(ENTRY.c.sequence, ENTRY.c.hash)
    .where(ENTRY.c.device == bindparam("device"))
    .order_by(ENTRY.c.sequence.desc())
    .limit(1),
    "device",
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
    found = _LAST.on(connection, {"device": device}).fetchall()
    return Anchor(device, int(found[0][0]), str(found[0][1])) if found else None


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
    for found in connection.execute(asked, execution_options={"stream_results": True, "yield_per": 1000}):
        row = Row(*found)
        yield row if type(row.text) is type(row.hash) is type(row.id) is str else _as_texts(row)


def _as_texts(row: Row) -> Row:
    """A row of a damaged file, in which a text may have become bytes or a number; its hash will not be right."""
    return Row(row.device, row.sequence, str(row.id), str(row.hash), str(row.text))


def _devices() -> Select[tuple[str]]:
    """Each device once, from one to the next in the index, so that a million entries take no longer than ten."""
    each = select(func.min(ENTRY.c.device).label("device")).cte("each", recursive=True)
    later = ENTRY.alias()
    following = select(func.min(later.c.device)).where(later.c.device > each.c.device).scalar_subquery()
    all_of_them = each.union_all(select(following).where(each.c.device.is_not(None)))
    return select(all_of_them.c.device).where(all_of_them.c.device.is_not(None))


_DEVICES = _devices()


def devices_of(connection: Connection) -> Sequence[str]:
    """Ids of all devices with entries here, in the order of their letters."""
    return sorted(str(found) for found in connection.scalars(_DEVICES))
