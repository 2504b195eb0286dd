"""The curve of carbon monoxide, or of smoke, against oxygen: its knee as an interval.

Walked in small steps, down as air is cut and up as it is given back. What is below the cell's floor counts as "at
most", what is beyond the stop of the trade as "at least": nobody has to walk further for a better knee.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from fluewright.rules import adjusting_figures as trade
from fluewright.tune.broken_line import Line, Spot, line_at, lines

Direction = Literal["down", "up"]
"""down: air is being cut. up: it is being given back."""
Made = Literal["carbon monoxide", "smoke"]

NEARLY_AS_WELL = 3.84
"""By how much the misfit of a knee in the interval may exceed the best: 95 % of one degree of freedom (chi-square
table, from memory)."""
RISES = 5.99
"""By how much worse a level line must fit before anything is said to rise: 95 %, two degrees (from memory)."""
STANDS_OUT: Mapping[Made, float] = {"carbon monoxide": math.log(1.4), "smoke": 0.3}
"""Rise above the level part by which a knee is told: two fifths of carbon monoxide, a third of a smoke number. A corner
that nobody can see in the readings is no knee."""
DARK = 1.0
"""How far below the cell's floor a level part nobody can see may lie, standard, in logarithms: a third of it is as low
as flames usually go (common practice, no source)."""
PARAMETERS = 4
"""What a curve is described by: level, creep, slope, corner."""


@dataclass(frozen=True, slots=True)
class Step:
    """One steady step of a curve.

    oxygen         mol/mol dry
    made           carbon monoxide, mol/mol dry as read, or smoke number; the edge where it is only known as a bound
    bound          "at most" or "at least" where the truth lies beyond it
    oxygen_spread  standard scatter of oxygen from reading to reading beyond that of the trade, mol/mol
    made_spread    the same of what was made, in its unit
    papers         how many smoke papers the number is the mean of
    direction      whether air was being cut or given back
    """

    oxygen: float
    made: float
    bound: str = ""
    oxygen_spread: float = 0.0
    made_spread: float = 0.0
    papers: int = 1
    direction: Direction = "down"


@dataclass(frozen=True, slots=True)
class Knee:
    """Where the knee may lie.

    low, high  mol/mol of oxygen, 95 %
    likely     the middle of what fits, mol/mol
    level      carbon monoxide (mol/mol) or smoke above the knee; the cell's floor where nothing was seen
    points     how many points it rests on
    curve      the best fitting curve, to draw
    set_aside  points with much air left out because what is made rises there too
    """

    low: float
    high: float
    likely: float
    level: float
    points: int
    curve: Line
    set_aside: int = 0


@dataclass(frozen=True, slots=True)
class NoKnee:
    """Why no knee can be said, and what would find it.

    between  oxygen between which it lies at any rate, mol/mol, None where not even that is known
    loose    whether a level part and a rise were seen, and only the place is held too loosely
    """

    why: str
    do: str
    between: tuple[float, float] | None = None
    loose: bool = False


MORE_STEPS = "take more steps: begin with much air, and cut it in small ones"
FURTHER = "cut air further in small steps, watch the readings all the time, and stop at {stop}"
MORE_AIR = "begin again with more air, until two steps in a row stand level"


def stop_words(made: Made) -> str:
    """Where a curve is walked no further, in words."""
    if made == "smoke":
        return f"smoke {trade.figure('smoke-stop').value:g}"
    return f"{trade.figure('carbon-monoxide-stop').value:g} ppm of carbon monoxide"


def _stop(made: Made) -> float:
    return trade.practice("smoke-stop" if made == "smoke" else "carbon-monoxide-stop")


def floor_of(made: Made) -> float:
    """What a cell cannot tell from nothing from reading to reading, mol/mol; papers have no floor but their noise."""
    return 0.0 if made == "smoke" else trade.practice("carbon-monoxide-scatter")


def _spot(step: Step, made: Made, floor: float) -> Spot:
    """A step as a point of the fit: percent of oxygen against logarithm of carbon monoxide or number of smoke."""
    scatter = math.hypot(trade.practice("oxygen-scatter"), step.oxygen_spread) * 100.0
    bound, value, stop = step.bound, step.made, _stop(made)
    if value > stop and bound != "at most":
        bound, value = "at least", stop
    if made == "smoke":
        noise = trade.practice("paper-noise") / math.sqrt(step.papers)
        return Spot(step.oxygen * 100.0, scatter, value, math.hypot(noise, step.made_spread), bound)
    if value <= floor:
        bound, value = ("at most" if bound != "at least" else bound), floor
    share = trade.practice("carbon-monoxide-scatter-share")
    spread = math.hypot(trade.practice("carbon-monoxide-scatter"), share * value, step.made_spread)
    return Spot(step.oxygen * 100.0, scatter, math.log(value * 1e6), spread / value, bound)


def _rises_with_air(spots: Sequence[Spot]) -> int:
    """How many points at the airy end lie clearly above the lowest one: there the flame grows cold, not rich."""
    by_air = sorted(spots, key=lambda spot: -spot.oxygen)
    lowest = min(range(len(by_air)), key=lambda i: (by_air[i].height, i))
    for aside in range(lowest, 0, -1):
        spot, best = by_air[aside - 1], by_air[lowest]
        clear = spot.height - best.height > 3.0 * math.hypot(spot.height_spread, best.height_spread)
        if clear and spot.bound != "at most":
            return aside
    return 0


def _unseen_level(spots: Sequence[Spot]) -> tuple[Spot, ...]:
    """Where a level part below the cell's floor is held: at the floor, loosely."""
    dark = [spot for spot in spots if spot.bound == "at most"]
    return (Spot(spots[0].oxygen, 0.0, min(spot.height for spot in dark), DARK),) if dark else ()


