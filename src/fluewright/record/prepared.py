"""A statement turned once into a database's own words and then handed to the driver as it is.

The usual way through SQLAlchemy takes several times what SQLite itself needs to keep one row; an entry is kept while a
person waits for the field to turn green. The statement is still written once, for every database.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy.engine import Connection
from sqlalchemy.sql.expression import ClauseElement


@dataclass(frozen=True, slots=True)
class _Words:
    """A statement as one database takes it: text, order of the values that go by place, values that never change."""

    text: str
    order: list[str] | None
    fixed: Mapping[str, Any]


class Prepared:
    """One statement with named places for its values.

    statement  as it is written for SQLAlchemy
    names      the places, all of them
    """

    def __init__(self, statement: ClauseElement, *names: str) -> None:
        self._statement = statement
        self._names = list(names)
        self._made: dict[str, _Words] = {}

    def _words(self, connection: Connection) -> _Words:
        """The statement in the words of a database."""
        dialect = connection.dialect
        if dialect.name not in self._made:
            compiled: Any = self._statement.compile(dialect=dialect, column_keys=self._names)
            fixed = {name: value for name, value in compiled.params.items() if name not in self._names}
            order = list(compiled.positiontup) if compiled.positional else None
            self._made[dialect.name] = _Words(str(compiled), order, fixed)
        return self._made[dialect.name]

    def on(self, connection: Connection, values: Mapping[str, Any]) -> Any:
        """Run it in the transaction of a connection.

        values  by name
        -> the driver's cursor; the driver's own errors, which `Store.writing` and `Store.reading` turn into ours
        """
        words = self._words(connection)
        held = {**values, **words.fixed}
        cursor = connection.connection.cursor()
        cursor.execute(words.text, held if words.order is None else [held[name] for name in words.order])
        return cursor
