"""One result against one limit of a rule book, as a finding with its odds."""

from dataclasses import dataclass, replace

from fluewright.evidence import trust
from fluewright.evidence.finding import Finding, Grade, clause_of
from fluewright.evidence.reading import Account
from fluewright.evidence.result import Result
from fluewright.quantity import names, show, units
from fluewright.quantity.meaning import Spread
from fluewright.rules import apply, currency, load, select
from fluewright.rules.schema import NOT_SAID, Limit

LEAVE_OFF = (
    "shut the appliance down, or leave it off until this is mended",
    "check the room for carbon monoxide before anybody stays in it",
)
READ_AGAIN = ("read again, for longer or with a closer instrument",)
"""What to do about a result too close to its limit to call."""
READ_ON = ("look again: read it for longer, and find what takes it so near",)
"""What to do about a result that only the house book does not let pass."""
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

HARDLY = 0.025
"""Odds below which a limit is kept within the expanded uncertainty, one side of 95 %."""
CERTAIN = 0.95
"""Odds from which on a result is said to be over and no longer that it may be."""

_AUTHORITY = ("law", "programme", "standard", "house")
"""Whose word is heard first where several say the same."""

_GROUPS = {"gas": "gas", "liquid": "oil", "solid": "solid"}


def places_of(jurisdiction: str) -> frozenset[str]:
    """The places whose rules speak at one: itself, its country, the Union it belongs to, and everywhere."""
    code = jurisdiction.upper()
    country = code.split("-")[0]
    return frozenset({"everywhere", code, country} | ({"EU"} if country in EUROPEAN_UNION else set()))


def rules_for(quantity: str, account: Account, kinds: tuple[str, ...] = ()) -> tuple[Limit, ...]:
    """The limits of one quantity that speak to this appliance, at this place, on this day; the law first.

    kinds  what else the reading is of, in the words of the books, such as a kind of dwelling or a point of reading
    """
    of_class = account.appliance.of_class
    kinds = (
        account.appliance.burner,
        *(("condensing boiler",) if account.appliance.condensing else ()),
        *(of_class.kinds if of_class else ()),
        *kinds,
    )
    chosen = {
        rule.id: rule
        for kind in kinds
        for rule in select.applying(
            account.shop.limits_of(quantity),
            quantity=quantity,
            fuel=_GROUPS.get(account.fuel.kind),
            appliance=kind,
            heat_output=account.appliance.output,
            day=account.day,
        )
    }.values()
    here = places_of(account.jurisdiction)
    at_home = [rule for rule in chosen if rule.jurisdiction in here]
    return tuple(sorted(at_home, key=lambda rule: _AUTHORITY.index(rule.layer)))


def has_book(jurisdiction: str) -> bool:
    """Whether a rule book speaks of this country, alone or within the European Union."""
    country = jurisdiction.upper().split("-")[0]
    spoken = {place.split("-")[0] for place in load.jurisdictions()}
    return country in spoken or (country in EUROPEAN_UNION and "EU" in spoken)


def canonical(rule: Limit) -> float:
    """The number of a rule in the canonical unit of its quantity."""
    quantity = names.of(rule.quantity)
    return units.canonical(rule.limit, unit=units.unit_named(rule.unit, quantity=quantity), quantity=quantity)


def in_words(odds: float | None) -> str:
    """Odds as a person says them, with n in 100."""
    if odds is None:
        return "how likely cannot be said"
    if odds < HARDLY:
        return "hardly possible, under 3 in 100"
    share = min(99, max(1, round(odds * 100)))
    bands = ((CERTAIN, "practically certain"), (0.75, "likely"), (0.25, "could go either way"))
    word = next((words for least, words in bands if odds >= least), "unlikely")
    return f"{word}, {share} in 100"


NEARLY_EVEN = 1.4
"""Two sides of a doubt that differ by less than this are printed as one, the larger."""


def even(*, below: float, above: float) -> Spread:
    """A doubt as it is printed: even where its two sides hardly differ."""
    small, large = sorted((below, above))
    return Spread(large, large, "") if large < NEARLY_EVEN * small else Spread(below, above, "")


def stopped(text: str) -> str:
    """A sentence with one full stop, also behind a unit that ends in one."""
    return text if text.endswith(".") else f"{text}."


