"""Enthalpy, heat capacity and entropy of every gas against Cantera with the same data: the arithmetic is witnessed.

Cantera 3.2.0, nasa_gas.yaml (NASA TM-4513). The data being the same, only roundings of the printed coefficients are
left: 2e-8 relative. That the data themselves are right is the business of the published checks.
"""

import cantera as ct
import numpy as np
import pytest
from chances import STATES, dice

from fluewright.kernel import components, gases

THEIRS = {species.name: species for species in ct.Species.list_from_file("nasa_gas.yaml")}
PER_KMOL = 1000.0


def temperatures(name: str) -> np.ndarray:
    """A thousand temperatures in the range of the data, half of them below 1000 K."""
    low = 300.0 if name == "SO2" else 200.0
    chance = dice(len(name))
    half = STATES // 2
    return np.concatenate([chance.uniform(low, 1000.0, half), chance.uniform(1000.0, 5000.0, half)])


@pytest.mark.parametrize("name", sorted(gases.SPECIES))
def test_a_thousand_temperatures(name: str) -> None:
    kelvin = temperatures(name)
    theirs = THEIRS[name].thermo
    pairs = (
        (gases.absolute_enthalpy, theirs.h, 8.3 * 300),
        (gases.heat_capacity, theirs.cp, 0.0),
        (gases.entropy, theirs.s, 0.0),
    )
    for ours, witness, floor in pairs:
        expected = np.array([witness(t) for t in kelvin]) / PER_KMOL
        found = ours(species=name, temperature=kelvin)
        assert np.max(np.abs(found - expected) / np.maximum(np.abs(expected), floor)) < 2e-8
        alone = [ours(species=name, temperature=float(t)) for t in kelvin[:20]]
        assert alone == pytest.approx(found[:20], rel=1e-13)


@pytest.mark.parametrize("name", sorted(gases.SPECIES))
def test_molar_mass(name: str) -> None:
    """ISO 6976:2016 masses against Cantera's: 6e-5, but 1e-4 for sulfur (32.065 there, 32.06 here)."""
    mass = gases.molar_mass(species=name)
    assert mass == pytest.approx(THEIRS[name].molecular_weight / PER_KMOL, rel=1e-4 if name == "SO2" else 6e-5)
    counted = {atom: int(count) for atom, count in THEIRS[name].composition.items()}
    assert dict(gases.SPECIES[name].atoms) == counted


@pytest.mark.parametrize("name", sorted(gases.SPECIES))
def test_summed_polynomials_are_the_sum(name: str) -> None:
    from fluewright.kernel import ops

    kelvin = dice(7).uniform(300.0, 999.0, STATES)
    other = "CO2" if name == "N2" else "N2"
    summed = gases.mixture_enthalpy_polynomial(amounts={name: 0.7, other: 0.3})
    alone = [gases.enthalpy(species=each, temperature=kelvin) for each in (name, other)]
    parts = 0.7 * alone[0] + 0.3 * alone[1]
    assert np.max(np.abs(ops.polynomial(kelvin, summed) - parts)) < 1e-7


HEATS = {
    "CH4": "CH4", "C2H6": "C2H6", "C3H8": "C3H8", "nC4H10": "C4H10,n-butane", "iC4H10": "C4H10,isobutane",
    "nC5H12": "C5H12,n-pentane", "nC7H16": "C7H16,n-heptane", "C2H4": "C2H4",
    "C3H6": "C3H6,propylene", "C4H8": "C4H8,1-butene", "C2H2": "C2H2,acetylene", "C6H6": "C6H6", "CH4O": "CH3OH",
    "H2": "H2", "CO": "CO", "H2S": "H2S", "NH3": "NH3",
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(HEATS))
def test_net_heating_values_are_those_of_the_formation_enthalpies(name: str) -> None:
    """ISO 6976:2016 against Hess's law with NASA TM-4513 formation enthalpies: 0.1 %, the distance of the two tables;
    0.2 % for hydrogen sulfide, whose SO2 comes from another fit."""
    data, theirs = components.COMPONENTS[name], THEIRS[HEATS[name]]
    atoms = data.atoms
    assert {a: int(n) for a, n in theirs.composition.items()} == dict(atoms)
    made = {"CO2": atoms.get("C", 0), "H2O": atoms.get("H", 0) / 2, "SO2": atoms.get("S", 0)}
    formed = sum(amount * THEIRS[s].thermo.h(298.15 if s != "SO2" else 300.0) for s, amount in made.items())
    heat = (theirs.thermo.h(298.15) - formed) / PER_KMOL
    assert data.net[-1] == pytest.approx(heat, rel=2e-3 if "S" in atoms else 1e-3)


@pytest.mark.parametrize("name", sorted(HEATS))
def test_heat_capacities_of_fuels(name: str) -> None:
    """They carry only the warmth of the fuel itself, a few hundredths of a per cent of the heat: 3 % is ample."""
    theirs = THEIRS[HEATS[name]].thermo.cp(298.15) / PER_KMOL
    assert components.COMPONENTS[name].heat_capacity == pytest.approx(theirs, rel=0.03)


KEY = {
    "O2": (205.152, 0.005), "N2": (191.609, 0.004), "H2": (130.680, 0.003), "CO2": (213.785, 0.010),
    "CO": (197.660, 0.004), "H2O": (188.835, 0.010), "Ar": (154.846, 0.003), "SO2": (248.223, 0.050),
}  # fmt: skip
"""Standard entropies at 298.15 K and 1 bar, J/(mol K), with their uncertainty: CODATA key values for thermodynamics,
1989 (from memory)."""


@pytest.mark.parametrize("name", sorted(KEY))
def test_entropies_stand_at_one_bar(name: str) -> None:
    """At 1 atm they would be 0.11 J/(mol K) lower, twenty times the uncertainty."""
    value, doubt = KEY[name]
    found = gases.entropy(species=name, temperature=298.15)
    assert found == pytest.approx(value, abs=1.2 * doubt)
    assert abs(found + 8.314462618 * np.log(1.01325) - value) > 1.2 * doubt
