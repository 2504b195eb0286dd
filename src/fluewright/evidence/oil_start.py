"""How the burner lights and locks out, and in which order it is put right: seal, draft, then air."""

from fluewright.evidence.finding import PHYSICS, PRACTICE, Clause, Finding
from fluewright.evidence.limits import in_words, seen
from fluewright.evidence.oil_given import PART, OilGiven
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.origins import spread_of
from fluewright.evidence.part import Derived, Seen, Voiced
from fluewright.evidence.reading import Reading
from fluewright.evidence.result import Result
from fluewright.evidence.trust import beyond
from fluewright.kernel import odds, ops
from fluewright.quantity import show
from fluewright.rules import oil_figures

OIL_GATHERS = (
    "Oil that did not burn lies in the chamber and lights all at once, with a blow. Never press reset again and again: "
    "look into the chamber first, and soak up what lies there.",
)
CONTROL = Clause("plate of the burner control", "safety time", "as typed", "", "read", "house")
INCH_OF_WATER = 249.08891
LIKELY = 0.75
"""Odds from which leaked air is worth looking for."""


def _time(noted: Noted, key: str, reading: Reading) -> Result:
    """A time taken with a watch."""
    below, above = spread_of(reading, noted.account.instrument)
    return noted.keep(key, Result(key, reading.figure, below, above, None, bound=reading.bound))


def _ignition(noted: Noted, given: OilGiven) -> None:
    if given.lit_after is None or given.lit_after.figure is None:
        return
    noted.say("lit ", Seen("lit_after", given.lit_after), " after the oil came on.")
    _time(noted, "ignition_time", given.lit_after)
    noted.judge("practice-oil-ignition-late", "ignition_time", shown="lit_after")


def _lock_out(noted: Noted, given: OilGiven) -> None:
    """Time to lock-out without a flame, against the plate of the control."""
    read, plate = given.lock_out, given.lock_out_plate
    if read is None or read.figure is None:
        noted.cannot_tell.append("Whether the burner locks out when no flame comes: nobody tried it.")
        return
    said = ("; its plate says ", Voiced(show.as_typed(plate.typed), "plate"), ".") if plate is not None else (".",)
    words = (
        "locked out without a flame after " if read.bound != "at least" else "without a flame it had not locked out at "
    )
    noted.say(words, Seen("lock_out", read), *said)
    if plate is None or plate.figure is None:
        noted.cannot_tell.append("Whether the lock-out comes in time: the plate of the control was not read.")
        return
    result = _time(noted, "lock_out_time", read)
    chance = beyond(result, plate.figure)
    late = read.figure > plate.figure or (read.bound == "at least" and read.figure >= plate.figure)
    if read.bound == "at least" and not late:
        noted.cannot_tell.append("Whether the lock-out comes in time: it was not waited for.")
    if not late:
        return
    noted.findings.append(
        Finding(
            "lock-out-late",
            "act",
            "The burner does not lock out in the time of its plate.",
            f"Lock-out {seen(result, noted.account)} where the plate allows {plate.typed.text}. Late: "
            f"{in_words(chance)}. All that time oil runs into the chamber without burning.",
            ((PART, "lock_out"),),
            CONTROL,
            odds=chance,
            limit=f"at most {plate.typed.text}",
            do_now=("leave the burner off until the control has been replaced and tried again",),
            do_next=("look into the chamber for oil before anybody lights it",),
            cautions=OIL_GATHERS,
        )
    )


def _sealed(noted: Noted, given: OilGiven) -> None:
    """Oxygen over the fire and at the breech: more at the breech is air that leaked in."""
    fire, breech = given.over_fire_oxygen, given.breech_oxygen
    if fire is None or breech is None or fire.figure is None or breech.figure is None:
        return
    noted.say("oxygen over the fire ", Seen("over_fire_oxygen", fire), ".")
    noted.say("oxygen at the breech ", Seen("breech_oxygen", breech), ".")
    numbers = (
        noted.reckoning.read(breech, words="oxygen at the breech"),
        noted.reckoning.read(fire, words="over fire"),
    )
    gap = numbers[0] - numbers[1]
    value, spread = float(ops.value_of(gap)), max(noted.reckoning.ledger.sides(gap))
    chance = odds.beyond(value=value, spread=spread, limit=0.0)
    if value <= 0.0 or chance < LIKELY or fire.bound or breech.bound:
        return
    noted.findings.append(
        Finding(
            "seal-before-air",
            "advise",
            "Seal before air: oxygen rises between fire and breech, so air leaks in on the way.",
            f"{value * 100:.1f} points more at the breech, doubt ± {2 * spread * 100:.1f}. A leak: {in_words(chance)}. "
            "Leaked air looks like air that the flame has: cutting air now would make smoke.",
            ((PART, "over_fire_oxygen"), (PART, "breech_oxygen")),
            PHYSICS,
            odds=chance,
            limit="no more oxygen at the breech than over the fire",
            do_next=("seal doors, joints and passes; read both again; then set the draft, and the air last",),
        )
    )


def _draft(noted: Noted, given: OilGiven) -> None:
    """Draft over the fire and through the passes; it is set before the air."""
    fire, breech = given.over_fire_draft, given.breech_draft
    if fire is not None and fire.figure is not None:
        noted.say("draft ", Seen("over_fire_draft", fire), " over the fire.")
    if breech is not None and breech.figure is not None:
        noted.say("draft ", Seen("breech_draft", breech), " at the breech.")
    if fire is None or fire.figure is None:
        return
    over = noted.reckoning.read(fire, words="draft over the fire")
    if breech is not None and breech.figure is not None:
        lost = over - noted.reckoning.read(breech, words="draft at the breech")
        noted.keep(
            "draft_through_passes",
            noted.reckoning.result(
                "draft",
                lost,
                formula="draft lost in the passes = draft over the fire − draft at the breech, from the room",
                substitution=f"{fire.figure:.1f} Pa − ({breech.figure:.1f} Pa) = {float(ops.value_of(lost)):.1f} Pa",
                source="definition",
                holds="both read in one steady minute; more than when clean means soot in the passes",
            ),
        )
        noted.say("the passes take ", Derived("draft_through_passes"), " of it.", mark="derived")
    limit = oil_figures.practice("draft-over-fire") * INCH_OF_WATER
    chance = odds.beyond(value=fire.figure, spread=max(noted.reckoning.ledger.sides(over)), limit=limit)
    if chance < LIKELY or fire.bound:
        return
    noted.findings.append(
        Finding(
            "draft-before-air",
            "advise",
            "Draft before air: the fire has less draft than an oil burner is set to.",
            f"{fire.typed.text} where about {oil_figures.practice('draft-over-fire'):g} in w.c. is usual. Less: "
            f"{in_words(chance)}. Draft pulls air through the burner: air set first is wrong once the draft is right.",
            ((PART, "over_fire_draft"),),
            PRACTICE,
            odds=chance,
            do_next=("clean the passes, set the draft regulator, and set the air afterwards",),
        )
    )


def told(noted: Noted, given: OilGiven) -> None:
    """Lighting, lock-out, and the order of the work."""
    _ignition(noted, given)
    if given.lit_after is not None or given.lock_out is not None or given.lock_out_plate is not None:
        _lock_out(noted, given)
    _sealed(noted, given)
    _draft(noted, given)
