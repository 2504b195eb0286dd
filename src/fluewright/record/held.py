"""Holds in force, and what they keep from being erased."""

from datetime import date

from fluewright.record.journal import Journal
from fluewright.record.personal import commitments_in
from fluewright.record.reach import reach
from fluewright.record.reading import Read


def holds_in_force(journal: Journal, today: date) -> list[Read]:
    """Holds that are neither lifted nor over."""
    lifted = {str(read.body.get("of")) for read in journal.of_kind("hold lifted")}
    found = []
    for read in journal.of_kind("hold"):
        until = str(read.body.get("until", ""))
        if read.known and read.entry.id not in lifted and not (until and date.fromisoformat(until) < today):
            found.append(read)
    return found


def kept_by_holds(journal: Journal) -> set[str]:
    """Commitments of all that a hold in force reaches: they stay, whoever erased them elsewhere."""
    found: set[str] = set()
    for read in holds_in_force(journal, journal.now().date()):
        of = str(read.body.get("of"))
        if journal.entry(of) is not None:
            ids = [kept.entry.id for kept in reach(journal, of).entries]
            found.update(each for kept in journal.all_under(ids) for each in commitments_in(kept.entry.body))
    return found
