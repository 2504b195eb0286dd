"""What room air behind a draft hood changes and what it cannot (P1), and what two readings cannot see (P2)."""

from dataclasses import replace

import pytest
from flames import MANY, Flame, flames, numbers
from hypothesis import assume, given

from fluewright.kernel import air as airs
from fluewright.kernel import analysis, balance, losses, sampling
from fluewright.kernel.fuel import gas


def worked_out(flame: Flame) -> analysis.Analysis:
    """The kernel's own analysis of the flame."""
    return analysis.analyse(
        prepared=analysis.prepare(fuel=flame.fuel, air=flame.air),
        oxygen_dry_fraction=flame.oxygen,
        carbon_monoxide_dry_fraction=flame.carbon_monoxide,
        hydrogen_dry_fraction=flame.hydrogen,
        flue_temperature=flame.flue_temperature,
        air_temperature=flame.air_temperature,
    )


def thinned(flame: Flame, share: float) -> Flame:
    """The same flame read where `share` mol of room air per mol of dry flue gas has mixed in, no heat lost."""
    mixed = 1.0 + share
    diluted = replace(
        flame,
        oxygen=(flame.oxygen + share * flame.air.oxygen) / mixed,
        carbon_monoxide=flame.carbon_monoxide / mixed,
        hydrogen=flame.hydrogen / mixed,
    )
    temperature = losses.diluted_temperature(
        carriers=losses.carriers(fuel=flame.fuel, air=flame.air),
        flue=flame.flue(),
        flue_temperature=flame.flue_temperature,
        diluted=diluted.flue(),
        room_temperature=flame.air_temperature,
        water_ratio=flame.air.water_ratio,
    )
    return replace(diluted, flue_temperature=temperature)


@MANY
@given(flame=flames(rich=False), share=numbers(0.0, 4.0))
def test_room_air_leaves_air_free_carbon_monoxide_and_the_loss_alone(flame: Flame, share: float) -> None:
    before, after = worked_out(flame), worked_out(thinned(flame, share))
    assert after.carbon_monoxide_air_free == pytest.approx(before.carbon_monoxide_air_free, rel=1e-9, abs=1e-18)
    assert after.loss_gross == pytest.approx(before.loss_gross, rel=1e-9)
    assert after.efficiency_net == pytest.approx(before.efficiency_net, rel=1e-9, abs=1e-9)
    assert after.loss_dry_gas + after.loss_vapour == pytest.approx(before.loss_dry_gas + before.loss_vapour, rel=1e-9)


@MANY
@given(flame=flames(rich=False), share=numbers(0.01, 4.0))
def test_room_air_changes_what_it_must(flame: Flame, share: float) -> None:
    before, after = flame.flue(), thinned(flame, share)
    assert after.flue().air_ratio > before.air_ratio
    assert after.flue_temperature < flame.flue_temperature
    assert after.flue().air == pytest.approx(before.air + share * before.dry, rel=1e-10)


@pytest.mark.parametrize(("percent", "celsius"), [(10, 191.8027), (14, 135.4163), (16, 104.6205), (18, 71.9285)])
def test_the_published_dilution_of_methane(percent: float, celsius: float) -> None:
    """7 % O2 and 230 C thinned with room air of 20 C: Cantera 3.2.0 with NASA TM-4513, RED-DIL; 0.5 K as published."""
    methane = gas(name="methane", mole_fractions={"CH4": 1.0})
    flame = Flame(methane, airs.DRY_AIR_TWO_GASES, 0.07, 1e-5, 0.0, 503.15, 293.15)
    after = percent / 100
    share = (after - 0.07) / (0.2095 - after)
    assert thinned(flame, share).flue_temperature == pytest.approx(celsius + 273.15, abs=0.5)


@MANY
@given(flame=flames(rich=False), share=numbers(0.0, 1.0))
def test_oxygen_and_carbon_dioxide_together_cannot_see_air_that_leaked_in(flame: Flame, share: float) -> None:
    clean = replace(flame, carbon_monoxide=0.0, hydrogen=0.0)
    flue = clean.flue()
    reading = balance.carbon_dioxide_dry_fraction(flue=flue, air=flame.air)
    for mixed in (1.0, 1.0 + share):
        residual = balance.oxygen_residual(
            fuel=flame.fuel,
            air=flame.air,
            oxygen_dry_fraction=(flame.oxygen + (mixed - 1.0) * flame.air.oxygen) / mixed,
            carbon_dioxide_dry_fraction=reading / mixed,
        )
        assert abs(residual) < 1e-13


@MANY
@given(flame=flames(rich=False), error=numbers(0.001, 0.02))
def test_the_residual_does_see_a_sick_sensor(flame: Flame, error: float) -> None:
    assume(flame.fuel.carbon > 0.05)
    clean = replace(flame, carbon_monoxide=0.0, hydrogen=0.0)
    reading = balance.carbon_dioxide_dry_fraction(flue=clean.flue(), air=flame.air)
    residual = balance.oxygen_residual(
        fuel=flame.fuel,
        air=flame.air,
        oxygen_dry_fraction=flame.oxygen,
        carbon_dioxide_dry_fraction=reading + error,
    )
    assert residual == pytest.approx(error, rel=1e-9)


@MANY
@given(flame=flames(rich=False), share=numbers(0.0, 0.3))
def test_recirculated_flue_gas_leaves_the_flue_reading_alone(flame: Flame, share: float) -> None:
    """Fresh air and fuel cross the boundary unchanged (P4): the intake shows it, the flue does not."""
    intake = sampling.intake_oxygen_fraction(
        recirculated_fraction=share, oxygen_dry_fraction=flame.oxygen, air_oxygen_fraction=flame.air.oxygen
    )
    assert intake <= flame.air.oxygen
    assert intake == pytest.approx((1 - share) * flame.air.oxygen + share * flame.oxygen, abs=1e-15)


@MANY
@given(flame=flames(rich=False))
def test_the_straight_line_is_the_balance_for_dry_air_without_carbon_dioxide(flame: Flame) -> None:
    assume(flame.fuel.carbon > 0.05)
    prepared = analysis.prepare(fuel=flame.fuel, air=airs.DRY_AIR_TWO_GASES)
    flue = balance.from_dry_oxygen(fuel=flame.fuel, air=airs.DRY_AIR_TWO_GASES, oxygen_dry_fraction=flame.oxygen)
    line = balance.carbon_dioxide_from_oxygen(
        oxygen_dry_fraction=flame.oxygen,
        carbon_dioxide_dry_max_fraction=prepared.need.carbon_dioxide_dry_max,
    )
    assert line == pytest.approx(flue.carbon_dioxide / flue.dry, rel=1e-10)
