"""What still holds of a store that is damaged: each entry and each text about a person proves itself by its hash.

Where the engine can still read, it reads; where it gives up, the pages are read without it. Nothing is written to the
store. Entries are offered in the order of their devices and numbers, so that they are gathered first in a nameless file
that is gone when the walk ends.
"""

import contextlib
import sqlite3
from collections.abc import Iterator
from typing import Any

from sqlalchemy import Text, select

from fluewright.errors import FluewrightError, RecordDamaged
from fluewright.record.canonical import digest
from fluewright.record.chain import Break, Row
from fluewright.record.entry import NOTHING_BEFORE, Entry, entry_from
from fluewright.record.pages import Pages, texts_on
from fluewright.record.personal import Secret, erased_by
from fluewright.record.reading import AT_ONCE, devices_of, rows_of
from fluewright.record.shape import ID
from fluewright.record.store import Store
from fluewright.record.tables import ENTRY, SECRET

_GATHERED = """
CREATE TABLE held (device TEXT, sequence INTEGER, hash TEXT, id TEXT, text TEXT, previous TEXT,
                   PRIMARY KEY (device, sequence, hash)) WITHOUT ROWID
"""
_ENTRY_COLUMNS, _SECRET_COLUMNS = 8, 3


def is_readable(store: Store) -> bool:
    """Whether the engine finds nothing wrong with the build of the store, and sees all that is there."""
    if not store.settings.is_sqlite():
        return True
    if ahead_wrong(store):
        return False
    try:
        with store.reading() as connection:
            there = connection.exec_driver_sql("SELECT count(*) FROM sqlite_master WHERE name IN ('entry', 'secret')")
            whole = connection.exec_driver_sql("PRAGMA integrity_check(1)").scalar() == "ok"
            return whole and there.scalar() == 2
    except FluewrightError:
        return False


def _is_text(store: Store) -> bool:
    """Whether the engine can turn every text of an entry into letters; one that it cannot ends its walk."""
    if not store.settings.is_sqlite():
        return True
    columns = (column for column in ENTRY.c if isinstance(column.type, Text))
    try:
        with store.reading() as connection:
            for _ in connection.execute(select(*columns), execution_options={"yield_per": AT_ONCE}):
                pass
    except FluewrightError:
        return False
    return True


def ahead_wrong(store: Store) -> str:
    """What is wrong with the write-ahead file, which the engine passes over in silence; empty when nothing is.

    Looked at twice, since another process may be writing it.
    """
    found = 0
    for _ in range(2):
        with contextlib.closing(Pages(store.settings.path())) as pages:
            again = pages.ahead_ends_early()
        if not again or (found and again != found):
            return ""
        found = again
    return f"the write-ahead file beside it is damaged at frame {found}; the engine sees nothing of what stands behind"


def _self_proving(row: Row) -> Entry | None:
    """The entry of a row whose hash, id, device and number are those of its text; None when it does not hold."""
    if digest(row.text) != row.hash:
        return None
    try:
        entry = entry_from(row.text)
    except RecordDamaged:
        return None
    return entry if (entry.device, entry.sequence, entry.id) == (row.device, row.sequence, row.id) else None


def _from_pages(store: Store) -> Iterator[Row]:
    """Rows offered by the pages of a file; most are entries, some are nothing."""
    pages = Pages(store.settings.path())
    with contextlib.closing(pages):
        for number, page in pages.ever():
            for found in pages.rows_on(number, page):
                if len(found) == _ENTRY_COLUMNS and all(isinstance(found[at], str) for at in (1, 3, 6, 7)):
                    yield Row(found[1], found[2], found[3], found[6], found[7])
            for hashed, text in texts_on(page):
                with contextlib.suppress(RecordDamaged):
                    entry = entry_from(text)
                    yield Row(entry.device, entry.sequence, entry.id, hashed, text)


def _gathered(rows: Iterator[Row]) -> sqlite3.Connection:
    """Those that hold, in a nameless file, by device and number."""
    held = sqlite3.connect("", isolation_level=None)
    held.execute(_GATHERED)
    held.execute("BEGIN")
    for row in rows:
        entry = _self_proving(row)
        if entry is not None:
            values = (row.device, row.sequence, row.hash, row.id, row.text, entry.previous)
            held.execute("INSERT OR IGNORE INTO held VALUES (?, ?, ?, ?, ?, ?)", values)
    held.execute("COMMIT")
    return held


