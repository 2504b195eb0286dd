"""The few operations that a formula needs beyond + - * / **, for float, numpy array and dual number alike.

A formula never asks `if x > 0` of a number: it would pass silently wrong on an uncertain one and fail on an array.
"""

import math
import sys
from collections.abc import Callable, Sequence
from typing import Any

from fluewright.kernel.dual import Dual

Number = Any
"""float, numpy array or Dual. No type can say "whichever of the three came in comes out", so strictness ends here."""


def _array_library() -> Any:
    """numpy, which must already be loaded if an array has reached us."""
    return sys.modules["numpy"]


def value_of(number: Number) -> Any:
    """The plain value: a Dual without its derivatives, anything else as it is."""
    return number.value if isinstance(number, Dual) else number


def less(left: Number, right: Number) -> Any:
    """Whether left < right, by value; a bool, or an array of bool."""
    return value_of(left) < value_of(right)


def where(condition: Any, then: Number, other: Number) -> Number:
    """`then` where the condition holds, else `other`; both sides are evaluated by the caller, so guard divisions."""
    if isinstance(condition, bool):
        return then if condition else other
    numpy = _array_library()
    if isinstance(then, Dual) or isinstance(other, Dual):
        return Dual.choose(numpy.where, condition, then, other)
    return numpy.where(condition, then, other)


def minimum(left: Number, right: Number) -> Number:
    """The smaller of the two, by value."""
    return where(less(left, right), left, right)


def maximum(left: Number, right: Number) -> Number:
    """The larger of the two, by value."""
    return where(less(left, right), right, left)


def _through(number: Number, plain: Callable[[float], float], name: str, slope: Callable[[Any, Any], Any]) -> Number:
    """Apply a smooth function; `slope(x, f(x))` is its derivative."""
    if isinstance(number, Dual):
        result = _through(number.value, plain, name, slope)
        return number.chained(result, slope(number.value, result))
    if isinstance(number, float | int):
        try:
            return plain(number)
        except ValueError as error:  # a root or logarithm of less than nothing
            raise ArithmeticError(f"{name} has no value at {number}") from error
    return getattr(_array_library(), name)(number)


def sqrt(number: Number) -> Number:
    """Square root."""
    return _through(number, math.sqrt, "sqrt", lambda _, root: 0.5 / root)


def exp(number: Number) -> Number:
    """Exponential."""
    return _through(number, math.exp, "exp", lambda _, power: power)


def log(number: Number) -> Number:
    """Natural logarithm."""
    return _through(number, math.log, "log", lambda x, _: 1.0 / x)


def cos(number: Number) -> Number:
    """Cosine of an angle in radians."""
    return _through(number, math.cos, "cos", lambda x, _: -sin(x))


def sin(number: Number) -> Number:
    """Sine of an angle in radians."""
    return _through(number, math.sin, "sin", lambda x, _: cos(x))


def polynomial(number: Number, coefficients: Sequence[Number]) -> Number:
    """Sum of coefficients[i] * number**i by Horner's rule.

    For an uncertain number with certain coefficients the derivative is carried beside the value,
    which costs one pass instead of one per term.
    """
    if isinstance(number, Dual) and not any(isinstance(c, Dual) for c in coefficients):
        x = number.value
        value, slope = coefficients[-1], 0.0
        for coefficient in reversed(coefficients[:-1]):
            slope = slope * x + value
            value = value * x + coefficient
        return number.chained(value, slope)
    total = coefficients[-1]
    for coefficient in reversed(coefficients[:-1]):
        total = total * number + coefficient
    return total


def root_between(function: Callable[[Number], Number], low: Number, high: Number, *, goal: Number) -> Number:
    """Where a rising smooth function meets its goal, between two plain bounds; the doubt of goal and function is kept.

    Halving works on plain values, so that arrays can pass; a last step of Newton with the doubt in it gives the result
    its derivatives.
    """
    plain_goal = value_of(goal)
    below, above = value_of(low) + 0.0 * plain_goal, value_of(high) + 0.0 * plain_goal
    for _ in range(60):
        middle = 0.5 * (below + above)
        beyond = plain_goal < value_of(function(middle))
        below, above = where(beyond, below, middle), where(beyond, middle, above)
    middle = 0.5 * (below + above)
    step = 1e-3
    slope = (value_of(function(middle + step)) - value_of(function(middle - step))) / (2.0 * step)
    return middle + (goal - function(middle)) / slope
