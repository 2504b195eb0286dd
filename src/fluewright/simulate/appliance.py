"""A small physical model of a boiler on its flue side: mixing, flame, exchanger, and the cells that look at it.

Carbon monoxide comes from uneven mixing: where the local air ratio falls below one, the gas is quenched at 1500 K with
the carbon monoxide it has in equilibrium there. The flue temperature comes from flame temperature and exchanger size.
"""

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass

from fluewright.kernel import balance, equilibrium
from fluewright.kernel.air import Air
from fluewright.kernel.fuel import Fuel

QUENCH = 1500.0
"""K, where products of a rich pocket stop reacting (kernel.balance.SHIFT_CONSTANT holds the same temperature)."""

_NODES = (-2.856970, -1.355626, 0.0, 1.355626, 2.856970)
_WEIGHTS = (0.011257, 0.222076, 0.533333, 0.222076, 0.011257)
"""Five-point Gauss-Hermite quadrature of a normal distribution (Abramowitz and Stegun table 25.10, rescaled)."""

T90 = {"oxygen_dry": 20.0, "carbon_monoxide_dry": 40.0, "flue_temperature": 30.0, "air_temperature": 60.0}
"""s to 90 % of a step: common practice, no source."""
NOISE = {"oxygen_dry": 0.0004, "carbon_monoxide_dry": 0.8e-6, "flue_temperature": 0.25, "air_temperature": 0.1}
"""Standard deviation of one sample, canonical units: invented."""


@dataclass(frozen=True, slots=True)
class Boiler:
    """The condition of a boiler for one run.

    air_ratio   -, of the flame as a whole
    unevenness  standard deviation of the local air ratio, relative
    transfer    heat-transfer units of the clean exchanger at exact air
    fouling     share of the transfer that soot has taken, 0..1
    water       K, mean water temperature
    air         K, combustion air
    """

    air_ratio: float
    unevenness: float
    transfer: float
    fouling: float
    water: float
    air: float


def carbon_monoxide(*, fuel: Fuel, air: Air, air_ratio: float, unevenness: float) -> float:
    """Carbon monoxide of a flame whose air is unevenly spread.

    fuel, air   what burns in what
    air_ratio   -, as a whole
    unevenness  relative standard deviation of the local air ratio
    -> mol/mol dry of the mixed flue gas
    """
    monoxide = dry = 0.0
    for node, weight in zip(_NODES, _WEIGHTS, strict=True):
        local = max(0.5, air_ratio * (1.0 + unevenness * node))
        elements = equilibrium.elements_of(fuel=fuel, air=air, air_ratio=local)
        mixture = equilibrium.at_temperature(elements=elements, temperature=QUENCH, pressure=101_325.0)
        amount = sum(n for name, n in mixture.amounts.items() if name != "H2O")
        monoxide += weight * mixture.amounts.get("CO", 0.0)
        dry += weight * amount
    return monoxide / dry


def flue_temperature(*, fuel: Fuel, air: Air, boiler: Boiler) -> float:
    """Flue temperature behind an exchanger with water at one temperature, in K.

    More air means a colder flame and more gas to cool: both are in it. Effectiveness of an exchanger whose other side
    stays at one temperature: 1 - exp(-transfer units).
    """
    elements = equilibrium.elements_of(fuel=fuel, air=air, air_ratio=boiler.air_ratio)
    heat = equilibrium.enthalpy_of(fuel=fuel, air=air, air_ratio=boiler.air_ratio, temperature=boiler.air)
    flame = equilibrium.adiabatic(elements=elements, enthalpy=heat, pressure=101_325.0).temperature
    units = boiler.transfer * (1.0 - boiler.fouling) / boiler.air_ratio
    return boiler.water + (flame - boiler.water) * math.exp(-units)


@dataclass(frozen=True, slots=True)
class Sample:
    """One second of a run: seconds since lighting and the values shown, by registry name."""

    seconds: int
    shown: dict[str, float]


def _truth(seconds: int, settled: dict[str, float], cold: dict[str, float]) -> dict[str, float]:
    """What is in the flue: the flame at once, the exchanger slowly, and a puff of CO at lighting."""
    warm = 1.0 - math.exp(-seconds / 90.0)
    puff = 400e-6 * math.exp(-seconds / 6.0)
    return {
        "oxygen_dry": settled["oxygen_dry"],
        "carbon_monoxide_dry": settled["carbon_monoxide_dry"] + puff,
        "flue_temperature": cold["flue_temperature"] + (settled["flue_temperature"] - cold["flue_temperature"]) * warm,
        "air_temperature": settled["air_temperature"],
    }


def run(*, fuel: Fuel, air: Air, boiler: Boiler, seconds: int, seed: int, before: int = 30) -> Iterator[Sample]:
    """One firing as the instrument shows it, a sample a second, beginning before the burner lights.

    fuel, air  what burns in what
    boiler     its condition
    seconds    how long it fires
    seed       of the noise, so that a run can be repeated
    before     seconds of fresh air before lighting
    -> samples
    """
    noise = random.Random(seed)
    flue = balance.from_air_ratio(fuel=fuel, air=air, air_ratio=boiler.air_ratio)
    settled = {
        "oxygen_dry": float(flue.oxygen / flue.dry),
        "carbon_monoxide_dry": carbon_monoxide(
            fuel=fuel, air=air, air_ratio=boiler.air_ratio, unevenness=boiler.unevenness
        ),
        "flue_temperature": flue_temperature(fuel=fuel, air=air, boiler=boiler),
        "air_temperature": boiler.air,
    }
    cold = {
        "oxygen_dry": air.oxygen,
        "carbon_monoxide_dry": 0.0,
        "flue_temperature": boiler.water,
        "air_temperature": boiler.air,
    }
    cells = dict(cold)
    for second in range(-before, seconds):
        truth = cold if second < 0 else _truth(second, settled, cold)
        for name, value in truth.items():
            cells[name] += (value - cells[name]) * (1.0 - 10.0 ** (-1.0 / T90[name]))
        yield Sample(second, {name: value + noise.gauss(0.0, NOISE[name]) for name, value in cells.items()})
