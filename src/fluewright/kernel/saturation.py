"""Where water vapour and liquid water, or ice, are in balance."""

from fluewright.kernel import ops
from fluewright.kernel.constants import WATER_MOLAR_MASS
from fluewright.kernel.ops import Number

# IAPWS-IF97, region 4, table 34; from memory, checked against the iapws package in tests
_N = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)
_TRIPLE_TEMPERATURE = 273.16
_TRIPLE_PRESSURE = 611.657
# IAPWS R14-08(2011), sublimation pressure, equation 6; from memory, checked against the iapws package in tests
_ICE = ((-0.212144006e2, 0.333333333e-2), (0.273203819e2, 0.120666667e1), (-0.610598130e1, 0.170333333e1))


def pressure(*, temperature: Number) -> Number:
    """Saturation pressure of water over liquid, or over ice below the triple point.

    The most vapour a gas can hold; anything beyond condenses.

    temperature  K, 190..647, any shape
    -> saturation pressure, Pa, same shape

    Holds   190 K to 647 K
    Fails   extrapolates without warning outside
    Source  IAPWS-IF97 region 4 (saturation line), IAPWS R14-08(2011) (ice); check DEW-016
    """
    theta = temperature + _N[8] / (temperature - _N[9])
    a = theta * theta + _N[0] * theta + _N[1]
    b = _N[2] * theta * theta + _N[3] * theta + _N[4]
    c = _N[5] * theta * theta + _N[6] * theta + _N[7]
    root = 2.0 * c / (ops.sqrt(b * b - 4.0 * a * c) - b)
    liquid = root * root * root * root * 1e6
    tau = temperature / _TRIPLE_TEMPERATURE
    exponent = 0.0
    for factor, power in _ICE:
        exponent = exponent + factor * ops.exp(power * ops.log(tau))
    ice = _TRIPLE_PRESSURE * ops.exp(exponent / tau)
    return ops.where(ops.less(temperature, _TRIPLE_TEMPERATURE), ice, liquid)


def temperature(*, pressure: Number) -> Number:
    """Temperature at which vapour of this partial pressure begins to condense.

    The inverse of the saturation line, exact, without iteration.

    pressure  Pa, partial pressure of the vapour, 611.2..22 064 000, any shape
    -> saturation temperature, K, same shape

    Holds   273.15 K to 647 K, over liquid water
    Fails   below 611 Pa it follows supercooled water, not frost
    Source  IAPWS-IF97 region 4, backward equation
    """
    beta = ops.sqrt(ops.sqrt(pressure / 1e6))
    e = beta * beta + _N[2] * beta + _N[5]
    f = _N[0] * beta * beta + _N[3] * beta + _N[6]
    g = _N[1] * beta * beta + _N[4] * beta + _N[7]
    d = 2.0 * g / (-f - ops.sqrt(f * f - 4.0 * e * g))
    total = _N[9] + d
    return (total - ops.sqrt(total * total - 4.0 * (_N[8] + _N[9] * d))) / 2.0


def latent_heat(*, temperature: Number) -> Number:
    """Heat given back when a mole of vapour condenses at this temperature.

    The prize of a condensing appliance; it shrinks as the water gets warmer.

    temperature  K, 273..373, any shape
    -> latent heat, J/mol, same shape

    Holds   0 C to 100 C within 0.01 %
    Fails   bends away above 100 C
    Source  cubic fitted to 41 values of IAPWS-95 (CoolProp 8.0.0) from 0 to 100 C; check CP-042
    """
    celsius = temperature - 273.15
    return ops.polynomial(celsius, (2_500_904.0, -2_374.542, 0.51976, -0.0122358)) * WATER_MOLAR_MASS
