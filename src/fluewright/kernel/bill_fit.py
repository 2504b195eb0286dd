"""A straight line through fuel bills: what the weather takes and what is used whatever the weather, with intervals."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from fluewright.kernel.ops import Number


class Line(NamedTuple):
    """A fitted line and how well its two numbers are known.

    base           y where x is 0
    slope          change of y with x
    scatter        variance of one point of weight 1 about the line
    base_variance, slope_variance, covariance  of the two numbers
    freedom        points less two
    """

    base: Number
    slope: Number
    scatter: Number
    base_variance: Number
    slope_variance: Number
    covariance: Number
    freedom: int


def line_through_bills(
    *, degree_days_per_day: Sequence[Number], heat_rate: Sequence[Number], days: Sequence[Number]
) -> Line:
    """The line of fuel use against cold, a long period counting more than a short one.

    Use per day against degree days per day: the height at no cold is the base load, the slope is what a degree costs.

    degree_days_per_day  K, one for each period
    heat_rate            W, mean heat in the fuel over the period
    days                 d, length of the period, its weight
    -> line with base in W and slope in W/K

    Holds   three periods and more, some cold and some mild; one house and one way of living
    Fails   periods equally cold: the slope is then not known, and ZeroDivisionError for exactly equal ones
    Source  weighted least squares; checks COST-FIT-1 to COST-FIT-4
    """
    total = sum(days)
    middle_x = sum(w * x for w, x in zip(days, degree_days_per_day, strict=True)) / total
    middle_y = sum(w * y for w, y in zip(days, heat_rate, strict=True)) / total
    off = [x - middle_x for x in degree_days_per_day]
    square = sum(w * d * d for w, d in zip(days, off, strict=True))
    slope = sum(w * d * (y - middle_y) for w, d, y in zip(days, off, heat_rate, strict=True)) / square
    left = [y - middle_y - slope * d for d, y in zip(off, heat_rate, strict=True)]
    freedom = len(off) - 2
    scatter = sum(w * e * e for w, e in zip(days, left, strict=True)) / freedom
    return Line(
        base=middle_y - slope * middle_x,
        slope=slope,
        scatter=scatter,
        base_variance=scatter * (1.0 / total + middle_x * middle_x / square),
        slope_variance=scatter / square,
        covariance=-scatter * middle_x / square,
        freedom=freedom,
    )


def heat_over_season(*, base: Number, slope: Number, days: Number, degree_days: Number) -> Number:
    """What a fitted line says a season takes.

    base         W, of the line
    slope        W/K, of the line
    days         d, of the season
    degree_days  K d, of the season
    -> heat in the fuel, J

    Holds   weather within what the bills saw, the same house and habits
    Fails   far outside it
    Source  the line, summed over the days; check COST-FIT-5
    """
    return 86_400.0 * (base * days + slope * degree_days)


def variance_over_season(
    *, base_variance: Number, slope_variance: Number, covariance: Number, days: Number, degree_days: Number
) -> Number:
    """How surely a fitted line knows a season: variance of heat_over_season.

    base_variance   W2, of the line
    slope_variance  W2/K2, of the line
    covariance      W2/K, of the two
    days            d, of the season
    degree_days     K d, of the season
    -> variance, J2

    Holds   the mean of such seasons; one season scatters more
    Fails   errors of the meter that all periods share
    Source  propagation of the two numbers and their covariance; check COST-FIT-6
    """
    spread = base_variance * days * days + slope_variance * degree_days * degree_days
    return 86_400.0**2 * (spread + 2.0 * covariance * days * degree_days)


def student_share_within(*, quantile: float, freedom: int) -> float:
    """The probability that Student's t lies between minus and plus a value.

    quantile  value of t, 0 or more
    freedom   degrees of freedom, a whole number from 1
    -> probability, 0..1

    Holds   exact for whole degrees of freedom
    Fails   ValueError for fewer than one
    Source  Abramowitz and Stegun 26.7.3 and 26.7.4; checks COST-T-1 to COST-T-4
    """
    if freedom < 1:
        raise ValueError("Student's t needs a degree of freedom")
    angle = math.atan(quantile / math.sqrt(freedom))
    cosine, sine = math.cos(angle), math.sin(angle)
    odd = freedom % 2 == 1
    term = cosine if odd else 1.0
    total = 0.0 if freedom == 1 else term
    for step in range(2 if odd else 1, freedom - 2, 2):
        term *= step / (step + 1.0) * cosine * cosine
        total += term
    return 2.0 / math.pi * (angle + sine * total) if odd else sine * total


def student_quantile(*, share: float, freedom: int) -> float:
    """The value that Student's t exceeds, to either side, in one case of so many.

    share    probability to lie within, above 0 and below 1, such as 0.95
    freedom  degrees of freedom, a whole number from 1
    -> quantile

    Holds   up to a million
    Fails   ValueError for fewer than one degree of freedom
    Source  inverse of student_share_within by halving; checks COST-T-1 to COST-T-4
    """
    low, high = 0.0, 1e6
    for _ in range(100):
        middle = 0.5 * (low + high)
        if student_share_within(quantile=middle, freedom=freedom) < share:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
