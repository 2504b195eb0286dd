"""A level line that begins to rise as air is cut: the fit behind a knee, in plain Python.

Less air runs to the left. Above the knee the curve creeps at most, below it rises; the corner may be sharp or round. Of
every knee on a grid the best such curve is found by weighted least squares, with what a cell cannot tell (at most, at
least) as one-sided points and the doubt of oxygen turned into doubt of the height by the slope there.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

CREEP = 0.15
"""How far the height may creep for each point of oxygen above the knee, standard, in units of height."""
ROUNDED = (0.0, 0.1, 0.25, 0.5)
"""How round the corner may be, points of oxygen over which the rise comes in."""
GRID = 0.04
"""Points of oxygen between two knees that are tried."""
HELD = 1e-6
"""A slope that no point speaks of is held at nothing by this little."""
IDLE = 1e-7
"""Share of its weight that a one-sided point keeps where it may be, so that something always holds a line."""
PASSES = 5
"""Rounds in which weights and one-sided points settle."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One point of a curve.

    oxygen, oxygen_spread   percent, and its scatter from reading to reading
    height, height_spread   logarithm of carbon monoxide, or smoke number, and its scatter
    bound                   "at most" or "at least" where the truth lies beyond the height
    """

    oxygen: float
    oxygen_spread: float
    height: float
    height_spread: float
    bound: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """The best curve with its corner at one place.

    misfit  weighted sum of squares
    doubt   sum of logarithms of the variances, so that a steep slope cannot explain everything by its own doubt
    level, creep, slope, rounding   height at the corner, its creep and its rise for each point of oxygen, roundness
    """

    corner: float
    misfit: float
    doubt: float
    level: float
    creep: float
    slope: float
    rounding: float

    def height(self, oxygen: float) -> float:
        """Height of the curve at an oxygen in percent."""
        rise, _ = _rise(oxygen, self.corner, self.rounding)
        return self.level + self.creep * (oxygen - self.corner) + self.slope * rise

    def risen_by(self, height: float) -> float:
        """Oxygen in percent at which the curve has risen by so much above where it creeps; far below for no rise."""
        if self.slope * 100.0 <= height:
            return self.corner - 100.0
        rise = height / self.slope
        if self.rounding == 0.0 or rise > 30.0 * self.rounding:
            return self.corner - rise
        return self.corner - self.rounding * math.log(math.expm1(rise / self.rounding))


def _rise(oxygen: float, corner: float, rounding: float) -> tuple[float, float]:
    """How far the oxygen lies below the corner, rounded off, and how that changes with it."""
    below = corner - oxygen
    if rounding == 0.0:
        return (below, -1.0) if below > 0.0 else (0.0, 0.0)
    turned = below / rounding
    if turned > 30.0:
        return below, -1.0
    grown = math.exp(turned)
    return rounding * math.log1p(grown), -grown / (1.0 + grown)


def _variance(spot: Spot, steepness: float) -> float:
    return spot.height_spread**2 + (steepness * spot.oxygen_spread) ** 2


def _fitted(
    rows: Sequence[tuple[float, float, float]], weights: Sequence[float], *, rising: bool
) -> tuple[float, float, float]:
    """Level, creep and slope of the weighted rows (offset, rise, height)."""
    a = b = c = d = e = f = p = q = r = 0.0
    for (offset, rise, height), weight in zip(rows, weights, strict=True):
        a += weight
        b += weight * offset
        c += weight * rise
        d += weight * offset * offset
        e += weight * offset * rise
        f += weight * rise * rise
        p += weight * height
        q += weight * offset * height
        r += weight * rise * height
    d += 1.0 / CREEP**2
    if not rising:
        whole = a * d - b * b
        return (p * d - b * q) / whole, (a * q - b * p) / whole, 0.0
    f += HELD
    first, second, third = d * f - e * e, c * e - b * f, b * e - c * d
    whole = a * first + b * second + c * third
    level = (p * first + q * second + r * third) / whole
    creep = (p * second + q * (a * f - c * c) + r * (b * c - a * e)) / whole
    return level, creep, (p * third + q * (b * c - a * e) + r * (a * d - b * b)) / whole


def line_at(spots: Sequence[Spot], *, corner: float, rounding: float, rising: bool = True) -> Line:
    """The best curve with its corner at one oxygen.

    spots   of one curve
    corner, rounding   percent of oxygen
    rising  false for a curve that only creeps, to compare with
    -> line with its misfit
    """
    shapes = [_rise(spot.oxygen, corner, rounding) for spot in spots]
    rows = [(spot.oxygen - corner, rise, spot.height) for spot, (rise, _) in zip(spots, shapes, strict=True)]
    steep = [1.0 if rising else 0.0] * len(spots)
    active = [True] * len(spots)
    level = creep = slope = 0.0
    for _ in range(PASSES):
        variances = [_variance(spot, each) for spot, each in zip(spots, steep, strict=True)]
        weights = [(1.0 if on else IDLE) / v for v, on in zip(variances, active, strict=True)]
        level, creep, slope = _fitted(rows, weights, rising=rising)
        if slope < 0.0:
            level, creep, slope = _fitted(rows, weights, rising=False)
        steep = [creep + slope * turn for _, turn in shapes]
        misses = [height - (level + creep * offset + slope * rise) for offset, rise, height in rows]
        active = [_counts(spot, -miss) for spot, miss in zip(spots, misses, strict=True)]
    variances = [_variance(spot, each) for spot, each in zip(spots, steep, strict=True)]
    pulls = zip(misses, variances, active, strict=True)
    misfit = sum(miss * miss / v for miss, v, on in pulls if on) + (creep / CREEP) ** 2
    doubt = sum(math.log(v) for spot, v in zip(spots, variances, strict=True) if not spot.bound)
    return Line(corner, misfit, doubt, level, creep, slope, rounding)


def _counts(spot: Spot, over: float) -> bool:
    """Whether a point pulls; over: by how much the curve runs above it. One-sided points pull from one side."""
    return over > 0.0 if spot.bound == "at most" else over < 0.0 if spot.bound == "at least" else True


def lines(spots: Sequence[Spot]) -> tuple[Line, ...]:
    """The best curve for every corner of a grid between least and most oxygen, sharp and round."""
    low, high = min(spot.oxygen for spot in spots), max(spot.oxygen for spot in spots)
    steps = max(1, min(400, round((high - low) / GRID)))
    corners = [low + (high - low) * step / steps for step in range(steps + 1)]
    return tuple(line_at(spots, corner=corner, rounding=rounding) for corner in corners for rounding in ROUNDED)
