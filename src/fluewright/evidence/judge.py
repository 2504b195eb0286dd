"""From numbers to findings: what stops, what must be mended, what should be put right, what is fine, what stays open.

Limits come from the rule books as data. A limit that is not read text of the place can warn and never clear; nothing
that rests on a doubtful reading clears either.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluewright.evidence import checked_doubts, flue_windows, happened, lit, monoxide, trust
from fluewright.evidence.finding import ORDER, PHYSICS, WRONG, Finding, Judged, clause_of
from fluewright.evidence.flue import Worked
from fluewright.evidence.limits import (
    CAUTION,
    Question,
    answered,
    canonical,
    clears,
    has_book,
    in_words,
    rules_for,
    seen,
)
from fluewright.evidence.part import Topic
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.quantity import show
from fluewright.rules import load
from fluewright.rules.schema import Limit

CUT_AIR = (
    "Cutting air can raise carbon monoxide quickly: one small step, wait until the readings are steady, and stop when "
    "carbon monoxide rises.",
)

NEAR_DEW_POINT = 25.0
"""K above the dew point below which a cold chimney is likely to run wet (common practice, no source)."""

HARDLY_AIR = 0.01
"""mol/mol: oxygen below this leaves no margin for wind, dust or a richer gas (common practice, no source)."""

PLENTY = 0.05
"""mol/mol: with oxygen above this, whatever its doubt, a flame is not short of air (common practice, no source)."""

OF_HEAT = ("air-from-where", "mixed-boundary", "wet-probe", "colder-than-air", "too-much-collected")
"""Doubts about temperatures, which leave the gases believed."""

OF_THE_POINT = ("diluted", "wide-edge", "smoke-not-here")
"""Doubts about where a sample was drawn: it can raise an alarm and clear nothing."""

Told = Sequence[tuple[Stretch, Worked | None]]


@dataclass(frozen=True, slots=True)
class AirWindow:
    """The window of oxygen that a book states for a kind of burner, mol/mol, with the row it came from."""

    low: float
    high: float
    rule: Limit


def window_of(account: Account) -> AirWindow | None:
    """The window of oxygen for this burner: of a law in force where there is one, else of common practice."""
    rules = [rule for rule in rules_for("oxygen_dry", account) if rule.layer == "house" or clears(rule)]
    lows = [rule for rule in rules if rule.sense == "at least"]
    highs = [rule for rule in rules if rule.sense == "at most"]
    if not lows or not highs:
        return None
    low, high = (next((r for r in ends if r.tightens == ends[0].id), ends[0]) for ends in (lows, highs))
    return AirWindow(canonical(low), canonical(high), low if low.tightens or not high.tightens else high)


def burners() -> tuple[str, ...]:
    """The kinds of burner that some rule book has a window of oxygen for."""
    kinds = {kind for rule in load.limits_of("oxygen_dry") for kind in rule.applies.appliances}
    return tuple(sorted(kinds))


def _no_air_left(stretch: Stretch, worked: Worked) -> Finding | None:
    """A flame at the edge of having too little air, whatever burner made it."""
    oxygen, excess = worked.results["oxygen_dry"], worked.results["excess_air"]
    if oxygen.value is None or excess.value is None or stretch.point.kind != "undiluted":
        return None
    short = 1.0 - (trust.beyond(excess, 0.0) or 0.0)
    least = oxygen.value - 2.0 * oxygen.below
    plenty = least > PLENTY and excess.value > 0.0  # near fresh air excess is no straight line, and its doubt no width
    if oxygen.value >= HARDLY_AIR and (excess.value > 2.0 * excess.below or plenty):
        return None
    maybe = oxygen.value >= HARDLY_AIR and short < 0.5
    left = "there may be hardly any air left over" if maybe else "hardly any air is left over"
    return Finding(
        code="no-air-left",
        grade="act",
        lead=f"{stretch.word.capitalize()}: {left} in the flue.",
        body=f"Oxygen {oxygen.value * 100:.1f} %, excess air {excess.value * 100:.0f} %. Short of air: "
        f"{in_words(short)}. A flame short of air makes carbon monoxide and soot, and wind, dust or a richer gas takes "
        "the last of it.",
        evidence=((stretch.word, "oxygen_dry"), (stretch.word, "excess_air")),
        clause=PHYSICS,
        odds=short,
        limit="more air than the flame needs",
        do_now=("give it air, or shut it off, before anything else is done",),
        do_next=("find what kept air from it",),
        cautions=CAUTION,
    )


def _more_air(worked: Worked) -> str:
    """How much more air there was than the flame needs, as a sentence; empty when there was none."""
    air = worked.results["excess_air"].value
    return f" That is {air * 100:.0f} % more air than the flame needs." if air is not None and air > 0.0 else ""


def _oxygen_of_burner(stretch: Stretch, worked: Worked) -> Result | None:
    """Oxygen by which the burner may be judged; None where the point or a bound forbids it."""
    oxygen, cell = worked.results["oxygen_dry"], stretch.point.worth("burner_window")
    if oxygen.value is None or oxygen.bound or cell.grade == "refused":
        return None
    more = stretch.point.point_class.mixing * oxygen.value if cell.grade == "wide" else 0.0
    return replace(oxygen, below=math.hypot(oxygen.below, more), above=math.hypot(oxygen.above, more))


def _air(stretch: Stretch, worked: Worked, account: Account, *, burns_badly: bool) -> Finding | None:
    """Oxygen against the window stated for the kind of burner."""
    window, oxygen = window_of(account), _oxygen_of_burner(stretch, worked)
    if window is None or oxygen is None or oxygen.value is None:
        return None
    under = 1.0 - (trust.beyond(oxygen, window.low) or 0.0)
    over = trust.beyond(oxygen, window.high) or 0.0
    band, extra = f"{window.low * 100:g} to {window.high * 100:g} %", _more_air(worked)
    head, against = stretch.word.capitalize(), f"Oxygen {seen(oxygen, account)} against {band}"
    plain = Finding(
        code="air-in-window",
        grade="open",
        lead=f"{head}: oxygen lies in the window stated for this burner.",
        body=f"{against}. Outside it: {in_words(max(under, over))}.{extra}",
        evidence=((stretch.word, "oxygen_dry"),),
        clause=clause_of(window.rule),
        odds=max(under, over),
        limit=f"oxygen {band}, {account.appliance.burner}",
    )
    if under >= 0.5:
        far = burns_badly or oxygen.value < 0.5 * window.low
        return replace(
            plain,
            code="air-short",
            grade="act" if far else "advise",
            lead=f"{head}: less air than this burner should have.",
            body=f"{against}. Too little: {in_words(under)}.{extra} Short of air it makes CO and soot.",
            do_next=("find what keeps air from it, and give it air, before anything else",),
            cautions=CAUTION if far else (),
        )
    if over >= 0.5:
        return replace(
            plain,
            code="air-generous",
            grade="advise",
            lead=f"{head}: more air than this burner needs.",
            body=f"{against}. Too much: {in_words(over)}.{extra} The surplus carries heat up the flue.",
            do_next=("look for air leaking in first; then cut air in small steps",),
            cautions=CUT_AIR,
        )
    return plain


def _condensing(stretch: Stretch, worked: Worked, account: Account) -> Finding | None:
    """Water running where it must not."""
    dew, flue = worked.results["water_dew_point"], stretch.readings.get("flue_temperature")
    if account.appliance.condensing or dew.value is None or flue is None or flue.figure is None:
        return None
    colder = trust.beyond(dew, flue.figure) or 0.0
    words = f"Flue {show.converted(flue.typed, system=account.system)}, dew point {seen(dew, account)}"
    plain = Finding(
        code="near-dew-point",
        grade="advise",
        lead=f"{stretch.word.capitalize()}: little is left above the dew point.",
        body=f"{words}. In a cold chimney the gas cools below that before it is out.",
        evidence=((stretch.word, "flue_temperature"), (stretch.word, "water_dew_point")),
        clause=PHYSICS,
        odds=colder,
        limit="flue gas above its dew point, in an appliance not made to condense",
    )
    if account.appliance.condensing is None:
        if flue.figure - dew.value >= NEAR_DEW_POINT:
            return None
        lead = f"{stretch.word.capitalize()}: it may condense, and nobody has said whether it is made to."
        body = f"{words}. Water in the flue: {in_words(colder)}. Where it is not made to, sour water eats it."
        return replace(plain, code="made-to-condense", grade="open", lead=lead, body=body)
    if colder >= 0.5:
        return replace(
            plain,
            code="condensing",
            grade="act",
            lead=f"{stretch.word.capitalize()}: it condenses, and it is not made to.",
            body=f"{words}: {in_words(colder)}. Sour water eats exchanger, vent and chimney, and can block them.",
            do_next=("look for corrosion and blocked flueways; raise the return or the flue temperature",),
            cautions=CAUTION,
        )
    return plain if flue.figure - dew.value < NEAR_DEW_POINT else None


def _legal_loss(stretch: Stretch, worked: Worked, account: Account, doubt: str) -> list[Finding]:
    """Flue loss by the legal short formula, against every law of the place that limits it."""
    loss = worked.results.get("loss_siegert")
    if loss is None or account.appliance.condensing:
        return []
    if trust.monoxide_of(stretch) is None:
        doubt = doubt or "Nobody read carbon monoxide beside these readings"
    rules = rules_for("loss_siegert", account) + rules_for("loss_net", account)
    asked = (Question(rule, loss, stretch.word, account, doubt) for rule in rules)
    return [found for one in asked if (found := answered(one, over=one.rule.severity)) is not None]


ALWAYS_OPEN = (
    "A leak in the hose, the breeching or between the pipes of a balanced flue: oxygen and carbon dioxide move "
    "together. Only a hose test and a second sampling point can witness it.",
    "A crack in the heat exchanger. Inspect it; no flue reading gives odds.",
)
"""What no flue reading tells, whatever it says."""


VENTING = (
    "Whether the appliance vents outdoors with every fan running: draft and spillage are not among these readings."
)
"""What stays open where no draft was tested."""


def _of_the_place(account: Account) -> list[str]:
    """What stays open because nobody said where, by which law, and for which burner."""
    questions = []
    if not account.jurisdiction:
        questions.append("Which law applies: no place was said, so no law was asked.")
    elif not has_book(account.jurisdiction):
        questions.append(f"Which law applies: no rule book for {account.jurisdiction} is here, so no law was asked.")
    if account.appliance.burner not in burners():
        questions.append("Whether the air suits the burner: its kind was not said, so no window was asked.")
    return questions


def _unread(told: Told) -> list[str]:
    """Stretches of a flame in which no carbon monoxide was read, where others have it."""
    blank = [s.word for s, worked in told if worked is not None and trust.monoxide_of(s) is None]
    if not blank or len(blank) == len(told):
        return []
    return [f"Whether it burned clean in {', '.join(blank)}: no carbon monoxide was read in the flue then."]


def _open_questions(told: Told, account: Account, answers: frozenset[Topic]) -> list[str]:
    """What the readings given cannot tell, whatever they say."""
    questions = [*ALWAYS_OPEN, *([] if "venting" in answers else [VENTING])]
    if "room air" not in answers and not any(monoxide.read_in_room(stretch) for stretch, _ in told):
        questions.append("Carbon monoxide in the room: no reading was given, and absence of a reading is never safe.")
    if all((read := trust.monoxide_of(stretch)) is None or read.figure is None for stretch, _ in told):
        questions.append("Whether it burns clean: no carbon monoxide was read in the flue.")
    questions += _unread(told)
    if account.instrument.due is None:
        questions.append("Whether the instrument is in date: nobody has said when its calibration runs out.")
    if not account.instrument.zero:
        questions.append("Where the instrument was zeroed: a zero in stale air hides what that air held.")
    unsaid = [stretch.word for stretch, _ in told if not stretch.steady]
    if unsaid:
        which = "" if len(unsaid) == len(told) else f" of {', '.join(unsaid)}"
        questions.append(f"Whether the readings{which} were steady: nobody has said so, and no trace came with them.")
    return [*questions, *_of_the_place(account)]


def _why_in_doubt(stretch: Stretch, doubts: Sequence[str]) -> str:
    """Why the readings of a stretch clear nothing; empty when they may."""
    if any(code not in OF_THE_POINT for code in doubts):
        return "The readings are in doubt"
    if doubts:
        return "Where they were read gives them a wide edge"
    return "" if stretch.steady else "Nobody has said that these readings were steady"


def _of_stretch(stretch: Stretch, worked: Worked | None, account: Account, doubts: tuple[str, ...]) -> list[Finding]:
    """Everything that one stretch says about the appliance and the room."""
    of_gases = _why_in_doubt(stretch, [code for code in doubts if code not in OF_HEAT])
    bursts = [found for one in stretch.bursts if (found := monoxide.burst(one, account)) is not None]
    room = [*bursts, *monoxide.in_room(stretch, account, doubt=of_gases)]
    spots = monoxide.smoke(stretch, account, doubt=of_gases)
    if worked is None:
        in_air = trust.fresh_air(stretch) is not None
        return [*room, *spots, *([] if in_air else monoxide.floor(stretch, account))]
    flue = monoxide.in_flue(stretch, worked, account, doubt=of_gases)
    short = _no_air_left(stretch, worked)
    burns_badly = any(f.grade in ("stop", "act") for f in flue)
    single = (
        short or _air(stretch, worked, account, burns_badly=burns_badly),
        _condensing(stretch, worked, account),
    )
    losses = _legal_loss(stretch, worked, account, _why_in_doubt(stretch, doubts))
    windows = flue_windows.by_law(stretch, worked, account, doubt=_why_in_doubt(stretch, doubts))
    return [*flue, *room, *spots, *(f for f in single if f is not None), *losses, *windows]


def _subject(finding: Finding) -> str:
    """What a finding is about, whatever limit it met: its first quantity."""
    if finding.code == trust.STILL_MOVING and finding.evidence[0][1] != "carbon_monoxide_room":
        return "carbon_monoxide_air_free"  # what moved in the flue is answered by what stands still there
    return finding.evidence[0][1] if finding.evidence else finding.code


def _cured(finding: Finding, final: list[Finding], why_not: str) -> Finding:
    """An earlier finding as it stands at the end: cured when the last stretch speaks of the same and finds it good.

    finding  of an earlier stretch
    final    what the last stretch says
    why_not  why the last stretch cannot cure anything, empty when it can
    -> the same with its grade at the end, and the reason where it stands although the last reading is better
    """
    last = [f for f in final if _subject(f) == _subject(finding)]
    if not last:
        return replace(finding, body=f"{finding.body} This stands: nothing in the last readings answers it.")
    if any(f.grade in WRONG or monoxide.undecided(f) or (f.odds or 0.0) >= 0.5 for f in last):
        return finding
    if why_not:
        return replace(finding, body=f"{finding.body} The last readings are better, but this stands: {why_not}.")
    if finding.clause.clears:
        return replace(finding, grade="cured", lead=f"{finding.lead} Cured.", do_now=(), do_next=(), cautions=())
    return replace(
        finding,
        grade="cured",
        lead=f"{finding.lead} Not so in the last readings.",
        body=f"{finding.body} The last readings keep this limit, which can warn and not clear: that proves no more.",
        do_now=(),
        do_next=(),
        cautions=(),
    )


def _why_no_cure(account: Account, told: Told, last_doubts: tuple[str, ...]) -> str:
    """Why the last stretch cannot show that something was mended; empty when it can."""
    words = [stretch.word for stretch, _ in told]
    if not (any(word.startswith("as found") for word in words[:-1]) and words[-1].startswith("as left")):
        return "they are not called as found and as left"
    if not (account.steps or account.done):
        return "nobody has written down what was done between"
    if told[-1][1] is None:
        return "the last ones could not be worked out"
    if last_doubts:
        return "the last ones are in doubt and clear nothing"
    return "" if told[-1][0].steady else "nobody has said that the last ones were steady"


def _of_earlier(mine: list[Finding]) -> list[Finding]:
    """What an earlier stretch leaves to be answered: all that was wrong, and limits too close to call."""
    return [f for f in mine if f.grade in WRONG or monoxide.undecided(f)]


def _answered(finding: Finding, final: list[Finding]) -> bool:
    """Whether an earlier limit too close to call is answered by what the last stretch says of the same."""
    return monoxide.undecided(finding) and any(_subject(f) == _subject(finding) for f in final)


def in_order(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Findings with the gravest first, otherwise as they came."""
    return tuple(sorted(findings, key=lambda f: ORDER.index(f.grade)))


