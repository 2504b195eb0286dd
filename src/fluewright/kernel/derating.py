"""How much heat input an appliance is allowed at a height, in the variants that are printed, and what thin gas does.

At a height air is thin and so is gas, but a fixed orifice loses less gas than a fan or a chimney loses air; rules take
input off. They differ: by country, by kind of appliance, and every maker may print a table, which wins.
"""

import itertools
from collections.abc import Sequence

from fluewright.kernel import ops
from fluewright.kernel.ops import Number


def share_from_sea_level(*, altitude: Number, fall: Number, free_altitude: Number) -> Number:
    """Share of the sea-level input where a rule takes off so much for each metre, counted from the sea.

    Nothing up to the free height; one foot above it the whole height counts. Counting only the part above it is a
    common misreading: at 5000 ft it leaves 0.88 where the code says 0.80.

    altitude       m above sea level, any shape
    fall           1/m, share taken off for each metre
    free_altitude  m, up to which nothing is taken off
    -> share of the input at sea level, fraction

    Holds   where that rule is in force and the maker says nothing else
    Fails   makers who count only the excess, or print a table
    Source  NFPA 54 11.1.2; checks ALT-4-2000 to ALT-4-7000, ALT-2
    """
    return ops.where(ops.less(free_altitude, altitude), 1.0 - fall * altitude, 1.0 + 0.0 * altitude)


def share_by_table(*, altitude: Number, table: Sequence[tuple[float, float]]) -> Number:
    """Share of the sea-level input from a maker's table, straight lines between its rows.

    altitude  m above sea level, within the table, any shape
    table     (m, share) in rising order, two rows or more
    -> share of the input at sea level, fraction

    Holds   between the first and the last row
    Fails   beyond them: the last line is carried on, which the caller has to refuse
    Source  linear interpolation; checks ALT-TABLE-2000, ALT-TABLE-4500
    """
    share = _line(altitude, table[0], table[1])
    for left, right in itertools.pairwise(table[1:]):
        share = ops.where(ops.less(left[0], altitude), _line(altitude, left, right), share)
    return share


def _line(altitude: Number, left: tuple[float, float], right: tuple[float, float]) -> Number:
    return left[1] + (altitude - left[0]) * ((right[1] - left[1]) / (right[0] - left[0]))


def share_by_thin_gas(*, barometer: Number, set_barometer: Number) -> Number:
    """Heat input through one orifice at one gauge pressure in thinner gas, for each unit of input before.

    What nature takes off by itself: the root of the pressures. The air of a fan falls with the pressure itself, so an
    appliance carried uphill unchanged burns richer.

    barometer      Pa, absolute, at the new place, any shape
    set_barometer  Pa, absolute, where it was set
    -> share, fraction

    Holds   gauge pressure and temperature of the gas unchanged; gauge pressure small beside the barometer
    Fails   regulators that hold the absolute pressure
    Source  orifice flow and ideal-gas law; check ALT-THIN
    """
    return ops.sqrt(barometer / set_barometer)
