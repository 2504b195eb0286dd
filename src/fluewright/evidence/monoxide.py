"""Carbon monoxide and smoke against the limits of the place: in the flue, as read, and in the air people breathe."""

from dataclasses import replace

from fluewright.evidence import papers
from fluewright.evidence.finding import ORDER, WRONG, Finding
from fluewright.evidence.flue import Worked
from fluewright.evidence.limits import READ_AGAIN, Question, answered, rules_for
from fluewright.evidence.origins import HYDROGEN_FUEL, hydrogen_share, origin_of
from fluewright.evidence.reading import Account, Burst, Reading, Stretch
from fluewright.evidence.result import Result
from fluewright.evidence.trust import fresh_air, monoxide_of
from fluewright.kernel import ops

NOT_THE_ROOM = {"room": "", "supply": "", "intake": "This is air on its way to the flame and not that of the room"}
"""Why carbon monoxide at a kind of point clears no room; empty where people breathe that air."""
HYDROGEN = "the cell may be counting hydrogen, so how likely cannot be said"
THREE_PAPERS = ("take three papers and count their mean",)
"""What to do about smoke too close to its limit to call."""
SUSTAINED = 60.0
"""Seconds from which carbon monoxide beyond the limit counts as burning like that (common practice, no source)."""
AIR_PEOPLE_BREATHE = ("room", "supply", "intake")
"""Kinds of point where carbon monoxide is judged as that of a room."""


def as_read(reading: Reading, account: Account, *, name: str = "", bound: str = "") -> Result | None:
    """A reading as it can be put to a limit.

    reading  as typed
    account  for its instrument and fuel
    name     registry name it is judged as, its own when empty
    bound    "at least" where the figure is only a floor of what is judged
    -> result; None for a trend word alone
    """
    if reading.figure is None:
        return None
    origin = origin_of(reading, account.instrument, record=account.fuel)
    shown = name or reading.quantity
    return Result(shown, origin.value, origin.below, origin.above, None, bound=bound or origin.bound)


def _answers(stretch: Stretch, account: Account, result: Result, *, doubt: str) -> list[Finding]:
    """One result put to every limit of its quantity."""
    rich = hydrogen_share(account.fuel) >= HYDROGEN_FUEL and account.instrument.hydrogen != "yes"
    unsaid = HYDROGEN if rich and result.name.startswith(("carbon_monoxide", "co_")) else ""
    asked = (
        Question(rule, result, stretch.word, account, doubt, unsaid)
        for rule in rules_for(result.name, account)
        if rule.upper
    )
    return [found for one in asked if (found := answered(one, over=one.rule.severity)) is not None]


def _limit(finding: Finding) -> float:
    """The figure in a finding's limit, to put the narrowest first."""
    digits = "".join(letter for letter in finding.limit if letter.isdecimal() or letter == ".")
    return float(digits or 0.0)


def undecided(finding: Finding) -> bool:
    """Whether a finding says that a result is too close to its limit to call."""
    return finding.do_next in (READ_AGAIN, THREE_PAPERS)


def speaking(found: list[Finding]) -> list[Finding]:
    """The answers worth saying: the gravest limit passed, and one too close to call, else one, law first.

    Where practice warns and the law is kept, both are said. What the house book asks beyond them is said beside them
    and takes the place of none.
    """
    house = [f for f in found if f.clause.of_the_house]
    found = [f for f in found if not f.clause.of_the_house]
    passed = sorted((f for f in found if f.grade in WRONG), key=lambda f: ORDER.index(f.grade))
    close = sorted((f for f in found if undecided(f)), key=_limit)
    if passed or close:
        kept = [f for f in found if f.grade == "fine" and f.clause.layer == "law"]
        beside = [] if any(f.clause.layer == "law" for f in (*passed, *close)) else kept[:1]
        return [*passed[:1], *close[:1], *beside, *house]
    return sorted(found, key=lambda f: (f.grade != "fine", f.clause.layer != "law", _limit(f)))[:1] + house


