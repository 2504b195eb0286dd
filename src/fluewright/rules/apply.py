"""Judge one result by one limit, with the limit's own way of rounding and its own way with uncertainty."""

import math
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from fluewright.kernel import odds
from fluewright.rules.schema import Decision, Limit, Rounding, Sense

COVERAGE = 2.0
"""Expanded over standard uncertainty, about 95 % (JCGM 100:2008 6.3.3)."""

Passes = Literal["inside", "beyond", "undecided"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """How a result stands to a limit.

    passes    inside, beyond, or undecided when a safety limit lies within the doubt
    odds      probability that the true value is beyond the limit, 0..1, whatever the rule says
    bare      the same without any uncertainty
    result    the rounded result that was compared, unit of the limit
    sentence  what to print
    """

    passes: Passes
    odds: float
    bare: Literal["inside", "beyond"]
    result: float
    sentence: str


def _decimals(limit: float) -> int:
    exponent = Decimal(str(limit)).normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def rounded(value: float, *, limit: float, rounding: Rounding) -> float:
    """A result rounded as its limit asks; a half goes away from zero (DIN 1333:1992 4.5.1)."""
    if rounding == "none":
        return value
    places = {"to whole numbers": 0, "as the limit": _decimals(limit)}.get(rounding, _decimals(limit) + 1)
    step = Decimal(1).scaleb(-places)
    return float(Decimal(repr(value)).quantize(step, rounding=ROUND_HALF_UP))


def _decided(result: float, expanded: float, limit: float, decision: Decision) -> Passes:
    """All for a limit that must not be exceeded; one that must be reached comes in with its signs turned."""
    if decision == "minus uncertainty":
        return "inside" if result - expanded <= limit else "beyond"
    if decision == "plus uncertainty":
        if result + expanded <= limit:
            return "inside"
        return "beyond" if result > limit else "undecided"
    return "inside" if result <= limit else "beyond"


def _odds(value: float, spread: float, limit: float) -> float:
    if spread > 0.0:
        return odds.beyond(value=value, spread=spread, limit=limit)
    return 1.0 if value > limit else 0.0


def _sentence(result: float, expanded: float, limit: float, decision: Decision, passes: Passes, sense: Sense) -> str:
    shown = f"{result:g} where {sense} {limit:g} is {'allowed' if sense != 'at least' else 'asked'}"
    if decision == "none":
        return f"{shown}: {passes}; the rule compares the bare result."
    word = "deducts" if decision == "minus uncertainty" else "adds"
    doubt = f"the rule {word} the uncertainty of {expanded:.2g}"
    if passes == "undecided":
        return f"{shown}: not decided, the limit lies within the doubt; {doubt}, so this does not clear it."
    return f"{shown}: {passes}; {doubt}."


def verdict(
    *,
    value: float,
    spread: float,
    limit: float,
    decision: Decision,
    rounding: Rounding = "none",
    sense: Sense = "at most",
) -> Verdict:
    """Judge a result.

    value     unit of the limit
    spread    standard uncertainty, 0 or more, same unit; COVERAGE times it is deducted or added
    limit     the number of the rule
    decision  what the rule does with uncertainty
    rounding  how the rule rounds the result before it compares
    sense     whether the limit must not be exceeded, must be reached, or must not even be reached
    -> verdict
    """
    sign = -1.0 if sense == "at least" else 1.0
    result = rounded(value, limit=limit, rounding=rounding)
    expanded = COVERAGE * spread
    slack = 1e-12 * max(abs(limit), abs(result)) * (-1.0 if sense == "below" else 1.0)
    passes = _decided(sign * result - slack, expanded, sign * limit, decision)
    return Verdict(
        passes=passes,
        odds=_odds(sign * value, spread, sign * limit),
        bare="inside" if sign * result - slack <= sign * limit else "beyond",
        result=result,
        sentence=_sentence(result, expanded, limit, decision, passes, sense),
    )


def judged(limit: Limit, *, value: float, spread: float) -> Verdict:
    """Judge a result by a limit of a book.

    limit   from rules.load
    value   in the unit of the limit
    spread  standard uncertainty, same unit; an infinite or missing one must not come in
    -> verdict
    """
    if not math.isfinite(spread) or not math.isfinite(value):
        raise ValueError("a verdict needs a finite result with a finite uncertainty")
    return verdict(
        value=value,
        spread=spread,
        limit=limit.limit,
        decision=limit.decision,
        rounding=limit.rounding,
        sense=limit.sense,
    )
