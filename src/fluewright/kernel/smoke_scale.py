"""The smoke scale: spot numbers as light that passes or is thrown back, and the margin kept from a knee."""

from collections.abc import Sequence
from itertools import pairwise

from fluewright.kernel import ops
from fluewright.kernel.ops import Number

TRANSMISSION = ((0.0, 1.0), (2.0, 0.95), (4.0, 0.80), (6.0, 0.54), (8.0, 0.18), (9.0, 0.0))
"""Spot number and share of light that passes the paper, ASTM D2156-09 comparison table (public abstract, read)."""

LAST = 9.0
"""The darkest spot of the scale (ASTM D2156, from memory)."""

REFLECTANCE_STEP = 0.10
"""Light thrown back that one number on the German scale takes away: 1. BImSchV (2010) s. 2 no. 15, read."""


def _between(number: Number, points: Sequence[tuple[float, float]]) -> Number:
    """Straight lines between points whose first coordinate rises; beyond the ends the last lines go on."""
    found: Number = 0.0
    for (x0, y0), (x1, y1) in reversed(list(pairwise(points))):
        line = y0 + (number - x0) * ((y1 - y0) / (x1 - x0))
        found = line if x1 == points[-1][0] else ops.where(ops.less(number, x1), line, found)
    return found


def transmission_from_spot(*, smoke_spot: Number) -> Number:
    """Light that passes a spot of a given number.

    What a densitometer reads where an eye compares.

    smoke_spot  spot number 0..9, any shape
    -> share of light that passes, against clean paper, -

    Holds   white filter paper, 0 to 9; straight lines between the printed points
    Fails   oily and coloured spots
    Source  ASTM D2156-09 comparison table; checks SMK
    """
    return _between(smoke_spot, TRANSMISSION)


def spot_from_transmission(*, transmission: Number) -> Number:
    """Spot number from a densitometer reading.

    The way back of transmission_from_spot.

    transmission  share of light that passes, against clean paper, 0..1, any shape
    -> spot number

    Holds   white filter paper; straight lines between the printed points
    Fails   oily and coloured spots
    Source  ASTM D2156-09 comparison table; checks SMKK-T
    """
    return _between(transmission, tuple((y, x) for x, y in reversed(TRANSMISSION)))


def spot_from_reflectance(*, reflectance: Number) -> Number:
    """Spot number by the German definition, from light thrown back.

    Each whole number takes a tenth off the light that clean paper throws back. It is another scale than that of light
    passing through; the two agree only roughly.

    reflectance  share thrown back, against clean paper, 0..1, any shape
    -> spot number

    Holds   0 to 9, grey spots
    Fails   oily and coloured spots; less light than 0.1, where the scale has ended at 9
    Source  1. BImSchV (2010) s. 2 no. 15; check DE-BIM-refl
    """
    return (1.0 - reflectance) / REFLECTANCE_STEP


def oxygen_with_margin(*, oxygen_dry_fraction: Number, oxygen_margin: Number) -> Number:
    """Oxygen to set, from that at which smoke or carbon monoxide began to rise.

    A burner set at its knee smokes on the first cold morning.

    oxygen_dry_fraction  mol/mol dry at the knee, any shape
    oxygen_margin        mol/mol kept above it, by the quality of the control, any shape
    -> oxygen to set, mol/mol dry

    Holds   the load at which the knee was found
    Fails   at other loads: find each its own knee
    Source  common practice, no source; check TUNE-BUF
    """
    return oxygen_dry_fraction + oxygen_margin
