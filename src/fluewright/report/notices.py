"""An open notice of a danger as a stop sentence, with what the answer about shutting down asks for at that place."""

from dataclasses import dataclass
from datetime import date

from fluewright.evidence.reading import EMERGENCY, SUPPLIER, Notice
from fluewright.report.tree import Stop
from fluewright.rules import consent
from fluewright.words import say, spoken


@dataclass(frozen=True, slots=True)
class Place:
    """Where an appliance stands, as far as a danger there asks for it.

    emergency     number that is called, in words
    supplier      who brings the fuel, in words
    jurisdiction  whose law speaks; empty when nobody has said
    day           of the visit; None when it is not known
    """

    emergency: str = EMERGENCY
    supplier: str = SUPPLIER
    jurisdiction: str = ""
    day: date | None = None


def sentence_of(words: str) -> str:
    """A phrase with a capital and a full stop."""
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."


def notice_stop(notice: Notice, place: Place) -> Stop:
    """An open notice as a stop sentence, first what keeps people safe; it stands there whatever the readings say.

    notice  the notice
    place   whom to call there, and whose law speaks
    -> stop sentence
    """
    safe = (
        say("Leave the appliance off and keep people out of the rooms it serves."),
        say(
            "If gas smells, an alarm sounds or anybody feels unwell: everybody out, doors left open, no switch, "
            "no flame."
        ),
        say(
            "From outside call {emergency}, then {supplier}.",
            emergency=spoken(place.emergency),
            supplier=spoken(place.supplier),
        ),
    )
    steps = consent.speaking(answer=notice.consent, jurisdiction=place.jurisdiction, day=place.day)
    nobody = say("Nobody was told yet: tell who lives here, now.")
    told = say("Told: {who}.", who=notice.told) if notice.told else nobody
    struck = (say("This notice was struck out; a danger ends by being closed, not by that."),) if notice.struck else ()
    did = (*map(sentence_of, notice.done), *(say("Called: {who}.", who=call) for call in notice.calls))
    authority = "; ".join(dict.fromkeys(one.authority for one in steps))
    return Stop(
        order=say("Stop. A danger was noticed here and is still open."),
        what=sentence_of(notice.words),
        do=(*safe, *(spoken(one.text) for one in steps), told, *did, *struck),
        why=say(
            "It stays at the head of this sheet until somebody says why it is over."
            " What to do about consent: {authority}.",
            authority=authority,
        )
        if authority
        else say("It stays at the head of this sheet until somebody says why it is over."),
    )
