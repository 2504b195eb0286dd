"""A zero taken once for the visits of a day: entered outside any visit, taken over by each visit of that instrument.

It is written into the visit as it then is. A visit that has a zero of its own, or in which something was read before,
takes none over: nobody may be given a zero that was not there when it was read.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from fluewright.record.draft import Draft
from fluewright.visit import as_checks, kept

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

ONCE = "taken once for all visits of the day"
"""How a zero that was taken over is told on the sheet of each."""

READ = ("reading", "stretch", "check")
"""Kinds of entries after which a visit takes no zero over."""


def _told(how: str) -> str:
    return f"{how}, {ONCE}" if how else ONCE


def zeros_for(journal: "Journal", words: str, day: str) -> list[dict[str, str]]:
    """The zeros of a day that belong to no visit, as rows of a visit's tables.

    words  of the instrument
    day    of the visit
    -> rows, the last one only: it replaced those before; none where no instrument or several are called so
    """
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at
    from fluewright.visit.shelf import body_in

    with looked_at(journal.store) as connection:
        called = [row["id"] for row in shop.instruments(connection) if row["words"] == words]
        tries = shop.checks(connection, called[0]) if len(called) == 1 else ()
    bodies = [body_in(row) for row in tries if row["what"] == "zero" and row["day"] == day and not row["visit"]]
    rows = [as_checks.row_of(body) for body in bodies[-1:]]
    return [{**row, "how": _told(row.get("how", ""))} for row in rows]


def into_begun(journal: "Journal", body: Mapping[str, Any], day: str) -> list[Draft]:
    """Entries that give a zero to the visits of that day which were begun with this instrument and not read yet.

    body  of the zero's entry, which belongs to no visit
    day   when it was taken
    -> drafts, one for each such visit
    """
    from fluewright.record.views import visits
    from fluewright.record.views.catching_up import looked_at

    if body["what"] != "zero":
        return []
    with looked_at(journal.store) as connection:
        begun = [str(row["id"]) for row in visits.begun(connection, day) if row["day"] == day]
    taking = [visit for visit in begun if _takes(journal, visit, str(body["instrument"]))]
    given = {key: value for key, value in body.items() if key != "day"}
    return [Draft("check", {**given, "how": _told(str(body.get("how", ""))), "visit": visit}) for visit in taking]


def _takes(journal: "Journal", visit: str, instrument: str) -> bool:
    """Whether a visit is of that instrument and nothing was read or tried in it so far."""
    counting = [each for each in kept.entries_of(journal, visit) if each.counts]
    return any(each.body.get("instrument") == instrument for each in counting) and not any(
        each.read.entry.kind in READ for each in counting
    )
