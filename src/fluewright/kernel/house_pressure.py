"""Pressure of a house against outdoors: from warmth, from fans, and where neither is felt."""

from fluewright.kernel import ops
from fluewright.kernel.air import MOLAR_MASS
from fluewright.kernel.constants import GAS_CONSTANT, GRAVITY
from fluewright.kernel.ops import Number

EXPONENT = 0.65
"""How leaks of a house answer to pressure, between 0.5 for holes and 1 for fine cracks (common practice)."""

NEXT_TO_NOTHING = 1e-12
"""Flow over coefficient below which no fan runs: nothing itself has no logarithm."""


def stack_pressure(
    *, height: Number, outdoor_temperature: Number, room_temperature: Number, pressure: Number
) -> Number:
    """Pressure of a warm house over outdoors at a height over its neutral plane.

    In winter a house is a chimney: the cellar is drawn down, the attic pressed. A flue in the cellar has to pull
    against it.

    height               m over the neutral plane, below nothing under it, any shape
    outdoor_temperature  K, any shape
    room_temperature   K, any shape
    pressure             Pa, absolute, at the place, any shape
    -> pressure indoors over outdoors at that height, Pa; below nothing the room is drawn down

    Holds   one temperature indoors, floors open to each other, no wind
    Fails   tight floors, which each make a plane of their own
    Source  dP = 0.0342 p h (1/To - 1/Ti) (encyclopedia text, read); g M / R = 0.03416 K/m; check DR-STK-1
    """
    colder = 1.0 / outdoor_temperature - 1.0 / room_temperature
    return GRAVITY * MOLAR_MASS / GAS_CONSTANT * pressure * height * colder


def neutral_plane_from_openings(
    *,
    low_opening_area: Number,
    high_opening_area: Number,
    distance: Number,
    outdoor_temperature: Number,
    room_temperature: Number,
) -> Number:
    """Height over the low opening at which a warm house has the pressure of outdoors.

    The plane lies nearer the larger opening. An open attic hatch lifts it and draws the cellar down further.

    low_opening_area             m2, any shape
    high_opening_area            m2, any shape
    distance             m between the two, any shape
    outdoor_temperature  K, any shape
    room_temperature   K, any shape
    -> height over the low opening, m

    Holds   two openings of one shape, warmer indoors, no wind and no fans
    Fails   many openings, fans: then the plane may lie over the roof
    Source  h = H / (1 + (A1/A2)2 Ti/To), mass in equals mass out (ASHRAE Fundamentals, from memory); check DR-NPL
    """
    ratio = low_opening_area / high_opening_area
    return distance / (1.0 + ratio * ratio * (room_temperature / outdoor_temperature))


def _power(base: Number, exponent: Number) -> Number:
    """A power whose exponent may be uncertain too."""
    return ops.exp(exponent * ops.log(base))


def leakage_coefficient(*, leak_flow: Number, test_pressure: Number, exponent: Number = EXPONENT) -> Number:
    """How leaky a house is, from the flow that one pressure drives through it.

    leak_flow      m3/s at the test pressure, any shape
    test_pressure  Pa, commonly 50, any shape
    exponent       -, 0.5..1
    -> coefficient, m3/s at 1 Pa

    Holds   between a few pascals and the test pressure, the more surely the nearer the exponent
    Fails   far below the test pressure an exponent that is out by 0.05 moves the flow by a fifth
    Source  Q = C dP^n (power law of blower-door tests, from memory); check DR-LEAK
    """
    return leak_flow / _power(test_pressure, exponent)


def depressurisation_from_flow(
    *, exhaust_flow: Number, leakage_coefficient: Number, exponent: Number = EXPONENT
) -> Number:
    """How far fans draw a house below outdoors.

    What goes out has to come in through the leaks, and the leaks ask a pressure for it.

    exhaust_flow         m3/s out less what fans bring in, any shape
    leakage_coefficient  m3/s at 1 Pa, any shape
    exponent             -, 0.5..1
    -> pressure below outdoors, Pa; below nothing where fans press the house

    Holds   all leaks to outdoors, doors indoors open
    Fails   a closed room with the fan in it is drawn down further than the house
    Source  Q = C dP^n turned round; check DR-FAN
    """
    share = ops.maximum(abs(exhaust_flow) / leakage_coefficient, 0.0 * exhaust_flow + NEXT_TO_NOTHING)
    size = _power(share, 1.0 / exponent)
    return ops.where(ops.less(exhaust_flow, 0.0), -size, size)
