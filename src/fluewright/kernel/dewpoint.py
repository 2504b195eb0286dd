"""Where the flue gas begins to sweat: water, and acid before it."""

from fluewright.kernel import ops, saturation
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.ops import Number

_PASCAL_PER_MMHG = 133.322387415
_PASCAL_PER_ATM = 101_325.0
_NEXT_TO_NOTHING = 1e-4
"""Pa2, so that a gas without any water has an answer; no dew point above 0 C feels it."""


def water(*, flue: FlueGas, pressure: Number) -> Number:
    """Water dew point of the flue gas.

    Below it a surface runs wet: wanted in a condensing appliance, ruin in any other.

    flue      flue gas per unit of fuel
    pressure  Pa, absolute, any shape
    -> water dew point, K

    Holds   above 0 C; nothing condensed upstream
    Fails   acid lowers the vapour pressure a little and condenses first; a gas without water comes out at 172 K
    Source  Dalton's law with IAPWS-IF97; checks DEW-001 to DEW-015
    """
    vapour = pressure * flue.water / (flue.dry + flue.water)
    return saturation.temperature(pressure=ops.sqrt(vapour * vapour + _NEXT_TO_NOTHING))


def acid_verhoff(*, water_pressure: Number, sulfur_trioxide_pressure: Number) -> Number:
    """Sulfuric acid dew point by Verhoff and Banchero.

    A trace of sulfur trioxide lifts the dew point by tens of kelvins.

    water_pressure            Pa, partial pressure, any shape
    sulfur_trioxide_pressure  Pa, partial pressure, above 0, any shape
    -> acid dew point, K

    Holds   SO3 0.1 to 100 ppm, H2O 3 to 20 %
    Fails   within 5 K of other correlations at best; SO3 is a guessed share of SO2
    Source  Verhoff and Banchero, Chem. Eng. Progress 70 (1974) 71, read with worked example in a secondary copy;
            one public copy misprints the cross term as 0.0082 for 0.0062; checks ACID-001 to ACID-003
    """
    h = ops.log(water_pressure / _PASCAL_PER_MMHG)
    s = ops.log(sulfur_trioxide_pressure / _PASCAL_PER_MMHG)
    return 1000.0 / (2.276 - 0.0294 * h - 0.0858 * s + 0.0062 * h * s)


def acid_okkes(*, water_pressure: Number, sulfur_trioxide_pressure: Number) -> Number:
    """Sulfuric acid dew point by Okkes, kept beside the other to show how far correlations differ.

    water_pressure            Pa, partial pressure, any shape
    sulfur_trioxide_pressure  Pa, partial pressure, above 1e-3, any shape
    -> acid dew point, K

    Holds   as acid_verhoff; about 2 K lower
    Fails   below 1e-8 atm of SO3 the power has no real value
    Source  Okkes, Hydrocarbon Processing 66 (1987), read in a secondary copy; check ACID-004
    """
    ten = 2.302585092994046
    h = ops.log(water_pressure / _PASCAL_PER_ATM) / ten
    s = ops.log(sulfur_trioxide_pressure / _PASCAL_PER_ATM) / ten
    return 273.15 + 203.25 + 27.6 * h + 10.83 * s + 1.06 * ops.exp(2.19 * ops.log(s + 8.0))
