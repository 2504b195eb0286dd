"""No atom is made or lost between fuel, air and flue gas, lean or rich, whichever reading the balance starts from."""

from flames import MANY, Flame, flames, numbers
from hypothesis import assume, given

from fluewright.kernel import balance
from fluewright.kernel.air import Air
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.fuel import Fuel

CLOSED = 1e-10
"""Relative to what goes in: a hundred thousand roundings, far below any instrument."""


def imbalance(fuel: Fuel, air: Air, flue: FlueGas) -> dict[str, float]:
    """Atoms out less atoms in, as a share of atoms in, of each element."""
    a = flue.air
    into = {
        "C": fuel.carbon + a * air.carbon_dioxide,
        "H": fuel.hydrogen + 2 * fuel.water + 2 * a * air.water_ratio,
        "O": fuel.oxygen + fuel.water + a * (2 * air.oxygen + 2 * air.carbon_dioxide + air.water_ratio),
        "N": fuel.nitrogen + 2 * a * air.nitrogen,
        "S": fuel.sulfur,
        "Ar": fuel.argon + a * air.argon,
        "He": fuel.helium,
    }
    out = {
        "C": flue.carbon_dioxide + flue.carbon_monoxide,
        "H": 2 * flue.water + 2 * flue.hydrogen,
        "O": 2 * flue.carbon_dioxide + flue.carbon_monoxide + flue.water + 2 * flue.oxygen + 2 * flue.sulfur_dioxide,
        "N": 2 * flue.nitrogen,
        "S": flue.sulfur_dioxide,
        "Ar": flue.argon,
        "He": flue.helium,
    }
    most = max(into.values())
    return {atom: abs(out[atom] - into[atom]) / most for atom in into}


def dry_sum(flue: FlueGas) -> float:
    """Dry gas as the sum of its parts."""
    return float(
        flue.carbon_dioxide
        + flue.carbon_monoxide
        + flue.hydrogen
        + flue.oxygen
        + flue.nitrogen
        + flue.argon
        + flue.helium
        + flue.sulfur_dioxide
    )


def holds(fuel: Fuel, air: Air, flue: FlueGas) -> None:
    """All elements close, and the dry gas is the sum of its gases."""
    assert max(imbalance(fuel, air, flue).values()) < CLOSED
    assert abs(dry_sum(flue) / flue.dry - 1) < CLOSED


@MANY
@given(flame=flames())
def test_elements_close_from_dry_oxygen(flame: Flame) -> None:
    flue = flame.flue()
    holds(flame.fuel, flame.air, flue)
    assert abs(flue.oxygen / flue.dry - flame.oxygen) < CLOSED
    assert abs(flue.carbon_monoxide / flue.dry - flame.carbon_monoxide) < CLOSED
    assert abs(flue.hydrogen / flue.dry - flame.hydrogen) < CLOSED


@MANY
@given(flame=flames())
def test_elements_close_from_wet_oxygen(flame: Flame) -> None:
    flue = balance.from_wet_oxygen(
        fuel=flame.fuel,
        air=flame.air,
        oxygen_wet_fraction=flame.oxygen * 0.8,
        carbon_monoxide_wet_fraction=flame.carbon_monoxide * 0.8,
        hydrogen_wet_fraction=flame.hydrogen * 0.8,
    )
    holds(flame.fuel, flame.air, flue)
    assert abs(flue.oxygen / (flue.dry + flue.water) - flame.oxygen * 0.8) < CLOSED


@MANY
@given(flame=flames())
def test_elements_close_from_carbon_dioxide(flame: Flame) -> None:
    assume(flame.fuel.carbon > 0.05)
    reading = balance.carbon_dioxide_dry_fraction(flue=flame.flue(), air=flame.air)
    assume(reading > 1e-3)
    flue = balance.from_dry_carbon_dioxide(
        fuel=flame.fuel,
        air=flame.air,
        carbon_dioxide_dry_fraction=reading,
        carbon_monoxide_dry_fraction=flame.carbon_monoxide,
        hydrogen_dry_fraction=flame.hydrogen,
    )
    holds(flame.fuel, flame.air, flue)


@MANY
@given(flame=flames(rich=False), air_ratio=numbers(1.0, 20.0))
def test_elements_close_from_air_ratio(flame: Flame, air_ratio: float) -> None:
    flue = balance.from_air_ratio(fuel=flame.fuel, air=flame.air, air_ratio=air_ratio)
    holds(flame.fuel, flame.air, flue)
    assert abs(flue.air_ratio / air_ratio - 1) < CLOSED


def test_the_closure_itself_can_fail() -> None:
    from dataclasses import replace

    from fluewright.kernel.air import DRY_AIR
    from fluewright.kernel.fuel import gas

    fuel = gas(name="methane", mole_fractions={"CH4": 1.0})
    flue = balance.from_air_ratio(fuel=fuel, air=DRY_AIR, air_ratio=1.2)
    wrong = replace(flue, water=flue.water * (1 + 1e-8))
    assert max(imbalance(fuel, DRY_AIR, wrong).values()) > CLOSED