def _close(found: Sequence[Line], *, free: int) -> tuple[Line, list[Line]]:
    """The best line and every one that fits nearly as well; scatter beyond the stated one widens them all."""
    best = min(found, key=lambda line: line.misfit + line.doubt)
    excess = max(1.0, best.misfit / free) if free > 0 else 1.0

    def worse(line: Line) -> float:
        return (line.misfit - best.misfit) / excess + line.doubt - best.doubt

    return best, [line for line in found if worse(line) <= NEARLY_AS_WELL]


def _too_few(steps: Sequence[Step]) -> NoKnee | None:
    least = int(trade.practice("curve-points"))
    count = len({round(step.oxygen, 6) for step in steps})
    if count >= least:
        return None
    word = f"{count} point{'' if count == 1 else 's'} of different oxygen, and a knee needs {least}"
    return NoKnee(word, MORE_STEPS)


def knee_of(steps: Sequence[Step], *, made: Made = "carbon monoxide", floor: float | None = None) -> Knee | NoKnee:
    """The knee of a curve walked in one direction.

    steps  in any order
    made   what rises as air is cut
    floor  below which the cell cannot tell carbon monoxide from nothing, mol/mol; the trade's when None
    -> interval of oxygen, or why there is none
    """
    few = _too_few(steps)
    if few is not None:
        return few
    edge = floor_of(made) if floor is None else max(floor, 1e-7)
    spots = [_spot(step, made, edge) for step in steps]
    if all(spot.bound == "at least" for spot in spots):
        why = f"every step stands at {stop_words(made)} or beyond, with all the air that was walked"
        return NoKnee(why, "stop: it is not air that is lacking; find why the flame burns badly before it is set")
    aside = _rises_with_air(spots) if made == "carbon monoxide" else 0
    spots = sorted(spots, key=lambda spot: -spot.oxygen)[aside:]
    if len({round(spot.oxygen, 4) for spot in spots}) < int(trade.practice("curve-points")):
        why = "with much air carbon monoxide rises too, and too few points are left where it does not"
        return NoKnee(why, "take more steps between the airy end and the lean one")
    free = sum(1 for spot in spots if not spot.bound) - PARAMETERS
    spots = [*spots, *_unseen_level(spots)]
    found = lines(spots)
    best, close = _close(found, free=free)
    level = line_at(spots, corner=max(spot.oxygen for spot in spots), rounding=0.0, rising=False)
    excess = max(1.0, best.misfit / free) if free > 0 else 1.0
    if (level.misfit - best.misfit) / excess + level.doubt - best.doubt < RISES or best.slope <= 0.0:
        why = f"{'smoke' if made == 'smoke' else 'carbon monoxide'} rises no more than it scatters"
        return NoKnee(why, FURTHER.format(stop=stop_words(made)))
    return _pinned(spots, best, close, made, aside)


