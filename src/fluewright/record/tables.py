"""The journal's tables. They never change: entries are immutable, and older ones are turned on reading."""

from sqlalchemy import BigInteger, Column, Identity, Index, Integer, MetaData, Table, Text, UniqueConstraint
from sqlalchemy.engine import Connection

JOURNAL = MetaData()

_ARRIVAL = BigInteger().with_variant(Integer(), "sqlite")

ENTRY = Table(
    "entry",
    JOURNAL,
    Column("arrival", _ARRIVAL, Identity(always=True), primary_key=True, comment="order in which this store got them"),
    Column("device", Text, nullable=False),
    Column("sequence", BigInteger, nullable=False),
    Column("id", Text, nullable=False, index=True, comment="the same on two devices that were told the same thing"),
    Column("kind", Text, nullable=False),
    Column("subject", Text, nullable=False, comment="the visit, or what the entry is about"),
    Column("hash", Text, nullable=False),
    Column("text", Text, nullable=False, comment="canonical form"),
    UniqueConstraint("device", "sequence"),
    Index("entry_kind", "kind", "arrival"),
    Index("entry_subject", "subject", "kind"),
    sqlite_autoincrement=True,
)
"""Every entry as it was written, by whatever device."""

SECRET = Table(
    "secret",
    JOURNAL,
    Column("commitment", Text, primary_key=True),
    Column("salt", Text, nullable=False),
    Column("value", Text, nullable=False),
)
"""Values about people; the only rows of the journal that may be taken away."""

ANCHOR = Table(
    "anchor",
    JOURNAL,
    Column("number", _ARRIVAL, Identity(always=True), primary_key=True),
    Column("device", Text, nullable=False),
    Column("sequence", BigInteger, nullable=False),
    Column("hash", Text, nullable=False),
    Column("at", Text, nullable=False, comment="when this store was told of it"),
    Column("by", Text, nullable=False, comment="by whom: a device, a backup, a printed sheet"),
    sqlite_autoincrement=True,
)
"""What others have said of the ends of chains, kept as a witness."""

MARK = Table("mark", JOURNAL, Column("name", Text, primary_key=True), Column("value", Text, nullable=False))
"""The few facts about the store itself: its form, and which device it belongs to."""

NEVER = ("entry", "anchor")
"""Tables whose rows are never changed and never taken away."""

_SQLITE_GUARD = """
CREATE TRIGGER IF NOT EXISTS {table}_{what} BEFORE {what} ON {table}
BEGIN SELECT RAISE(ABORT, 'the journal is append-only: nothing in it is changed or taken away'); END
"""

_SQLITE_AGAIN = """
CREATE TRIGGER IF NOT EXISTS {table}_INSERT BEFORE INSERT ON {table}
WHEN EXISTS (SELECT 1 FROM {table} WHERE {taken})
BEGIN SELECT CASE WHEN EXISTS (SELECT 1 FROM {table} WHERE {same}) THEN RAISE(IGNORE)
ELSE RAISE(ABORT, 'the journal is append-only: nothing in it is changed or taken away') END; END
"""
"""INSERT OR REPLACE takes the earlier row away without asking the guard against DELETE; so what is there already is not
put in again."""

_TAKEN = {
    "entry": (
        "(device = NEW.device AND sequence = NEW.sequence) OR arrival = NEW.arrival",
        "id = NEW.id AND device = NEW.device AND sequence = NEW.sequence AND hash = NEW.hash AND text = NEW.text",
    ),
    "anchor": ("number = NEW.number", "number = NEW.number AND device = NEW.device AND hash = NEW.hash"),
}
"""What of a new row is taken already, and how a row is told that was kept before."""

POSTGRES_GUARD = """
CREATE OR REPLACE FUNCTION append_only() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'the journal is append-only: nothing in it is changed or taken away'; END $$
"""


def guards() -> dict[str, str]:
    """The guards of a SQLite journal, by name, as they are written."""
    found = {}
    for table in NEVER:
        for what in ("UPDATE", "DELETE"):
            found[f"{table}_{what}"] = _SQLITE_GUARD.format(table=table, what=what)
        taken, same = _TAKEN[table]
        found[f"{table}_INSERT"] = _SQLITE_AGAIN.format(table=table, taken=taken, same=same)
    return found


def make(connection: Connection) -> None:
    """Make the tables and the guards that refuse to change them, in the transaction of the connection."""
    JOURNAL.create_all(connection)
    if connection.dialect.name == "sqlite":
        for guard in guards().values():
            connection.exec_driver_sql(guard)
        return
    connection.exec_driver_sql(POSTGRES_GUARD)
    for table in NEVER:
        connection.exec_driver_sql(
            f"CREATE OR REPLACE TRIGGER {table}_guard BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )
