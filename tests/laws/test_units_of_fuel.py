"""The same gas counted per mole and per kilogram gives the same fractions."""

from dataclasses import replace

import pytest
from flames import MANY, Flame, flames, gases, numbers
from hypothesis import given

from fluewright.kernel import analysis, emissions, equilibrium
from fluewright.kernel.fuel import Fuel

AMOUNTS = tuple(name for name in Fuel.__dataclass_fields__ if name not in ("name", "unit"))


def per_kilogram(fuel: Fuel) -> Fuel:
    """The same fuel with every amount divided by its mass per mole."""
    scaled = {name: getattr(fuel, name) / fuel.mass for name in AMOUNTS}
    return Fuel(name=fuel.name, unit="kg", **scaled)


@MANY
@given(flame=flames(), fuel=gases())
def test_fractions_do_not_depend_on_the_unit_of_fuel(flame: Flame, fuel: Fuel) -> None:
    if fuel.carbon == 0.0:
        return
    by_mole = replace(flame, fuel=fuel)
    by_mass = replace(flame, fuel=per_kilogram(fuel))
    done = [
        analysis.analyse(
            prepared=analysis.prepare(fuel=each.fuel, air=each.air),
            oxygen_dry_fraction=each.oxygen,
            carbon_monoxide_dry_fraction=each.carbon_monoxide,
            hydrogen_dry_fraction=each.hydrogen,
            flue_temperature=each.flue_temperature,
            air_temperature=each.air_temperature,
        )
        for each in (by_mole, by_mass)
    ]
    for name in analysis.Analysis._fields:
        if name != "flue":
            one, two = (getattr(each, name) for each in done)
            assert one == pytest.approx(two, rel=1e-11, abs=1e-13), name
    dew = [analysis.water_dew_point(flue=each.flue, pressure=1e5) for each in done if each.flue.water > 1e-3]
    if dew:
        assert dew[0] == pytest.approx(dew[-1], rel=1e-12)
    factors = [emissions.carbon_factor(fuel=each.fuel) for each in (by_mole, by_mass)]
    assert factors[0] == pytest.approx(factors[1], rel=1e-12)


@MANY
@given(fuel=gases(), air_ratio=numbers(0.8, 1.5))
def test_a_flame_is_as_hot_by_the_kilogram(fuel: Fuel, air_ratio: float) -> None:
    from fluewright.kernel.air import DRY_AIR

    settled = []
    for each in (fuel, per_kilogram(fuel)):
        elements = equilibrium.elements_of(fuel=each, air=DRY_AIR, air_ratio=air_ratio)
        settled.append(equilibrium.at_temperature(elements=elements, temperature=1800.0, pressure=1e5))
    for species in settled[0].amounts:
        one, two = (mixture.dry_fraction(species) for mixture in settled)
        assert one == pytest.approx(two, rel=1e-9, abs=1e-30)
