"""Opens a journal: makes a new one only where nothing is, and never takes a damaged one for whole."""

from dataclasses import dataclass, replace

from sqlalchemy import func, insert, select, tuple_
from sqlalchemy.engine import Connection

from fluewright import clock
from fluewright.errors import EntryError, NotAllowed, RecordDamaged
from fluewright.record.beside import named_in
from fluewright.record.chain import Anchor, Break, breaks
from fluewright.record.files import names_in
from fluewright.record.journal import Draft, Journal, Now
from fluewright.record.newer import is_newer, sentence
from fluewright.record.reading import anchors_of, rows_of
from fluewright.record.settings import Settings
from fluewright.record.shape import ID
from fluewright.record.store import FORM, Store, damaged
from fluewright.record.tables import ANCHOR, ENTRY, MARK

TAIL = 50
"""Entries at the end of each chain that are walked at every opening."""


ODD = (TypeError, ValueError, AttributeError, OverflowError, LookupError)
"""What happens to a reader of a damaged page, on which a text can have become a number, bytes, or nothing."""

SHORT_OF = "entries short of the anchor"
"""What is said of a chain that ends before somebody has seen it end."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A journal that was opened.

    journal  for reading; for writing too when nothing is wrong and it is not a newer one
    wrong    what was found that does not hold; empty for a sound one
    newer    that a newer version of the program wrote it, and what of it is not understood; empty for one of ours
    """

    journal: Journal
    wrong: tuple[str, ...] = ()
    newer: str = ""


def need_free(store: Store) -> None:
    """Refuse a place where a journal is, or was."""
    sqlite = store.settings.is_sqlite()
    if store.is_there() or (sqlite and any(names_in(store.settings.files_folder()))):
        raise NotAllowed(
            code="FW-N-003",
            where=store.where,
            read="a new journal where one is, or was",
            expected="a place where none has been",
            matters="an empty journal in the place of another would hide everything that was in it",
            do="open the one that is there, or choose another place; a lost one is restored from a backup",
        )


def made(
    settings: Settings, *, device_name: str, key: str = "", practice: bool = False, now: Now = clock.now
) -> Journal:
    """A new journal with its first entry, the device itself.

    settings     where and how
    device_name  what people call this machine
    key          its public key, hexadecimal
    practice     whether all of it is invented, which it says of itself for good
    -> journal; NotAllowed when one is there, whole or not
    """
    store = Store(settings)
    need_free(store)
    device = clock.new_id()
    journal = Journal(store, device, now)
    body: dict[str, object] = {"name": device_name, "program": f"form {FORM}"}
    body |= ({"key": key} if key else {}) | ({"practice": True} if practice else {})
    with store.making() as connection:
        connection.execute(insert(MARK).values(name="device", value=device))
        first = journal.written(connection, [Draft("device", body, source="program", id=device)], now().isoformat())
    store.reached(Anchor(device, 1, first[0].hash()))
    return journal


def walked(connection: Connection, ends: list[Anchor]) -> list[Break]:
    """What does not hold near the end of each chain."""
    found = []
    for end in ends:
        start = max(0, end.sequence - TAIL)
        rows = list(rows_of(connection, end.device, after=start))
        if start and rows:
            before = next(iter(rows_of(connection, end.device, after=start - 1, most=1)), None)
            rows = [before, *rows] if before is not None and before.sequence == start else rows
        found += [each for each in breaks(rows) if not start or each.sequence > start]
    return found


