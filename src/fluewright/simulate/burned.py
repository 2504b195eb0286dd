"""A fuel per joule of its heat: the air it needs, what it turns into, how hot, what a rich pocket leaves."""

import math
from dataclasses import dataclass
from functools import cache

from fluewright.fuels.load import load
from fluewright.kernel import equilibrium
from fluewright.kernel.air import DRY_AIR

QUENCH = 1500.0
"""K, where products of a rich pocket stop reacting (kernel.balance.SHIFT_CONSTANT holds the same temperature)."""
AIR_MASS = 0.028965
"""kg/mol of dry air (ISO 6976:2016, from memory)."""
OXYGEN_SHARE = 0.2095
_WARM = (30.6, 0.0036)
_WARM_WATER = (34.2, 0.0061)
"""J/(mol K) and J/(mol K2) of dry flue gas and of vapour above 300 K: fitted by eye to NASA TM-4513, within 2 %."""
_RICH = 0.9
"""Air ratio at which the monoxide of rich gas is taken; it is nearly straight from there to exact air."""


@dataclass(frozen=True, slots=True)
class Burned:
    """One joule of gross heat and what comes of it; mol/J unless said.

    need      oxygen wanted
    dry       dry products at exact air
    carbon    carbon dioxide among them
    water     vapour
    mass      kg/J of fuel
    net       J net for a joule gross
    rich      mol monoxide per mol dry for each unit of air ratio below 1
    """

    need: float
    dry: float
    carbon: float
    water: float
    mass: float
    net: float
    rich: float

    @property
    def air(self) -> float:
        """Mol of dry air for a joule at exact air."""
        return self.need / OXYGEN_SHARE

    @property
    def carbon_dioxide_most(self) -> float:
        """Highest share of carbon dioxide in dry gas."""
        return self.carbon / self.dry

    def dry_at(self, air_ratio: float) -> float:
        """Mol of dry gas for a joule."""
        return self.dry + (air_ratio - 1.0) * self.air

    def flame(self, *, air_ratio: float, temperature: float) -> float:
        """Temperature in K of a flame that loses nothing, without dissociation; air and fuel at `temperature`."""
        dry, water = self.dry_at(max(air_ratio, 1.0)), self.water
        heat = self.net * min(1.0, air_ratio)
        level = dry * _WARM[0] + water * _WARM_WATER[0]
        slope = 0.5 * (dry * _WARM[1] + water * _WARM_WATER[1])
        risen = 2.0 * heat / (level + math.sqrt(level * level + 4.0 * slope * heat))
        return temperature + risen


@cache
def burned(fuel: str) -> Burned:
    """A fuel of the library, per joule."""
    made = load(fuel).fuel
    heat = float(made.heating_value_gross)
    need = float(made.carbon + made.sulfur + made.hydrogen / 4.0 - made.oxygen / 2.0)
    elements = equilibrium.elements_of(fuel=made, air=DRY_AIR, air_ratio=_RICH)
    rich = equilibrium.at_temperature(elements=elements, temperature=QUENCH, pressure=101_325.0)
    nitrogen = need / OXYGEN_SHARE * (1.0 - OXYGEN_SHARE)
    dry = float(made.carbon + made.sulfur + made.nitrogen / 2.0) + nitrogen
    water = float(made.hydrogen / 2.0 + made.water)
    return Burned(
        need=need / heat,
        dry=dry / heat,
        carbon=float(made.carbon) / heat,
        water=water / heat,
        mass=float(made.mass) / heat,
        net=float(made.heating_value_net) / heat,
        rich=rich.dry_fraction("CO") / (1.0 - _RICH),
    )
