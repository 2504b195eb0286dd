"""Air for burning in sentences: what was seen, how each form stands, what the place's own rules and the balance say."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fluewright.evidence.combustion_air_balance import PRESSURE, Balance
from fluewright.evidence.combustion_air_fans import MORE_AIR, TEST_WITH_FANS, WORD, not_listed, of_balance
from fluewright.evidence.combustion_air_forms import Standing
from fluewright.evidence.finding import PRACTICE, Finding, clause_of
from fluewright.evidence.limits import CAUTION, LEAVE_OFF, in_words
from fluewright.evidence.part import Derived, Piece, Seen, Statement, Voiced
from fluewright.evidence.reading import Account
from fluewright.quantity import show
from fluewright.rules import currency

if TYPE_CHECKING:
    from fluewright.evidence.combustion_air import AirForBurning, AirOpening


OPEN_IT = ("clear the opening, and see that it cannot be covered again",)
_STANDS = {"met": "enough", "close": "too close to call", "short": "short", "open": "not known", "off": "not used here"}


@dataclass(frozen=True, slots=True)
class Said:
    """Everything that the part says."""

    statements: tuple[Statement, ...]
    findings: tuple[Finding, ...] = ()
    cannot_tell: tuple[str, ...] = ()


def said(given: "AirForBurning", account: Account, standings: tuple[Standing, ...], balance: Balance | None) -> Said:
    """The whole part."""
    statements = [*_seen(given), *_forms(standings), *(_balance(given, balance) if balance else ())]
    by_balance = of_balance(given, balance) if balance else None
    findings = [*_openings(given), *_judged(given, account, standings, by_balance if given.exhausts else None)]
    if by_balance is not None:
        findings.append(by_balance)
    return Said(tuple(statements), tuple(findings), tuple(_cannot_tell(given, account, standings, balance)))


def _seen(given: "AirForBurning") -> list[Statement]:
    """Room, appliances, openings and fans as they were found."""
    found = [_room(given)] if given.volume or given.air_changes else []
    for index, one in enumerate(given.appliances, 1):
        if one.draws == "sealed":
            how: list[Piece] = [" takes its air through a duct of its own: it needs none of the room's."]
        else:
            fan = " by a fan of its own" if one.draws == "fan-assisted" else ""
            how = [f" burns the air of the room{fan}, input "]
            how += [Seen(f"appliance {index}", one.input), "."] if one.input else [Voiced("not read", "unknown"), "."]
        found.append(Statement((Voiced(one.words), *how), mark="plate"))
    found += [_opening(index, one) for index, one in enumerate(given.openings, 1)]
    for index, fan_out in enumerate(given.exhausts, 1):
        flow: Piece = Seen(f"fan {index}", fan_out.flow) if fan_out.flow else Voiced("nobody knows how much", "unknown")
        words = (Voiced(fan_out.words), " takes air out: ", flow, ".")
        found.append(Statement(words, mark="measured" if fan_out.flow else "unknown"))
    if given.supply_fan:
        found.append(Statement(("a fan brings air from outdoors: ", Seen("supply fan", given.supply_fan), ".")))
    return found


def _room(given: "AirForBurning") -> Statement:
    pieces: list[Piece] = ["the room holds ", Seen("room", given.volume)] if given.volume else ["the room"]
    if given.joined_volume:
        pieces += [", the rooms joined to it ", Seen("joined rooms", given.joined_volume)]
    if given.air_changes:
        voice = Voiced(given.air_changes_known, "hand" if given.leakage_known else "plate")
        link = " and changes its air " if given.volume else " changes its air "
        pieces += [link, Seen("air changes", given.air_changes), ", ", voice]
    else:
        pieces += [", its air changes are ", Voiced("not known", "unknown")]
    return Statement((*pieces, "."))


def _opening(index: int, one: "AirOpening") -> Statement:
    leads = "to another room" if one.kind == "indoors" else one.kind.replace("outdoors", "to outdoors")
    pieces: list[Piece] = [Voiced(one.words), f", {one.height}" if one.height else "", f", opening {leads}: "]
    pieces.append(Seen(f"opening {index}", one.area) if one.area else Voiced("not measured", "unknown"))
    if one.free_share:
        pieces += [", of which the grille leaves ", Seen(f"grille {index}", one.free_share)]
    elif one.grille != "none":
        pieces.append(f", {'wooden' if one.grille == 'wood' else 'metal'} louvre, its free share not stated")
    if one.blocked or one.can_be_shut:
        pieces.append("; " + ("found blocked" if one.blocked else "can be shut") + ", not counted")
    return Statement((*pieces, "."), mark="measured" if one.area else "unknown")


def _forms(standings: tuple[Standing, ...]) -> list[Statement]:
    """Each form of the place in a line, the ways not used in one, then those of other places beside them."""
    own = [one for one in standings if one.here and one.stands != "off"]
    others = [one for one in standings if beside(one)]
    unused = [one for one in standings if one.here and one.stands == "off" and one.rule.form not in _QUIET]
    lines = [_form(one, one.rule.jurisdiction) for one in own]
    if unused:
        names = "; ".join(f"{one.rule.form} ({one.why})" for one in unused)
        lines.append(Statement((f"{unused[0].rule.jurisdiction}, not used here: {names}.",), mark="unknown"))
    return [*lines, *map(_elsewhere, others)]


_QUIET = ("sealed only", "no figures known", "low and high openings", "air by fan", "joined rooms")
_MAIN = ("room volume", "one outdoor opening", "opening in one or two parts", "vent by input")


def beside(one: Standing) -> bool:
    """Whether a form of another place is worth a line beside those of this one."""
    main = one.asked is not None and one.rule.form in _MAIN
    return not one.here and main and one.rule.current != "superseded"


def _elsewhere(one: Standing) -> Statement:
    """What another place would ask, without a verdict: its rules bind nobody here."""
    place = f"beside it, {one.rule.jurisdiction}, {one.rule.form}: would ask "
    return Statement(
        (place, Derived(one.key), "; it does not bind here."), mark="derived", margin=clause_of(one.rule).in_short
    )


def _form(one: Standing, place: str) -> Statement:
    name = f"{place}, {one.rule.form}: "
    cited = clause_of(one.rule).in_short
    if one.asked is None:
        return Statement((f"{name}{_STANDS[one.stands]}, {one.why}.",), mark="unknown", margin=cited)
    pieces: tuple[Piece, ...] = (f"{name}asks ", Derived(one.key), ", there is ", Derived(f"{one.rule.id} finds"))
    return Statement((*pieces, f": {_STANDS[one.stands]}."), mark="derived", margin=cited)


def _balance(given: "AirForBurning", balance: Balance) -> list[Statement]:
    """What flames take, what comes in, what is left."""
    made = balance.results
    found = []
    if "flames take" in made:
        found.append(Statement(("by the fuel itself, the flames take ", Derived("flames take"), "."), mark="derived"))
    if "comes in" in made:
        pieces: list[Piece] = ["at ", _pressure(given), " below outdoors ", Derived("comes in"), " comes in"]
        if given.air_changes is None or given.volume is None:
            pieces.append(" by openings, leaks left out")
        fans = bool(given.exhausts) and "left" in made
        pieces += ["; with the fans running ", Derived("left"), " is left for flames."] if fans else ["."]
        found.append(Statement(tuple(pieces), mark="derived"))
    if "drawn down" in made and made["drawn down"].value is not None:
        words = "flames and fans have their air through the openings when the room is drawn below outdoors by "
        found.append(Statement((words, Derived("drawn down"), "."), mark="derived"))
    return found


def _pressure(given: "AirForBurning") -> Piece:
    return Seen("pressure", given.pressure) if given.pressure else Voiced(f"an assumed {PRESSURE:g} Pa", "plate")


def _openings(given: "AirForBurning") -> list[Finding]:
    """An opening for air that was found blocked."""
    return [
        Finding(
            "air-opening-blocked",
            "act",
            f"Air for burning: {one.words} is blocked.",
            "An opening that brings air to a flame was found covered, stuffed or painted shut. "
            "It is counted as nothing.",
            ((WORD, f"opening {index}"),) if one.area else (),
            PRACTICE,
            do_now=OPEN_IT,
            cautions=CAUTION,
        )
        for index, one in enumerate(given.openings, 1)
        if one.blocked and given.open_fires
    ]


def _edge(one: Standing, account: Account) -> str:
    if one.asked is None or one.asked.value is None or one.there is None or one.there.value is None:
        return one.why
    need = show.shown(one.asked.value, quantity=one.asked.name, system=account.system)
    have = show.shown(one.there.value, one.there.spread, quantity=one.there.name, system=account.system)
    return f"{one.rule.form}: asked for {need}, there is {have}"


def _asked(one: Standing, account: Account) -> str:
    if one.asked is None or one.asked.value is None:
        return ""
    return f"at least {show.shown(one.asked.value, quantity=one.asked.name, system=account.system)}"


def _plain(one: Standing, account: Account) -> Finding:
    key = f"{one.rule.id} finds"
    return Finding(
        "air-for-burning",
        "open",
        "",
        f"{_edge(one, account)[:1].upper()}{_edge(one, account)[1:]}. Less than asked: {in_words(one.odds)}.",
        ((WORD, key), (WORD, one.key)) if one.asked else (),
        clause_of(one.rule),
        odds=one.odds,
        limit=_asked(one, account),
    )


_NO_WAYS = ("sealed only", "no figures known", "joined rooms")


def _judged(
    given: "AirForBurning", account: Account, standings: tuple[Standing, ...], fans: Finding | None
) -> list[Finding]:
    """What the rules of the place say together: each form is a way of its own, and one is enough.

    fans  what the balance says where fans take air out: as long as it says something, no rule alone makes it fine
    """
    here = [one for one in standings if one.here]
    sealed = [_must_be_sealed(one) for one in here if one.rule.form == "sealed only" and one.stands == "short"]
    ways = [one for one in here if one.rule.form not in _NO_WAYS]
    if sealed or not ways:
        return sealed or _short_in_every_state(account, standings)
    enough = [one for one in ways if one.stands == "met"]
    if enough:
        told = _enough(max(enough, key=lambda one: one.rule.clears()), account, fans)
        return [told if given.exhausts or given.no_exhausts else not_listed(told)]
    close = [one for one in ways if one.stands == "close"]
    if close:
        lead = "Air for burning: too close to what the rule asks for to call."
        best = min(close, key=lambda one: one.odds or 0.0)
        return [replace(_plain(best, account), lead=lead, do_next=("measure room and openings again, more closely",))]
    short = [one for one in ways if one.stands == "short"]
    return [_short(short, ways, account)] if short else []


def _short_in_every_state(account: Account, standings: tuple[Standing, ...]) -> list[Finding]:
    """Where only states of the country have a text here and the room is short by each of them, it is short."""
    country = account.jurisdiction.upper().split("-")[0]
    of_states = [
        one
        for one in standings
        if country and one.rule.jurisdiction.startswith(f"{country}-") and one.rule.form not in _NO_WAYS
    ]
    judged = [one for one in of_states if one.stands != "off"]
    if not judged or any(one.stands != "short" for one in judged):
        return []
    plain = _short(judged, judged, account)
    lead = f"Air for burning: the room is short by every text of a state of {country} that is known here."
    return [replace(plain, lead=lead)]


def _must_be_sealed(one: Standing) -> Finding:
    return Finding(
        "air-sealed-only",
        "act",
        "Air for burning: in a manufactured home the fire must be sealed off from the air indoors.",
        f"{one.rule.text} Here {one.why}. Not for: ranges, ovens, dryers and fireplaces, which a person has to judge.",
        (),
        clause_of(one.rule),
        do_now=LEAVE_OFF,
        cautions=CAUTION,
    )


def _enough(one: Standing, account: Account, fans: Finding | None) -> Finding:
    plain = _plain(one, account)
    only = f" For: {one.rule.only}." if one.rule.only else ""
    body = f"{plain.body} {one.rule.text}{only}"
    if fans is not None:
        lead = "Air for burning: as much as the rule asks for, but the fans may take it."
        return replace(plain, lead=lead, body=f"{body} Rules count rooms and openings as if no fan ran.")
    if one.rule.clears():
        return replace(
            plain, grade="fine", lead="Air for burning: as much as the rule of this place asks for.", body=body
        )
    of_law = one.rule.known == "read" and one.rule.layer == "law"
    why = currency.why_not(one.rule.current) if of_law else "Its text is no law read here"
    lead = "Air for burning: as much as the rule asks for, but this cannot clear it."
    return replace(plain, lead=lead, body=f"{body} {why}, so it can warn and not clear.")


def _short(short: list[Standing], ways: list[Standing], account: Account) -> Finding:
    """No way is met: the nearest one is named."""

    def nearness(one: Standing) -> float:
        asked, there = one.asked, one.there
        return (there.value or 0.0) / asked.value if asked and there and asked.value else 0.0

    best = max(short, key=nearness)
    plain = replace(_plain(best, account), code="air-for-burning-short")
    left = [one for one in ways if one.stands == "open"]
    body = f"{plain.body} {best.rule.text}"
    if left:
        names = ", ".join(f"{one.rule.form} ({one.why})" for one in left)
        lead = "Air for burning: short by every way that could be judged; others are not known."
        doing = ("find out what is not known, and until then treat the room as short of air", *TEST_WITH_FANS)
        return replace(plain, grade="advise", lead=lead, body=f"{body} Not known: {names}.", do_now=doing)
    weak = best.rule.layer == "house"
    lead = "Air for burning: the room does not bring what the rule asks for."
    do_now = (*LEAVE_OFF[:1], *TEST_WITH_FANS)
    return replace(
        plain,
        grade="advise" if weak else "act",
        lead=lead,
        body=body,
        do_now=() if weak else do_now,
        do_next=MORE_AIR,
        cautions=CAUTION,
    )


def _cannot_tell(
    given: "AirForBurning", account: Account, standings: tuple[Standing, ...], balance: Balance | None
) -> list[str]:
    """What the part leaves open."""
    if not given.open_fires:
        if not given.appliances:
            return ["Whether flames get their air: no appliance was named."]
        return ["Whether the ducts that bring air to sealed appliances are tight and free: not tested here."]
    found = []
    here = [one for one in standings if one.here]
    place = account.jurisdiction.upper()
    if place == "DE":
        found.append("Whether the room brings the air the law asks for: the German states differ; name one, as DE-NI.")
    elif not here:
        where = f"no rule of {place} is known here" if place else "nobody said where the house stands"
        found.append(
            f"Whether the room brings the air the law asks for: {where}; forms of other places are no verdict."
        )
    elif all(one.stands in ("open", "off") for one in here):
        reasons = dict.fromkeys(one.why for one in here if one.stands == "open" and one.why)
        found.append(
            "Whether the room brings the air that rules ask for: " + ("; ".join(reasons) or "no form fits") + "."
        )
    if balance is not None and balance.odds is None and balance.unsaid:
        found.append(f"How likely the flames are left short of air: {balance.unsaid}.")
    return found
