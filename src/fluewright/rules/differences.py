"""What a change of a rule book changes, row by row, so that it is seen before it takes effect."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.rules import applies
from fluewright.rules.applies import Applies
from fluewright.rules.schema import Citation, Limit
from fluewright.words import say

_SAID = tuple(name for name in Limit.__dataclass_fields__ if name not in ("id", "book", "entered"))


@dataclass(frozen=True, slots=True)
class Change:
    """What happens to one row.

    id      of the row
    field   that changes; empty where the row comes or goes
    before  its words, empty for a row that comes
    after   its words, empty for a row that goes
    """

    id: str
    field: str
    before: str
    after: str

    @property
    def sentence(self) -> str:
        """One line to print."""
        if self.field:
            told = {"row": self.id, "field": self.field, "before": self.before, "after": self.after}
            return say("changed  {row}: {field} was {before}, becomes {after}", **told)
        if self.after:
            return say("new      {row}: {words}", row=self.id, words=self.after)
        return say("gone     {row}: {words}", row=self.id, words=self.before)


def in_short(row: Limit) -> str:
    """A row in one line: what, how much, by whose word."""
    return f"{row.quantity} {row.sense} {row.limit:g} {row.unit}, {row.layer}, {row.severity}; {row.known}"


def _words(value: object) -> str:
    if isinstance(value, Citation):
        return f"{value.document}, {value.clause}, {value.edition}"
    if isinstance(value, Applies):
        return applies.in_words(value)
    if isinstance(value, float):
        return f"{value:g}"
    if value is None:
        return "open"
    return value.isoformat() if isinstance(value, datetime.date) else str(value)


def between(before: Sequence[Limit], after: Sequence[Limit]) -> tuple[Change, ...]:
    """Every difference of two books.

    before, after  their rows
    -> changes: rows that go, rows that change field by field, rows that come
    """
    old, new = ({row.id: row for row in rows} for rows in (before, after))
    found = [Change(id, "", in_short(row), "") for id, row in old.items() if id not in new]
    for id, row in new.items():
        if id not in old:
            found.append(Change(id, "", "", in_short(row)))
            continue
        pairs = ((name, _words(getattr(old[id], name)), _words(getattr(row, name))) for name in _SAID)
        found += [Change(id, name, was, becomes) for name, was, becomes in pairs if was != becomes]
    return tuple(found)
