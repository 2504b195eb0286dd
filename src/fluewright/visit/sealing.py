"""A visit sealed: signed with the device key over every entry of it, by somebody who says what that means."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from importlib.metadata import version
from typing import TYPE_CHECKING

from fluewright.errors import NotAllowed
from fluewright.evidence.books import books_of
from fluewright.record.canonical import digest
from fluewright.record.fold import Current
from fluewright.visit import closing, kept, work
from fluewright.words import ENGLISH, speaking

if TYPE_CHECKING:
    from fluewright.record.callers import Caller
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal
    from fluewright.record.keys import Key
    from fluewright.record.seal import Judged, Signer
    from fluewright.record.seal_check import Verdict

MEANING = "I did this work and found what stands here"
"""What a signature means when nothing else is said."""


def _judged(journal: "Journal", visit: str) -> "Judged":
    """What is sealed besides the entries: the sheet in plain words with every working, the rule books, the engine."""
    from fluewright.record.seal import Judged
    from fluewright.report.text import text

    account = replace(kept.account_of(journal, visit), kept=())
    with speaking(ENGLISH):  # a seal holds whatever language the door speaks
        sheet = text(work.judged(account).sheet(), plain=True, workings=True)
    return Judged(report=digest(sheet), books=books_of(account), engine=version("fluewright"))


def _classes(entries: Sequence[Current]) -> list[str]:
    """Classes of the appliances of a visit, as far as they were said."""
    lines = [each.body for each in entries if each.counts and each.read.entry.kind == "line"]
    found = [str(line["typed"]["class"]) for line in lines if line["table"] == "appliance" and "class" in line["typed"]]
    return list(dict.fromkeys(found))


def sealed(
    journal: "Journal", visit: str, *, key: "Key", signer: "Signer", meaning: str = MEANING, second: str = ""
) -> "Entry":
    """A visit closed and signed; afterwards it takes strike-outs, amendments and counter-seals only.

    journal  where the visit is kept
    visit    its id
    key      signs
    signer   who, and how recognised
    meaning  what the signature means
    second   id of the person with the ticket who will counter-seal, when the first has none
    -> the seal; NotAllowed without a right or a ticket or while a danger is open, Problems when the visit cannot be
       judged yet
    """
    from fluewright.record import seal
    from fluewright.record.people import need, need_tickets, role_of

    entries = kept.entries_of(journal, visit)
    opened = next(each.body for each in entries if each.read.entry.id == visit)
    need(role_of(journal, signer.who), "seal")
    need_tickets(
        journal,
        signer.who,
        jurisdiction=str(opened.get("jurisdiction", "")),
        classes=_classes(entries) or ["an appliance"],
        day=date.fromisoformat(str(opened["day"])),
        second=second,
    )
    judged = _judged(journal, visit)
    closing.need_closed(journal, visit)
    return seal.sealed(journal, visit, key=key, signer=signer, meaning=meaning, judged=judged)


def signer_for(caller: "Caller", *, name: str, recognised: str) -> "Signer":
    """Who signs at a door: the person who is known there, and nobody else's name; else the name that was given.

    caller      who asks
    name        as it was typed
    recognised  how one knew, as it was typed
    """
    from fluewright.record.seal import Signer

    if caller.person:
        return Signer(who=caller.person, recognised=caller.recognised, name=caller.name)
    return Signer(who="", recognised=recognised, name=name)


def sealed_once(
    journal: "Journal", visit: str, *, key: "Key | None", signer: "Signer", meaning: str = MEANING
) -> "Entry":
    """A visit sealed at a door, where the same signature may be sent twice: it is the one that is there.

    -> the seal; NotAllowed without a name, a key, a right or a ticket
    """
    told = {"name": signer.name, "recognised": signer.recognised, "meaning": meaning}
    for each in kept.entries_of(journal, visit):
        if each.read.entry.kind == "seal" and all(str(each.body.get(field, "")) == told[field] for field in told):
            return each.read.entry
    if not signer.name:
        raise NotAllowed(
            code="FW-N-105",
            read="a seal without a name",
            expected="the name of whoever signs",
            matters="a signature of nobody vouches for nothing",
            do="write the name; nothing was sealed",
        )
    if key is None:
        raise NotAllowed(
            code="FW-N-106",
            read="a seal on a device that has no key at hand",
            expected="a device with its own key",
            matters="without a key nothing can be signed that others can check",
            do="seal it on the shop's machine after the next exchange; what was kept stays kept",
        )
    return sealed(journal, visit, key=key, signer=signer, meaning=meaning)


def counter_sealed(journal: "Journal", visit: str, *, key: "Key", signer: "Signer", meaning: str) -> "Entry":
    """A second signature, over the seal of a visit, with its own meaning.

    -> the counter-seal; NotAllowed when there is no seal, or the person may not
    """
    from fluewright.record import seal
    from fluewright.record.people import need, role_of

    need(role_of(journal, signer.who), "counter-seal")
    first = [each.read.entry.id for each in kept.entries_of(journal, visit) if each.read.entry.kind == "seal"]
    judged = _judged(journal, visit)
    of = first[0] if first else ""
    return seal.sealed(journal, visit, key=key, signer=signer, meaning=meaning, judged=judged, of=of)


def checked(journal: "Journal", visit: str) -> "Verdict":
    """What holds of the seals of a visit, what came after them, and what is missing."""
    from fluewright.record.seal_check import verified

    return verified(journal, visit)
