"""Means of rows of which some are only bounds: such a mean is a floor or a ceiling, and says so."""

import math
from collections.abc import Sequence
from typing import Literal

from fluewright.evidence.trace.spool import Sample

Side = Literal["", "at least", "at most"]

MOST_GAPS = 0.1
"""Share of the rows without a reading beyond which a channel has no mean (common practice, no source).

What an instrument cannot read is seldom like what it reads: the mean of the rest would pass for the whole.
A floor stands: gaps do not lower it.
"""


def side_of(above: int, below: int) -> Side:
    """What a mean is when so many of its rows read "more than" and so many "less than"."""
    return "at least" if above else "at most" if below else ""


def edge_of(sample: Sample, index: int) -> float:
    """The value of one channel, a bound standing at its edge; nan for a gap."""
    if (sample.above | sample.below) >> index & 1:
        return dict(sample.bounds)[index]
    return sample.values[index]


def values_of(samples: Sequence[Sample], index: int) -> list[float]:
    """The values of one channel without gaps, bounds at their edge, so that their mean is a floor or a ceiling.

    Where some rows read beyond an edge and others below one, the low ones count as nothing: the mean stays a floor.

    Holds   quantities that cannot be negative, where bounds of both sides meet
    Fails   -
    Source  x >= edge in each row gives mean(x) >= mean(edges)
    """
    floor = any(sample.above >> index & 1 for sample in samples)
    return [
        min(edge, 0.0) if floor and sample.below >> index & 1 else edge
        for sample in samples
        if not math.isnan(edge := edge_of(sample, index))
    ]


class Edges:
    """The same as running sums, for steps of any length in constant memory."""

    def __init__(self) -> None:
        self.total = self.lows = 0.0
        self.count = self.gaps = self.above = self.below = 0

    def add(self, sample: Sample, index: int) -> None:
        """Take one row."""
        edge = edge_of(sample, index)
        if math.isnan(edge):
            self.gaps += 1
            return
        self.count += 1
        self.total += edge
        self.above += sample.above >> index & 1
        if sample.below >> index & 1:
            self.below += 1
            self.lows += max(edge, 0.0)

    @property
    def side(self) -> Side:
        """What the mean is."""
        return side_of(self.above, self.below)

    @property
    def sparse(self) -> bool:
        """Whether too many rows had no reading for the rest to stand for the whole."""
        return self.gaps > MOST_GAPS * (self.gaps + self.count) and not self.above

    @property
    def mean(self) -> float:
        """The mean, or its floor or ceiling; nan without a row."""
        if not self.count:
            return math.nan
        return (self.total - (self.lows if self.above else 0.0)) / self.count
