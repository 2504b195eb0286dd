"""A visit that was brought in, taken back as one: struck out whole, and still to be seen."""

from typing import TYPE_CHECKING

from fluewright.errors import EntryError
from fluewright.record.shape import ID
from fluewright.visit import once

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

BECAUSE = "brought in and taken back at once"


def title_of(journal: "Journal", visit: str) -> str:
    """What a visit that was brought in is called; empty when it is none, or was struck out."""
    from fluewright.record import amend

    found = amend.standing(journal, visit) if ID.fullmatch(visit) else None
    if found is None or found.read.entry.kind != "visit" or not found.counts:
        return ""
    return str(found.body.get("title", ""))


def undone(journal: "Journal", visit: str) -> None:
    """Strike out a visit that came from a file; twice is once.

    visit  its id
    -> nothing; EntryError for one that was worked here, since that is struck out line by line, with reasons
    """
    from fluewright.record import amend

    found = amend.standing(journal, visit) if ID.fullmatch(visit) else None
    if found is None or found.read.entry.kind != "visit" or found.read.entry.source != "imported":
        raise EntryError(
            code="FW-J-143",
            read="a visit to be taken back that was not brought in from a file",
            expected="one that was",
            matters="a visit that was worked here is a record of what somebody did",
            do="strike out what is wrong in it, with the reason",
        )
    if found.counts:
        journal.add(amend.strike(journal, visit, because=BECAUSE, chosen=once.derived(visit, "taken back")))
