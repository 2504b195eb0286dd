"""A thermometer in the flue gives a band: nothing condensed at one end, saturated gas at the other (P13)."""

from dataclasses import replace

import pytest
from flames import MANY, Flame, flames, numbers
from hypothesis import assume, given

from fluewright.kernel import analysis, losses
from fluewright.kernel.constants import WATER_MOLAR_MASS


def cold(flame: Flame, temperature: float) -> Flame:
    """The flame with a cold flue."""
    return replace(flame, flue_temperature=temperature)


def band(flame: Flame, pressure: float, condensed: float | None = None) -> tuple[float, float, float]:
    """Efficiency with nothing condensed, with the most that can have, and the amount."""
    prepared = analysis.prepare(fuel=flame.fuel, air=flame.air)
    flue = flame.flue()
    most = analysis.saturated_condensate(flue=flue, flue_temperature=flame.flue_temperature, pressure=pressure)
    ends = [
        analysis.condensing(
            prepared=prepared,
            flue=flue,
            flue_temperature=flame.flue_temperature,
            air_temperature=flame.air_temperature,
            condensed_amount=amount,
        ).efficiency_gross
        for amount in (0.0, most if condensed is None else condensed)
    ]
    return ends[0], ends[1], most


@MANY
@given(flame=flames(rich=False), temperature=numbers(280.0, 369.0), pressure=numbers(70_000, 105_000))
def test_the_band_is_ordered_and_closes_at_the_dew_point(flame: Flame, temperature: float, pressure: float) -> None:
    flame = cold(flame, temperature)
    flue = flame.flue()
    assume(flue.water > 1e-3 * flue.dry)
    dry, saturated, most = band(flame, pressure)
    dew = analysis.water_dew_point(flue=flue, pressure=pressure)
    assert 0.0 <= most <= flue.water
    assert saturated >= dry
    if temperature > dew + 1e-6:
        assert most == 0.0
        assert saturated == dry
    elif temperature < dew - 1e-3:
        assert saturated > dry


@MANY
@given(flame=flames(rich=False), below=numbers(1e-9, 1e-7))
def test_nothing_jumps_at_the_dew_point(flame: Flame, below: float) -> None:
    flue = flame.flue()
    assume(flue.water > 0.0)
    dew = analysis.water_dew_point(flue=flue, pressure=101_325.0)
    assume(274.0 < dew < 370.0)
    dry, saturated, most = band(cold(flame, dew - below), 101_325.0)
    assert most / flue.water < 1e-6
    assert saturated - dry < 1e-6


@MANY
@given(flame=flames(rich=False), temperature=numbers(280.0, 340.0), step=numbers(0.1, 5.0))
def test_colder_gas_condenses_more(flame: Flame, temperature: float, step: float) -> None:
    flue = flame.flue()
    here = analysis.saturated_condensate(flue=flue, flue_temperature=temperature, pressure=101_325.0)
    there = analysis.saturated_condensate(flue=flue, flue_temperature=temperature - step, pressure=101_325.0)
    assert there >= here


@MANY
@given(flame=flames(rich=False), temperature=numbers(285.0, 320.0), share=numbers(0.0, 1.0))
def test_measured_condensate_lies_inside_the_band(flame: Flame, temperature: float, share: float) -> None:
    flame = cold(flame, temperature)
    assume(flame.flue().water > 0.0)
    dry, saturated, most = band(flame, 101_325.0)
    _, measured, _ = band(flame, 101_325.0, condensed=share * most)
    assert dry <= measured <= saturated
    assert measured == pytest.approx(dry + share * (saturated - dry), rel=1e-10)


@MANY
@given(flame=flames(rich=False), amount=numbers(0.0, 2.0))
def test_condensate_mass(flame: Flame, amount: float) -> None:
    mass = losses.condensate_mass_per_heat(fuel=flame.fuel, condensed_amount=amount)
    assert mass * flame.fuel.heating_value_gross == pytest.approx(amount * WATER_MOLAR_MASS, rel=1e-12)


@MANY
@given(flame=flames(rich=False), temperature=numbers(280.0, 320.0))
def test_saturated_gas_holds_vapour_at_saturation_pressure(flame: Flame, temperature: float) -> None:
    from fluewright.kernel import saturation

    flue = flame.flue()
    left = losses.vapour_left(flue=flue, temperature=temperature, pressure=101_325.0)
    partial = 101_325.0 * left / (flue.dry + left)
    assert partial <= saturation.pressure(temperature=temperature) * (1 + 1e-12)
    if left < flue.water:
        assert partial == pytest.approx(saturation.pressure(temperature=temperature), rel=1e-12)
