"""Values about people taken away so that no byte of them is left in the store, on whatever device."""

import sqlite3
from collections.abc import Callable, Iterable, Sequence
from contextlib import closing
from pathlib import Path

from sqlalchemy import create_engine, delete, select
from sqlalchemy.engine import Connection

from fluewright.errors import EntryError
from fluewright.record.files import removed
from fluewright.record.held import kept_by_holds
from fluewright.record.journal import Journal
from fluewright.record.personal import Secret
from fluewright.record.shape import HASH
from fluewright.record.store import Store
from fluewright.record.tables import SECRET

AT_ONCE = 500
_PIECE = 1 << 22

Forget = Callable[[Store], None]
"""Makes anew what was derived from the journal, such as the search index, so that it holds nothing of the erased."""

FORGETTING: tuple[Forget, ...] = ()
"""What must be made anew after every erasure; each room that keeps something derived is named here."""


def demanded(journal: Journal) -> set[str]:
    """Commitments that any erasure of this journal names, wherever it was written."""
    return {
        str(each)
        for read in journal.of_kind("erasure")
        if isinstance(read.entry.body.get("commitments"), list)
        for each in read.entry.body["commitments"]
    }


def held_in(connection: Connection, commitments: Iterable[str]) -> list[Secret]:
    """The values behind commitments, as far as they are still here."""
    asked, found = sorted(set(commitments)), list[Secret]()
    for start in range(0, len(asked), AT_ONCE):
        part = asked[start : start + AT_ONCE]
        rows = connection.execute(select(SECRET).where(SECRET.c.commitment.in_(part)))
        found += [Secret(row.commitment, row.salt, row.value) for row in rows]
    return found


def taken_away(connection: Connection, secrets: Sequence[Secret]) -> None:
    """Delete the rows of some values, within a transaction."""
    for start in range(0, len(secrets), AT_ONCE):
        part = [each.commitment for each in secrets[start : start + AT_ONCE]]
        connection.execute(delete(SECRET).where(SECRET.c.commitment.in_(part)))


def files_of(connection: Connection, secrets: Sequence[Secret]) -> list[str]:
    """Hashes among these values that no other value names: files that go with them."""
    hashes = {each.value for each in secrets if HASH.fullmatch(each.value)}
    going = {each.commitment for each in secrets}
    kept = set()
    for value in hashes:
        rows = connection.scalars(select(SECRET.c.commitment).where(SECRET.c.value == value))
        if any(row not in going for row in rows):
            kept.add(value)
    return sorted(hashes - kept)


def _sides(database: Path) -> list[Path]:
    """A SQLite file and the files that SQLite keeps beside it."""
    beside = [database.with_name(database.name + end) for end in ("-wal", "-journal")]
    return [database, *(path for path in beside if path.exists())]


def left_in(path: Path, needles: Sequence[bytes]) -> set[bytes]:
    """Which of some byte strings stand anywhere in a file, read in pieces that overlap."""
    found: set[bytes] = set()
    overlap = max((len(each) for each in needles), default=1) - 1
    tail = b""
    with path.open("rb") as file:
        while piece := file.read(_PIECE):
            seen = tail + piece
            found.update(each for each in needles if each not in found and each in seen)
            tail = seen[-overlap:] if overlap else b""
    return found


def _busy(where: str) -> EntryError:
    return EntryError(
        code="FW-J-045",
        where=where,
        read="another program reads the journal and holds what was erased in its file of last entries",
        expected="the journal for itself, for a moment",
        matters="the values are gone from the journal, but their bytes are still on the disk",
        do="close the other program, then run `fluewright journal erase` for the same subject again",
    )


def scrubbed(store: Store, secrets: Sequence[Secret]) -> None:
    """Take the bytes of deleted rows out of the files of the store.

    SQLite overwrites deleted rows (secure_delete), but old pages may stay in its write-ahead log, and shifted copies in
    the slack of a page. So the log is emptied, the files are searched, and where anything is found they are written
    anew. A server writes its table anew; its own write-ahead log is beyond a client's reach and ages away.

    store    in which rows were deleted
    secrets  the values that must be gone; none when an earlier erasure broke off and nobody knows them any more
    -> nothing; EntryError when another program keeps the old pages
    """
    if not store.settings.is_sqlite():
        _written_anew_on_server(store)
        return
    needles = [part.encode() for each in secrets for part in (each.salt, each.value) if len(part) > 3]
    path = store.settings.path()
    with closing(sqlite3.connect(path, timeout=store.settings.wait, isolation_level=None)) as raw:
        raw.execute("PRAGMA secure_delete = ON")
        _emptied(raw, store.where)
        if not needles or any(left_in(each, needles) for each in _sides(path)):
            raw.execute("VACUUM")
            _emptied(raw, store.where)


def _emptied(raw: sqlite3.Connection, where: str) -> None:
    """Carry the write-ahead log into the main file and cut it to nothing."""
    row = raw.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    if row is not None and row[0]:
        raise _busy(where)


def _written_anew_on_server(store: Store) -> None:
    engine = create_engine(store.settings.database, isolation_level="AUTOCOMMIT")
    try:
        with engine.connect() as connection:
            connection.exec_driver_sql("VACUUM (FULL) secret")
    finally:
        engine.dispose()


def forgotten(journal: Journal, secrets: Sequence[Secret], also: Sequence[Forget] = ()) -> None:
    """After rows were deleted: make anew what was derived from them, then scrub the files."""
    for each in (*FORGETTING, *also):
        each(journal.store)
    scrubbed(journal.store, secrets)


def obeyed(journal: Journal, also: Sequence[Forget] = ()) -> int:
    """Take away what an erasure written on another device, or after a backup, demands; what a hold keeps here stays.

    journal  open for writing
    also     what else is to be made anew
    -> how many values were still here
    """
    names = demanded(journal)
    if not names:
        return 0
    with journal.store.reading() as connection:
        secrets = held_in(connection, names)
    if secrets:
        kept = kept_by_holds(journal)
        secrets = [each for each in secrets if each.commitment not in kept]
    if not secrets:
        return 0
    with journal.store.reading() as connection:
        files = files_of(connection, secrets)
    for name in files:
        removed(journal.store.settings.files_folder(), name)
    with journal.store.writing() as connection:
        taken_away(connection, secrets)
    forgotten(journal, secrets, also)
    return len(secrets)