def _held_by_one(spots: Sequence[Spot], likely: float) -> tuple[float, float] | None:
    """The gap beside a knee that a single step holds from below: how softly it begins in there, nobody has seen.

    A step near the knee is half a point at most (practice); one reading may scatter on top of that.
    """
    risen = [spot.oxygen for spot in spots if spot.oxygen < likely]
    level = [spot.oxygen for spot in spots if spot.oxygen >= likely]
    widest = 100.0 * (trade.practice("near-knee-step") + trade.practice("oxygen-scatter"))
    if len(risen) != 1 or not level or min(level) - risen[0] <= widest + 1e-9:
        return None
    return risen[0], min(level)


def _pinned(spots: Sequence[Spot], best: Line, close: Sequence[Line], made: Made, aside: int) -> Knee | NoKnee:
    """A knee, if the points hold it closely enough."""
    top = max(spot.oxygen for spot in spots)
    seen_from = min((spot.height for spot in spots if spot.bound == "at most"), default=-math.inf)
    places = [line.risen_by(STANDS_OUT[made] + max(0.0, seen_from - line.level)) for line in close]
    low, high = min(places), max(places)
    bottom = max(low, min(spot.oxygen for spot in spots))
    if high >= top - 1e-9:
        between = (bottom / 100.0, top / 100.0)
        return NoKnee("it may rise from the first point on: no level part was seen", MORE_AIR, between)
    if high - low > 2.0 * trade.practice("knee-widest") * 100.0:
        why = f"the points hold the knee no closer than between {bottom:.1f} and {high:.1f} % oxygen"
        do = f"take more steps between {bottom:.1f} and {high:.1f} %"
        return NoKnee(why, do, (bottom / 100.0, high / 100.0), loose=True)
    weights = [math.exp(-0.5 * (line.misfit + line.doubt - best.misfit - best.doubt)) for line in close]
    likely = sum(w * place for w, place in zip(weights, places, strict=True)) / sum(weights)
    gap = _held_by_one(spots, likely)
    if gap is not None:
        why = f"one step alone stands on the rise, and the next lies {gap[1] - gap[0]:.1f} points of oxygen away"
        do = f"take more steps between {gap[0]:.1f} and {gap[1]:.1f} %"
        return NoKnee(why, do, (gap[0] / 100.0, max(gap[1], high) / 100.0), loose=True)
    level = best.height(top)
    above = level if made == "smoke" else math.exp(level) * 1e-6
    return Knee(low / 100.0, high / 100.0, likely / 100.0, above, len(spots), best, aside)


@dataclass(frozen=True, slots=True)
class Play:
    """How far the curve up lies from the curve down, mol/mol of oxygen; low and high by both knees' intervals."""

    low: float
    likely: float
    high: float


def play_between(down: Knee | NoKnee, up: Knee | NoKnee) -> Play | None:
    """Hysteresis between the two ways of walking a curve; None where one of them has no knee."""
    if isinstance(down, NoKnee) or isinstance(up, NoKnee):
        return None
    return Play(up.low - down.high, up.likely - down.likely, up.high - down.low)


def crossing(steps: Sequence[Step], limit: float) -> tuple[float, float] | None:
    """Between which two neighbours what is made first passes a limit as air is cut, mol/mol; None where it never did.

    steps  of one direction
    limit  mol/mol of carbon monoxide, or smoke number
    -> (the step with less oxygen, that passed it; the last one before)
    """
    walked = sorted(steps, key=lambda step: -step.oxygen)
    over = [step.made > limit and step.bound != "at most" for step in walked]
    if over and over[0]:
        return walked[0].oxygen, math.inf
    for (before, after), passed in zip(pairwise(walked), over[1:], strict=True):
        if passed:
            return after.oxygen, before.oxygen
    return None
