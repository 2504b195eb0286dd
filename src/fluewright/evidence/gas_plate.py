"""Heat input against the plate: over, under, and what to do about it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluewright.evidence import trust
from fluewright.evidence.finding import Finding, Grade
from fluewright.evidence.limits import CERTAIN, HARDLY, Question, answered, canonical, rules_for
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.result import Result
from fluewright.kernel import orifice
from fluewright.quantity import show
from fluewright.rules.schema import Limit

BY_PRESSURE = 0.12
"""Change of input beyond which the orifice is changed and not the pressure: 10 to 15 % (common practice, no source)."""
AT_PLATE = 0.03
"""Manifold pressure this near to the plate's is at it (common practice, no source)."""

OVER_CAUTIONS = (
    "Too much gas can make carbon monoxide and overheat the heat exchanger and the vent. Read carbon monoxide in the "
    "flue before and after every change.",
)
KEEP = "never set a pressure outside the range on the plate, and read carbon monoxide after each step"


@dataclass(frozen=True, slots=True)
class Manifold:
    """Pressure at the burner as read, and what the plate says; None where unknown."""

    read: Reading | None = None
    plate: Reading | None = None


def speaking(rules: Sequence[Limit]) -> list[Limit]:
    """The rules that add something: of one sense and one limit only the one with most authority."""
    kept: dict[tuple[str, float], Limit] = {}
    for rule in rules:
        kept.setdefault((rule.sense, canonical(rule)), rule)
    return list(kept.values())


def judged(
    result: Result, word: str, account: Account, *, manifold: Manifold, doubt: str, worst: Grade = "act"
) -> list[Finding]:
    """The heat input put to every rule that speaks here.

    result    input as a share of what is allowed
    word      of the part
    manifold  for what to do about it
    doubt     why it may alarm and clear nothing, empty when it may do both
    worst     gravest grade, advise where the rule for the height is only assumed
    -> findings; over the plate is graded by its odds
    """
    found = []
    for rule in speaking(rules_for("input_of_plate", account)):
        over = rule.upper
        odds = trust.beyond(result, canonical(rule))
        sure = odds is not None and (odds if over else 1.0 - odds) >= CERTAIN
        grade: Grade = worst if over and sure and rule.severity == "act" else "advise"
        asked = Question(rule, result, word, account, doubt, words="heat input as a share of what is allowed")
        finding = answered(asked, over=grade)
        if finding is not None and not _idle(finding, over):
            found.append(_worded(finding, over, sure, result, manifold, account))
    return found


def _idle(finding: Finding, over: bool) -> bool:
    """Whether it only says that a burner which gets enough gas is not cleared of getting too little."""
    return not over and finding.grade == "open" and finding.odds is not None and finding.odds < HARDLY


def _worded(finding: Finding, over: bool, sure: bool, result: Result, manifold: Manifold, account: Account) -> Finding:
    """The finding in words of gas, with what to do."""
    if finding.grade not in ("act", "advise"):
        return finding
    much = "more gas than it is allowed" if over else "less gas than its plate says"
    word = finding.lead.split(":")[0]
    lead = f"{word}: the burner {'gets' if sure else 'may get'} {much}."
    do = to_do(result, manifold, account)
    if finding.grade == "act":
        now = ("bring the input down to what is allowed before leaving, or leave the appliance off",)
        return replace(finding, lead=lead, do_now=now, do_next=do, cautions=OVER_CAUTIONS)
    return replace(finding, lead=lead, do_now=(), do_next=do, cautions=OVER_CAUTIONS if over else ())


def to_do(result: Result, manifold: Manifold, account: Account) -> tuple[str, ...]:
    """What to do about an input that is off, from what the manifold says."""
    again = "clock the meter again after each change"
    value = result.value or 1.0
    read = manifold.read.figure if manifold.read is not None else None
    if not read or read <= 0.0:
        return ("read the manifold pressure while it burns, and compare pressure and orifice with the plate", again)
    plate = manifold.plate.figure if manifold.plate is not None else None
    if plate and abs(read / plate - 1.0) > AT_PLATE:
        after = float(orifice.input_after_pressure(fuel_input=value, gas_pressure=read, new_gas_pressure=plate))
        said = show.shown(plate, quantity="gas_pressure", system=account.system)
        return (
            f"set the manifold to the plate's {said}: input then about {after * 100.0:.0f} % of that allowed; {KEEP}",
            again,
        )
    wanted = 1.0 / value
    if abs(wanted - 1.0) > BY_PRESSURE or plate:
        return ("the pressure is not the way: look for a wrong orifice, a wrong gas or others burning", KEEP, again)
    pressure = float(orifice.pressure_for_input(gas_pressure=read, input_ratio=wanted))
    said = show.shown(pressure, quantity="gas_pressure", system=account.system)
    return (f"about {said} at the manifold would bring the input to what is allowed; {KEEP}", again)


def manifold_judged(result: Result, word: str, account: Account) -> list[Finding]:
    """Manifold pressure against the plate's; only what is off speaks, the input itself decides."""
    found = []
    for rule in speaking(rules_for("manifold_of_plate", account)):
        words = "manifold pressure as a share of the plate's"
        one = answered(Question(rule, result, word, account, words=words), over=rule.severity)
        if one is not None and one.grade == "advise":
            do = ("find out why before turning the screw: supply pressure, orifice, regulator, vent hole blocked", KEEP)
            found.append(replace(one, do_now=(), do_next=do))
    return found