def _in_order(held: sqlite3.Connection) -> Iterator[tuple[Row, str]]:
    """One row for each number of each device, with the hash before it; of two, the one that follows the one before."""
    last: tuple[Row, str] | None = None
    hash_before = NOTHING_BEFORE
    for device, sequence, hashed, entry_id, text, previous in held.execute("SELECT * FROM held ORDER BY 1, 2, 3"):
        row = Row(device, sequence, entry_id, hashed, text)
        if last is not None and (last[0].device, last[0].sequence) == (device, sequence):
            last = (row, previous) if previous == hash_before else last
            continue
        if last is not None:
            yield last
        hash_before = last[0].hash if last is not None and last[0].device == device else NOTHING_BEFORE
        last = (row, previous)
    if last is not None:
        yield last


def _told(row: Row, expected: int, before: str, previous: str, skipped: list[Break]) -> None:
    if row.sequence > expected:
        until = "" if row.sequence == expected + 1 else f" to {row.sequence - 1}"
        skipped.append(
            Break(row.device, expected, f"what was kept there can no longer be read (entry {expected}{until})")
        )
    elif previous != before:
        skipped.append(Break(row.device, row.sequence, "it does not follow the entry before it"))


def sound_rows(store: Store, skipped: list[Break] | None = None) -> Iterator[Row]:
    """Every entry that still holds, by device and number; what does not is left out and told.

    An entry holds when its text has the hash that was kept with it and names the same device, number and id. Whether it
    follows the one before it is told too, but leaves none out.

    store    whole or damaged; it is only read
    skipped  takes a break for every run of entries that is left out
    -> rows; none for a store in which nothing holds
    """
    skipped = [] if skipped is None else skipped
    device, expected, before = "", 1, NOTHING_BEFORE
    for row, previous in _from_engine(store) if is_readable(store) and _is_text(store) else _from_file(store):
        if row.device != device:
            device, expected, before = row.device, 1, NOTHING_BEFORE
        _told(row, expected, before, previous, skipped)
        expected, before = row.sequence + 1, row.hash
        yield row


def _from_file(store: Store) -> Iterator[tuple[Row, str]]:
    with contextlib.closing(_gathered(_from_pages(store))) as held:
        yield from _in_order(held)


def _from_engine(store: Store) -> Iterator[tuple[Row, str]]:
    with store.reading() as connection:
        for device in devices_of(connection):
            for row in rows_of(connection, device):
                entry = _self_proving(row)
                if entry is not None:
                    yield row, entry.previous


def _erased(store: Store) -> set[str]:
    """Commitments whose values were erased; what is left of them on a page stays unread."""
    rows = (row for row in sound_rows(store) if '"kind":"erasure"' in row.text)
    return {each for row in rows for each in erased_by(entry_from(row.text).body)}


def misfiled(store: Store) -> Iterator[Break]:
    """Rows of a damaged file whose columns are not those of their text, or whose text is not that of their hash.

    Each is named by its text where that holds, else by its columns.
    """
    with contextlib.closing(Pages(store.settings.path())) as pages:
        for number, page in pages.now():
            for found in pages.rows_on(number, page):
                if len(found) == _ENTRY_COLUMNS and isinstance(found[7], str):
                    yield from _misfiled(*found[1:])


def _misfiled(
    device: Any, sequence: Any, entry_id: Any, kind: Any, subject: Any, hashed: Any, text: str
) -> Iterator[Break]:
    try:
        entry = entry_from(text) if digest(text) == hashed else None
    except FluewrightError:
        entry = None
    if entry is None:
        if isinstance(device, str) and ID.fullmatch(device) and isinstance(sequence, int):
            yield Break(device, sequence, "its content is not the one that was kept: the hash differs")
    elif (device, sequence, entry_id) != (entry.device, entry.sequence, entry.id):
        yield Break(entry.device, entry.sequence, "it was kept under another device, number or id")
    elif (kind, subject) != (entry.kind, entry.subject()):
        yield Break(entry.device, entry.sequence, "it was filed under another kind or subject")


def sound_secrets(store: Store) -> Iterator[Secret]:
    """Every text about a person that is still the one that was committed to, and was not erased."""
    if is_readable(store):
        with store.reading() as connection:
            for found in connection.execute(select(SECRET)):
                secret = Secret(found.commitment, found.salt, found.value)
                if secret.holds():
                    yield secret
        return
    erased, seen = _erased(store), set[str]()
    with contextlib.closing(Pages(store.settings.path())) as pages:
        for number, page in pages.now():
            for row in pages.rows_on(number, page):
                if len(row) != _SECRET_COLUMNS or not all(isinstance(each, str) for each in row):
                    continue
                secret = Secret(*row)
                if secret.commitment not in erased and secret.commitment not in seen and secret.holds():
                    seen.add(secret.commitment)
                    yield secret
