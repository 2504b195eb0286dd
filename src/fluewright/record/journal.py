"""The journal: the only writer of entries, and the one way to read them."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlalchemy import Select, bindparam, func, insert, select
from sqlalchemy.engine import Connection

from fluewright import clock
from fluewright.errors import EntryError
from fluewright.record.beside import CLOSING
from fluewright.record.canonical import digest
from fluewright.record.chain import Anchor
from fluewright.record.closed import need_open
from fluewright.record.draft import Draft, marked_private, need_whole, numbered
from fluewright.record.entry import NOTHING_BEFORE, Entry, entry_from
from fluewright.record.kinds import KINDS
from fluewright.record.personal import Secret
from fluewright.record.prepared import Prepared
from fluewright.record.reading import AT_ONCE, anchors_of, last_of, values_of
from fluewright.record.store import Store
from fluewright.record.tables import ENTRY, SECRET
from fluewright.record.today import Read, as_today
from fluewright.record.twins import agrees, each_once

__all__ = ["Draft", "Journal", "Now", "Read", "keep"]

_ALREADY = (
    select(ENTRY.c.id, ENTRY.c.text).where(ENTRY.c.id.in_(bindparam("ids", expanding=True))).order_by(ENTRY.c.arrival)
)
_KIND = select(ENTRY.c.kind).where(ENTRY.c.id == bindparam("id")).limit(1)
_KEEP = Prepared(insert(ENTRY).inline(), "device", "sequence", "id", "kind", "subject", "hash", "text")

Now = Callable[[], datetime]


def _already(connection: Connection, drafts: Sequence[Draft]) -> dict[str, Entry]:
    """Which of these drafts are kept already; EntryError where something else was kept under the id of one."""
    ids = [draft.id for draft in drafts if draft.id]
    entries: list[Entry] = []
    for start in range(0, len(ids), AT_ONCE):
        rows = connection.execute(_ALREADY, {"ids": ids[start : start + AT_ONCE]}).all()
        entries += [entry_from(row.text, where=f"entry {row.id}") for row in rows]
    values = values_of(connection, entries)
    reads = {read.entry.id: read for read in each_once(as_today(entry, values) for entry in entries)}
    for draft in drafts:
        read = reads.get(draft.id)
        if read is not None and not (read.entry.kind == draft.kind and agrees(read.body, _open(draft.body))):
            raise _another(draft)
    return {name: read.entry for name, read in reads.items()}


def _open(body: Any) -> Any:
    """A body as it is read: texts about people in the open, lists as lists."""
    if isinstance(body, Mapping):
        return {name: _open(value) for name, value in body.items()}
    if isinstance(body, list | tuple):
        return [_open(value) for value in body]
    return body.value if isinstance(body, Secret) else body


def _amending(connection: Connection, draft: Draft) -> Draft:
    """A draft; of an amendment what is about people is marked as such, by the kind of the entry that it amends."""
    fields = draft.body.get("fields")
    if draft.kind != "amendment" or not isinstance(fields, Mapping):
        return draft
    named = str(connection.scalar(_KIND, {"id": draft.body["of"]}) or "")
    kinds = [KINDS[named]] if named in KINDS else KINDS.values()
    for kind in kinds:
        told = {name: value for name, value in fields.items() if isinstance(value, str | list | tuple)}
        fields = {**fields, **marked_private(kind, told)}
    return replace(draft, body={**draft.body, "fields": fields})


def _another(draft: Draft) -> EntryError:
    return EntryError(
        code="FW-J-150",
        where=f"entry {draft.id}",
        read=f"an entry of the kind {draft.kind!r} under an id under which something else was kept",
        expected="the same words as before, or an id of its own",
        matters="the same thing sent twice is kept once; this is another thing, and it was not kept",
        do="amend what was kept, or enter this as an entry of its own",
    )


class Journal:
    """All that was ever entered, on this device and on those it has met.

    store   the open store
    device  id of this device
    now     the clock
    author  id of the person whose entries these are, where a draft does not say; empty for the device
    """

    def __init__(self, store: Store, device: str, now: Now = clock.now, author: str = "") -> None:
        self.store = store
        self.device = device
        self.now = now
        self.author = author

    def by(self, author: str) -> "Journal":
        """The same journal as one person writes it; of the device when nobody is known."""
        return Journal(self.store, self.device, self.now, author)

    # writing

    def add(self, draft: Draft) -> Entry:
        """Keep one entry; when this returns, it is on the disk.

        draft  what is to be kept
        -> the entry; EntryError when it does not fit its kind or the store does not take it
        """
        return self.add_all([draft])[0]

    def add_all(self, drafts: Sequence[Draft]) -> list[Entry]:
        """Keep several entries, all of them or none.

        drafts  in their order; one whose id is already kept is not kept twice
        -> the entries
        """
        if self.author:
            drafts = [draft if draft.author else replace(draft, author=self.author) for draft in drafts]
        need_whole(drafts)
        entered = self.now().isoformat()
        with self.store.writing() as connection:
            found, end, new = self._written(connection, drafts, entered)
        if new:
            self.store.reached(end, new=new, settle=any(draft.kind in CLOSING for draft in drafts))
        return found

    def written(self, connection: Connection, drafts: Sequence[Draft], entered: str) -> list[Entry]:
        """Entries written within a transaction that is already open."""
        return self._written(connection, drafts, entered)[0]

    def _written(
        self, connection: Connection, drafts: Sequence[Draft], entered: str
    ) -> tuple[list[Entry], Anchor, int]:
        """The entries, the end of the chain after them, and how many of them are new."""
        last = last_of(connection, self.device) or Anchor(self.device, 0, NOTHING_BEFORE)
        sequence, previous = last.sequence, last.hash
        already = _already(connection, drafts)
        need_open(connection, (draft for draft in drafts if draft.id not in already))
        found: list[Entry] = []
        rows: list[dict[str, Any]] = []
        secrets: list[Secret] = []
        for draft in drafts:
            entry = already.get(draft.id)
            if entry is None:
                entry, new = numbered(_amending(connection, draft), self.device, sequence + 1, previous, entered)
                rows.append(_row(entry))
                secrets += new
                previous, sequence, already[entry.id] = rows[-1]["hash"], sequence + 1, entry
            found.append(entry)
        if len(rows) == 1:
            _KEEP.on(connection, rows[0])
        elif rows:
            connection.execute(insert(ENTRY), rows)
        if secrets:
            told = [{"commitment": s.commitment, "salt": s.salt, "value": s.value} for s in secrets]
            connection.execute(insert(SECRET), told)
        return found, Anchor(self.device, sequence, previous), len(rows)

    # reading

    def entry(self, entry_id: str) -> Read | None:
        """One entry by its id; None when it is not here."""
        return next(iter(each_once(self._read(_under([entry_id])))), None)

    def all_under(self, ids: Sequence[str]) -> list[Read]:
        """Every entry that is kept under these ids, whatever device keeps it, each for itself."""
        return [read for at in range(0, len(ids), AT_ONCE) for read in self._read(_under(ids[at : at + AT_ONCE]))]

    def of_subject(self, subject: str) -> list[Read]:
        """All that belongs to a visit or another entry, in the order in which this store got it."""
        return each_once(self._read(select(ENTRY).where(ENTRY.c.subject == subject).order_by(ENTRY.c.arrival)))

    def of_kind(self, *kinds: str, after: int = 0) -> Iterator[Read]:
        """All entries of some kinds, in the order in which this store got them.

        after  place in that order after which they came; 0 for all
        """
        wanted = ENTRY.c.kind.in_(kinds) & (ENTRY.c.arrival > after)
        return iter(each_once(self._read(select(ENTRY).where(wanted).order_by(ENTRY.c.arrival))))

    def arrived(self) -> int:
        """The place of the newest entry in the order in which this store got them; 0 when there is none."""
        with self.store.reading() as connection:
            return int(connection.scalar(select(func.max(ENTRY.c.arrival))) or 0)

    def _read(self, statement: Select[Any]) -> Iterator[Read]:
        with self.store.reading() as connection:
            rows = connection.execute(statement).all()
            entries = [entry_from(row.text, where=f"device {row.device}, entry {row.sequence}") for row in rows]
            values = values_of(connection, entries)
        for entry in entries:
            yield as_today(entry, values)

    def anchors(self) -> list[Anchor]:
        """The last entry of every device that this store knows."""
        with self.store.reading() as connection:
            return anchors_of(connection)


def _under(ids: Sequence[str]) -> Select[Any]:
    return select(ENTRY).where(ENTRY.c.id.in_(ids)).order_by(ENTRY.c.arrival)


def _row(entry: Entry) -> dict[str, Any]:
    """An entry as a row."""
    text = entry.text()
    return {
        "device": entry.device,
        "sequence": entry.sequence,
        "id": entry.id,
        "kind": entry.kind,
        "subject": entry.subject(),
        "hash": digest(text),
        "text": text,
    }


def keep(connection: Connection, entry: Entry) -> str:
    """Write one entry's row; -> its hash."""
    row = _row(entry)
    _KEEP.on(connection, row)
    return str(row["hash"])
