"""Draft at named places, with its baseline, put to every limit that speaks of that place."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, get_args

from fluewright.evidence.draft import small
from fluewright.evidence.draft.baseline import Baseline, Zero, spread_of
from fluewright.evidence.draft.refusals import need_a_flue
from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.limits import (
    CAUTION,
    CERTAIN,
    LEAVE_OFF,
    Question,
    in_words,
    rules_for,
    seen,
)
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement, Topic, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.evidence.trust import beyond
from fluewright.kernel.ops import Number
from fluewright.quantity import show
from fluewright.rules import draft_weather
from fluewright.rules.applies import Applies
from fluewright.rules.schema import Limit

WORD = "draft"
Spot = Literal["over fire", "breech", "above hood", "common flue", "vent"]
State = Literal["burner on", "pilot only", "burner off"]
Fans = Literal["as it stands", "fans off", "every fan on"]

OF_SPOT: Mapping[str, str] = {
    "over fire": "draft_over_fire",
    "breech": "draft_breech",
    "above hood": "draft_above_hood",
    "common flue": "draft_common_flue",
    "vent": "draft",
}
"""Registry name of the draft at a place."""
_WHERE: Mapping[str, str] = {
    "over fire": "over the fire",
    "breech": "at the breech",
    "above hood": "above the hood",
    "common flue": "in the common flue",
    "vent": "in the vent",
}
LIKELY = 0.75
"""Odds from which on a flue is said to push; below it nobody can tell."""
STEADY = 300.0
"""s after lighting from which draft counts as steady (common practice: 5 to 10 minutes)."""
WHY_IT_PUSHES = (
    "look for a blocked or cold chimney, wind at its mouth, fans that draw the room down; open a door to outdoors and "
    "read again",
)


@dataclass(frozen=True, slots=True)
class DraftReading:
    """One draft, counted from the room: below zero the flue pulls.

    spot     where
    reading  of the quantity draft
    lit      time since the burner was lit, None when not said
    """

    spot: Spot
    reading: Reading
    state: State = "burner on"
    fans: Fans = "as it stands"
    lit: Reading | None = None
    time: str = ""


@dataclass(frozen=True, slots=True)
class Draft:
    """What was read of draft.

    pushes_by_design  whether the vent is made to stand above the pressure of the room
    outdoors          temperature outdoors, for the table by weather
    standing_pilot    whether a pilot burns all day long
    """

    readings: tuple[DraftReading, ...]
    baseline: Baseline = field(default_factory=Baseline)
    pushes_by_design: bool = False
    outdoors: Reading | None = None
    standing_pilot: bool = False

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Work it out and judge it."""
        account, reckoning = so_far.account, Reckoning(so_far.account)
        need_a_flue((one.reading for one in self.readings), pushes_by_design=self.pushes_by_design)
        zero = self.baseline.zero()
        keyed = _keyed(self.readings)
        numbers = {key: _number(one, key, zero, reckoning) for key, one in keyed.items()}
        results = {key: _result(one, numbers[key], zero, reckoning) for key, one in keyed.items()}
        drops = _drops(keyed, numbers, reckoning)
        findings = [found for key, one in keyed.items() for found in _judged(self, key, one, results[key], account)]
        findings += [found for key, one in keyed.items() for found in _moved(key, one)]
        statements = [*(_said(key, one) for key, one in keyed.items()), *self.baseline.said("draft"), *_dropped(drops)]
        if self.outdoors is not None:
            statements.append(Statement(("outdoors ", Seen("outdoors", self.outdoors), ".")))
        return Part(
            WORD,
            "Draft and venting",
            "draft",
            tuple(statements),
            {**results, **drops},
            tuple(findings),
            tuple(_cannot_tell(self, account, findings)),
            "Counted from the room: below zero the flue pulls, above zero it pushes.",
            _answers(self),
            data={"baseline_taken": zero.taken, "spread_pascal": zero.spread, "offset_pascal": zero.offset},
        )


def _keyed(readings: tuple[DraftReading, ...]) -> dict[str, DraftReading]:
    """Each reading by its place, told apart by number where a place comes several times."""
    spots = [one.spot for one in readings]
    found: dict[str, DraftReading] = {}
    for index, one in enumerate(readings):
        number = spots[: index + 1].count(one.spot)
        found[one.spot if spots.count(one.spot) == 1 else f"{one.spot} {number}"] = one
    return found


