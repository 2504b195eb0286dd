"""One result against one limit of a rule book, as a finding with its odds."""

from dataclasses import dataclass, replace

from fluewright.evidence import trust
from fluewright.evidence.finding import Clause, Finding, Grade
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.quantity import names, parse, show, units
from fluewright.rules import apply, load, select
from fluewright.rules.schema import Limit

LEAVE_OFF = (
    "shut the appliance down, or leave it off until this is mended",
    "check the room for carbon monoxide before anybody stays in it",
)
CAUTION = (
    "Carbon monoxide has no smell. If an alarm sounds, or heads ache indoors and clear outdoors: everybody out, doors "
    "open, call for help from outside.",
)

_DECISIONS = {
    "none": "The rule compares the bare result.",
    "minus uncertainty": "The rule deducts the uncertainty: the owner has the benefit of the doubt.",
    "plus uncertainty": "The uncertainty is added, for safety.",
}

_MEMBERS = "AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK"
EUROPEAN_UNION = frozenset(_MEMBERS.split())
"""Country codes (ISO 3166-1) of the member states in 2026, from memory."""

_GROUPS = {"gas": "gas", "liquid": "oil", "solid": "solid"}


def clause_of(rule: Limit) -> Clause:
    """The authority of a rule, for a finding."""
    cited = rule.citation
    clause = "" if cited.clause == "none" else cited.clause
    return Clause(cited.document, clause, cited.edition, rule.jurisdiction, rule.known, rule.layer)


def rules_for(quantity: str, account: Account) -> tuple[Limit, ...]:
    """The limits of one quantity that speak to this appliance, at this place, on this day; law first."""
    chosen = select.applying(
        load.limits(),
        quantity=quantity,
        fuel=_GROUPS.get(account.fuel.kind),
        appliance=account.appliance.burner,
        heat_output=account.appliance.output,
        day=account.day,
    )
    code = account.jurisdiction.upper()
    country = code.split("-")[0]
    here = {"everywhere", code, country} | ({"EU"} if country in EUROPEAN_UNION else set())
    at_home = [rule for rule in chosen if rule.jurisdiction in here]
    return tuple(sorted(at_home, key=lambda rule: rule.layer != "law"))


def canonical(rule: Limit) -> float:
    """The number of a rule in the canonical unit of its quantity."""
    value = parse.parse(f"{rule.limit:.10g} {rule.unit}", quantity=rule.quantity).value
    return float(value if value is not None else rule.limit)


def in_words(odds: float | None) -> str:
    """Odds as a person says them, with n in 100."""
    if odds is None:
        return "how likely cannot be said"
    if odds < 0.05:
        return "hardly possible, under 5 in 100"
    share = min(99, max(1, round(odds * 100)))
    bands = ((0.95, "practically certain"), (0.75, "likely"), (0.25, "could go either way"))
    word = next((words for least, words in bands if odds >= least), "unlikely")
    return f"{word}, {share} in 100"


def seen(result: Result, account: Account) -> str:
    """A result as a finding says it."""
    if result.value is None:
        return "not to be had"
    words = show.shown(result.value, result.spread, quantity=result.name, system=account.system)
    return f"{result.bound} {words}" if result.bound else words


def clears(rule: Limit) -> bool:
    """Whether being inside this limit may be called fine: only text of the place that somebody has read."""
    return rule.known == "read" and rule.jurisdiction != "everywhere" and rule.layer in ("law", "programme")


def _only(rule: Limit) -> str:
    """The conditions that a person still has to judge."""
    return f" For: {rule.applies.only}." if rule.applies.only else ""


@dataclass(frozen=True, slots=True)
class Question:
    """One result put to one limit, with whether its readings are in doubt."""

    rule: Limit
    result: Result
    stretch: Stretch
    account: Account
    doubtful: bool


def _verdict(asked: Question, value: float) -> apply.Verdict:
    quantity = names.of(asked.result.name)
    unit = units.unit_named(asked.rule.unit, quantity=quantity)
    return apply.judged(
        asked.rule,
        value=units.in_unit(value, unit=unit, quantity=quantity),
        spread=asked.result.spread / units.per_unit(unit=unit, quantity=quantity),
    )


def at_most(asked: Question, *, over: Grade) -> Finding | None:
    """One result against an upper limit.

    asked  the question
    over   grade when the limit is passed
    -> finding; None when there is no result to judge
    """
    rule, result, account = asked.rule, asked.result, asked.account
    if result.value is None:
        return None
    limit = canonical(rule)
    odds = trust.beyond(result, limit)
    verdict = _verdict(asked, result.value)
    edge = show.shown(limit, quantity=result.name, system=account.system)
    head = f"{asked.stretch.word.capitalize()}: {names.of(result.name).words}"
    odds_words = f"{seen(result, account)} against {edge}. Over it: {in_words(odds)}."
    plain = Finding(
        code=rule.id,
        grade="open",
        lead=f"{head} is below {edge}, but this text can warn here and cannot clear.",
        body=f"{odds_words} {_DECISIONS[rule.decision]}{_only(rule)}",
        evidence=((asked.stretch.word, result.name),),
        clause=clause_of(rule),
        odds=odds,
        limit=f"at most {edge}",
    )
    if verdict.passes == "beyond" or (verdict.passes == "undecided" and (odds or 0.0) >= 0.5):
        grave = over in ("stop", "act")
        return replace(
            plain,
            grade=over,
            lead=f"{head} is over {edge}.",
            body=f"{odds_words} {rule.text}{_only(rule)}",
            do_now=LEAVE_OFF if grave else (),
            cautions=CAUTION if grave else (),
        )
    if verdict.passes == "undecided":
        doubt = "Read again, for longer or with a closer instrument."
        return replace(
            plain, grade="advise", lead=f"{head}: too close to {edge} to call.", body=f"{odds_words} {doubt}"
        )
    if asked.doubtful:
        return replace(plain, lead=f"{head} reads below {edge}, but the readings are in doubt.")
    return replace(plain, grade="fine", lead=f"{head} is inside {edge}.") if clears(rule) else plain
