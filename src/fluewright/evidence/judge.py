"""From numbers to findings: what stops, what must be mended, what should be put right, what is fine, what stays open.

Limits come from the rule books as data. A limit that is not read text of the place can warn and never clear; nothing
that rests on a doubtful reading clears either.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluewright.evidence import trust
from fluewright.evidence.finding import Finding, Grade, Judged
from fluewright.evidence.flue import Worked
from fluewright.evidence.limits import CAUTION, Question, at_most, canonical, clause_of, in_words, rules_for, seen
from fluewright.evidence.reading import Account, Stretch
from fluewright.quantity import show
from fluewright.rules.schema import Limit

ORDER: tuple[Grade, ...] = ("stop", "act", "advise", "open", "cured", "fine")

CUT_AIR = (
    "Cutting air can raise carbon monoxide quickly: one small step, wait until the readings are steady, and stop when "
    "carbon monoxide rises.",
)
GRAVE = ("stop", "act", "advise")

NEAR_DEW_POINT = 25.0
"""K above the dew point below which a cold chimney is likely to run wet (common practice, no source)."""

Told = Sequence[tuple[Stretch, Worked | None]]


@dataclass(frozen=True, slots=True)
class AirWindow:
    """The window of oxygen that a book states for a kind of burner, mol/mol, with the row it came from."""

    low: float
    high: float
    rule: Limit


def window_of(account: Account) -> AirWindow | None:
    """The window of oxygen for this burner: of the law where there is one, else of common practice."""
    rules = rules_for("oxygen_dry", account)
    lows = [rule for rule in rules if rule.sense == "at least"]
    highs = [rule for rule in rules if rule.sense == "at most"]
    if not lows or not highs:
        return None
    return AirWindow(canonical(lows[0]), canonical(highs[0]), lows[0])


def _carbon_monoxide(stretch: Stretch, worked: Worked, account: Account, doubtful: bool) -> list[Finding]:
    """Air-free carbon monoxide against the limits of the place; the gravest one that is passed speaks."""
    free = worked.results["carbon_monoxide_air_free"]
    found = [
        finding
        for rule in rules_for("carbon_monoxide_air_free", account)
        if (finding := at_most(Question(rule, free, stretch, account, doubtful), over=rule.severity)) is not None
    ]
    passed = [f for f in found if f.grade in GRAVE]
    if passed:
        return sorted(passed, key=lambda f: ORDER.index(f.grade))[:1]
    return sorted(found, key=lambda f: (f.grade != "fine", canonical_limit(f)))[:1]


def canonical_limit(finding: Finding) -> float:
    """The figure in a finding's limit, to put the narrowest first."""
    digits = "".join(letter for letter in finding.limit if letter.isdigit() or letter == ".")
    return float(digits or 0.0)