def _number(one: DraftReading, key: str, zero: Zero, reckoning: Reckoning) -> Number | None:
    """The reading less what the gauge shows of nothing; None for a trend word alone."""
    if one.reading.figure is None:
        return None
    spread = spread_of(one.reading, zero, reckoning.account.instrument)
    return reckoning.read(one.reading, words=f"draft {key}", spread=spread) - zero.offset


def _result(one: DraftReading, number: Number | None, zero: Zero, reckoning: Reckoning) -> Result:
    if number is None:
        return refused(OF_SPOT[one.spot], f"“{one.reading.typed.text}” is a word and no figure")
    return reckoning.result(
        OF_SPOT[one.spot],
        number,
        formula="draft = reading - what the gauge shows of nothing",
        substitution=f"{one.reading.figure:.2f} Pa - {zero.offset:.2f} Pa",
        source=f"doubt: {zero.words}; docs/method/draft.md",
        holds="this moment, this wind",
    )


def _drops(
    keyed: Mapping[str, DraftReading], numbers: Mapping[str, Number | None], reckoning: Reckoning
) -> dict[str, Result]:
    """What the passages take: over the fire less the breech, of readings in one state."""
    found: dict[str, Result] = {}
    for over, fire in keyed.items():
        for behind, breech in keyed.items():
            alike = (fire.state, fire.fans) == (breech.state, breech.fans)
            before, after = numbers[over], numbers[behind]
            if (fire.spot, breech.spot) != ("over fire", "breech") or not alike or before is None or after is None:
                continue
            found[f"lost from {over} to {behind}"] = reckoning.result(
                "draft_drop",
                before - after,
                formula="lost = over the fire - breech",
                substitution=f"{fire.reading.figure:.2f} Pa - {breech.reading.figure:.2f} Pa",
                source="difference of two readings; the zero of the gauge falls out",
                holds="both read in one state of the burner",
            )
    return found


def _said(key: str, one: DraftReading) -> Statement:
    pieces: list[Piece] = [Voiced(one.spot), f", {one.state}, {one.fans}"]
    if one.lit is not None:
        pieces += [", ", Seen(f"lit {key}", one.lit), " after lighting"]
    pieces += [": read ", Seen(key, one.reading), "; draft ", Derived(key), " with the zero of the gauge taken off."]
    return Statement(tuple(pieces), time=one.time)


def _dropped(drops: Mapping[str, Result]) -> list[Statement]:
    return [
        Statement(
            ("of the draft ", Derived(key), " is lost in the passages of the appliance."),
            mark="derived",
            margin="compare with last year: it grows as soot does",
        )
        for key in drops
    ]


def _doubt(one: DraftReading) -> str:
    """Why a reading may alarm and clear nothing."""
    if one.lit is None or (one.lit.figure or 0.0) >= STEADY:
        return ""
    return "It was read less than 5 minutes after lighting"


def _judged(given: Draft, key: str, one: DraftReading, result: Result, account: Account) -> list[Finding]:
    if result.value is None or given.pushes_by_design:
        return []
    pushing = _pushes(key, one, result, account, taken=given.baseline.zero().taken)
    if one.state != "burner on":
        return [pushing] if pushing else []
    rules = [*rules_for(result.name, account), *_by_weather(given, one, account)]
    asked = (Question(rule, result, WORD, account, _doubt(one), key=key) for rule in rules)
    found = small.told(asked, f"The draft {_WHERE[one.spot]} ({one.fans})", baseline=given.baseline.zero().taken)
    return [*([pushing] if pushing else []), *(_once(each, pushing) for each in found)]


def _moved(key: str, one: DraftReading) -> list[Finding]:
    """A draft that moved while it was read, or a word alone: today it says nothing of the pull."""
    trend = one.reading.typed.trend
    if one.reading.figure is not None and trend in ("", "steady"):
        return []
    figure = "" if one.reading.figure is not None else " No figure was read, and absence of a reading is never safe."
    return [
        Finding(
            "draft-moving",
            "open",
            f"The draft {_WHERE[one.spot]} was {trend} when it was read: nobody saw where it comes to.",
            f"Read: {one.reading.typed.text}, {one.state}, {one.fans}.{figure} A flue that loses its pull lets what "
            "burns into the room.",
            ((WORD, key),),
            PHYSICS,
            do_next=(small.LOOK, "stay beside the burner and read until the draft stands still, with its figure"),
        )
    ]


