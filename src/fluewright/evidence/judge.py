"""From numbers to findings: what stops, what must be mended, what should be put right, what is fine, what stays open.

Limits come from the rule books as data. A limit that is not read text of the place can warn and never clear; nothing
that rests on a doubtful reading clears either.
"""

from collections.abc import Sequence

from fluewright.evidence import trust
from fluewright.evidence.finding import Clause, Finding, Grade, Judged
from fluewright.evidence.flue import Worked
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.quantity import names, show
from fluewright.quantity.meaning import Spread
from fluewright.rules import apply, load
from fluewright.rules.schema import Rule

ORDER: tuple[Grade, ...] = ("stop", "act", "advise", "open", "fine")

LEAVE_OFF = (
    "shut the appliance down, or leave it off until this is mended",
    "check the room for carbon monoxide before anybody stays in it",
)
CAUTION = (
    "Carbon monoxide has no smell. If an alarm sounds, or heads ache indoors and clear outdoors: everybody out, doors "
    "open, call for help from outside.",
)
CUT_AIR = (
    "Cutting air can raise carbon monoxide quickly: one small step, wait until the readings are steady, stop "
    "when CO rises.",
)

Told = Sequence[tuple[Stretch, Worked | None]]


def clause_of(rule: Rule) -> Clause:
    """The authority of a rule, for a finding."""
    cited = rule.citation
    return Clause(cited.document, cited.clause, cited.edition, rule.jurisdiction, rule.known, rule.layer)


def in_words(odds: float | None) -> str:
    """Odds as a person says them, with n in 100."""
    if odds is None:
        return "how likely cannot be said"
    share = min(99, max(1, round(odds * 100)))
    if odds >= 0.95:
        word = "practically certain"
    elif odds >= 0.75:
        word = "likely"
    elif odds >= 0.25:
        word = "could go either way"
    elif odds >= 0.05:
        word = "unlikely"
    else:
        return "hardly possible, under 5 in 100"
    return f"{word}, {share} in 100"


def _clears(rule: Rule, account: Account) -> bool:
    """Whether being inside this limit may be called fine: read text of the place, or of everywhere."""
    at_home = rule.jurisdiction in ("everywhere", account.jurisdiction) or account.jurisdiction.startswith(
        rule.jurisdiction + "-"
    )
    return rule.known == "read" and at_home and rule.layer in ("law", "programme")


def _limited(
    rule: Rule, result: Result, stretch: Stretch, account: Account, *, over: Grade, doubtful: bool
) -> Finding | None:
    """One result against one upper limit."""
    if result.value is None:
        return None
    quantity = names.of(result.name)
    limit = rule.canonical()
    odds = trust.beyond(result, limit)
    system = account.system
    seen = show.shown(result.value, Spread(result.below, result.above, ""), quantity=result.name, system=system)
    seen = f"{result.bound} {seen}" if result.bound else seen
    edge = show.shown(limit, quantity=result.name, system=system)
    verdict = apply.verdict(value=result.value, spread=result.spread, rule=rule)
    names_ = ((stretch.word, result.name),)
    common = {"evidence": names_, "clause": clause_of(rule), "odds": odds, "limit": f"{quantity.words}: at most {edge}"}
    head = f"{stretch.word.capitalize()}: {quantity.words}"
    if verdict.passes == "beyond" or (odds is not None and odds >= 0.5):
        body = f"{seen} against {edge}; that it is over is {in_words(odds)}. {rule.text}"
        return Finding(
            rule.id, over, f"{head} is over {edge}.", body, do_now=LEAVE_OFF if over in ("stop", "act") else (),
            cautions=CAUTION if over in ("stop", "act") else (), **common,
        )  # fmt: skip
    if (odds is None or odds >= 0.05) and verdict.passes != "inside":
        body = (
            f"{seen} against {edge}; that it is over is {in_words(odds)}. Read again, longer or with a "
            f"better instrument."
        )
        return Finding(rule.id, "advise", f"{head}: too close to {edge} to call.", body, **common)
    body = f"{seen} against {edge}; that it is over is {in_words(odds)}. {verdict.sentence}"
    if _clears(rule, account) and not doubtful:
        return Finding(rule.id, "fine", f"{head} is inside {edge}.", body, **common)
    why = "the readings are in doubt" if doubtful else "this text can warn here and cannot clear"
    return Finding(rule.id, "open", f"{head} is below {edge}, but {why}.", body, **common)


