"""The journal: the only writer of entries, and the one way to read them."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Select, bindparam, insert, select
from sqlalchemy.engine import Connection

from fluewright import clock
from fluewright.errors import EntryError, NotAllowed
from fluewright.record.canonical import digest
from fluewright.record.chain import Anchor
from fluewright.record.entry import NOTHING_BEFORE, Entry, Source, entry_from
from fluewright.record.kinds import AFTER_SEAL, KINDS
from fluewright.record.personal import KEY, Private, Secret, hidden
from fluewright.record.reading import Read, anchors_of, as_today, last_of, values_of
from fluewright.record.shape import Kind, need_fit
from fluewright.record.store import Store
from fluewright.record.tables import ENTRY, SECRET

_ALREADY = select(ENTRY.c.text).where(ENTRY.c.id == bindparam("id"))
_SUBJECT = select(ENTRY.c.subject).where(ENTRY.c.id == bindparam("id"))
_SEALED = select(ENTRY.c.id).where(ENTRY.c.subject == bindparam("subject"), ENTRY.c.kind == "seal").limit(1)
_KEEP = insert(ENTRY)

Now = Callable[[], datetime]


@dataclass(frozen=True, slots=True)
class Draft:
    """An entry before it has a number.

    kind      one of `kinds.KINDS`
    body      its fields; texts about people in the open, they are committed to when the entry is written
    observed  when it was seen; now when not given
    author    id of the person; the device when nobody is known
    source    where it came from
    id        chosen beforehand, so that the same thing sent twice is kept once
    """

    kind: str
    body: Mapping[str, Any]
    observed: datetime | None = None
    author: str = ""
    source: Source = "typed"
    id: str = ""


def _kind(name: str) -> Kind:
    if name in KINDS:
        return KINDS[name]
    raise EntryError(
        code="FW-J-006",
        read=f"an entry of the kind {name!r}",
        expected="one of " + ", ".join(KINDS),
        matters="a kind that nobody reads would be a record lost",
        do="write it as one of these",
    )


def marked_private(kind: Kind, body: Mapping[str, Any]) -> dict[str, Any]:
    """A body whose texts about people are marked as such."""
    marked = dict(body)
    for field in kind.fields:
        value = marked.get(field.name)
        if field.type == "person" and value:
            marked[field.name] = value if isinstance(value, Secret) else Private(value)
        elif field.type == "persons" and value is not None:
            marked[field.name] = [Private(each) for each in value]
    return marked


def _committed(value: Any, secrets: list[Secret]) -> Any:
    """A value with every private text turned into its commitment; the secrets are gathered."""
    if isinstance(value, Private):
        secret = hidden(str(value))
        secrets.append(secret)
        return {KEY: secret.commitment}
    if isinstance(value, Secret):
        secrets.append(value)
        return {KEY: value.commitment}
    if isinstance(value, Mapping):
        return {key: _committed(each, secrets) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_committed(each, secrets) for each in value]
    return value


class Journal:
    """All that was ever entered, on this device and on those it has met.

    store   the open store
    device  id of this device
    now     the clock
    """

    def __init__(self, store: Store, device: str, now: Now = clock.now) -> None:
        self.store = store
        self.device = device
        self.now = now

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
        for draft in drafts:
            need_fit(_kind(draft.kind), draft.body)
        entered = self.now().isoformat()
        with self.store.writing() as connection:
            return self.written(connection, drafts, entered)

    def written(self, connection: Connection, drafts: Sequence[Draft], entered: str) -> list[Entry]:
        """Entries written within a transaction that is already open."""
        self.wait_for_turn(connection)
        last = last_of(connection, self.device)
        sequence, previous = (last.sequence, last.hash) if last is not None else (0, NOTHING_BEFORE)
        found: list[Entry] = []
        for draft in drafts:
            already = self._already(connection, draft.id)
            if already is not None:
                found.append(already)
                continue
            self._need_unsealed(connection, draft)
            secrets: list[Secret] = []
            entry = self._entry(draft, sequence + 1, previous, entered, secrets)
            previous, sequence = keep(connection, entry), sequence + 1
            if secrets:
                rows = [{"commitment": s.commitment, "salt": s.salt, "value": s.value} for s in secrets]
                connection.execute(insert(SECRET), rows)
            found.append(entry)
        return found

    def wait_for_turn(self, connection: Connection) -> None:
        """On a server one writer at a time numbers this device's entries; SQLite has one writer anyway."""
        if connection.dialect.name == "postgresql":
            connection.exec_driver_sql("SELECT pg_advisory_xact_lock(hashtext(%(device)s))", {"device": self.device})

    def _already(self, connection: Connection, draft_id: str) -> Entry | None:
        if not draft_id:
            return None
        found = connection.execute(_ALREADY, {"id": draft_id}).first()
        return entry_from(found.text, where=f"entry {draft_id}") if found is not None else None

    def _need_unsealed(self, connection: Connection, draft: Draft) -> None:
        """Refuse what would change a sealed visit; what was entered elsewhere before it knew comes in by exchange."""
        if draft.kind in AFTER_SEAL:
            return
        subject = draft.body.get("visit")
        if not subject and draft.body.get("of"):
            subject = connection.scalar(_SUBJECT, {"id": draft.body["of"]})
        if subject and connection.execute(_SEALED, {"subject": subject}).first() is not None:
            raise NotAllowed(
                code="FW-N-032",
                where=f"visit {subject}",
                read=f"an entry of the kind {draft.kind!r} for a visit that is sealed",
                expected="one of " + ", ".join(sorted(AFTER_SEAL)),
                matters="what was signed stays as it was signed",
                do="amend or strike out what is wrong, with the reason, or open another visit",
            )

    def _entry(self, draft: Draft, sequence: int, previous: str, entered: str, secrets: list[Secret]) -> Entry:
        kind = _kind(draft.kind)
        return Entry(
            id=draft.id or clock.new_id(),
            kind=kind.name,
            version=kind.version,
            device=self.device,
            sequence=sequence,
            previous=previous,
            entered=entered,
            observed=draft.observed.isoformat() if draft.observed is not None else "",
            author=draft.author or self.device,
            source=draft.source,
            body=_committed(marked_private(kind, draft.body), secrets),
        )

    # reading

    def entry(self, entry_id: str) -> Read | None:
        """One entry by its id; None when it is not here."""
        return next(iter(self._read(select(ENTRY).where(ENTRY.c.id == entry_id))), None)

    def of_subject(self, subject: str) -> list[Read]:
        """All that belongs to a visit or another entry, in the order in which this store got it."""
        return list(self._read(select(ENTRY).where(ENTRY.c.subject == subject).order_by(ENTRY.c.arrival)))

    def of_kind(self, *kinds: str) -> Iterator[Read]:
        """All entries of some kinds, in the order in which this store got them."""
        return self._read(select(ENTRY).where(ENTRY.c.kind.in_(kinds)).order_by(ENTRY.c.arrival))

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


def keep(connection: Connection, entry: Entry) -> str:
    """Write one entry's row; -> its hash."""
    text = entry.text()
    found = digest(text)
    connection.execute(
        _KEEP,
        {
            "device": entry.device,
            "sequence": entry.sequence,
            "id": entry.id,
            "kind": entry.kind,
            "subject": entry.subject(),
            "hash": found,
            "text": text,
        },
    )
    return found
