"""A curve walked by steps, as sentences: every step, the knee or why there is none, the least oxygen that is safe."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fluewright.evidence import papers
from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.origins import spread_of
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result, Working
from fluewright.quantity import show
from fluewright.rules import adjusting_figures as trade
from fluewright.tune import curve
from fluewright.tune.curve import Direction, Knee, Made, NoKnee, Step
from fluewright.words import marked

WORD = "tuning curve"
DIRECTIONS: tuple[Direction, ...] = ("down", "up")
AS_SAID = {"down": "as air was cut", "up": "as air was given back"}
SOURCE = "fit to the steps, docs/method/adjusting.md; common practice, no source"
CUT_AIR = (
    marked(
        "Cutting air can raise smoke and carbon monoxide quickly: one small step, wait until the readings are steady, "
        "and stop when carbon monoxide climbs."
    ),
)
GIVE_AIR = (marked("give it air before anything else, or shut it off"),)


@dataclass(frozen=True, slots=True)
class WalkedStep:
    """One step: oxygen, and carbon monoxide or smoke, with the way that was walked."""

    oxygen: Reading
    made: Reading
    direction: Direction = "down"
    time: str = ""


def step_of(walked: WalkedStep) -> Step | None:
    """A step as the fit takes it; None where a reading is a trend word alone or oxygen only a bound.

    Carbon monoxide that was still rising is at least what was read.
    """
    oxygen, made = walked.oxygen.figure, walked.made.figure
    if oxygen is None or made is None or walked.oxygen.bound:
        return None
    bound = walked.made.bound or ("at least" if walked.made.rising else "")
    smoke = walked.made.quantity == papers.QUANTITY
    return Step(
        oxygen,
        made,
        bound=bound,
        oxygen_spread=walked.oxygen.half_width / math.sqrt(3.0),
        made_spread=walked.made.half_width / math.sqrt(3.0),
        papers=papers.count_of(walked.made) if smoke else 1,
        direction=walked.direction,
    )


def band(quantity: str, ends: tuple[float, float], *, claims: float, formula: str, holds: str) -> Result:
    """A result that is known as an interval only; claims: the end that it is safe to reckon with."""
    low, high = ends
    said = f"{show.number(low, quantity=quantity)} to {show.shown(high, quantity=quantity)}"
    return Result(quantity, claims, 0.0, 0.0, Working(formula, said, (), SOURCE, holds), low=low, high=high)


@dataclass(frozen=True, slots=True)
class CurveWalked:
    """A curve of one burner on one fuel at one rate.

    steps  in the order in which they were taken
    rate   firing rate, None when nobody has said
    """

    steps: tuple[WalkedStep, ...]
    rate: Reading | None = None

    @property
    def made(self) -> Made:
        """What was read beside oxygen."""
        return "smoke" if self.steps and self.steps[0].made.quantity == papers.QUANTITY else "carbon monoxide"

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    def knees(self) -> dict[Direction, Knee | NoKnee]:
        """The knee of each way that was walked."""
        ways = [way for way in DIRECTIONS if any(step.direction == way for step in self.steps)]
        found = {way: [s for w in self.steps if w.direction == way and (s := step_of(w)) is not None] for way in ways}
        return {way: curve.knee_of(steps, made=self.made) for way, steps in found.items()}

    def worked(self, so_far: SoFar) -> Part:
        """The curve as sentences, with its knee."""
        noted = Noted(WORD, so_far, Reckoning(so_far.account))
        if self.rate is not None:
            noted.say("firing at ", Seen("rate", self.rate), " of full input.")
        _steps_told(noted, self.steps)
        knees = self.knees()
        _knees_told(noted, self, knees)
        noted.findings += _findings(self, knees)
        return Part(
            WORD,
            "Adjusting: the curve",
            "adjusting",
            tuple(noted.statements),
            noted.results,
            tuple(noted.findings),
            tuple(noted.cannot_tell),
            data={"fuel": noted.fuel.name, "made": self.made, "points": len(self.steps)},
        )


def _steps_told(noted: Noted, steps: Sequence[WalkedStep]) -> None:
    for i, step in enumerate(steps, 1):
        made: tuple[Piece, ...] = (Seen(f"made_{i}", step.made), ".")
        noted.say(
            "at oxygen ", Seen(f"oxygen_{i}", step.oxygen), f", {AS_SAID[step.direction]}: ", *made, time=step.time
        )


def _other_instrument(noted: Noted, steps: Sequence[WalkedStep]) -> str:
    """By how much another instrument may place it elsewhere, in words."""
    widest = max(max(spread_of(step.oxygen, noted.account.instrument)) for step in steps)
    return f"read with the same instrument; another may place it ± {2.0 * widest * 100.0:.1f} points elsewhere"


def _knees_told(noted: Noted, given: CurveWalked, knees: dict[Direction, Knee | NoKnee]) -> None:
    safe: list[float] = []
    for way, knee in knees.items():
        if isinstance(knee, NoKnee):
            safe += [knee.between[1]] if knee.loose and knee.between is not None else []
            continue
        again = _other_instrument(noted, given.steps)
        aside = f"; {knee.set_aside} with much air set aside, where it rises again" if knee.set_aside else ""
        formula = "level, then a rise, round or sharp: every curve that fits nearly as well as the best (95 %)"
        holds = f"{knee.points} points at one rate{aside}; {again}"
        ends = (knee.low, knee.high)
        noted.keep(f"knee_{way}", band("oxygen_dry", ends, claims=knee.high, formula=formula, holds=holds))
        rises = "smoke" if given.made == "smoke" else "carbon monoxide"
        noted.say(
            f"{AS_SAID[way]}, {rises} begins to rise somewhere in ", Derived(f"knee_{way}"), " of oxygen.",
            mark="derived",
        )  # fmt: skip
        safe.append(knee.high)
    if not safe:
        return
    _play_told(noted, knees)
    _least_told(noted, max(safe), all(not isinstance(knee, NoKnee) for knee in knees.values()))
    if set(knees) == {"down"}:
        noted.cannot_tell.append(
            "How far linkage and control play: the curve was walked one way only, with air being cut."
        )


def _play_told(noted: Noted, knees: dict[Direction, Knee | NoKnee]) -> None:
    """Hysteresis, where both ways have a knee."""
    if set(knees) != set(DIRECTIONS):
        return
    play = curve.play_between(knees["down"], knees["up"])
    if play is None:
        return
    formula = "knee with air given back less knee with air cut"
    ends = (play.low, play.high)
    size = max(0.0, abs(play.low), abs(play.high))
    noted.keep("play", band("oxygen_play", ends, claims=size, formula=formula, holds="one walk down and one up"))
    side = "apart" if play.low > 0.0 or play.high < 0.0 else "no further apart than the points can tell"
    noted.say("the two ways lie ", Derived("play"), f" of oxygen {side}.", mark="derived")


def _least_told(noted: Noted, least: float, whole: bool) -> None:
    """The least oxygen that is safe here, and what practice sets above it."""
    low, high = trade.practice("margin-least"), trade.practice("margin-most")
    note = "" if whole else "; of a curve that holds its knee loosely or shows none one way"
    working = Working(
        "the end with more air of where the knee may lie, of the way that needs more",
        show.shown(least, quantity="oxygen_dry"),
        (),
        SOURCE,
        f"this fuel, this rate, this day{note}; below it carbon monoxide or smoke may climb",
    )
    noted.keep("least_safe", Result("oxygen_dry", least, 0.0, 0.0, working))
    noted.keep(
        "to_set",
        band(
            "oxygen_dry", (least + low, least + high), claims=least + high,
            formula=f"least safe oxygen + {low * 100:g} to {high * 100:g} points by the quality of the control",
            holds="no season in it: the margin of the year comes on top where it asks for more",
        ),
    )  # fmt: skip
    noted.say("the least oxygen that is safe here is ", Derived("least_safe"), ".", mark="derived")
    noted.say("by common practice it is set at ", Derived("to_set"), ", or higher for the year.", mark="derived")


def _past_stop(given: CurveWalked) -> bool:
    """Whether the last step stands beyond where a curve is walked no further."""
    last = step_of(given.steps[-1])
    key = "smoke-stop" if given.made == "smoke" else "carbon-monoxide-stop"
    return last is not None and last.bound != "at most" and last.made > trade.practice(key)


def _findings(given: CurveWalked, knees: dict[Direction, Knee | NoKnee]) -> Iterator[Finding]:
    if not given.steps:
        return
    count, last = len(given.steps), given.steps[-1]
    evidence = ((WORD, f"oxygen_{count}"), (WORD, f"made_{count}"))
    if _past_stop(given):
        yield Finding(
            "left-past-stop", "act", "The curve ends past the point where it is walked no further.",
            f"{last.made.typed.text} at oxygen {last.oxygen.typed.text}, and a curve stops at "
            f"{curve.stop_words(given.made)}. Nothing is learned further on.",
            evidence, PRACTICE, do_now=GIVE_AIR, cautions=CUT_AIR,
        )  # fmt: skip
    if last.made.rising:
        yield Finding(
            "curve-still-rising", "act", "What the flame makes was still rising at the last step.",
            f"{last.made.typed.text} at oxygen {last.oxygen.typed.text}: what it would have come to, nobody saw.",
            evidence, PRACTICE, do_now=GIVE_AIR, cautions=CUT_AIR,
        )  # fmt: skip
    for way, knee in knees.items():
        if isinstance(knee, NoKnee):
            held = (
                f" Count on its airy end, {knee.between[1] * 100:.1f} %, until closer steps show better."
                if (knee.between is not None and knee.loose)
                else " Nothing is said about the least oxygen from them."
            )
            yield Finding(
                "curve-no-knee", "open", f"These points show no knee, {AS_SAID[way]}.",
                f"{knee.why[:1].upper()}{knee.why[1:]}.{held}",
                tuple((WORD, f"oxygen_{i}") for i, step in enumerate(given.steps, 1) if step.direction == way),
                PRACTICE, do_next=(knee.do,), cautions=CUT_AIR,
            )  # fmt: skip
    yield from _below_least(given, knees)


def _below_least(given: CurveWalked, knees: dict[Direction, Knee | NoKnee]) -> Iterator[Finding]:
    """Where the last step of the curve was left with less than the least that is safe."""
    safe = [knee.high for knee in knees.values() if isinstance(knee, Knee)]
    oxygen, count = given.steps[-1].oxygen.figure, len(given.steps)
    if not safe or oxygen is None or oxygen >= max(safe) or _past_stop(given):
        return
    yield Finding(
        "ends-below-knee", "advise", "The curve ends with less oxygen than is safe.",
        f"Its last step has {given.steps[-1].oxygen.typed.text}; at {max(safe) * 100:.1f} % and below what the flame "
        "makes may begin to climb. A burner is not left there.",
        ((WORD, f"oxygen_{count}"),), PRACTICE,
        do_next=("give it more air, and read oxygen again at the place where it is left",), cautions=CUT_AIR,
    )  # fmt: skip
