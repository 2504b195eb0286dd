"""Carbon monoxide in blood, by the equation of Coburn, Forster and Kane (Journal of Clinical Investigation, 1965).

An indication of exposure and never a diagnosis: people differ, and the blood in an arm lags behind by minutes.
"""

from collections.abc import Mapping
from typing import NamedTuple

from fluewright.kernel import ops
from fluewright.kernel.ops import Number

_MILLIMETRE = 133.322387415
"""Pa in a conventional millimetre of mercury."""
_MILLILITRE = 1e-6
_MINUTE = 60.0
_PER_RESISTANCE = _MILLILITRE / _MINUTE / _MILLIMETRE
"""m3/(s Pa) in one mL/(min mmHg)."""
_LONGEST = 1000.0
"""Time constants after which nothing is left of the start: exp(-1000) is 0 in binary numbers."""
_STEPS = 40
"""Steps of Newton's rule; the slowest case found takes 9."""
_LN2 = 0.6931471805599453


class Body(NamedTuple):
    """One grown person's blood, and the pressure of the gases it meets.

    blood_volume    m3
    capacity        m3 of gas that the haemoglobin in a m3 of blood can hold
    affinity        how many times better haemoglobin holds carbon monoxide than oxygen (Haldane's M)
    oxygen          Pa, mean pressure of oxygen in the capillaries of the lung
    endogenous      m3/s of carbon monoxide that the body makes itself
    vapour          Pa, water vapour in the lung; 0 in the forms that leave it out
    """

    blood_volume: float
    capacity: float
    affinity: float
    oxygen: float
    endogenous: float
    vapour: float


RESTING_BODY = Body(
    5500.0 * _MILLILITRE,
    0.2,
    218.0,
    100.0 * _MILLIMETRE,
    0.007 * _MILLILITRE / _MINUTE,
    47.0 * _MILLIMETRE,
)
"""Peterson and Stewart 1970 and NIOSH 1972, from memory; M 218 and 0.007 mL/min read in public copies of sheets."""
DRY_BODY = RESTING_BODY._replace(vapour=0.0)
"""As the alarm standard and the regulator's sheet have it: water vapour left out. 760 mmHg gives the printed 1316."""
SHEET_BODY = DRY_BODY._replace(oxygen=2.3 * 218.0 * 0.2 * _MILLIMETRE)
"""As DRY_BODY, with the sheet's rounded 2.3 mmHg for oxygen over affinity times capacity."""


class Activity(NamedTuple):
    """How hard somebody breathes.

    diffusing_capacity  m3/(s Pa), of the lung for carbon monoxide
    ventilation         m3/s of air that reaches the alveoli
    """

    diffusing_capacity: float
    ventilation: float


def _active(capacity: float, litres: float) -> Activity:
    """From mL/(min mmHg) and L/min, as tables print them."""
    return Activity(capacity * _PER_RESISTANCE, litres * 1e-3 / _MINUTE)


ACTIVITIES: Mapping[str, Activity] = {
    "sedentary": _active(30.0, 6.0),
    "light": _active(40.0, 18.0),
    "heavy": _active(60.0, 30.0),
}
"""NIOSH criteria document 1972, from memory."""
SHEET_ACTIVITIES: Mapping[str, Activity] = {
    "rest": _active(20.0, 6.0),
    "sedentary": _active(25.0, 12.0),
    "light": _active(30.0, 18.0),
    "moderate": _active(40.0, 24.0),
    "very heavy": _active(50.0, 30.0),
}
"""Another set, read in a public model of the OSHA calculation sheet: it differs, so a result says which one it used."""

HALF_LIVES: Mapping[str, float] = {"air": 19_200.0, "oxygen": 4_800.0, "hyperbaric oxygen": 1_380.0}
"""s, half-life of carboxyhaemoglobin by what is breathed: 320, 80 and 23 minutes (MIOSHA sheet, read)."""
BASELINE = 0.005
"""Carboxyhaemoglobin of somebody who does not smoke (WHO guidelines for Europe: 0.5 to 0.8 %, read)."""
SMOKERS: Mapping[int, float] = {6: 0.02, 20: 0.05, 40: 0.10, 67: 0.20}
"""Carboxyhaemoglobin by cigarettes a day (public model of the OSHA calculation sheet, read)."""


def uptake_resistance(
    *, diffusing_capacity: Number, ventilation: Number, pressure: Number, vapour_pressure: Number
) -> Number:
    """What holds carbon monoxide back on its way into the blood: the wall of the lung, and breathing itself.

    diffusing_capacity  m3/(s Pa), any shape
    ventilation         m3/s that reaches the alveoli, any shape
    pressure            Pa, barometer, any shape
    vapour_pressure     Pa, of water in the lung, any shape
    -> resistance B, Pa s/m3

    Holds   grown people
    Fails   sick lungs
    Source  Coburn, Forster and Kane 1965 (grouping read at coheadquarters.com/CFKEqu1.htm); checks CFK-B
    """
    return 1.0 / diffusing_capacity + (pressure - vapour_pressure) / ventilation


