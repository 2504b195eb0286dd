"""The visit before at the same appliance, from the journal."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from fluewright.visit import kept

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

LOOKED_AT = 400
"""Readings of an appliance, the newest, among which the visit before is looked for."""


def visit_before(journal: "Journal", visit: str) -> str:
    """The last visit before one, at the same appliance, in which something was read.

    journal  where both are kept
    visit    id of the later
    -> id; empty where the appliance has none, or the visit names none or several
    """
    from fluewright.record.views import readings
    from fluewright.record.views.catching_up import looked_at

    opened = journal.entry(visit)
    appliances: Sequence[str] = opened.body.get("appliances", ()) if opened is not None else ()
    if opened is None or len(appliances) != 1:
        return ""
    with looked_at(journal.store) as connection:
        rows = readings.last(connection, str(appliances[0]), most=LOOKED_AT)
    found: list[tuple[str, str]] = []
    for each in dict.fromkeys(str(row.visit) for row in rows):
        read = journal.entry(each)
        if each == visit or read is None or str(read.body["day"]) > str(opened.body["day"]):
            continue
        if any(entry.counts for entry in kept.entries_of(journal, each) if entry.read.entry.id == each):
            found.append((str(read.body["day"]), each))
    return max(found, default=("", ""))[1]
