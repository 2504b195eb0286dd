"""A gas pressure that was seen to move while it was read: the word counts, whatever figure stands beside it."""

from fluewright.evidence.finding import PHYSICS, Finding, Grade
from fluewright.evidence.gas_given import WORD, WORKING, LinePressure
from fluewright.evidence.gas_words import LEAVE_OFF, LOW_CAUTIONS, SHUT, of_gas

_LOOK = "read on until it stands still, and say what moves it"
_SUPPLY = (
    "turn the burner off and close its valve until the pressure holds",
    "look for a valve half shut, a blocked filter, a regulator that fails, a cylinder or tank running empty",
)


def still(one: LinePressure) -> bool:
    """Whether nobody saw it move."""
    return one.reading.typed.trend in ("", "steady")


def seen(one: LinePressure) -> Finding | None:
    """What the trend word of a pressure says; None where it stood still or nobody said."""
    if still(one):
        return None
    trend, flows = one.reading.typed.trend, one.state in WORKING
    lead = f"{one.words.capitalize()}: it was {trend} when it was read."
    evidence = ((WORD, one.key),)

    def found(grade: Grade, why: str) -> Finding:
        body = f"Read: {one.reading.typed.text}. {why} No figure beside the word clears it."
        return Finding("supply-still-moving", grade, lead, body, evidence, PHYSICS, do_next=(_LOOK,))

    if trend == "falling" and flows:
        why = "Where it ends nobody saw: the flame can go out, and gas come unlit."
        return of_gas(found("act", why), do=_SUPPLY, cautions=LOW_CAUTIONS)
    if trend == "falling":
        why = "With nothing on no gas should flow: it may be escaping, or a valve before the gauge is shut."
        return of_gas(found("act", why), do=SHUT)
    if trend == "rising" and not flows:
        why = "A regulator that closes holds it still; this one lets gas through, up to the pressure before it."
        return of_gas(found("act", why), do=LEAVE_OFF)
    if trend == "hunting":
        return found("advise", "A regulator that swings gives the flame too much and too little in turn.")
    return found("open", "It had not settled, so it is not yet the pressure that the burner gets.")