def _inhaled(body: Body, carbon_monoxide: Number, pressure: Number, resistance: Number) -> Number:
    """Driving pressure of carbon monoxide, that of the body's own making included, Pa."""
    return carbon_monoxide * (pressure - body.vapour) + body.endogenous * resistance


def _ratio(body: Body, carbon_monoxide: Number, pressure: Number, resistance: Number) -> Number:
    """Haemoglobin with carbon monoxide over that with oxygen, in the end."""
    return body.affinity * _inhaled(body, carbon_monoxide, pressure, resistance) / body.oxygen


def _rate(body: Body, resistance: Number) -> Number:
    """How fast carbon monoxide leaves the blood while it holds little, 1/s."""
    return body.oxygen / (body.affinity * body.capacity * body.blood_volume * resistance)


def equilibrium_carboxyhaemoglobin(
    *, body: Body, carbon_monoxide_room_fraction: Number, pressure: Number, uptake_resistance: Number
) -> Number:
    """Share of the haemoglobin that is taken in the end, however long somebody stays.

    body                           blood and gas pressures
    carbon_monoxide_room_fraction  mol/mol breathed, any shape
    pressure                       Pa, barometer, any shape
    uptake_resistance              Pa s/m3, any shape
    -> carboxyhaemoglobin, fraction

    Holds   oxygen pressure in the capillaries as in the body given
    Fails   people do not live to see it from a few hundred ppm on
    Source  Haldane's relation in Coburn, Forster and Kane 1965; check CFK-EQ-100
    """
    ratio = _ratio(body, carbon_monoxide_room_fraction, pressure, uptake_resistance)
    return ratio / (1.0 + ratio)


def carboxyhaemoglobin(
    *,
    body: Body,
    carbon_monoxide_room_fraction: Number,
    pressure: Number,
    uptake_resistance: Number,
    duration: Number,
    initial_carboxyhaemoglobin: Number,
) -> Number:
    """Share of the haemoglobin that is taken after breathing one level for a time, by the full equation.

    Less oxygen is left on the haemoglobin the more carbon monoxide it holds. For a level that stays, the equation has a
    closed answer for the time: with w the logarithm of how near the end has come and E the share in the end,
    t (a + b) = (1 - E) w + (E - start) (1 - exp(-w)). It is solved for w, so no step size limits it.

    body                           blood and gas pressures
    carbon_monoxide_room_fraction  mol/mol breathed, any shape
    pressure                       Pa, barometer, any shape
    uptake_resistance              Pa s/m3, any shape
    duration                       s, may be endless, any shape
    initial_carboxyhaemoglobin     fraction at the start, below 1, any shape
    -> carboxyhaemoglobin, fraction

    Holds   one level breathed all the time; solved to the noise of binary numbers
    Fails   minutes after a high level the blood of an arm has less (Benignus 1994, abstract read)
    Source  Coburn, Forster and Kane 1965; checks CFK-NL, CFK-ST
    """
    ratio = _ratio(body, carbon_monoxide_room_fraction, pressure, uptake_resistance)
    end, start = ratio / (1.0 + ratio), initial_carboxyhaemoglobin
    goal = ops.minimum(_rate(body, uptake_resistance) * (1.0 + ratio) * duration, _LONGEST)
    plain_end, plain_start, plain_goal = ops.value_of(end), ops.value_of(start), ops.value_of(goal)
    near = plain_goal * 1.0
    for _ in range(_STEPS):
        left = ops.exp(-1.0 * near)
        passed = (1.0 - plain_end) * near + (plain_end - plain_start) * (1.0 - left)
        near = near + (plain_goal - passed) / ((1.0 - plain_end) + (plain_end - plain_start) * left)
    left = ops.exp(-1.0 * near)
    slope = (1.0 - plain_end) + (plain_end - plain_start) * left
    near = near + (goal - (1.0 - end) * near - (end - start) * (1.0 - left)) / slope
    return end + (start - end) * ops.exp(-1.0 * near)