def _carbon_monoxide(stretch: Stretch, worked: Worked, account: Account, doubtful: bool) -> list[Finding]:
    """Air-free carbon monoxide against the limits of the place; the most serious one that is passed speaks."""
    free = worked.results["carbon_monoxide_air_free"]
    found: list[Finding] = []
    for rule in load.limits(
        quantity="carbon_monoxide_air_free", jurisdiction=account.jurisdiction, day=account.day, kind=account.fuel.kind
    ):
        finding = _limited(rule, free, stretch, account, over=rule.severity, doubtful=doubtful)
        if finding is not None:
            found.append(finding)
    passed = [f for f in found if f.grade in ("stop", "act") or (f.grade == "advise" and (f.odds or 0.0) >= 0.05)]
    if passed:
        return sorted(passed, key=lambda f: ORDER.index(f.grade))[:1]
    return sorted(found, key=lambda f: f.grade != "fine")[:1]


def window_of(account: Account) -> Rule | None:
    """The window of oxygen that the books state for this kind of burner."""
    rules = load.limits(
        quantity="oxygen_dry", jurisdiction=account.jurisdiction, day=account.day, kind=account.fuel.kind
    )
    return next((rule for rule in rules if account.appliance.burner in rule.burners), None)


def _air(stretch: Stretch, worked: Worked, account: Account) -> Finding | None:
    """Oxygen against the window stated for the kind of burner."""
    rule, oxygen = window_of(account), worked.results["oxygen_dry"]
    if rule is None or oxygen.value is None or stretch.point.kind != "undiluted":
        return None
    low, high = rule.window()
    system = account.system
    seen = show.shown(oxygen.value, Spread(oxygen.below, oxygen.above, ""), quantity="oxygen_dry", system=system)
    band = f"{low * 100:g} to {high * 100:g} %"
    under = 1.0 - (trust.beyond(oxygen, low) or 0.0)
    over = trust.beyond(oxygen, high) or 0.0
    air = worked.results["excess_air"]
    extra = f" That is {air.value:.0%} more air than the flame needs." if air.value is not None else ""
    extra = extra.replace("%", " %")
    common = {
        "evidence": ((stretch.word, "oxygen_dry"),),
        "clause": clause_of(rule),
        "limit": f"oxygen {band} for {account.appliance.burner}",
    }
    head = stretch.word.capitalize()
    if under >= 0.5:
        body = (
            f"Oxygen {seen} against {band}; too little is {in_words(under)}.{extra} Less margin before the "
            f"flame runs short."
        )
        return Finding("air-short", "act", f"{head}: the flame has too little air.", body, odds=under,
                       do_next=("give it air, or find what keeps air from it, before anything else",),
                       cautions=CAUTION, **common)  # fmt: skip
    if over >= 0.5:
        body = (
            f"Oxygen {seen} against {band}; too much is {in_words(over)}.{extra} The surplus carries heat up the flue."
        )
        return Finding("air-generous", "advise", f"{head}: more air than this burner needs.", body, odds=over,
                       do_next=("look for air leaking in first; then cut air in small steps",),
                       cautions=CUT_AIR, **common)  # fmt: skip
    odds = max(under, over)
    body = f"Oxygen {seen} against {band}; that it is outside is {in_words(odds)}.{extra}"
    return Finding(
        "air-in-window", "open", f"{head}: oxygen lies in the usual window for this burner.", body, odds=odds, **common
    )


