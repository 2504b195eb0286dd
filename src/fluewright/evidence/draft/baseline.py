"""What a gauge shows of nothing: its zero and its scatter, which decide how much a small pressure is worth."""

import math
from dataclasses import dataclass
from typing import Literal

from fluewright.evidence.origins import class_for
from fluewright.evidence.part import Piece, Seen, Statement, Voiced
from fluewright.evidence.reading import Instrument, Reading
from fluewright.evidence.sizes import Size, need
from fluewright.quantity.uncertain import spread_from_limits

Hose = Literal["not said", "open at the same place", "open elsewhere"]
"""Where the gauge was set to nothing again."""

WIDE = 2.0
"""Pa: standard uncertainty of a small pressure without a baseline: zero of the gauge and wind (practice P20)."""
ELSEWHERE = 1.0
"""Pa: what a zero taken somewhere else adds (common practice, no source)."""
ENOUGH, LONG_ENOUGH = 5, 60.0
"""Values, or seconds, that make a baseline (practice P20)."""


DOUBT = Size("standard uncertainty of a reading", "without a doubt every small pressure would look certain", most=250.0)


@dataclass(frozen=True, slots=True)
class Zero:
    """What a baseline comes to.

    offset  Pa, what the gauge shows of nothing
    spread  Pa, standard uncertainty of one reading by wind and zero
    taken   whether it was enough to count as a baseline
    whole   whether the spread is all the doubt there is, the gauge's own included
    words   how it is known
    """

    offset: float
    spread: float
    taken: bool
    whole: bool
    words: str


@dataclass(frozen=True, slots=True)
class Baseline:
    """What was read before the reading that counts.

    values   single readings, one after the other
    span     lowest to highest seen over a time
    seconds  that time
    doubt    standard uncertainty of a reading here, when somebody worked it out elsewhere
    hose     where the gauge was set to nothing again
    gauge    how the gauge lay or hung
    """

    values: tuple[Reading, ...] = ()
    span: Reading | None = None
    seconds: Reading | None = None
    doubt: Reading | None = None
    hose: Hose = "not said"
    gauge: str = ""

    def __post_init__(self) -> None:
        """Refuse a doubt that is none."""
        need(self.doubt, DOUBT)

    @property
    def figures(self) -> list[float]:
        """Values that are figures, Pa."""
        return [one.figure for one in self.values if one.figure is not None and not one.bound]

    def zero(self) -> Zero:
        """What it comes to."""
        figures = self.figures
        seconds = 0.0 if self.seconds is None else self.seconds.least or 0.0
        middle = sum(figures) / len(figures) if figures else 0.0
        if self.doubt is not None and self.doubt.figure is not None:
            return Zero(middle, abs(self.doubt.figure), True, True, "standard uncertainty as stated")
        if len(figures) >= ENOUGH:
            return self._moved(middle, _scatter(figures), f"scatter of {len(figures)} values")
        if self.span is not None and self.span.figure is not None and self.span.half_width and seconds >= LONG_ENOUGH:
            spread = spread_from_limits(half_width=self.span.half_width)
            return self._moved(self.span.figure, spread, f"lowest to highest over {seconds:.0f} s")
        some = self.span.figure if not figures and self.span is not None and self.span.figure is not None else middle
        return Zero(some, WIDE, False, False, "no baseline: zero of the gauge and wind as practice knows them")

    def _moved(self, offset: float, spread: float, words: str) -> Zero:
        """Wider where the zero was not taken with the hose open at the same place."""
        if self.hose == "open at the same place":
            return Zero(offset, spread, True, False, words)
        return Zero(offset, math.hypot(spread, ELSEWHERE), True, False, f"{words}; zero not taken at the same place")

    def said(self, quantity: str) -> list[Statement]:
        """The baseline as sentences; its readings are of one quantity, draft or house pressure."""
        zero = self.zero()
        nothing = "the gauge" if quantity == "draft" else "the room, fans off,"
        pieces: list[Piece] = []
        for index, one in enumerate(self.values, 1):
            pieces += [", " if pieces else f"baseline: {nothing} showed ", Seen(f"baseline {index}", one)]
        if self.span is not None:
            pieces += ["; over " if pieces else "baseline: over "]
            pieces += [Seen("baseline time", self.seconds)] if self.seconds else ["a time not said"]
            pieces += [f" {nothing} moved ", Seen("baseline span", self.span)]
        if self.doubt is not None:
            pieces += [
                "; " if pieces else "baseline: ",
                "standard uncertainty of a reading ",
                Voiced(self.doubt.typed.text),
            ]
        if not pieces:
            return [Statement((Voiced(f"no baseline was taken: ± {WIDE:g} Pa is reckoned with", "unknown"), "."),
                              mark="unknown")]  # fmt: skip
        hose = (
            ""
            if zero.whole
            else f"; hose {self.hose}"
            if self.hose != "not said"
            else "; where it was zeroed, not said"
        )
        gauge = f"; gauge {self.gauge}" if self.gauge else ""
        return [Statement((*pieces, f"{hose}{gauge}."))]


def _scatter(figures: list[float]) -> float:
    """Standard uncertainty of one reading of which some like it were seen.

    The scatter of few values is itself little known, which widens it by (n - 1)/(n - 3); the mean taken off adds its
    own share (JCGM 101:2008 6.4.9, from memory).
    """
    count = len(figures)
    middle = sum(figures) / count
    variance = sum((one - middle) ** 2 for one in figures) / (count - 1)
    return math.sqrt(variance * (1.0 + 1.0 / count) * (count - 1) / (count - 3))


def spread_of(reading: Reading, zero: Zero, instrument: Instrument) -> float:
    """Standard uncertainty of a reading whose zero is known: scatter, display step, and the relative part of the class.

    reading     of draft or house pressure
    zero        from its baseline
    instrument  by whose class
    -> Pa
    """
    width = spread_from_limits(half_width=reading.half_width)
    if zero.whole:
        return math.hypot(zero.spread, width)
    kind = class_for(reading.quantity, instrument)
    if kind is None:
        return math.hypot(zero.spread, width)
    channel = kind.channels[0]
    band = next((each for each in channel.bands if (reading.figure or 0.0) <= each.up_to), channel.bands[-1])
    error = band.relative * abs(reading.figure or 0.0)
    error = error if zero.taken else max(error, band.absolute)
    step = spread_from_limits(half_width=channel.resolution / 2.0)
    return math.hypot(zero.spread, spread_from_limits(half_width=error), step, width)