def seen(result: Result, account: Account) -> str:
    """A result as a finding says it."""
    if result.value is None:
        return "not to be had"
    sides = even(below=result.below, above=result.above)
    words = show.shown(result.value, sides, quantity=result.name, system=account.system)
    return f"{result.bound} {words}" if result.bound else words


def clears(rule: Limit) -> bool:
    """Whether being inside this limit may be called fine: only text of the place that was read and stands."""
    return clause_of(rule).clears and not rule.only_alarms


def _only(rule: Limit) -> str:
    """The conditions that a person still has to judge."""
    return f" For: {rule.applies.only}." if rule.applies.only else ""


@dataclass(frozen=True, slots=True)
class Question:
    """One result put to one limit.

    word    stretch or part of the job that it was read in
    doubt   why its readings may alarm and never clear, empty when they may do both
    unsaid  why no odds can be given, empty when they can
    key     by which evidence refers to the result there, its registry name when empty
    words   what to call it in a sentence, the registry's words when empty
    """

    rule: Limit
    result: Result
    word: str
    account: Account
    doubt: str = ""
    unsaid: str = ""
    key: str = ""
    words: str = ""

    @property
    def side(self) -> tuple[str, str]:
        """What it means to be beyond the limit, and not to be."""
        return ("over", "below") if self.rule.upper else ("under", "above")


def _passes(asked: Question, value: float, limit: float) -> apply.Passes:
    """What the rule says of a result, by the side of its doubt that faces the limit."""
    bad = "at least" if asked.rule.upper else "at most"
    if asked.result.bound == bad:
        passed = value > limit if asked.rule.upper else value < limit
        return "beyond" if passed else "undecided"
    quantity = names.of(asked.result.name)
    unit = units.unit_named(asked.rule.unit, quantity=quantity)
    verdict = apply.judged(
        asked.rule,
        value=units.in_unit(value, unit=unit, quantity=quantity),
        spread=trust.facing(asked.result, limit) / units.per_unit(unit=unit, quantity=quantity),
    )
    return "undecided" if asked.result.bound and verdict.passes == "beyond" else verdict.passes


def _over(asked: Question, plain: Finding, edge: str, *, over: Grade) -> Finding:
    """The finding of a limit passed."""
    grave = over in ("stop", "act")
    sure = plain.odds is not None and plain.odds >= CERTAIN
    said = () if asked.rule.do == NOT_SAID else (asked.rule.do,)
    return replace(
        plain,
        grade=over,
        lead=stopped(f"{_head(asked)} {'is' if sure else 'may be'} {asked.side[0]} {edge}"),
        body=f"{plain.body} {asked.rule.text}{_only(asked.rule)}",
        do_now=LEAVE_OFF if grave else (),
        do_next=said,
        cautions=CAUTION if grave else (),
    )


def _head(asked: Question) -> str:
    words = asked.words or names.of(asked.result.name).words
    return f"{asked.word[:1].upper()}{asked.word[1:]}: {words}"


def _not_cleared(asked: Question) -> str:
    """Why a result below a limit is not called fine."""
    if asked.doubt:
        return f"{asked.doubt[:1].upper()}{asked.doubt[1:]}: they can raise an alarm and clear nothing."
    rule = asked.rule
    if rule.known == "own rule of the shop":
        return "This is the shop's own rule: it asks more than the law and clears nothing."
    if rule.known == "common practice, no source":
        return "This limit is common practice, not a text that could clear it; the maker's figures come first."
    if rule.known == "read" and rule.layer in ("law", "programme"):
        return f"{currency.why_not(rule.current)}, so it can warn and not clear."
    if rule.known == "read":
        return "This is the text of no law or programme of the place, so it can warn and not clear."
    return "Nobody here has read the text of this limit, so it can warn and not clear."


def _beyond(asked: Question, limit: float) -> float | None:
    """Odds that the limit is passed, on the side where the rule sets it."""
    above = trust.beyond(asked.result, limit)
    if above is None or asked.rule.upper:
        return above
    return 1.0 - above