def short_of(connection: Connection, anchors: list[Anchor]) -> list[str]:
    """Where the store does not hold what someone else has seen of it.

    anchors  from a printed sheet, a receipt, a backup, or kept as a witness
    -> sentences; none when the store agrees with all of them
    """
    found = []
    for anchor in anchors:
        row = connection.execute(
            select(ENTRY.c.hash).where(ENTRY.c.device == anchor.device, ENTRY.c.sequence == anchor.sequence)
        ).first()
        if row is not None and anchor.agrees(str(row.hash)):
            continue
        if row is not None:
            found.append(f"entry {anchor.sequence} of device {anchor.device} is not the one that the anchor names")
            continue
        last = max((a.sequence for a in anchors_of(connection) if a.device == anchor.device), default=0)
        short = anchor.sequence - last
        if short <= 0:
            found.append(f"entry {anchor.sequence} of device {anchor.device}, which the anchor names, is missing")
            continue
        found.append(f"{short} {SHORT_OF}: device {anchor.device} ends at {last}, not {anchor.sequence}")
    return found


def beside(store: Store) -> list[Anchor]:
    """The anchors in the small text beside a journal; read before the journal is looked at, since others may write."""
    return named_in(store.side_file()) if store.has_side_file() else []


def _witnessed(connection: Connection) -> list[Anchor]:
    """The farthest anchor kept in the store for each device; who has less may have spoken last."""
    farthest = select(ANCHOR.c.device, func.max(ANCHOR.c.sequence)).group_by(ANCHOR.c.device)
    rows = connection.execute(select(ANCHOR).where(tuple_(ANCHOR.c.device, ANCHOR.c.sequence).in_(farthest)))
    return [Anchor(row.device, int(row.sequence), row.hash) for row in rows]


def need_there(store: Store) -> None:
    """Refuse a place where no file of a journal is; RecordDamaged when an anchor beside it says that one was."""
    sqlite = store.settings.is_sqlite()
    if store.settings.path().is_file() if sqlite else store.is_there():
        return
    if sqlite and store.is_there():
        raise damaged(store.where, "there is no file, though what lies beside it says that there was a journal")
    raise EntryError(
        code="FW-J-010",
        where=store.where,
        read="there is no journal",
        expected="the file, or the database, of a journal",
        matters="an empty one made in its place would hide that the records are somewhere else",
        do="name the right one with --journal, restore it from a backup, or begin one with `fluewright journal new`",
    )


def _for_reading(store: Store) -> Store:
    """The same store, for reading only."""
    store.close()
    return Store(replace(store.settings, read_only=True))


def opened(settings: Settings, *, now: Now = clock.now) -> Opened:
    """An existing journal; one that is not whole, or is a newer one, opens for reading only, and says so.

    settings  where and how
    -> journal and what is wrong with it; RecordDamaged when it cannot be read at all or is no journal
    """
    store = Store(settings)
    need_there(store)
    wrong: list[str] = []
    device = ""
    named = beside(store)
    try:
        with store.reading() as connection:
            form = store.mark(connection, "form")
            if form != FORM and not is_newer(form, FORM):
                raise damaged(store.where, "the file is not a journal of this program")
            device = store.mark(connection, "device")
            if form != FORM:
                return Opened(Journal(_for_reading(store), device, now), newer=sentence(connection, form))
            wrong += [] if ID.fullmatch(device) else ["it does not say which device it belongs to"]
            wrong += [each.sentence() for each in walked(connection, anchors_of(connection))]
            wrong += short_of(connection, [*_witnessed(connection), *named])
    except RecordDamaged as error:
        if not device:
            raise
        wrong.append(error.read)
    except ODD as error:
        wrong.append(f"something in the store is not what stands there in a journal: {error}")
    if wrong:
        store = _for_reading(store)
    return Opened(Journal(store, device, now), tuple(wrong))


def to_be_completed(found: Opened) -> Journal:
    """A journal to take in what others have: one that lacks nothing but ends of chains can have those back.

    It is written to by an exchange only, which adds entries that follow what is here; nothing of this device's own is
    entered in it meanwhile, so no history can part.

    found  as it was opened
    -> the journal, for writing where its missing ends are all that is wrong
    """
    journal, store = found.journal, found.journal.store
    if not found.wrong or not all(SHORT_OF in sentence for sentence in found.wrong):
        return journal
    return Journal(Store(replace(store.settings, read_only=False)), journal.device, journal.now)
