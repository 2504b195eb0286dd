"""Means against limits, as the law for outdoor air counts them: how much must have been read, and how it is rounded."""

from decimal import ROUND_HALF_UP, Decimal

from fluewright.rules import apply
from fluewright.rules.schema import Limit

LEAST_SHARE = 0.75
"""Of the hours of a mean that must have been read (40 CFR 50.8(c), read)."""

_TENTH = Decimal("0.1")


def in_tenths(value: float) -> float:
    """A mean to one decimal, half up (40 CFR 50.8(c), read)."""
    return float(Decimal(repr(value)).quantize(_TENTH, rounding=ROUND_HALF_UP))


def judged(limit: Limit, *, value: float, spread: float) -> apply.Verdict:
    """Judge a mean: where a rule compares whole numbers, the mean is taken to one decimal first.

    9.45 becomes 9.5, and that becomes 10; in one step it would have become 9.

    limit   of a book
    value   mean, in the unit of the limit
    spread  standard uncertainty, same unit
    -> verdict
    """
    taken = in_tenths(value) if limit.rounding == "to whole numbers" else value
    return apply.judged(limit, value=taken, spread=spread)
