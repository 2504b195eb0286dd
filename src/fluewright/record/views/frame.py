"""What the views stand on: which is up to which entry, which entry changes which, and what could not be read."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import BigInteger, Column, Integer, MetaData, Table, Text, delete, insert
from sqlalchemy.engine import Connection

from fluewright.record.fold import Current
from fluewright.record.today import Read

VIEWS = MetaData()
"""All tables of the views; none of them is the journal's."""

VERSION = 1
"""Of the tables below; when it changes, every view is folded again."""

AT_ONCE = 500
"""Values in one statement; SQLite takes 999 at least."""

NUMBER = BigInteger().with_variant(Integer(), "sqlite")
WORD = Text(collation="C").with_variant(Text(), "sqlite")
"""A text that is compared by its signs, whatever language the server was set up for."""

STATE = Table(
    "view_state",
    VIEWS,
    Column("name", Text, primary_key=True),
    Column("version", Text, nullable=False),
    Column("arrival", NUMBER, nullable=False, comment="the last entry that is in it"),
)

CHANGE = Table(
    "view_change",
    VIEWS,
    Column("arrival", NUMBER, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False),
    Column("of", Text, nullable=False, comment="the entry that it strikes out or amends"),
    Column("unit", Text, nullable=False, index=True, comment="where that belongs; empty while it is not here"),
)
"""Amendments and strike-outs, since a later one may be about any earlier entry."""

UNREAD = Table(
    "view_unread",
    VIEWS,
    Column("kind", Text, primary_key=True),
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("entries", Integer, nullable=False),
)
"""Entries that this version does not understand, by kind and form: kept, passed on, not shown."""

ERASING = Table("view_erasing", VIEWS, Column("commitment", Text, primary_key=True))
"""Values of which an entry says that they are erased, while they are still here: on their way, or held."""

written: Callable[[Any], str] = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode
"""What came from a canonical form, in that form again."""

DAMAGED = "not an entry"
"""Stands as the kind of what could not be read at all."""


def view(name: str, *columns: Any) -> Table:
    """A table of a view: its rows are known by the arrival of the entry that they come from."""
    return Table(name, VIEWS, Column("arrival", NUMBER, primary_key=True, autoincrement=False), *columns)


def text(name: str, *, index: bool = False) -> Column[str]:
    """A column of text, empty where nothing is known."""
    return Column(name, Text, nullable=False, index=index)


@dataclass(frozen=True, slots=True)
class Taken:
    """One entry as it stands now, with the number under which this store got it."""

    arrival: int
    current: Current

    @property
    def kind(self) -> str:
        """Its kind."""
        return self.current.read.entry.kind

    @property
    def id(self) -> str:
        """Its id."""
        return self.current.read.entry.id

    def at(self) -> str:
        """When it was seen, else written."""
        return self.current.read.entry.observed or self.current.read.entry.entered

    def words(self, name: str) -> str:
        """A field as text; empty when it has none."""
        found = self.current.body.get(name)
        return found if isinstance(found, str) else ""


@dataclass(frozen=True, slots=True)
class Unit:
    """What is folded together: a visit with all that belongs to it, or one entry of the shop.

    id       the visit's id, or the entry's
    entries  as they stand now, in the order of their arrival; struck-out ones too
    changes  amendments and strike-outs of them
    again    whether rows of it may be there already
    arrivals of everything that the unit is made of
    by_kind  the entries that are not struck out
    """

    id: str
    entries: tuple[Taken, ...]
    changes: tuple[Read, ...]
    again: bool
    arrivals: tuple[int, ...]
    by_kind: Mapping[str, Sequence[Taken]]

    def counting(self, *kinds: str) -> list[Taken]:
        """Entries that are not struck out, of some kinds."""
        return [each for kind in kinds for each in self.by_kind.get(kind, ())]


def parts(values: Sequence[Any]) -> Iterable[Sequence[Any]]:
    """Values in portions that fit into one statement."""
    return (values[start : start + AT_ONCE] for start in range(0, len(values), AT_ONCE))


def replaced(connection: Connection, table: Table, units: Iterable[Unit], rows: Sequence[Mapping[str, Any]]) -> None:
    """Take away the rows of units that were there before, and put in the new ones."""
    old = [arrival for unit in units if unit.again for arrival in unit.arrivals]
    for some in parts(old):
        connection.execute(delete(table).where(table.c.arrival.in_(some)))
    if rows:
        connection.execute(insert(table), list(rows))
