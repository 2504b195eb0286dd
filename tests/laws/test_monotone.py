"""What has to rise rises, and what has to fall falls, wherever one stands."""

from dataclasses import replace

from flames import MANY, Flame, flames, numbers
from hypothesis import given

from fluewright.kernel import air as airs
from fluewright.kernel import analysis, dilution, sampling, saturation


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


@MANY
@given(flame=flames(rich=False), step=numbers(1e-4, 0.01))
def test_more_oxygen_means_more_air_and_more_loss(flame: Flame, step: float) -> None:
    here, there = worked_out(flame), worked_out(replace(flame, oxygen=flame.oxygen + step))
    assert there.excess_air > here.excess_air
    assert there.efficiency_gross < here.efficiency_gross
    assert there.flue_gas_volume > here.flue_gas_volume
    assert there.combustion_air_volume > here.combustion_air_volume
    if flame.fuel.carbon > 0.05:
        assert there.carbon_dioxide_dry < here.carbon_dioxide_dry


@MANY
@given(flame=flames(), step=numbers(0.1, 80.0))
def test_a_hotter_flue_loses_more_and_warmer_air_brings_more(flame: Flame, step: float) -> None:
    here = worked_out(flame)
    hotter = worked_out(replace(flame, flue_temperature=flame.flue_temperature + step))
    warmer = worked_out(replace(flame, air_temperature=flame.air_temperature + step))
    assert hotter.efficiency_gross < here.efficiency_gross < warmer.efficiency_gross


@MANY
@given(flame=flames(rich=False), step=numbers(1e-4, 0.01), pressure=numbers(68_000, 105_000))
def test_dry_air_in_the_flue_lowers_the_dew_point_and_a_barometer_lifts_it(
    flame: Flame, step: float, pressure: float
) -> None:
    flame = replace(flame, air=airs.DRY_AIR)
    here, there = flame.flue(), replace(flame, oxygen=flame.oxygen + step).flue()
    if flame.fuel.hydrogen + flame.fuel.water < 0.01:
        return
    dew = analysis.water_dew_point(flue=here, pressure=pressure)
    assert analysis.water_dew_point(flue=there, pressure=pressure) < dew
    assert analysis.water_dew_point(flue=here, pressure=pressure * 1.01) > dew


@MANY
@given(oxygen=numbers(0.0, 0.2), fraction=numbers(1e-6, 0.01), times=numbers(0.0, 50.0))
def test_air_free_is_proportional_to_the_reading(oxygen: float, fraction: float, times: float) -> None:
    one = dilution.at_reference_oxygen(fraction=fraction, oxygen_dry_fraction=oxygen)
    many = dilution.at_reference_oxygen(fraction=times * fraction, oxygen_dry_fraction=oxygen)
    assert abs(many - times * one) <= 1e-12 * max(one, many)
    assert one >= fraction


@MANY
@given(flame=flames(rich=False), step=numbers(1e-5, 0.002))
def test_carbon_monoxide_costs_heat(flame: Flame, step: float) -> None:
    if flame.fuel.carbon < 0.05:
        return
    here = worked_out(flame)
    if here.efficiency_gross <= 0.0:  # so hot and thin that the flue takes more than the fuel gives: no flame does that
        return
    there = worked_out(replace(flame, carbon_monoxide=flame.carbon_monoxide + step))
    assert there.efficiency_gross < here.efficiency_gross
    assert there.loss_carbon_monoxide > here.loss_carbon_monoxide
    assert there.co_co2_ratio > here.co_co2_ratio


@MANY
@given(flame=flames(rich=False))
def test_damp_air_reads_less_oxygen_wet_and_makes_more_water(flame: Flame) -> None:
    damp = airs.humid(relative_humidity=0.8, temperature=303.15, pressure=101_325.0)
    dry_flue, damp_flue = replace(flame, air=airs.DRY_AIR).flue(), replace(flame, air=damp).flue()
    assert damp_flue.water > dry_flue.water
    assert abs(damp_flue.dry / dry_flue.dry - 1) < 1e-12
    assert airs.oxygen_wet_fraction(air=damp) < airs.oxygen_wet_fraction(air=airs.DRY_AIR)


@MANY
@given(temperature=numbers(200.0, 640.0), step=numbers(0.05, 5.0))
def test_hotter_water_has_more_vapour(temperature: float, step: float) -> None:
    here = saturation.pressure(temperature=temperature)
    assert saturation.pressure(temperature=temperature + step) > here


@MANY
@given(flame=flames(rich=False), step=numbers(0.5, 20.0), trap=numbers(273.2, 320.0))
def test_a_warmer_trap_hides_more(flame: Flame, step: float, trap: float) -> None:
    cold = sampling.dried_from_dry(dry_fraction=flame.oxygen, trap_temperature=trap, pressure=101_325.0)
    warm = sampling.dried_from_dry(dry_fraction=flame.oxygen, trap_temperature=trap + step, pressure=101_325.0)
    assert warm < cold < flame.oxygen
