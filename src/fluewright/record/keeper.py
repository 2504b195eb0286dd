"""A store on SQLite or PostgreSQL as a merge sees it: what it has, what it sends, what it takes in."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import Select, and_, bindparam, insert, or_, select
from sqlalchemy.engine import Connection

from fluewright.record.chain import Anchor
from fluewright.record.entry import entry_from
from fluewright.record.merge import Fork
from fluewright.record.parcel import Ends, Parcel, parcel_line
from fluewright.record.personal import Secret, commitments_in, erased_by
from fluewright.record.reading import AT_ONCE, last_of
from fluewright.record.tables import ANCHOR, ENTRY, SECRET

_HASH = select(ENTRY.c.hash).where(ENTRY.c.device == bindparam("device"), ENTRY.c.sequence == bindparam("sequence"))


def parts(values: Sequence[Any]) -> Iterator[Sequence[Any]]:
    """A long list in parts that fit into one statement."""
    for start in range(0, len(values), AT_ONCE):
        yield values[start : start + AT_ONCE]


def erased_in(connection: Connection) -> set[str]:
    """Commitments that entries of the store have erased."""
    found: set[str] = set()
    for text in connection.scalars(select(ENTRY.c.text).where(ENTRY.c.kind == "erasure")):
        found.update(erased_by(entry_from(text).body))
    return found


def secrets_of(connection: Connection, commitments: Sequence[str]) -> dict[str, Secret]:
    """The values of these commitments that the store still has."""
    found: dict[str, Secret] = {}
    for part in parts(commitments):
        for row in connection.execute(select(SECRET).where(SECRET.c.commitment.in_(part))):
            found[row.commitment] = Secret(row.commitment, row.salt, row.value)
    return found


class StoreKeeper:
    """A store within one transaction; see `merge.Keeper`.

    connection  that writes
    """

    def __init__(self, connection: Connection) -> None:
        self.connection = connection

    def end(self, device: str) -> Anchor | None:
        """The last entry of a device."""
        return last_of(self.connection, device)

    def hash_of(self, device: str, sequence: int) -> str:
        """The hash of one kept entry; empty when it is not here."""
        return str(self.connection.scalar(_HASH, {"device": device, "sequence": sequence}) or "")

    def erased(self) -> set[str]:
        """Commitments that entries kept so far have erased."""
        return erased_in(self.connection)

    def keep(self, parcels: Sequence[Parcel], erased: set[str]) -> None:
        """Add entries in this order, with their values except the erased ones."""
        rows = [
            {
                "device": each.entry.device,
                "sequence": each.entry.sequence,
                "id": each.entry.id,
                "kind": each.entry.kind,
                "subject": each.entry.subject(),
                "hash": each.hash,
                "text": each.text,
            }
            for each in parcels
        ]
        self.connection.execute(insert(ENTRY), rows)
        secrets = {s.commitment: s for each in parcels for s in each.secrets if s.commitment not in erased}
        here = secrets_of(self.connection, list(secrets))
        new = [
            {"commitment": each.commitment, "salt": each.salt, "value": each.value}
            for each in secrets.values()
            if each.commitment not in here
        ]
        if new:
            self.connection.execute(insert(SECRET), new)


def rows_after(connection: Connection, after: Mapping[str, int], most: int) -> list[tuple[str, str, str, int]]:
    """Entries of some devices beyond some numbers, in the order in which the store got them.

    after  by device, the last number that is not wanted
    most   rows at most
    -> text, hash, device and number of each
    """
    if not after:
        return []
    beyond = [and_(ENTRY.c.device == device, ENTRY.c.sequence > number) for device, number in after.items()]
    asked: Select[Any] = (
        select(ENTRY.c.text, ENTRY.c.hash, ENTRY.c.device, ENTRY.c.sequence)
        .where(or_(*beyond))
        .order_by(ENTRY.c.arrival)
        .limit(most)
    )
    return [(str(row[0]), str(row[1]), str(row[2]), int(row[3])) for row in connection.execute(asked)]


def lines_of(connection: Connection, rows: Sequence[tuple[str, str, str, int]]) -> list[bytes]:
    """The lines of some rows, with the values about people that the store has and nobody erased."""
    asked = [commitments_in(entry_from(text).body) if '"commitment"' in text else [] for text, *_ in rows]
    gone = erased_in(connection)
    secrets = secrets_of(connection, [each for those in asked for each in those if each not in gone])
    return [
        parcel_line(text, found, [secrets[each] for each in those if each in secrets])
        for (text, found, *_), those in zip(rows, asked, strict=True)
    ]


def forks_with(connection: Connection, theirs: Ends) -> list[Fork]:
    """Devices of which the other names an end that is not in this store's history of them."""
    found = []
    for end in theirs.ends:
        ours = connection.scalar(_HASH, {"device": end.device, "sequence": end.sequence})
        if ours is not None and ours != end.hash:
            found.append(Fork(end.device, end.sequence, str(ours), end.hash))
    return found


def witnessed(connection: Connection, theirs: Ends, at: str) -> int:
    """Keep as a witness what another store is seen to have, where this one has it too.

    Only what both have is written down: an end that never came here would make this store look cut.

    theirs  what it says it has
    at      when it said so
    -> how many ends were new
    """
    rows = []
    for end in theirs.ends:
        ours = connection.scalar(_HASH, {"device": end.device, "sequence": end.sequence})
        said = select(ANCHOR.c.sequence).where(ANCHOR.c.device == end.device, ANCHOR.c.by == theirs.by)
        last = connection.scalar(said.order_by(ANCHOR.c.sequence.desc()).limit(1)) or 0
        if ours == end.hash and end.sequence > last:
            row = {"device": end.device, "sequence": end.sequence, "hash": end.hash, "at": at, "by": theirs.by}
            rows.append(row)
    if rows:
        connection.execute(insert(ANCHOR), rows)
    return len(rows)