def _once(finding: Finding, pushing: Finding | None) -> Finding:
    """Where a flue pushes, a limit of suction adds nothing to what must be done."""
    stopped = pushing is not None and pushing.grade != "open"
    return finding if not stopped else replace(finding, do_now=(), cautions=())


def _by_weather(given: Draft, one: DraftReading, account: Account) -> list[Limit]:
    """The older tables by outdoor temperature, as limits of today."""
    if one.spot != "above hood" or given.outdoors is None or given.outdoors.figure is None:
        return []
    country = account.jurisdiction.upper().split("-")[0]
    return [
        Limit(
            id=table.id, layer=table.layer, jurisdiction=table.jurisdiction, quantity="draft_above_hood",
            basis="counted from the room", sense="at most", limit=float(table.draft_at(given.outdoors.figure)),
            unit="Pa", applies=Applies(only="natural-draft gas appliances"), place="1 to 2 ft above the hood",
            state="burner on, steady", averaging="baseline taken off", rounding="none", decision="plus uncertainty",
            citation=table.citation, known=table.known, current=table.current, valid_from=None, valid_until=None,
            text=table.text, severity="advise",
        )
        for table in draft_weather.tables()
        if table.jurisdiction == country
    ]  # fmt: skip


def _pushes(key: str, one: DraftReading, result: Result, account: Account, *, taken: bool) -> Finding | None:
    """A flue made to pull that does not: gas comes into the room."""
    odds = beyond(result, 0.0)
    if odds is None or odds < 1.0 - CERTAIN:
        return None
    sure = odds >= CERTAIN
    where = f"The flue {_WHERE[one.spot]}" if one.spot in ("over fire", "breech", "above hood") else "The flue"
    body = (
        f"Read {seen(result, account)}, {one.state}, {one.fans}; a flue made to pull stands below zero. "
        f"Above zero: {in_words(odds)}."
    )
    evidence, limit = ((WORD, key),), "below zero"
    if odds < LIKELY:
        lead = f"{where}: today's readings cannot tell whether it pulls at all."
        again = (small.CALMER if taken else small.BASELINE_FIRST, small.LOOK)
        return Finding("draft-pull-open", "open", lead, body, evidence, PHYSICS, odds, limit, do_next=again)
    lead = f"{where} {'pushes' if sure else 'may push'} into the room."
    if one.state == "burner off":
        body += " Outdoor air comes down it; when the burner lights, its gas meets that air."
        return Finding("draft-pushes-cold", "act", lead, body, evidence, PHYSICS, odds, limit, WHY_IT_PUSHES,
                       cautions=CAUTION)  # fmt: skip
    body += " What burns comes into the room."
    return Finding(
        "draft-pushes", "stop", lead, body, evidence, PHYSICS, odds, limit, LEAVE_OFF, WHY_IT_PUSHES, CAUTION
    )


def _answers(given: Draft) -> frozenset[Topic]:
    """Venting is answered by draft with every fan on and the burner lit."""
    full = any(
        one.fans == "every fan on" and one.state == "burner on" and one.reading.figure is not None
        for one in given.readings
    )
    topics: tuple[Topic, ...] = ("venting",)
    return frozenset(topics if full else ())


def _cannot_tell(given: Draft, account: Account, findings: list[Finding]) -> list[str]:
    found = []
    if given.pushes_by_design:
        found.append(
            "The vent is made to push; its draft is judged by the plate of the appliance and by no limit here."
        )
    elif not findings:
        place = f" in {account.jurisdiction}" if account.jurisdiction else "; the jurisdiction was not said"
        found.append(f"No limit for draft at these places, this burner and this fuel is known here{place}.")
    if not given.baseline.zero().taken:
        words = show.shown(given.baseline.zero().spread, quantity="house_pressure", system=account.system)
        found.append(f"Without a baseline of 5 values or 60 s a draft is known to ± {words} at best.")
    if not _answers(given):
        found.append("Whether the flue still pulls with every fan on: no draft was read so with the burner lit.")
    if given.standing_pilot and all(one.state != "pilot only" for one in given.readings):
        found.append("Whether the flue pulls with the pilot alone: nobody read it so.")
    return found


SPOTS, STATES, FANS = get_args(Spot), get_args(State), get_args(Fans)