def _inside(asked: Question, plain: Finding, edge: str) -> Finding | None:
    """The finding of a limit kept: fine only by text in force, and not where the bare result alone is inside."""
    rule, by_rule = asked.rule, ""
    if rule.only_alarms:
        return None
    if rule.decision == "minus uncertainty" and plain.odds is not None and plain.odds >= 0.5:
        by_rule = " once its doubt is deducted, as the rule has it"
    body = f"{plain.body} {_DECISIONS[rule.decision]}{_only(rule)}"
    if not clears(rule) or asked.doubt:
        lead = f"{_head(asked)} is inside {edge}{by_rule}, but this cannot clear it." if by_rule else plain.lead
        return replace(plain, lead=lead, body=f"{plain.body} {_not_cleared(asked)}{_only(rule)}")
    if rule.decision == "none" and (plain.odds is None or plain.odds >= HARDLY):
        bare = f"{_head(asked)} is inside {edge} by the bare result, as the rule compares it, but too close to be sure"
        return replace(plain, lead=stopped(bare), body=body, do_next=READ_AGAIN)
    return replace(plain, grade="fine", lead=stopped(f"{_head(asked)} is inside {edge}{by_rule}"), body=body)


_UNDER = {"fine": "complies under", "open": "is not decided under"}


def _of_house(asked: Question, plain: Finding, edge: str, passes: apply.Passes, *, over: Grade) -> Finding | None:
    """The finding of a row that the house book holds tighter; its row stands beside it, so one kept is silent."""
    if passes == "inside" and not asked.unsaid:
        return None
    base = asked.account.shop.limit(asked.rule.tightens)
    law = answered(replace(asked, rule=base), over=base.severity)
    stands = _UNDER.get(law.grade if law is not None else "open", "is beyond")
    whose = "its law" if base.layer == "law" else "its own row"
    passed = _over(asked, plain, edge, over=over)
    return replace(
        passed,
        lead=f"{_head(asked)} {stands} {whose}: look again under the house book.",
        body=f"{plain.body} {asked.rule.text} {_DECISIONS[asked.rule.decision]} By {clause_of(base).in_short}: "
        f"{base.sense} {show.shown(canonical(base), quantity=asked.result.name, system=asked.account.system)}.",
        do_next=passed.do_next or READ_ON,
    )


def answered(asked: Question, *, over: Grade) -> Finding | None:
    """One result against one limit, upper or lower.

    asked  the question
    over   grade when the limit is passed
    -> finding; None when there is no result to judge, or a limit that only alarms was kept
    """
    rule, result, account = asked.rule, asked.result, asked.account
    if result.value is None:
        return None
    limit = canonical(rule)
    odds = None if asked.unsaid else _beyond(asked, limit)
    edge = show.shown(limit, quantity=result.name, system=account.system)
    beyond, within = asked.side
    plain = Finding(
        code=rule.id,
        grade="open",
        lead=f"{_head(asked)} is {within} {edge}, but this cannot clear it.",
        body=f"{stopped(f'{seen(result, account)} against {edge}')} {beyond.capitalize()} it: "
        f"{asked.unsaid or in_words(odds)}.",
        evidence=((asked.word, asked.key or result.name),),
        clause=clause_of(rule),
        odds=odds,
        limit=f"{rule.sense} {edge}",
    )
    passes = _passes(asked, result.value, limit)
    if rule.tightens:
        return _of_house(asked, plain, edge, passes, over=over)
    if passes == "beyond":
        return _over(asked, plain, edge, over=over)
    if passes == "undecided" or asked.unsaid:
        lead = (
            f"{_head(asked)}: too close to {edge} to call."
            if odds is not None
            else stopped(f"{_head(asked)} may be {beyond} {edge}")
        )
        return replace(plain, lead=lead, body=f"{plain.body} {_DECISIONS[rule.decision]}", do_next=READ_AGAIN)
    return _inside(asked, plain, edge)


def all_answered(
    result: Result,
    word: str,
    account: Account,
    *,
    doubt: str = "",
    key: str = "",
    words: str = "",
    kinds: tuple[str, ...] = (),
) -> list[Finding]:
    """One result put to every limit of its quantity that speaks here, each with the grade of its rule."""
    asked = (
        Question(rule, result, word, account, doubt, key=key, words=words)
        for rule in rules_for(result.name, account, kinds)
    )
    return [found for one in asked if (found := answered(one, over=one.rule.severity)) is not None]
