"""Values about people taken away so that no byte of them is left in the store, on whatever device."""

import sqlite3
from collections.abc import Callable, Iterable, Sequence
from contextlib import closing
from pathlib import Path

from sqlalchemy import create_engine, delete, insert, inspect, select
from sqlalchemy.engine import Connection

from fluewright.errors import EntryError
from fluewright.record.files import removed
from fluewright.record.held import kept_by_holds
from fluewright.record.journal import Journal
from fluewright.record.personal import Secret, erased_by
from fluewright.record.shape import HASH
from fluewright.record.store import Store
from fluewright.record.tables import MARK, SECRET
from fluewright.record.views.catching_up import forget_erased
from fluewright.record.views.frame import VIEWS, parts
from fluewright.record.views.search import KEPT
from fluewright.record.views.words import all_words_of

AT_ONCE = 500
SHORTEST = 4
"""Letters of a value, or of a word of it, that is searched for in the bytes of a file."""
_PIECE = 1 << 22

Forget = Callable[[Store], None]
"""Makes anew what was derived from the journal, such as the search index, so that it holds nothing of the erased."""

UNFINISHED = "erasing"
"""The mark of a store from the deletion of values until no byte of them is left, whatever breaks off in between."""

_BEGUN = select(MARK.c.value).where(MARK.c.name == UNFINISHED)

FORGETTING: tuple[Forget, ...] = (forget_erased,)
"""What must be made anew after every erasure; each room that keeps something derived is named here."""


def demanded(journal: Journal) -> set[str]:
    """Commitments that any erasure of this journal names, wherever it was written."""
    return {each for read in journal.of_kind("erasure") for each in erased_by(read.entry.body)}


def held_in(connection: Connection, commitments: Iterable[str]) -> list[Secret]:
    """The values behind commitments, as far as they are still here."""
    asked, found = sorted(set(commitments)), list[Secret]()
    for start in range(0, len(asked), AT_ONCE):
        part = asked[start : start + AT_ONCE]
        rows = connection.execute(select(SECRET).where(SECRET.c.commitment.in_(part)))
        found += [Secret(row.commitment, row.salt, row.value) for row in rows]
    return found


def taken_away(connection: Connection, secrets: Sequence[Secret]) -> None:
    """Delete the rows of some values, within a transaction, and note that their bytes are still to be found."""
    if secrets and not connection.execute(_BEGUN).first():
        connection.execute(insert(MARK).values(name=UNFINISHED, value="1"))
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


def _unfinished(where: str, read: str) -> EntryError:
    return EntryError(
        code="FW-J-045",
        where=where,
        read=read,
        expected="the journal for itself, for a moment, and room on the disk for a second copy of it",
        matters="the values are gone from the journal, but their bytes are still on the disk",
        do="close other programs that read it, then run `fluewright journal erase` for the same subject again",
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
    needles, path = _needles(store, secrets), store.settings.path()
    try:
        with closing(sqlite3.connect(path, timeout=store.settings.wait, isolation_level=None)) as raw:
            raw.execute("PRAGMA secure_delete = ON")
            _emptied(raw, store.where)
            if not needles or any(left_in(each, needles) for each in _sides(path)):
                raw.execute("VACUUM")
                _emptied(raw, store.where)
    except sqlite3.Error as error:
        raise _unfinished(store.where, str(error)) from error


def _needles(store: Store, secrets: Sequence[Secret]) -> list[bytes]:
    """What must not be found any more: values, salts, and their words as they were looked for, now that nothing else
    holds these; none where one is so short that it would be found anywhere."""
    if any(len(each.value) < SHORTEST for each in secrets):
        return []
    words = {word for each in secrets for word in all_words_of(each.value) if len(word) >= SHORTEST}
    with store.reading() as connection:
        if inspect(connection).has_table(KEPT.name):
            for some in parts(sorted(words)):
                words.difference_update(connection.scalars(select(KEPT.c.word).where(KEPT.c.word.in_(some))))
    return [part.encode() for part in (*words, *(part for each in secrets for part in (each.salt, each.value)))]


def _emptied(raw: sqlite3.Connection, where: str) -> None:
    """Carry the write-ahead log into the main file and cut it to nothing."""
    row = raw.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    if row is not None and row[0]:
        read = "another program reads the journal and holds what was erased in its file of last entries"
        raise _unfinished(where, read)


def _written_anew_on_server(store: Store) -> None:
    engine = create_engine(store.settings.database, isolation_level="AUTOCOMMIT")
    try:
        with engine.connect() as connection:
            there = inspect(connection).get_table_names()
            for name in ("secret", *sorted(table for table in VIEWS.tables if table in there)):
                connection.exec_driver_sql(f"VACUUM (FULL) {name}")
    finally:
        engine.dispose()


def forgotten(journal: Journal, secrets: Sequence[Secret], also: Sequence[Forget] = ()) -> None:
    """After rows were deleted: make anew what was derived from them, then scrub the files."""
    for each in (*FORGETTING, *also):
        each(journal.store)
    scrubbed(journal.store, secrets)
    with journal.store.writing() as connection:
        connection.execute(delete(MARK).where(MARK.c.name == UNFINISHED))


def obeyed(journal: Journal, also: Sequence[Forget] = ()) -> int:
    """Take away what an erasure written on another device, or after a backup, demands; what a hold keeps here stays.

    An erasing that broke off is brought to its end.

    journal  open for writing
    also     what else is to be made anew
    -> how many values were still here
    """
    secrets, names = list[Secret](), demanded(journal)
    with journal.store.reading() as connection:
        begun = connection.execute(_BEGUN).first() is not None
        if names:
            secrets = held_in(connection, names)
    if secrets:
        kept = kept_by_holds(journal)
        secrets = [each for each in secrets if each.commitment not in kept]
    if not secrets:
        if begun:
            forgotten(journal, [], also)
        return 0
    with journal.store.reading() as connection:
        files = files_of(connection, secrets)
    for name in files:
        removed(journal.store.settings.files_folder(), name)
    with journal.store.writing() as connection:
        taken_away(connection, secrets)
    forgotten(journal, [] if begun else secrets, also)
    return len(secrets)
