"""Where smoke begins to rise as air is cut: the knee of a curve, as an interval that the papers' noise allows.

The curve is taken as level and then rising in a straight line. Every knee that fits the points nearly as well as the
best one lies in the interval; with fewer than four points, or no level part, or no rise, there is no knee.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.evidence import papers
from fluewright.evidence.reading import Reading
from fluewright.rules import oil_figures

NEARLY_AS_WELL = 3.84
"""By how much the sum of squares of a knee in the interval may exceed the best: 95 % of one degree of freedom
(chi-square table, from memory)."""
RISES = 5.99
"""By how much worse a level line must fit before smoke is said to rise: 95 %, two degrees of freedom (from memory)."""
STEPS = 600


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One point of a curve: air by oxygen or carbon dioxide, and smoke as mean of its papers."""

    air: Reading
    smoke: Reading


@dataclass(frozen=True, slots=True)
class Knee:
    """Where the knee may lie, in the canonical unit of the air reading, and how many points it rests on."""

    low: float
    high: float
    count: int


@dataclass(frozen=True, slots=True)
class NoKnee:
    """Why no knee can be said, and what would find it."""

    why: str
    do: str


Spot = tuple[float, float, float]
"""Less air to the right, smoke number, weight."""


def _spots(points: Sequence[CurvePoint]) -> list[Spot]:
    """Points with figures, least air last; a bound or a word is no figure."""
    noise = oil_figures.practice("paper-noise")
    found = []
    for point in points:
        air, smoke = point.air.figure, point.smoke.figure
        if air is None or smoke is None or point.air.bound or point.smoke.bound:
            continue
        variance = noise**2 / papers.count_of(point.smoke) + point.smoke.half_width**2 / 3.0
        found.append((-air if point.air.quantity.startswith("oxygen") else air, smoke, 1.0 / variance))
    return sorted(found)


def _misfit(spots: Sequence[Spot], knee: float) -> float:
    """Weighted sum of squares of the best level-then-rising line with its knee here."""
    rises = [max(0.0, x - knee) for x, _, _ in spots]
    weight = sum(w for _, _, w in spots)
    mean_rise = sum(w * r for r, (_, _, w) in zip(rises, spots, strict=True)) / weight
    mean_smoke = sum(w * y for _, y, w in spots) / weight
    spread = sum(w * (r - mean_rise) ** 2 for r, (_, _, w) in zip(rises, spots, strict=True))
    joint = sum(w * (r - mean_rise) * (y - mean_smoke) for r, (_, y, w) in zip(rises, spots, strict=True))
    slope = max(0.0, joint / spread) if spread > 0.0 else 0.0
    return sum(w * (y - mean_smoke - slope * (r - mean_rise)) ** 2 for r, (_, y, w) in zip(rises, spots, strict=True))


def knee_of(points: Sequence[CurvePoint]) -> Knee | NoKnee:
    """The knee of a curve of smoke against air.

    points  in any order, all by oxygen or all by carbon dioxide
    -> interval in the unit of the air reading, or why there is none
    """
    spots = _spots(points)
    least = int(oil_figures.practice("curve-points"))
    if len({x for x, _, _ in spots}) < least:
        return NoKnee(
            f"{len(spots)} point{'' if len(spots) == 1 else 's'} with figures, and a knee needs {least}",
            "take more points: start with much air, and cut it in small steps",
        )
    start, end = spots[0][0], spots[-1][0]
    grid = [start + (end - start) * step / STEPS for step in range(STEPS)]
    misfits = [_misfit(spots, knee) for knee in grid]
    best = min(misfits)
    excess = max(1.0, best / (len(spots) - 3))
    if _misfit(spots, end) - best < RISES * excess:
        return NoKnee(
            "smoke rises no more than its papers scatter",
            "cut air further in small steps, one paper more at each, and stop at smoke 4",
        )
    inside = [knee for knee, misfit in zip(grid, misfits, strict=True) if misfit - best <= NEARLY_AS_WELL * excess]
    step = (end - start) / STEPS
    if inside[0] <= start + step:
        return NoKnee(
            "smoke may rise from the first point on: no level part was seen",
            "start again with more air, until two points in a row are clean",
        )
    low, high = inside[0] - step, min(end, inside[-1] + step)
    by_oxygen = points[0].air.quantity.startswith("oxygen")
    return Knee(*((-high, -low) if by_oxygen else (low, high)), len(spots))