def linear_carboxyhaemoglobin(
    *,
    body: Body,
    carbon_monoxide_room_fraction: Number,
    pressure: Number,
    uptake_resistance: Number,
    duration: Number,
    initial_carboxyhaemoglobin: Number,
) -> Number:
    """The same with the oxygen on the haemoglobin held as it was at first: the short form of standards and sheets.

    body                           blood and gas pressures; DRY_BODY for the form behind the alarm standard
    carbon_monoxide_room_fraction  mol/mol breathed, any shape
    pressure                       Pa, barometer, any shape
    uptake_resistance              Pa s/m3, any shape
    duration                       s, may be endless, any shape
    initial_carboxyhaemoglobin     fraction at the start, any shape
    -> carboxyhaemoglobin, fraction; never below the full equation, and above 1 for levels that kill

    Holds   a few per cent: in the end it is too high by about its own share, 5 % at 5 %, 31 % at 24 %
    Fails   high levels
    Source  Peterson and Stewart 1970 (from memory); checks CFK-UL
    """
    end = _ratio(body, carbon_monoxide_room_fraction, pressure, uptake_resistance)
    left = ops.exp(-1.0 * _rate(body, uptake_resistance) * duration)
    return end + (initial_carboxyhaemoglobin - end) * left


def half_life(*, body: Body, uptake_resistance: Number) -> Number:
    """Time in which half of a little carboxyhaemoglobin leaves again.

    body               blood and gas pressures
    uptake_resistance  Pa s/m3, any shape
    -> half-life, s

    Holds   little carboxyhaemoglobin, breathing air
    Fails   oxygen shortens it: see HALF_LIVES
    Source  linear form of Coburn, Forster and Kane 1965; checks CFK-thalf
    """
    return _LN2 / _rate(body, uptake_resistance)


def duration_to_carboxyhaemoglobin(
    *,
    body: Body,
    carbon_monoxide_room_fraction: Number,
    pressure: Number,
    uptake_resistance: Number,
    initial_carboxyhaemoglobin: Number,
    carboxyhaemoglobin: Number,
) -> Number:
    """How long one level has to be breathed until the short form reaches a share.

    body                           blood and gas pressures
    carbon_monoxide_room_fraction  mol/mol breathed, any shape
    pressure                       Pa, barometer, any shape
    uptake_resistance              Pa s/m3, any shape
    initial_carboxyhaemoglobin     fraction at the start, any shape
    carboxyhaemoglobin             fraction to be reached, any shape
    -> duration, s; endless where it is never reached

    Holds   as linear_carboxyhaemoglobin
    Fails   as linear_carboxyhaemoglobin
    Source  its inverse; checks CFK-UL-t10
    """
    end = _ratio(body, carbon_monoxide_room_fraction, pressure, uptake_resistance)
    whole = end - initial_carboxyhaemoglobin
    moves = ops.less(0.0, whole * whole)
    left = (end - carboxyhaemoglobin) / ops.where(moves, whole, 1.0)
    reached = ops.less(0.0, left)
    taken = -1.0 * ops.log(ops.where(reached, left, 1.0)) / _rate(body, uptake_resistance)
    endless = float("inf")
    return ops.where(moves, ops.where(reached, ops.where(ops.less(1.0, left), endless, taken), endless), endless)


def carboxyhaemoglobin_at_leaving(*, carboxyhaemoglobin: Number, duration: Number, half_life: Number) -> Number:
    """What the blood held when somebody left bad air, from a sample taken later.

    carboxyhaemoglobin  fraction in the sample, any shape
    duration            s between leaving and the sample, any shape
    half_life           s, by what was breathed since, any shape
    -> carboxyhaemoglobin, fraction

    Holds   halving at one pace
    Fails   the pace differs from person to person by a third (Weaver 2000: 74 +/- 25 min on oxygen)
    Source  MIOSHA sheet, revision 1.0 (formula read in a public copy); checks CO-MI
    """
    return carboxyhaemoglobin * ops.exp(_LN2 * duration / half_life)


def fraction_from_carboxyhaemoglobin(
    *,
    body: Body,
    carboxyhaemoglobin: Number,
    initial_carboxyhaemoglobin: Number,
    duration: Number,
    pressure: Number,
    uptake_resistance: Number,
) -> Number:
    """Level that must have been breathed for the blood to hold what it held.

    body                        blood and gas pressures; SHEET_BODY for the regulator's sheet
    carboxyhaemoglobin          fraction on leaving, any shape
    initial_carboxyhaemoglobin  fraction before, any shape
    duration                    s of exposure, above 0, any shape
    pressure                    Pa, barometer, any shape
    uptake_resistance           Pa s/m3, any shape
    -> carbon monoxide, mol/mol

    Holds   one level breathed all the time
    Fails   short exposures, where a small error of the blood sample is a large one of the level
    Source  inverse of linear_carboxyhaemoglobin, as the MIOSHA sheet, revision 1.0 (read) has it; checks CO-MI
    """
    left = ops.exp(-1.0 * _rate(body, uptake_resistance) * duration)
    end = (carboxyhaemoglobin - initial_carboxyhaemoglobin * left) / (1.0 - left)
    driving = end * body.oxygen / body.affinity
    return (driving - body.endogenous * uptake_resistance) / (pressure - body.vapour)