def in_flue(stretch: Stretch, worked: Worked, account: Account, *, doubt: str) -> list[Finding]:
    """Carbon monoxide of a stretch that was worked out, against every limit of the place."""
    free = worked.results["carbon_monoxide_air_free"]
    if free.value is None:
        return floor(stretch, account)
    found = _answers(stretch, account, free, doubt=doubt)
    if stretch.point.worth("carbon_monoxide_dry").grade != "refused":
        raw = worked.trace_gases["carbon_monoxide"]
        below, above = worked.taken.ledger.sides(raw)
        bound = worked.taken.ledger.bound(raw)
        dry = Result("carbon_monoxide_dry", float(ops.value_of(raw)), below, above, None, bound=bound)
        found += _answers(stretch, account, dry, doubt=doubt)
        found += _answers(stretch, account, worked.results["co_co2_ratio"], doubt=doubt)
    return speaking(found)


def floor(stretch: Stretch, account: Account) -> list[Finding]:
    """Carbon monoxide as read where nothing could be worked out: free of air there is at least as much."""
    reading = monoxide_of(stretch)
    if reading is None or stretch.point.kind in AIR_PEOPLE_BREATHE:
        return []
    least = as_read(reading, account, name="carbon_monoxide_air_free", bound="at least")
    if least is None or reading.bound == "at most":
        return []
    return speaking(
        [f for f in _answers(stretch, account, least, doubt="The readings could not be worked out") if f.grade in WRONG]
    )


def in_room(stretch: Stretch, account: Account, *, doubt: str) -> list[Finding]:
    """Carbon monoxide in the air people breathe: read there, or by a probe that turned out to be in fresh air."""
    reading = stretch.readings.get("carbon_monoxide_room")
    if reading is None and (stretch.point.kind in AIR_PEOPLE_BREATHE or fresh_air(stretch) is not None):
        reading = monoxide_of(stretch)
        doubt = doubt or NOT_THE_ROOM.get(stretch.point.kind, "The probe stood where no flue gas was")
    result = None if reading is None else as_read(reading, account, name="carbon_monoxide_room")
    return [] if result is None else speaking(_answers(stretch, account, result, doubt=doubt))


def too_few(reading: Reading) -> str:
    """Why fewer papers than rules ask for may warn and not clear; empty when there are enough."""
    count = papers.count_of(reading)
    return "" if count >= papers.ENOUGH else f"Only {count} smoke paper{'' if count == 1 else 's'}, not three"


def three_papers(finding: Finding) -> Finding:
    """A finding of smoke with what to do about one too close to its limit."""
    return replace(finding, do_next=THREE_PAPERS) if finding.do_next == READ_AGAIN else finding


def smoke(stretch: Stretch, account: Account, *, doubt: str) -> list[Finding]:
    """Smoke on paper against the limits of the place; less than the papers that rules ask for clears nothing."""
    reading, worth = stretch.readings.get("smoke_spot"), stretch.point.worth("smoke_spot").grade
    if reading is None or worth == "refused" or (worth == "wide" and reading.bound == "at most"):
        return []
    result = as_read(reading, account, bound="at least" if worth == "wide" else "")
    if result is None:
        return []
    found = speaking(_answers(stretch, account, result, doubt=doubt or too_few(reading)))
    return [three_papers(one) for one in found]


def read_in_room(stretch: Stretch) -> bool:
    """Whether carbon monoxide of the room was read with a figure."""
    room = stretch.readings.get("carbon_monoxide_room")
    if room is None and stretch.point.kind == "room":
        room = monoxide_of(stretch)
    return room is not None and room.figure is not None


def burst(one: Burst, account: Account) -> Finding | None:
    """Carbon monoxide beyond the limit in rows that need not be steady: as read, and air-free is never less.

    A short one asks for mending; only one that lasts is put to the limits that shut down.
    """
    asked = ("stop", "act") if one.seconds >= SUSTAINED else ("act",)
    bound = "at least" if one.at_least else ""
    result = Result("carbon_monoxide_air_free", one.mean, one.spread, one.spread, None, bound=bound)
    found = [
        finding
        for rule in rules_for(result.name, account)
        if rule.severity in asked
        and (finding := answered(Question(rule, result, one.words, account), over=rule.severity)) is not None
        and finding.grade in ("stop", "act")
    ]
    if not found:
        return None
    gravest = min(found, key=lambda finding: ORDER.index(finding.grade))
    note = f"This is carbon monoxide as read, mean of {one.seconds:g} s, steady or not; air-free it was more."
    return replace(gravest, body=f"{gravest.body} {note}")
