"""Clauses that a shop entered from its own code book: what was known from memory counts as read, for that shop.

The figure of the clause must be the figure of the row. Where the shop's text prints another, the row stays what it was,
and the error says so: a row must not be turned into another rule by an entry.
"""

import datetime
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from fluewright.errors import RuleError
from fluewright.quantity import names, units
from fluewright.rules.schema import Citation, Limit


@dataclass(frozen=True, slots=True)
class Clause:
    """One clause as somebody of the shop read it.

    rule      id of the row it is the text of
    document  name of the code book
    edition   as printed on it
    clause    number of the clause
    page      on which it stands
    initials  who read it
    text      its words, or as many as carry the limit
    day       on which it was read in a book that is in force
    law_in    code of the place where this code book is law, empty where it is none
    limit     the figure as the clause prints it
    unit      of that figure
    """

    rule: str
    document: str
    edition: str
    clause: str
    page: str
    initials: str
    text: str
    day: datetime.date
    law_in: str = ""
    limit: str = ""
    unit: str = ""


_NEEDED = ("document", "edition", "clause", "page", "initials", "text", "limit", "unit")


def _refused(clause: Clause, read: str, expected: str) -> RuleError:
    return RuleError(
        code="FW-B-051",
        where=f"the clause for {clause.rule}",
        read=read,
        expected=expected,
        matters="from then on this row may clear an appliance, on the word of whoever read the clause",
        do="enter it from the open book; what asks more than the row belongs into the house book",
    )


def need_whole(clause: Clause, row: Limit) -> None:
    """Refuse a clause that leaves something out, or prints another figure than its row.

    clause  as entered
    row     of the books
    -> nothing; RuleError FW-B-051
    """
    missing = [name for name in _NEEDED if not str(getattr(clause, name)).strip()]
    if missing:
        raise _refused(clause, f"no {', no '.join(missing)}", f"all of {', '.join(_NEEDED)}")
    quantity = names.of(row.quantity)
    unit = units.unit_named(clause.unit, quantity=quantity)
    try:
        typed = float(clause.limit)
    except ValueError as error:
        raise _refused(clause, f"limit {clause.limit!r}", f"a number, such as {row.limit:g}") from error
    ours = units.unit_named(row.unit, quantity=quantity)
    figure = units.canonical(typed, unit=unit, quantity=quantity)
    if not math.isclose(figure, units.canonical(row.limit, unit=ours, quantity=quantity), rel_tol=1e-6):
        raise _refused(clause, f"{clause.limit} {clause.unit}, where the row has {row.limit:g} {row.unit}",
                       "the figure of the row; another figure is another rule")  # fmt: skip


def as_read(row: Limit, clause: Clause) -> Limit:
    """A row as the shop's own text has it.

    row     of the books
    clause  whole, and of this row
    -> the row, known as read on that day; law of the place where the clause says so
    """
    by = f"read by {clause.initials} for the shop, page {clause.page}"
    changed = replace(
        row,
        known="read",
        current=clause.day,
        citation=Citation(clause.document, clause.clause, f"{clause.edition}, {by}"),
        entered=by,
    )
    return replace(changed, layer="law", jurisdiction=clause.law_in) if clause.law_in else changed


def with_clauses(rows: Iterable[Limit], clauses: Iterable[Clause]) -> tuple[Limit, ...]:
    """Rows, those with a clause as the shop read them; the others as they came.

    rows     of the books
    clauses  of the shop; of several for one row the last counts
    -> rows in their order
    """
    latest: Mapping[str, Clause] = {clause.rule: clause for clause in clauses}
    return tuple(as_read(row, latest[row.id]) if row.id in latest else row for row in rows)