def judge(account: Account, told: Told, answers: frozenset[Topic] = frozenset()) -> Judged:
    """All findings of a visit on its flue side, the gravest first.

    account  the visit
    told     each stretch with what was worked out, None where nothing could be
    answers  what was settled beside the flame
    -> findings and what the readings cannot tell; of stretches before the last only what was wrong
    """
    instrument = account.instrument
    dated, indoors = trust.out_of_date(instrument, account.day), trust.inside_zero(instrument)
    found = [f for f in (dated, indoors, *checked_doubts.doubts(account)) if f is not None]
    of_tool = tuple(finding.code for finding in found)
    earlier: list[Finding] = []
    final: list[Finding] = []
    doubts: tuple[str, ...] = ()
    for index, (stretch, worked) in enumerate(told):
        reasons = trust.doubts(worked=worked, stretch=stretch, instrument=instrument, record=account.fuel)
        reasons = (*reasons, *lit.doubts(stretch, account), *happened.doubts(stretch))
        doubts = (*of_tool, *(reason.code for reason in reasons))
        found += [reason for reason in reasons if reason.code != trust.STILL_MOVING]
        moved = [reason for reason in reasons if reason.code == trust.STILL_MOVING]
        mine = [*moved, *_of_stretch(stretch, worked, account, doubts)]
        if index == len(told) - 1:
            final = mine
        else:
            earlier += _of_earlier(mine)
    why_not = _why_no_cure(account, told, doubts) if told else ""
    open_still = [f for f in earlier if monoxide.undecided(f) and not _answered(f, final)]
    earlier = open_still + [_cured(f, final, why_not) for f in earlier if not monoxide.undecided(f)]
    return Judged(in_order([*found, *earlier, *final]), tuple(_open_questions(told, account, answers)))
