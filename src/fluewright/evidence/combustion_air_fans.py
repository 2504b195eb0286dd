"""Fans beside flames that breathe the air of a room: what the balance says of them, and what nobody listed."""

from dataclasses import replace
from typing import TYPE_CHECKING

from fluewright.evidence.combustion_air_balance import Balance
from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.limits import CAUTION, CERTAIN, HARDLY, in_words

if TYPE_CHECKING:
    from fluewright.evidence.combustion_air import AirForBurning

WORD = "air for burning"

TEST_WITH_FANS = (
    "before leaving, run every fan, dryer and hood with the doors shut and see that the flue still draws and nothing "
    "spills",
)
MORE_AIR = (
    "bring more air: free or enlarge an opening to outdoors, or join the room to another by openings",
    "or have an appliance fitted that takes its air through a duct of its own",
)


def of_balance(given: "AirForBurning", balance: Balance) -> Finding | None:
    """What the balance from first principles says of flames, and of fans beside them."""
    if balance.short is None:
        return _unknown_fan(given) if given.exhausts else None
    if balance.odds is None and not given.exhausts:
        return None
    if balance.odds is not None and balance.odds < HARDLY:
        return None
    evidence = tuple((WORD, key) for key in ("left", "flames take", "comes in") if key in balance.results)
    sure = balance.odds is not None and balance.odds > CERTAIN
    how_likely = in_words(balance.odds) if balance.odds is not None else f"cannot be said, for {balance.unsaid}"
    fans = bool(given.exhausts)
    plain = Finding(
        "air-balance-short",
        "open",
        "Air for burning: by the balance of air less may come in than the flames take.",
        f"{_SHORT} How likely: {how_likely}. Less air than that draws the room further down.",
        evidence,
        PHYSICS,
        odds=balance.odds,
        do_next=TEST_WITH_FANS,
    )
    if not fans:
        return plain
    lead = f"Air for burning: the fans {'take' if sure else 'may take'} the air that the flames need."
    body = f"{_SHORT} How likely: {how_likely}. The room is then drawn further down, and gas comes back by the flue."
    return replace(
        plain,
        code="air-taken-by-fans",
        grade="act" if sure else "open",
        lead=lead,
        body=body,
        do_now=TEST_WITH_FANS,
        do_next=MORE_AIR if sure else (),
        cautions=CAUTION,
    )


_SHORT = "Asked: whether what comes in at the pressure counted with, less what fans take, is less than the flames take."


def _unknown_fan(given: "AirForBurning") -> Finding | None:
    unknown = [one.words for one in given.exhausts if one.flow is None or one.flow.figure is None]
    if not unknown:
        return None
    return Finding(
        "air-fan-not-known",
        "open",
        f"Air for burning: nobody knows how much air {', '.join(unknown)} takes.",
        "A fan is never left out of the balance: without its flow, what is left for the flames cannot be said.",
        (),
        PHYSICS,
        do_now=TEST_WITH_FANS,
        do_next=("measure the flow of the fan, or read it from its plate",),
        cautions=CAUTION,
    )


def not_listed(finding: Finding) -> Finding:
    """Enough by a rule, in a house whose fans nobody listed: open, because they may take that air."""
    body = (
        f"{finding.body} Rules count rooms and openings as if no fan ran; hood, dryer and bath fans were not listed, "
        "and nobody said that there are none."
    )
    do_next = ("list every fan, dryer and hood with its air flow, or say that there is none", *TEST_WITH_FANS)
    if finding.grade != "fine":
        return replace(finding, body=body, do_next=do_next)
    lead = "Air for burning: as much as the rule asks for, but nobody said which fans take air out."
    return replace(finding, grade="open", lead=lead, body=body, do_next=do_next)
