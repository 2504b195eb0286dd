"""Journals for practice: what they hold is invented, and it never meets a journal of real visits.

That a journal is for practice stands in the first entry of its device, under the hash of the chain, in no setting.
"""

from fluewright.errors import NotAllowed
from fluewright.record.entry import Entry
from fluewright.record.journal import Journal


def practises(entry: Entry) -> bool:
    """Whether this entry introduces a device whose journal is for practice."""
    return entry.kind == "device" and entry.id == entry.device and entry.body.get("practice") is True


def is_practice(journal: Journal) -> bool:
    """Whether a journal is for practice: any device in it is, for a copy that was restored goes on as another."""
    return any(practises(read.entry) for read in journal.of_kind("device"))


def need_real(journal: Journal) -> None:
    """Refuse an exchange with other journals; NotAllowed for a journal that is for practice."""
    if is_practice(journal):
        raise NotAllowed(
            code="FW-N-111",
            where=journal.store.where,
            read="an exchange of a journal that is for practice",
            expected="a journal of real visits",
            matters="an invented visit among real ones could be taken for a safe appliance",
            do="keep it by itself; `fluewright journal new` without --practice begins one for real visits",
        )


def not_taken(where: str) -> NotAllowed:
    """Entries of a journal for practice that came in."""
    return NotAllowed(
        code="FW-N-112",
        where=where,
        read="entries of a journal that is for practice",
        expected="those of journals of real visits",
        matters="an invented visit among real ones could be taken for a safe appliance",
        do="leave them where they are; nothing was taken",
    )
