"""Heat in what a meter or a tank counted: gas at its own pressure and temperature, liquefied gas by volume."""

from collections.abc import Mapping
from typing import NamedTuple

from fluewright.kernel.components import COMBUSTION, COMPONENTS
from fluewright.kernel.ops import Number


class Liquefied(NamedTuple):
    """A liquefied gas, saturated, at 60 F.

    density          kg/m3 of the liquid
    heat_to_vapour   J/kg from the liquid to the ideal gas of the same temperature
    """

    density: float
    heat_to_vapour: float


LIQUEFIED: Mapping[str, Liquefied] = {
    "C3H8": Liquefied(506.687, 377_830.0),
    "nC4H10": Liquefied(583.628, 379_401.0),
    "iC4H10": Liquefied(562.276, 349_910.0),
}
"""Density and enthalpy step at 60 F: reference equations of state through CoolProp 8.0.0 (computed)."""


def heat_content_at_meter(
    *,
    heating_value: Number,
    reference_temperature: Number,
    reference_pressure: Number,
    meter_temperature: Number,
    meter_pressure: Number,
) -> Number:
    """Heat in a cubic metre as the meter counts it.

    A meter counts volume, not gas: on a mountain the same cubic metre holds a sixth less.

    heating_value          J/m3 at the reference, any shape
    reference_temperature  K, of the heating value
    reference_pressure     Pa, absolute, of the heating value
    meter_temperature      K, of the gas in the meter, any shape
    meter_pressure         Pa, absolute: barometer and gauge pressure together, any shape
    -> heat per metered volume, J/m3

    Holds   ideal gas between the two states; low pressure
    Fails   meters that correct for temperature or pressure themselves
    Source  ideal-gas law; checks ALT-012, ALT-013
    """
    return heating_value * (meter_pressure / reference_pressure) * (reference_temperature / meter_temperature)


def liquid_heating_value(*, component: str) -> float:
    """Gross heat of a liquefied gas by volume of liquid at 60 F.

    What a tank gauge counts. The liquid holds less heat than its vapour, by the heat of vaporisation.

    component  key of LIQUEFIED
    -> heating value gross, J/m3 of saturated liquid at 60 F

    Holds   the pure component; heat counted at 60 F
    Fails   KeyError for any other; commercial propane holds other gases
    Source  ISO 6976:2016 heating values less the step to vapour; checks GPA-006 to GPA-008
    """
    data, liquid = COMPONENTS[component], LIQUEFIED[component]
    of_vapour = data.gross[COMBUSTION.index("60F")] / data.molar_mass
    return (of_vapour - liquid.heat_to_vapour) * liquid.density
