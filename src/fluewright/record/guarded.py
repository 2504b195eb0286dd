"""Whether the guards of a store are those that were made with it, and nothing else acts on its tables."""

from collections.abc import Iterator

from sqlalchemy import bindparam, text
from sqlalchemy.engine import Connection

from fluewright.record import tables

_STATEMENT = 2 + 8 + 16 + 32
"""What PostgreSQL notes of a trigger: once for a statement, before it, for DELETE, UPDATE and TRUNCATE."""

_ON_SERVER = text("""
SELECT t.tgname, t.tgtype, t.tgenabled, t.tgqual IS NOT NULL, p.prosrc
FROM pg_trigger t JOIN pg_proc p ON p.oid = t.tgfoid
WHERE NOT t.tgisinternal AND t.tgrelid = to_regclass(:name)
""")

_RULES = text("SELECT rulename FROM pg_rewrite WHERE ev_class = to_regclass(:name)")


def _plain(sql: str) -> str:
    return " ".join(sql.replace("IF NOT EXISTS ", "").split())


def wrong_guards(connection: Connection) -> Iterator[str]:
    """What is wrong with the guards of a store, in sentences; none when they are as they were made."""
    yield from _in_file(connection) if connection.dialect.name == "sqlite" else _on_server(connection)


def _in_file(connection: Connection) -> Iterator[str]:
    names = list(tables.JOURNAL.tables)
    asked = text("SELECT name, tbl_name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name IN :names")
    rows = connection.execute(asked.bindparams(bindparam("names", expanding=True)), {"names": names}).all()
    there, needed = {str(row[0]): str(row[2]) for row in rows}, tables.guards()
    for name, sql in needed.items():
        if name not in there:
            yield f"the guard {name!r}, which refuses changes, was taken away"
        elif _plain(there[name]) != _plain(sql):
            yield f"the guard {name!r}, which refuses changes, is not the one that was made"
    yield from (_foreign(row[0], row[1]) for row in rows if row[0] not in needed)
    asked = text("SELECT name FROM sqlite_master WHERE name IN :names AND type <> 'table'")
    for row in connection.execute(asked.bindparams(bindparam("names", expanding=True)), {"names": names}):
        yield f"{row[0]!r} is no table"


def _foreign(name: str, table: str) -> str:
    return f"{str(name)[:80]!r} acts on the table {table!r} and is none of ours"


def _on_server(connection: Connection) -> Iterator[str]:
    for table in tables.JOURNAL.tables:
        needed = f"{table}_guard" if table in tables.NEVER else ""
        rows = {row[0]: row for row in connection.execute(_ON_SERVER, {"name": table})}
        if needed and (needed not in rows or rows[needed][2] not in ("O", "A")):
            yield f"the guard {needed!r}, which refuses changes, was taken away"
        elif needed and not _is_ours(rows[needed][1], rows[needed][3], rows[needed][4]):
            yield f"the guard {needed!r}, which refuses changes, is not the one that was made"
        others = [name for name in rows if name != needed]
        others += [row[0] for row in connection.execute(_RULES, {"name": table})]
        yield from (_foreign(name, table) for name in others)


def _is_ours(kind: int, limited: bool, source: str) -> bool:
    return kind == _STATEMENT and not limited and _plain(source) in _plain(tables.POSTGRES_GUARD)
