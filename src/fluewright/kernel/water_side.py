"""Heat carried by water and by glycol mixtures: flow times rise with the properties of what really flows."""

from collections.abc import Mapping
from typing import NamedTuple

from fluewright.kernel import ops
from fluewright.kernel.ops import Number

_GALLON = 231.0 * 0.0254**3
HANDBOOK_WATER_FACTOR = 500.0 * (1055.05585262 / 3600.0) / (_GALLON / 60.0 * 5.0 / 9.0)
"""J/(m3 K): 500 Btu/h per gpm and degree Fahrenheit, the handbook form for cold water."""

WATER = "water"
_MIDDLE, _HALF = 333.15, 60.0
_WATER_DENSITY = (983.27698855, -30.85337779, -10.50575930, 1.92172314, -1.20086577, 0.53282465)
_WATER_HEAT_CAPACITY = (4184.49498, 25.889054, 27.086627, 2.6501788, 9.8612398, -15.9311085, 9.3356544)
"""In (T - 333.15 K)/60 K. Fitted to IAPWS-95 through CoolProp 8.0.0 at 3 bar, 0.01 C to 120 C (computed)."""


class Mixture(NamedTuple):
    """A glycol and water: coefficients by power of (T - 323.15 K)/50 K, then of (mass share - 0.3)/0.3."""

    density: tuple[tuple[float, ...], ...]
    heat_capacity: tuple[tuple[float, ...], ...]


MIXTURES: Mapping[str, Mixture] = {
    "ethylene glycol": Mixture(
        density=(
            (1023.495, 35.942, 0.034, -1.516),
            (-27.804, -7.457, 1.18, 0.49),
            (-6.178, 3.693, -0.209, -0.782),
        ),
        heat_capacity=(
            (3802.207, -473.982, -81.977, 28.464),
            (133.478, 136.652, 4.101, -14.442),
            (-12.686, -30.645, 3.707, -10.66),
        ),
    ),
    "propylene glycol": Mixture(
        density=(
            (1007.562, 18.502, -2.644, -2.614),
            (-29.639, -11.726, 0.052, 3.272),
            (-4.977, 3.66, -0.472, -0.487),
        ),
        heat_capacity=(
            (3934.668, -360.431, -118.215, 17.487),
            (130.798, 83.034, -6.032, 19.549),
            (-5.478, 1.057, 21.85, -19.401),
        ),
    ),
}
"""Fitted to CoolProp 8.0.0 INCOMP::MEG and INCOMP::MPG, 0 C to 100 C, mass share 5 % to 60 % (computed)."""

MIXTURE_DOUBT = 0.01 / 3.0**0.5
"""Relative standard uncertainty of density times heat capacity: published mixture data differ by about 1 %."""


def _of_mixture(rows: tuple[tuple[float, ...], ...], temperature: Number, glycol_share: Number) -> Number:
    share = (glycol_share - 0.3) / 0.3
    total: Number = 0.0
    warmth = (temperature - 323.15) / 50.0
    power: Number = 1.0
    for row in rows:
        total = total + power * ops.polynomial(share, row)
        power = power * warmth
    return total


def liquid_density(*, species: str, glycol_share: Number, temperature: Number) -> Number:
    """Density of water or of a glycol mixture.

    species       "water", or a key of MIXTURES
    glycol_share  kg glycol per kg of mixture, 0.05..0.6; left aside for water
    temperature   K, any shape
    -> density, kg/m3

    Holds   water 0 C to 120 C within 0.003 % of IAPWS-95 at 3 bar; mixtures 0 C to 100 C within 0.1 % of the tables
    Fails   KeyError for another liquid; 10 bar more make 0.05 % more; a mixture below its freezing point
    Source  fits to CoolProp 8.0.0; checks HYD-SI, DEL-LIQ-1 to DEL-LIQ-4
    """
    if species == WATER:
        return ops.polynomial((temperature - _MIDDLE) / _HALF, _WATER_DENSITY)
    return _of_mixture(MIXTURES[species].density, temperature, glycol_share)


def liquid_heat_capacity(*, species: str, glycol_share: Number, temperature: Number) -> Number:
    """Heat that a kilogram of water or of a glycol mixture takes for a kelvin.

    species       "water", or a key of MIXTURES
    glycol_share  kg glycol per kg of mixture, 0.05..0.6; left aside for water
    temperature   K, any shape
    -> heat capacity, J/(kg K)

    Holds   water 0 C to 120 C within 0.01 % of IAPWS-95 at 3 bar; mixtures 0 C to 100 C within 0.3 % of the tables
    Fails   as liquid_density
    Source  fits to CoolProp 8.0.0; checks HYD-140, HYD-180, HYD-EG30, DEL-LIQ-5 to DEL-LIQ-8
    """
    if species == WATER:
        return ops.polynomial((temperature - _MIDDLE) / _HALF, _WATER_HEAT_CAPACITY)
    return _of_mixture(MIXTURES[species].heat_capacity, temperature, glycol_share)


def water_factor(*, species: str, glycol_share: Number, temperature: Number, meter_temperature: Number) -> Number:
    """Heat that a cubic metre as counted carries for each kelvin.

    A flow meter counts volume where it sits; the heat is taken up at the mean temperature.

    species            "water", or a key of MIXTURES
    glycol_share       kg glycol per kg of mixture; left aside for water
    temperature        K, mean of supply and return, any shape
    meter_temperature  K, where the flow is counted, any shape
    -> heat per volume and kelvin, J/(m3 K)

    Holds   as liquid_density and liquid_heat_capacity
    Fails   as liquid_density
    Source  density times heat capacity; checks HYD-140, HYD-180, HYD-EG30
    """
    counted = liquid_density(species=species, glycol_share=glycol_share, temperature=meter_temperature)
    return counted * liquid_heat_capacity(species=species, glycol_share=glycol_share, temperature=temperature)


def heat_from_water_flow(*, water_flow: Number, water_factor: Number, water_rise: Number) -> Number:
    """Heat that water takes up between return and supply.

    water_flow    m3/s as counted, any shape
    water_factor  J/(m3 K), any shape
    water_rise    K, supply less return, any shape
    -> heat given to the water, W

    Holds   steady, one flow through both thermometers
    Fails   a bypass between them; a rise within the doubt of two thermometers
    Source  first law; check HYD-500
    """
    return water_flow * water_factor * water_rise


def water_flow_from_heat(*, heat_output: Number, water_factor: Number, water_rise: Number) -> Number:
    """Flow that carries this heat at this rise.

    heat_output   W, any shape
    water_factor  J/(m3 K), any shape
    water_rise    K, above 0, any shape
    -> water flow, m3/s as counted

    Holds   as heat_from_water_flow
    Fails   a rise near 0 gives no flow
    Source  first law; check HYD-SI
    """
    return heat_output / (water_factor * water_rise)
