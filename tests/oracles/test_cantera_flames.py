"""A thousand random fuels burned completely, worked out again from Cantera's enthalpies and by counting atoms.

Cantera 3.2.0, nasa_gas.yaml. The balance here starts from the amount of air and counts forward; the kernel starts from
the oxygen reading and solves back.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import cantera as ct
import numpy as np
import pytest
from chances import STATES, dice, shares

from fluewright.kernel import air as airs
from fluewright.kernel import analysis, balance, saturation
from fluewright.kernel.components import COMPONENTS
from fluewright.kernel.constants import CARBON_MONOXIDE_HEAT
from fluewright.kernel.fuel import Fuel, gas

THEIRS = {species.name: species.thermo for species in ct.Species.list_from_file("nasa_gas.yaml")}
BURNING = ("CH4", "C2H6", "C3H8", "nC4H10", "H2", "CO", "C2H4")
INERT = ("N2", "CO2")


@dataclass(frozen=True)
class Burned:
    """One fuel burned with a known amount of air."""

    fractions: dict[str, float]
    fuel: Fuel
    air: airs.Air
    air_ratio: float
    unburned: float
    flue_temperature: float
    air_temperature: float
    fuel_temperature: float


def burned() -> Iterator[Burned]:
    """A thousand of them."""
    chance = dice(20)
    for _ in range(STATES):
        fractions = {name: 0.85 * part for name, part in shares(chance, BURNING, most=4).items()}
        for name, part in shares(chance, INERT, most=2).items():
            fractions[name] = 0.15 * part
        air_temperature = chance.uniform(255.0, 310.0)
        air = airs.humid(
            relative_humidity=chance.uniform(0.0, 1.0),
            temperature=air_temperature,
            pressure=chance.uniform(70_000.0, 104_000.0),
        )
        carbon = sum(part * COMPONENTS[name].atoms.get("C", 0) for name, part in fractions.items())
        yield Burned(
            fractions,
            gas(name="made up", mole_fractions=fractions),
            air,
            chance.uniform(1.0, 6.0),
            chance.uniform(0.0, 0.01) * carbon,
            chance.uniform(300.0, 950.0),
            air_temperature,
            float(chance.choice((298.15, air_temperature, chance.uniform(255.0, 330.0)))),
        )


def forward(case: Burned) -> tuple[float, dict[str, float]]:
    """Mol of dry air, and of each gas in the flue, for a mole of fuel, counted atom by atom."""
    atoms = dict.fromkeys("CHON", 0.0)
    for name, part in case.fractions.items():
        for atom, count in COMPONENTS[name].atoms.items():
            atoms[atom] += part * count
    need = atoms["C"] + atoms["H"] / 4 - atoms["O"] / 2
    a = case.air_ratio * need / case.air.oxygen
    return a, {
        "CO2": atoms["C"] - case.unburned + a * case.air.carbon_dioxide,
        "CO": case.unburned,
        "H2O": atoms["H"] / 2 + a * case.air.water_ratio,
        "O2": a * case.air.oxygen - need + case.unburned / 2,
        "N2": atoms["N"] / 2 + a * case.air.nitrogen,
        "Ar": a * case.air.argon,
    }


def warmth(amounts: dict[str, float], temperature: float) -> float:
    """Sensible enthalpy above 25 C by Cantera, J."""
    return sum(n * (THEIRS[s].h(temperature) - THEIRS[s].h(298.15)) for s, n in amounts.items()) / 1000.0


def test_a_thousand_fuels_burned_completely() -> None:
    worst = 0.0
    for case in burned():
        amount, flue = forward(case)
        dry = sum(n for s, n in flue.items() if s != "H2O")
        done = analysis.analyse(
            prepared=analysis.prepare(fuel=case.fuel, air=case.air),
            oxygen_dry_fraction=flue["O2"] / dry,
            carbon_monoxide_dry_fraction=flue["CO"] / dry,
            flue_temperature=case.flue_temperature,
            air_temperature=case.air_temperature,
            fuel_temperature=case.fuel_temperature,
        )
        assert done.air_ratio == pytest.approx(case.air_ratio, rel=1e-10)
        assert done.carbon_dioxide_dry == pytest.approx(flue["CO2"] / dry - case.air.carbon_dioxide, abs=1e-12)
        assert done.flue.water == pytest.approx(flue["H2O"], rel=1e-10, abs=1e-12)
        into = {
            "O2": amount * case.air.oxygen,
            "N2": amount * case.air.nitrogen,
            "Ar": amount * case.air.argon,
            "CO2": amount * case.air.carbon_dioxide,
            "H2O": amount * case.air.water_ratio,
        }
        brought = warmth(into, case.air_temperature)
        brought += case.fuel.heat_capacity * (case.fuel_temperature - 298.15)
        released = case.fuel.heating_value_net - flue["CO"] * CARBON_MONOXIDE_HEAT
        useful = released + brought - warmth(flue, case.flue_temperature)
        worst = max(worst, abs(done.efficiency_gross - useful / case.fuel.heating_value_gross))
    assert worst < 1e-8, "the data are the same; only the eighth digit of the coefficients may differ"


def test_a_thousand_efficiencies_from_formation_enthalpies_alone() -> None:
    """The whole way by Cantera: heat as the fall of absolute enthalpy from fuel and air to the flue gas, no table of
    heating values. What is left is the distance between ISO 6976 and NASA heats: 0.1 % of the heating value."""
    names = {"nC4H10": "C4H10,n-butane"}
    for case in burned():
        amount, flue = forward(case)
        dry = sum(n for s, n in flue.items() if s != "H2O")
        done = analysis.analyse(
            prepared=analysis.prepare(fuel=case.fuel, air=case.air),
            oxygen_dry_fraction=flue["O2"] / dry,
            carbon_monoxide_dry_fraction=flue["CO"] / dry,
            flue_temperature=case.flue_temperature,
            air_temperature=case.air_temperature,
            fuel_temperature=case.fuel_temperature,
        )
        into = {
            "O2": amount * case.air.oxygen,
            "N2": amount * case.air.nitrogen,
            "Ar": amount * case.air.argon,
            "CO2": amount * case.air.carbon_dioxide,
            "H2O": amount * case.air.water_ratio,
        }
        total = sum(n * THEIRS[s].h(case.air_temperature) for s, n in into.items())
        total += sum(n * THEIRS[names.get(s, s)].h(case.fuel_temperature) for s, n in case.fractions.items())
        total -= sum(n * THEIRS[s].h(case.flue_temperature) for s, n in flue.items())
        found = total / 1000.0 / case.fuel.heating_value_gross
        assert done.efficiency_gross == pytest.approx(found, abs=1e-3)


def test_a_thousand_dew_points() -> None:
    """The dew point is where saturated vapour takes as much room as the vapour that is there: counted forward."""
    chance = dice(21)
    for case in burned():
        pressure = chance.uniform(70_000.0, 104_000.0)
        _, amounts = forward(case)
        total = sum(amounts.values())
        if amounts["H2O"] / total < 0.02:
            continue
        flue = balance.from_dry_oxygen(
            fuel=case.fuel,
            air=case.air,
            oxygen_dry_fraction=amounts["O2"] / (total - amounts["H2O"]),
            carbon_monoxide_dry_fraction=amounts["CO"] / (total - amounts["H2O"]),
        )
        dew = analysis.water_dew_point(flue=flue, pressure=pressure)
        vapour = saturation.pressure(temperature=dew)
        assert vapour / pressure == pytest.approx(amounts["H2O"] / total, rel=1e-8)


def test_the_oracle_sees_a_wrong_gas() -> None:
    """A thousandth more oxygen in the flue gas is far outside what the comparison lets pass."""
    case = next(burned())
    _, flue = forward(case)
    wrong = flue | {"O2": flue["O2"] * 1.001}
    gap = abs(warmth(wrong, case.flue_temperature) - warmth(flue, case.flue_temperature))
    assert gap / case.fuel.heating_value_gross > 1e-8
    assert np.isfinite(gap)
