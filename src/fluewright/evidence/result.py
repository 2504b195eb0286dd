"""A computed number together with its doubt and how it came about."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Input:
    """One thing that went into a computed number.

    name    registry name, such as oxygen_dry
    words   as a person says it, such as "oxygen in dry flue gas"
    value   in the canonical unit of the registry
    below   standard uncertainty towards smaller values, same unit
    above   towards larger ones
    source  "typed", "line 16", "fuel library", "assumed", ...
    share   part of the result's variance that comes from this input, 0..1
    """

    name: str
    words: str
    value: float
    below: float
    above: float
    source: str
    share: float

    @property
    def spread(self) -> float:
        """The larger of the two one-sided standard uncertainties."""
        return max(self.below, self.above)


@dataclass(frozen=True, slots=True)
class Working:
    """How a computed value came about: formula, numbers put in, source, shares of doubt.

    formula       in words and symbols, such as "dry gas x (h flue - h air) / heating value"
    substitution  the same with numbers, such as "7.53 + 11.52 + 0.08 = 19.1"
    inputs        ordered by share, largest first
    source        where the formula and its constants come from
    holds         where it holds, and what it leaves out
    advice        one sentence on what would narrow the doubt, empty when there is none
    """

    formula: str
    substitution: str
    inputs: tuple[Input, ...]
    source: str
    holds: str
    advice: str = ""


@dataclass(frozen=True, slots=True)
class Result:
    """One computed number.

    name     registry name
    value    in the canonical unit of the registry; None when it was refused
    below    standard uncertainty towards smaller values, same unit
    above    standard uncertainty towards larger values (differs from below where physics is one-sided)
    low/high closed band where only a band is known (condensing; value is then the end that claims least), else None
    bound    "at least" or "at most" when a reading behind it is only an edge, else empty
    refused  why there is no value, empty otherwise
    """

    name: str
    value: float | None
    below: float
    above: float
    working: Working | None
    low: float | None = None
    high: float | None = None
    boundary: str = ""
    basis: str = ""
    bound: str = ""
    refused: str = ""

    @property
    def spread(self) -> float:
        """The larger of the two one-sided standard uncertainties."""
        return max(self.below, self.above)