def _condensing(stretch: Stretch, worked: Worked, account: Account) -> Finding | None:
    """Water running where it must not."""
    dew, flue = worked.results["water_dew_point"], stretch.readings.get("flue_temperature")
    if account.appliance.condensing or dew.value is None or flue is None or flue.typed.value is None:
        return None
    colder = trust.beyond(dew, flue.typed.value) or 0.0
    system = account.system
    seen = show.shown(dew.value, Spread(dew.below, dew.above, ""), quantity="water_dew_point", system=system)
    common = {
        "evidence": ((stretch.word, "flue_temperature"), (stretch.word, "water_dew_point")),
        "clause": trust.PHYSICS,
        "limit": "flue gas above its dew point in an appliance that is not made to condense",
    }
    if colder >= 0.5:
        body = (
            f"Flue {show.converted(flue.typed, system=system)}, dew point {seen}: {in_words(colder)}. Acid "
            f"water eats exchanger, vent and chimney."
        )
        return Finding("condensing", "act", f"{stretch.word.capitalize()}: it condenses, and it is not made "
            f"to.", body, odds=colder,
                       do_next=("look for corrosion and blocked flueways; raise return temperature or flue "
                           "temperature",),
                       cautions=CAUTION, **common)  # fmt: skip
    if flue.typed.value - dew.value < 25.0:
        body = (
            f"Flue {show.converted(flue.typed, system=system)}, dew point {seen}. In a cold chimney the gas "
            f"cools below that before it is out."
        )
        return Finding(
            "near-dew-point",
            "advise",
            f"{stretch.word.capitalize()}: little is left above the dew point.",
            body,
            odds=colder,
            **common,
        )
    return None


def _german_loss(stretch: Stretch, worked: Worked, account: Account, doubtful: bool) -> Finding | None:
    """Flue loss against the German ordinance, where it applies."""
    loss = worked.results.get("loss_siegert")
    if not account.jurisdiction.startswith("DE") or loss is None or loss.value is None:
        return None
    if account.appliance.condensing or account.appliance.output is None:
        return None
    rules = load.limits(
        quantity="loss_siegert", jurisdiction=account.jurisdiction, day=account.day, output=account.appliance.output
    )
    if not rules:
        return None
    return _limited(rules[0], loss, stretch, account, over="act", doubtful=doubtful)


def _open_questions(told: Told, account: Account) -> list[str]:
    """What the readings given cannot tell, whatever they say."""
    open_ = [
        "A leak in the hose, the breeching or between the pipes of a balanced flue: oxygen and carbon dioxide move "
        "together. Only a hose test and a second sampling point can witness it.",
        "A crack in the heat exchanger. Inspect it; no flue reading gives odds.",
        "Whether the appliance vents outdoors with every fan running: draft and spillage are not among these readings.",
    ]
    if all("carbon_monoxide_room" not in s.readings for s, _ in told):
        open_.append("Carbon monoxide in the room: not measured here, and absence of a reading is never safe.")
    if account.instrument.due is None:
        open_.append("Whether the instrument is in date: nobody has said when its calibration runs out.")
    if not account.instrument.zero:
        open_.append(
            "Where the instrument was zeroed: a zero in stale air hides as much carbon monoxide as that air held."
        )
    if all(not s.steady for s, _ in told):
        open_.append("Whether the readings were steady: nobody has said so, and no trace came with them.")
    return open_


def judge(account: Account, told: Told) -> Judged:
    """All findings of a visit on its flue side, the gravest first.

    account  the visit
    told     each stretch with what was worked out, None where nothing could be
    -> findings and what the readings cannot tell
    """
    instrument = account.instrument
    found = [f for f in (trust.out_of_date(instrument, account.day), trust.inside_zero(instrument)) if f is not None]
    doubtful_tool = bool(found)
    last = len(told) - 1
    for index, (stretch, worked) in enumerate(told):
        doubts = trust.doubts(worked=worked, stretch=stretch, instrument=instrument, record=account.fuel)
        found += doubts
        if worked is None:
            continue
        doubtful = doubtful_tool or any(d.code != "diluted" for d in doubts)
        mine = _carbon_monoxide(stretch, worked, account, doubtful)
        mine += [f for f in (_air(stretch, worked, account), _condensing(stretch, worked, account)) if f is not None]
        loss = _german_loss(stretch, worked, account, doubtful)
        mine += [loss] if loss is not None else []
        found += mine if index == last or any(f.grade in ("stop", "act", "advise") for f in mine) else []
    ordered = sorted(found, key=lambda f: ORDER.index(f.grade))
    return Judged(tuple(ordered), tuple(_open_questions(told, account)))
