"""Doubt carried through the formulas: from the spread of each reading to both sides of each result."""

from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.evidence.result import Input
from fluewright.kernel.dual import Dual, Source


@dataclass(frozen=True, slots=True)
class Origin:
    """Where one source of doubt comes from.

    name    registry name
    words   as a person says it
    value   canonical unit
    below   standard uncertainty towards smaller values
    above   towards larger ones
    source  typed, assumed, fuel library, ...
    bound   "at least" or "at most" where the value is only an edge that the truth lies beyond
    """

    name: str
    words: str
    value: float
    below: float
    above: float
    source: str
    bound: str = ""


HARDLY_FELT = 0.5
"""Share of the standard uncertainty of a result that a ceiling may move it by and still be lost in it."""


class Ledger:
    """Keeps which source of doubt stands for what while one set of readings is worked out."""

    def __init__(self) -> None:
        self._origins: dict[Source, Origin] = {}

    def number(self, origin: Origin) -> Dual:
        """An uncertain number for one origin; its spread is the larger of its two sides."""
        source = Source(origin.name, max(origin.below, origin.above))
        self._origins[source] = origin
        return Dual(origin.value, {source: 1.0})

    def origin(self, source: Source) -> Origin:
        """What a source of doubt stands for."""
        return self._origins[source]

    def sides(self, number: object) -> tuple[float, float]:
        """Standard uncertainty of a result towards smaller and towards larger values.

        A doubt that lies on one side of a reading lies on one side of the result, and changes sides where the result
        falls when the reading rises.
        """
        if not isinstance(number, Dual):
            return 0.0, 0.0
        below = above = 0.0
        for source, slope in number.partials.items():
            origin = self._origins[source]
            down, up = (origin.below, origin.above) if slope >= 0.0 else (origin.above, origin.below)
            below += (slope * down) ** 2
            above += (slope * up) ** 2
        return float(below**0.5), float(above**0.5)

    def bound(self, number: object) -> str:
        """Whether a result is "at least" or "at most", "no value" where bounds pull both ways, empty otherwise.

        A ceiling lets the truth lie between nothing and itself: where even all of that is lost in the doubt of the
        result, it does not make the result a bound. A floor has no end and always does.
        """
        if not isinstance(number, Dual):
            return ""
        found: set[str] = set()
        doubt = max(self.sides(number))
        for source, slope in number.partials.items():
            origin = self._origins[source]
            small = origin.bound == "at most" and abs(slope * origin.value) < HARDLY_FELT * doubt
            if origin.bound and slope and not small:
                upwards = (origin.bound == "at least") == (slope > 0.0)
                found.add("at least" if upwards else "at most")
        if len(found) > 1:
            return "no value"
        return found.pop() if found else ""

    def inputs(self, number: object) -> tuple[Input, ...]:
        """What went into a result, the largest share of doubt first; origins of one name are put together."""
        if not isinstance(number, Dual):
            return ()
        parts: dict[str, float] = {}
        origins: dict[str, Origin] = {}
        for source, slope in number.partials.items():
            origin = self._origins[source]
            parts[origin.words] = parts.get(origin.words, 0.0) + float(slope * source.spread) ** 2
            origins.setdefault(origin.words, origin)
        total = sum(parts.values()) or 1.0
        ordered = sorted(parts, key=lambda words: -parts[words])
        return tuple(_input(origins[words], parts[words] / total) for words in ordered)


def _input(origin: Origin, share: float) -> Input:
    return Input(origin.name, origin.words, origin.value, origin.below, origin.above, origin.source, share)


def plain(numbers: Mapping[str, object]) -> dict[str, float]:
    """The values without their doubt, for putting into a substitution."""
    return {name: float(n.value if isinstance(n, Dual) else n) for name, n in numbers.items()}  # type: ignore[arg-type]
