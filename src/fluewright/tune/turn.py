"""The next turn as sentences: what comes first, which way, how far, what it should come to, what the last did."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from fluewright.evidence import judge, papers
from fluewright.evidence.finding import PRACTICE, WRONG, Finding
from fluewright.evidence.oil_noted import Noted, figure_of
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.rules import adjusting_figures as trade
from fluewright.tune import advise, walked, year
from fluewright.tune.advise import Aim, First, Lever, Moved, Signs, Turn
from fluewright.tune.foreseen import Foreseen, foresee
from fluewright.tune.walked import CUT_AIR, CurveWalked

WORD = "next turn"
STAY = (
    "Stay beside it: stop and give the air back when carbon monoxide climbs, when oxygen falls below the least that is "
)
STOPS = (
    f"{STAY}safe, or when anything spills.",
    "Wait until the readings stand still before the next step; one lever at a time.",
)
OF_PARTS = {
    "seal-before-air": ("sealing", "seal joints, doors and sections, then read both places again"),
    "draft-before-air": ("draft", "set the draft first, at the place and fire that the maker names"),
}
"""Findings of other parts of the visit that come before any turn, with what to do."""


@dataclass(frozen=True, slots=True)
class Stand:
    """Readings at one moment: oxygen, carbon monoxide or smoke, flue and air temperature."""

    oxygen: Reading | None = None
    made: Reading | None = None
    flue: Reading | None = None
    air: Reading | None = None
    time: str = ""


@dataclass(frozen=True, slots=True)
class StepTaken:
    """One step that was taken.

    lever     what was turned
    moved     how far, in the lever's own unit; None when nobody has said
    of        that unit: turn, %, mm
    expected  oxygen that was foreseen for it
    after     what was read after it
    """

    lever: Lever
    after: Stand
    moved: float | None = None
    of: str = ""
    expected: Reading | None = None


@dataclass(frozen=True, slots=True)
class NextTurn:
    """Where a setting stands, what was seen, what was turned so far.

    lever     what would be turned next
    before    readings before the first step; empty takes those of the last flame
    target    oxygen to come to, None takes that of the year or of the curve
    pressure  gas or oil pressure, for a lever that sets it
    draft     over the fire, for a damper
    sink      temperature of what takes the heat: water or house air
    least     least oxygen that is safe, None takes that of the curve
    walked    the curve, None where none was walked
    """

    lever: Lever
    before: Stand = field(default_factory=Stand)
    taken: tuple[StepTaken, ...] = ()
    target: Reading | None = None
    signs: Signs = field(default_factory=Signs)
    pressure: Reading | None = None
    draft: Reading | None = None
    sink: Reading | None = None
    least: Reading | None = None
    walked: CurveWalked | None = None

    @property
    def late(self) -> bool:
        """It rests on flame, curve and year."""
        return True

    def worked(self, so_far: SoFar) -> Part:
        """The next turn as sentences."""
        noted = Noted(WORD, so_far, Reckoning(so_far.account))
        stand = _stand(self, so_far)
        _taken_told(noted, self, stand)
        now = self.taken[-1].after if self.taken else stand
        now = replace(now, air=now.air or stand.air, flue=now.flue or (None if self.taken else stand.flue))
        _advised(noted, self, now)
        return Part(
            WORD,
            "Adjusting: the next turn",
            "adjusting",
            tuple(noted.statements),
            noted.results,
            tuple(noted.findings),
            tuple(noted.cannot_tell),
            data={"lever": self.lever, "steps": len(self.taken)},
        )


def _stand(given: NextTurn, so_far: SoFar) -> Stand:
    """Readings before the first step, those of the last flame where nothing was typed."""
    if given.before.oxygen is not None or not so_far.account.stretches:
        return given.before
    first, last = so_far.account.stretches[0], so_far.account.stretches[-1]
    read = (first if given.taken else last).readings
    made = read.get("carbon_monoxide_dry") or read.get("smoke_spot")
    return Stand(read.get("oxygen_dry"), made, read.get("flue_temperature"), read.get("air_temperature"))


def _seen(key: str, stand: Stand) -> list[Piece]:
    """What was read at one moment, as pieces of a sentence."""
    made = "smoke " if stand.made is not None and stand.made.quantity == papers.QUANTITY else "carbon monoxide "
    found: list[Piece] = []
    for name, words, reading in (
        ("oxygen", "oxygen ", stand.oxygen),
        ("made", made, stand.made),
        ("flue", "flue gas ", stand.flue),
        ("air", "air ", stand.air),
    ):
        if reading is not None:
            found += [f"{', ' if found else ''}{words}", Seen(f"{name}_{key}", reading)]
    return found


def _taken_told(noted: Noted, given: NextTurn, stand: Stand) -> None:
    """Where it stood, then every step with what was foreseen and what it came to."""
    first = _seen("before", stand)
    if first:
        noted.say(*first, ".", time=stand.time)
    last = stand
    for i, step in enumerate(given.taken, 1):
        far = "" if step.moved is None else f" by {step.moved:g} {step.of}".rstrip().replace("-", "−")
        noted.say(f"{step.lever}{far}: ", *_seen(str(i), step.after), ".", time=step.after.time)
        _got_told(noted, i, step, last)
        last = step.after


def _got_told(noted: Noted, number: int, step: StepTaken, before: Stand) -> None:
    """Foreseen against got."""
    got, was, expected = figure_of(step.after.oxygen), figure_of(before.oxygen), figure_of(step.expected)
    if got is None or expected is None or step.expected is None or was is None:
        return
    share = "" if abs(expected - was) < 1e-6 else f": {(got - was) / (expected - was):.0%} of what was foreseen"
    noted.say(
        "foreseen ", Seen(f"expected_{number}", step.expected), f", got {got * 100:.1f} %{share}.", mark="derived"
    )
    if (was < expected and got < was) or (was > expected and got > was):
        noted.findings.append(
            Finding(
                "turned-the-other-way", "advise", f"The {step.lever} moved the oxygen the other way than foreseen.",
                f"From {was * 100:.1f} to {got * 100:.1f} %, and {expected * 100:.1f} % was foreseen. Another thing "
                "moved too, or the lever does not do what is believed of it.",
                ((WORD, f"oxygen_{number}"),), PRACTICE,
                do_next=("turn it back, wait until the readings stand still, and find what moved",), cautions=CUT_AIR,
            )
        )  # fmt: skip


def _aim(noted: Noted, given: NextTurn) -> Aim | None:
    """Where it should come to: typed, of the year, of the curve, or the window stated for the burner."""
    parts = noted.so_far.parts
    curve = parts.get(walked.WORD)
    safe = None if curve is None or "least_safe" not in curve.results else curve.results["least_safe"].value
    safe = safe if given.least is None else given.least.figure
    wanted = given.target
    if wanted is not None and wanted.figure is not None:
        half = max(wanted.half_width, trade.practice("oxygen-scatter") * 2.0)
        return Aim(wanted.figure - half, wanted.figure + half, "what was asked for", safe)
    for word, words in ((year.WORD, "the margin of the year"), (walked.WORD, "the curve")):
        found = None if word not in parts else parts[word].results.get("to_set")
        if found is not None and found.low is not None and found.high is not None:
            return Aim(found.low, found.high, words, safe)
    window = judge.window_of(noted.account)
    return None if window is None else Aim(window.low, window.high, "the window stated for this burner", safe)


def _first_of_parts(noted: Noted) -> Iterator[First]:
    """What other parts of the visit found that comes before any turn."""
    for part in noted.so_far.parts.values():
        for finding in part.findings:
            if finding.grade not in WRONG:
                continue
            if finding.code in OF_PARTS:
                yield First(OF_PARTS[finding.code][0], finding.lead, OF_PARTS[finding.code][1])
            elif finding.code.endswith(("input-over", "input-under")):
                yield First("input", finding.lead, "bring the input to the plate first, by pressure, orifice or nozzle")
            elif finding.grade == "stop":
                yield First("what stops", finding.lead, "see to what stops this appliance; nothing is set before", True)


def _advised(noted: Noted, given: NextTurn, now: Stand) -> None:
    """What comes first, or the turn itself."""
    found = list(advise.firsts(given.signs, lever=given.lever))
    found += [one for one in _first_of_parts(noted) if one.word not in {each.word for each in found}]
    if now.made is not None and now.made.rising and not given.signs.rising:
        found = [*advise.firsts(replace(given.signs, rising=True), lever=given.lever)]
    aim, oxygen = _aim(noted, given), figure_of(now.oxygen)
    short = oxygen is not None and aim is not None and oxygen < (aim.least or 0.0)
    if found and not short:
        _not_yet(noted, found, given)
        return
    if oxygen is None or now.oxygen is None or now.oxygen.bound or aim is None:
        why = "no oxygen was read where it stands" if oxygen is None else "nothing says where it should come to"
        noted.cannot_tell.append(f"Which way to turn: {why}.")
        return
    turn = advise.next_turn(oxygen=oxygen, aim=aim)
    if short:
        noted.findings.append(_give_first(noted, oxygen, aim, given))
    if turn.way == "stay":
        noted.say(f"it stands within {aim.words}: nothing is turned.", mark="derived")
        return
    _turn_told(noted, given, now, aim, turn)


def _last_seen(noted: Noted, given: NextTurn) -> tuple[str, ...]:
    """The key of the last oxygen that a sentence shows, if there is one."""
    said = {p.key for statement in noted.statements for p in statement.pieces if isinstance(p, Seen)}
    return tuple(key for key in (f"oxygen_{len(given.taken) or 'before'}",) if key in said)


def _not_yet(noted: Noted, found: Sequence[First], given: NextTurn) -> None:
    """The reasons why nothing is turned yet, one finding with all of them in order."""
    noted.say(f"nothing is turned yet: {', then '.join(one.word for one in found)} first.", mark="derived")
    stop = found[0].stop
    noted.findings.append(
        Finding(
            "not-set-but-off" if stop else "not-yet-to-be-set",
            "act" if stop else "advise",
            f"Not to be adjusted yet: {found[0].word} comes first.",
            " ".join(one.why if one.why.endswith(".") else f"{one.why}." for one in found),
            tuple((WORD, key) for key in _last_seen(noted, given)),
            PRACTICE,
            do_now=tuple(one.do for one in found if one.stop),
            do_next=tuple(one.do for one in found if not one.stop),
            cautions=CUT_AIR if stop else (),
        )
    )


def _give_first(noted: Noted, oxygen: float, aim: Aim, given: NextTurn) -> Finding:
    return Finding(
        "below-least-oxygen", "act", "The flame stands below its least safe oxygen: air is given first.",
        f"{oxygen * 100:.1f} % of oxygen, and the curve asks for {(aim.least or 0.0) * 100:.1f} % or more.",
        tuple((WORD, key) for key in _last_seen(noted, given)), PRACTICE,
        do_now=("give it air before anything else, or shut it off",), cautions=CUT_AIR,
    )  # fmt: skip


def _turn_told(noted: Noted, given: NextTurn, now: Stand, aim: Aim, turn: Turn) -> None:
    """Which way, how far, what it should come to, and what holds it."""
    instead = advise.withheld(given.lever, noted.account.appliance.of_class)
    if instead is not None:
        noted.say(f"the {given.lever} is not turned on this kind of appliance: {instead[1]}.", mark="derived")
        noted.say(f"{instead[0]}.", mark="derived")
        return
    foreseen = foresee(noted, given.lever, now, turn, given.walked, sink=figure_of(given.sink))
    hand = advise.HANDS[given.lever, turn.way if turn.way != "stay" else "cut"]
    to = "as far as" if turn.last else "the first of several steps towards"
    noted.say(f"next: {hand}, {to} {aim.words}.", mark="derived")
    _size_told(noted, given, now, turn, foreseen)
    _foreseen_told(noted)
    if turn.way == "cut":
        for words in STOPS:
            noted.say(words)
    if given.lever in advise.OF_FUEL:
        noted.cannot_tell.append(
            "Whether the input stays within the plate: clock or weigh the fuel after this lever is moved."
        )


def _size_told(noted: Noted, given: NextTurn, now: Stand, turn: Turn, foreseen: Foreseen) -> None:
    """How far: as a change of air, in the unit of the lever where a step has shown it, and as a pressure."""
    noted.say("that is ", Derived("air_wanted"), " of the air it has for its fuel.", mark="derived")
    done = [figure_of(step.after.oxygen) for step in given.taken]
    before = [figure_of(_stand(given, noted.so_far).oxygen), *done][: len(done)]
    moved = [
        Moved(step.moved, was, got)
        for step, was, got in zip(given.taken, before, done, strict=True)
        if step.lever == given.lever and step.moved is not None and was is not None and got is not None
    ]
    size = advise.lever_size(moved, wanted=turn.oxygen - (figure_of(now.oxygen) or 0.0))
    if size is not None and given.taken[-1].of:
        noted.say(
            f"by what the last step did, about {size:+.2g} {given.taken[-1].of}.".replace("-", "−"), mark="derived"
        )
    _pressure_told(noted, given, foreseen.air_share)


def _pressure_told(noted: Noted, given: NextTurn, share: float) -> None:
    """The pressure or draft that goes with it, by the root law."""
    pull = given.lever == "draft damper"
    reading = given.draft if pull else given.pressure
    if (
        reading is None
        or reading.figure is None
        or given.lever not in ("draft damper", "gas pressure", "pump pressure")
    ):
        return
    times = share**2 if pull else 1.0 / share**2
    quantity = {"draft damper": "draft", "gas pressure": "gas_pressure", "pump pressure": "oil_pressure"}[given.lever]
    read = noted.reckoning.read(reading)
    formula = (
        "draft then = draft now x air share squared" if pull else "pressure then = pressure now / air share squared"
    )
    noted.keep(
        "lever_then",
        noted.reckoning.result(
            quantity, read * times, formula=formula, substitution=f"{share:.3f}", source="orifice flow",
            holds="the rest of burner and flue as it is",
        ),
    )  # fmt: skip
    noted.say("from ", Seen("lever_now", reading), " to about ", Derived("lever_then"), ".", mark="derived")


def _foreseen_told(noted: Noted) -> None:
    """What the step should come to."""
    noted.say("foreseen: oxygen ", Derived("oxygen_then"), ".", mark="derived")
    said = {"made_then": "carbon monoxide ", "flue_then": "flue gas ", "loss_then": "loss of gross heat "}
    for key, words in said.items():
        if key in noted.results and noted.results[key].value is not None:
            noted.say(f"foreseen: {words}", Derived(key), ".", mark="derived")
    if "loss_if_stayed" in noted.results and noted.results["loss_if_stayed"].value is not None:
        noted.say(
            "if the flue temperature stayed, which it does not: loss ", Derived("loss_if_stayed"), ".", mark="derived"
        )
    if "made_then" not in noted.results or noted.results["made_then"].value is None:
        noted.cannot_tell.append("What carbon monoxide or smoke comes to: no curve reaches there. It must not rise.")
