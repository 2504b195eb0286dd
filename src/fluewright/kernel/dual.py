"""Uncertain numbers: a value with its first derivative to every source of doubt (forward mode).

Two results that share a source are correlated without further book-keeping: the derivative to the shared source
stands in both. Parts may be floats or numpy arrays. Law of propagation: JCGM 100:2008 (GUM) 5.1.2 and 5.2.2.
"""

import math
from collections.abc import Callable, Mapping
from typing import Any


class Source:
    """One origin of doubt: a reading, a constant, a composition share.

    name    registry name or words
    spread  standard uncertainty, in the unit of the number it was made for
    freedom degrees of freedom, infinite when the spread is taken as known (GUM 4.2.6, G.4)
    """

    __slots__ = ("freedom", "name", "spread")

    def __init__(self, name: str, spread: Any, freedom: float = math.inf) -> None:
        self.name = name
        self.spread = spread
        self.freedom = freedom

    def __repr__(self) -> str:
        return f"Source({self.name!r}, {self.spread!r})"


def uncertain(value: Any, *, spread: Any, name: str, freedom: float = math.inf) -> "Dual":
    """A fresh uncertain number with a source of its own."""
    return Dual(value, {Source(name, spread, freedom): 1.0})


class Dual:
    """A number and its derivatives; arithmetic gives new ones and never changes an old one."""

    __slots__ = ("partials", "value")
    __array_ufunc__ = None  # so that array * Dual asks the Dual instead of building an array of objects

    def __init__(self, value: Any, partials: dict[Source, Any]) -> None:
        self.value = value
        self.partials = partials

    def chained(self, value: Any, slope: Any) -> "Dual":
        """f(self), given f's value and its derivative here."""
        return Dual(value, {source: slope * partial for source, partial in self.partials.items()})

    @staticmethod
    def choose(pick: Callable[[Any, Any, Any], Any], condition: Any, then: Any, other: Any) -> "Dual":
        """Element by element one of two, for arrays."""
        left = then if isinstance(then, Dual) else Dual(then, {})
        right = other if isinstance(other, Dual) else Dual(other, {})
        sources = left.partials.keys() | right.partials.keys()
        partials = {s: pick(condition, left.partials.get(s, 0.0), right.partials.get(s, 0.0)) for s in sources}
        return Dual(pick(condition, left.value, right.value), partials)

    def __add__(self, other: Any) -> "Dual":
        if not isinstance(other, Dual):
            return Dual(self.value + other, self.partials)
        partials = dict(self.partials)
        for source, partial in other.partials.items():
            partials[source] = partials[source] + partial if source in partials else partial
        return Dual(self.value + other.value, partials)

    __radd__ = __add__

    def __neg__(self) -> "Dual":
        return self.chained(-self.value, -1.0)

    def __pos__(self) -> "Dual":
        return self

    def __sub__(self, other: Any) -> "Dual":
        if not isinstance(other, Dual):
            return Dual(self.value - other, self.partials)
        partials = dict(self.partials)
        for source, partial in other.partials.items():
            partials[source] = partials[source] - partial if source in partials else -partial
        return Dual(self.value - other.value, partials)

    def __rsub__(self, other: Any) -> "Dual":
        return self.chained(other - self.value, -1.0)

    def __mul__(self, other: Any) -> "Dual":
        if not isinstance(other, Dual):
            return self.chained(self.value * other, other)
        a, b = self.value, other.value
        partials = {source: b * partial for source, partial in self.partials.items()}
        for source, partial in other.partials.items():
            step = a * partial
            partials[source] = partials[source] + step if source in partials else step
        return Dual(a * b, partials)

    __rmul__ = __mul__

    def __truediv__(self, other: Any) -> "Dual":
        if not isinstance(other, Dual):
            return self.chained(self.value / other, 1.0 / other)
        return self * other.__rtruediv__(1.0)

    def __rtruediv__(self, other: Any) -> "Dual":
        quotient = other / self.value
        return self.chained(quotient, -quotient / self.value)

    def __pow__(self, power: float) -> "Dual":
        if isinstance(power, Dual):
            raise TypeError("the power of an uncertain number must be certain")
        return self.chained(self.value**power, power * self.value ** (power - 1))

    def __abs__(self) -> "Dual":
        negative = self.value < 0
        sign = (-1.0 if negative else 1.0) if isinstance(negative, bool) else 1.0 - 2.0 * negative
        return self.chained(abs(self.value), sign)

    def __bool__(self) -> bool:
        raise TypeError("an uncertain number is neither true nor false; compare values through kernel.ops")

    def _refuse_order(self, other: Any) -> bool:
        raise TypeError("uncertain numbers have no order; compare values through kernel.ops")

    __lt__ = __le__ = __gt__ = __ge__ = _refuse_order

    def __repr__(self) -> str:
        return f"Dual({self.value!r}, spread={spread(self)!r})"


Correlations = Mapping[frozenset[Source], float]
"""Correlation coefficients of pairs of sources that are not independent, keyed by the pair."""


def _root(variance: Any) -> Any:
    return math.sqrt(variance) if isinstance(variance, float | int) else variance**0.5


def covariance(left: Any, right: Any, *, correlations: Correlations | None = None) -> Any:
    """Covariance of two results by their shared and correlated sources (GUM F.1.2.3, equation 16)."""
    if not isinstance(left, Dual) or not isinstance(right, Dual):
        return 0.0
    total = sum(
        (partial * right.partials[source] * source.spread * source.spread)
        for source, partial in left.partials.items()
        if source in right.partials
    )
    for pair, coefficient in (correlations or {}).items():
        one, two = tuple(pair)
        for first, second in ((one, two), (two, one)):
            if first in left.partials and second in right.partials:
                total = total + (
                    left.partials[first] * right.partials[second] * first.spread * second.spread * coefficient
                )
    return total


def spread(number: Any, *, correlations: Correlations | None = None) -> Any:
    """Combined standard uncertainty; 0 for a certain number (GUM 5.1.2, 5.2.2)."""
    return _root(covariance(number, number, correlations=correlations))


def correlation(left: Any, right: Any, *, correlations: Correlations | None = None) -> Any:
    """Correlation coefficient of two results, -1..1; 0 when one of them is certain."""
    both = covariance(left, right, correlations=correlations)
    size = spread(left, correlations=correlations) * spread(right, correlations=correlations)
    if isinstance(size, float | int):
        return both / size if size else 0.0
    return both / (size + (size == 0.0))


def shares(number: Any) -> dict[Source, float]:
    """Part of the variance that comes from each source, summing to 1; empty for a certain number."""
    if not isinstance(number, Dual):
        return {}
    parts = {source: (partial * source.spread) ** 2 for source, partial in number.partials.items()}
    total = sum(parts.values())
    safe = total + (total == 0.0)  # nothing is in doubt: every share is then 0, not 0/0, in a column too
    return {source: part / safe for source, part in parts.items()}


def effective_freedom(number: Dual) -> float:
    """Effective degrees of freedom by the Welch-Satterthwaite formula (GUM G.4.1, equation G.2b)."""
    parts = {source: partial * source.spread for source, partial in number.partials.items()}
    below = sum(part**4 / source.freedom for source, part in parts.items() if math.isfinite(source.freedom))
    combined = float(spread(number)) ** 4
    return combined / below if below else math.inf
