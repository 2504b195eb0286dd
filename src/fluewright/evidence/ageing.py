"""How a cell ages over its calibrations: when its response is too weak, with an interval, or an honest refusal."""

from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.kernel.bill_fit import student_quantile

WEAK = 0.5
"""Share of its first response at which a cell is said to be at its end (common practice, no source)."""
WITHIN = 0.95
FEWEST = 3
"""Calibrations from which on a trend has a doubt that can be told."""
FAR = 10.0
"""Years beyond which a forecast says nothing."""


@dataclass(frozen=True, slots=True)
class Forecast:
    """When a cell will be at its end.

    years, early, late  since the first point: likeliest, and the two ends of the interval; late None where it is open
    refused             why there is none; empty when there is one
    share               how much of its first response is left at the last point
    """

    share: float
    years: float = 0.0
    early: float = 0.0
    late: float | None = None
    refused: str = ""


def left_of(errors: Sequence[float]) -> list[float]:
    """Response left after each calibration, of one at the start: each as-found error is on top of the ones before.

    errors  as found, shares, in order; after each the instrument was set right again
    """
    found, left = [], 1.0
    for error in errors:
        left *= 1.0 + error
        found.append(left)
    return found


def forecast(points: Sequence[tuple[float, float]], *, end: float = WEAK) -> Forecast:
    """When a straight line through the responses reaches the end of the cell.

    points  years since the first, and response as a share of the first; in order
    end     response at which it is at its end
    -> forecast; refused where there are too few points, or no fall that stands out of their scatter

    Holds   a cell that loses about the same each year, always set right after it was found off
    Fails   poisoning, drying out, a knock: they come at once, and no line foresees them
    Source  straight line by least squares; interval after Fieller for one more calibration (from memory)
    """
    share = points[-1][1] if points else 1.0
    if len(points) < FEWEST:
        return Forecast(share, refused=f"{len(points)} of the {FEWEST} calibrations that a trend needs")
    count = len(points)
    middle = sum(x for x, _ in points) / count
    level = sum(y for _, y in points) / count
    width = sum((x - middle) ** 2 for x, _ in points)
    if width <= 0.0:
        return Forecast(share, refused="all calibrations are of one day")
    slope = sum((x - middle) * (y - level) for x, y in points) / width
    scatter = sum((y - level - slope * (x - middle)) ** 2 for x, y in points) / (count - 2)
    quantile = student_quantile(share=WITHIN, freedom=count - 2)
    # where the band of one more calibration meets the end
    lean = quantile**2 * scatter / width
    if slope >= 0.0 or slope**2 <= lean:
        return Forecast(share, refused="its response does not fall by more than the calibrations scatter")
    reach = (end - level) / slope
    spread = slope**2 - lean
    root = quantile * (scatter * (spread * (1.0 + 1.0 / count) + (end - level) ** 2 / width)) ** 0.5
    centre = slope * (end - level) / spread
    early, late = middle + centre - root / spread, middle + centre + root / spread
    if middle + reach - points[-1][0] > FAR:
        return Forecast(share, refused=f"at this rate it lasts more than {FAR:.0f} years, which no line can foresee")
    return Forecast(share, middle + reach, max(early, points[-1][0]), late)
