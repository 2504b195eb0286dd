"""A whole store copied as it was at one moment, from either kind into SQLite or into a server."""

import sqlite3
from pathlib import Path
from typing import Any, cast

from sqlalchemy import Table, insert, select
from sqlalchemy.engine import Connection

from fluewright.record.settings import Settings
from fluewright.record.store import Store
from fluewright.record.tables import ANCHOR, ENTRY, MARK, SECRET

AT_ONCE = 1000
"""Rows carried over at a time."""

_GIVEN_BY_STORE = {ENTRY: "arrival", ANCHOR: "number"}
"""Columns that each store numbers for itself."""


def settings_of(database: Path, *, read_only: bool = False) -> Settings:
    """A copy in one file, without a file of its own for the last entries."""
    return Settings(str(database), mode="delete", read_only=read_only)


def _carried(source: Connection, target: Connection, table: Table) -> None:
    """The rows of one table, in the order in which the source got them."""
    given = _GIVEN_BY_STORE.get(table)
    columns = [column for column in table.columns if column.name != given]
    asked = select(*columns)
    if given:
        asked = asked.order_by(table.columns[given])
    rows = source.execution_options(yield_per=AT_ONCE).execute(asked)
    for part in rows.mappings().partitions(AT_ONCE):
        target.execute(insert(table), [dict(row) for row in part])


def carried(source: Store, target: Store) -> None:
    """Copy a store row by row into an empty one of either kind, all from one moment.

    source  open
    target  a place where none is; its tables are made
    """
    target.make()
    with source.reading() as read, target.writing() as written:
        for table in (ENTRY, SECRET, ANCHOR):
            _carried(read, written, table)
        marks = read.execute(select(MARK).where(MARK.c.name != "form")).mappings().all()
        if marks:
            written.execute(insert(MARK), [dict(row) for row in marks])


def into_file(source: Store, database: Path) -> None:
    """Copy a store into a new SQLite file: by the engine's own online copy, or from a server row by row.

    A file copied by hand may lack the last entries, which SQLite keeps beside it; the engine's copy never does, and
    writers go on meanwhile.

    source    open
    database  the new file, which is flushed when this returns
    """
    if not source.settings.is_sqlite():
        target = Store(settings_of(database))
        carried(source, target)
        target.close()
        return
    with source.reading() as connection:
        raw = cast(Any, connection.connection.driver_connection)
        copy = sqlite3.connect(database)
        try:
            raw.backup(copy)
            copy.execute("PRAGMA synchronous = EXTRA")
            copy.execute("PRAGMA journal_mode = DELETE")
        finally:
            copy.close()