def _air(stretch: Stretch, worked: Worked, account: Account) -> Finding | None:
    """Oxygen against the window stated for the kind of burner."""
    window, oxygen = window_of(account), worked.results["oxygen_dry"]
    if window is None or oxygen.value is None or stretch.point.kind != "undiluted":
        return None
    under = 1.0 - (trust.beyond(oxygen, window.low) or 0.0)
    over = trust.beyond(oxygen, window.high) or 0.0
    band = f"{window.low * 100:g} to {window.high * 100:g} %"
    air = worked.results["excess_air"].value
    extra = f" That is {air * 100:.0f} % more air than the flame needs." if air is not None and air > 0.0 else ""
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
        return replace(
            plain,
            code="air-short",
            grade="act",
            lead=f"{head}: the flame has too little air.",
            body=f"{against}. Too little: {in_words(under)}.{extra} Short of air it makes CO and soot.",
            do_next=("find what keeps air from it, and give it air, before anything else",),
            cautions=CAUTION,
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
    if account.appliance.condensing or dew.value is None or flue is None or flue.typed.value is None:
        return None
    colder = trust.beyond(dew, flue.typed.value) or 0.0
    words = f"Flue {show.converted(flue.typed, system=account.system)}, dew point {seen(dew, account)}"
    plain = Finding(
        code="near-dew-point",
        grade="advise",
        lead=f"{stretch.word.capitalize()}: little is left above the dew point.",
        body=f"{words}. In a cold chimney the gas cools below that before it is out.",
        evidence=((stretch.word, "flue_temperature"), (stretch.word, "water_dew_point")),
        clause=trust.PHYSICS,
        odds=colder,
        limit="flue gas above its dew point, in an appliance not made to condense",
    )
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
    return plain if flue.typed.value - dew.value < NEAR_DEW_POINT else None


def _legal_loss(stretch: Stretch, worked: Worked, account: Account, doubtful: bool) -> Finding | None:
    """Flue loss by the legal short formula, where a law of the place limits it."""
    loss = worked.results.get("loss_siegert")
    if loss is None or account.appliance.condensing:
        return None
    rules = rules_for("loss_siegert", account) + rules_for("loss_net", account)
    return at_most(Question(rules[0], loss, stretch, account, doubtful), over=rules[0].severity) if rules else None


def _open_questions(told: Told, account: Account) -> list[str]:
    """What the readings given cannot tell, whatever they say."""
    questions = [
        "A leak in the hose, the breeching or between the pipes of a balanced flue: oxygen and carbon dioxide move "
        "together. Only a hose test and a second sampling point can witness it.",
        "A crack in the heat exchanger. Inspect it; no flue reading gives odds.",
        "Whether the appliance vents outdoors with every fan running: draft and spillage are not among these readings.",
    ]
    if all("carbon_monoxide_room" not in stretch.readings for stretch, _ in told):
        questions.append("Carbon monoxide in the room: no reading was given, and absence of a reading is never safe.")
    if all("carbon_monoxide_dry" not in s.readings and "carbon_monoxide_wet" not in s.readings for s, _ in told):
        questions.append("Whether it burns clean: no carbon monoxide was read in the flue.")
    if account.instrument.due is None:
        questions.append("Whether the instrument is in date: nobody has said when its calibration runs out.")
    if not account.instrument.zero:
        questions.append("Where the instrument was zeroed: a zero in stale air hides what that air held.")
    if all(not stretch.steady for stretch, _ in told):
        questions.append("Whether the readings were steady: nobody has said so, and no trace came with them.")
    return questions


def _of_stretch(stretch: Stretch, worked: Worked, account: Account, doubtful: bool) -> list[Finding]:
    """Everything that one stretch says about the appliance."""
    single = (
        _air(stretch, worked, account),
        _condensing(stretch, worked, account),
        _legal_loss(stretch, worked, account, doubtful),
    )
    return [*_carbon_monoxide(stretch, worked, account, doubtful), *(f for f in single if f is not None)]


def _subject(finding: Finding) -> str:
    """What a finding is about, whatever limit it met: its first quantity."""
    return finding.evidence[0][1] if finding.evidence else finding.code


def _cured(finding: Finding, final: list[Finding]) -> Finding:
    """An earlier finding as it stands at the end: cured when the last stretch speaks of the same and finds it good."""
    last = [f for f in final if _subject(f) == _subject(finding)]
    if not last or any(f.grade in GRAVE for f in last):
        return finding
    return replace(finding, grade="cured", lead=f"{finding.lead} Cured.", do_now=(), do_next=(), cautions=())


def judge(account: Account, told: Told) -> Judged:
    """All findings of a visit on its flue side, the gravest first.

    account  the visit
    told     each stretch with what was worked out, None where nothing could be
    -> findings and what the readings cannot tell; of stretches before the last only what was wrong
    """
    instrument = account.instrument
    found = [f for f in (trust.out_of_date(instrument, account.day), trust.inside_zero(instrument)) if f is not None]
    doubtful_tool = bool(found)
    earlier: list[Finding] = []
    final: list[Finding] = []
    for index, (stretch, worked) in enumerate(told):
        doubts = trust.doubts(worked=worked, stretch=stretch, instrument=instrument, record=account.fuel)
        found += doubts
        if worked is None:
            continue
        doubtful = doubtful_tool or any(d.code != "diluted" for d in doubts)
        mine = _of_stretch(stretch, worked, account, doubtful)
        if index == len(told) - 1:
            final = mine
        else:
            earlier += [f for f in mine if f.grade in GRAVE]
    found += [*(_cured(finding, final) for finding in earlier), *final]
    ordered = sorted(found, key=lambda f: ORDER.index(f.grade))
    return Judged(tuple(ordered), tuple(_open_questions(told, account)))
