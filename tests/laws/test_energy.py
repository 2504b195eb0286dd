"""The first law: what the losses leave over is what the gases gave up, counted from absolute enthalpies."""

from dataclasses import replace

import pytest
from flames import MANY, Flame, flames, gases, numbers
from hypothesis import assume, given

from fluewright.kernel import analysis, losses
from fluewright.kernel import gases as species_data
from fluewright.kernel.constants import (
    CARBON_MONOXIDE_HEAT,
    HYDROGEN_HEAT_NET,
    REFERENCE_TEMPERATURE,
)
from fluewright.kernel.fuel import Fuel, blend, gas

CLOSED = 1e-10


def sensible(species: str, temperature: float) -> float:
    """Enthalpy above 25 C by the polynomial of one gas, not by the kernel's summed ones."""
    return float(species_data.enthalpy(species=species, temperature=temperature))


def heat_given_up(flame: Flame) -> float:
    """Gross efficiency by the first law, gas by gas: net heat released, less warmth out, plus warmth in, over gross."""
    fuel, air, flue = flame.fuel, flame.air, flame.flue()
    out = {
        "CO2": flue.carbon_dioxide,
        "CO": flue.carbon_monoxide,
        "H2": flue.hydrogen,
        "O2": flue.oxygen,
        "N2": flue.nitrogen,
        "Ar": flue.argon,
        "He": flue.helium,
        "SO2": flue.sulfur_dioxide,
        "H2O": flue.water,
    }
    into = {"O2": air.oxygen, "N2": air.nitrogen, "Ar": air.argon, "CO2": air.carbon_dioxide, "H2O": air.water_ratio}
    warmth_out = sum(amount * sensible(name, flame.flue_temperature) for name, amount in out.items())
    warmth_in = flue.air * sum(amount * sensible(name, flame.air_temperature) for name, amount in into.items())
    warmth_in += fuel.heat_capacity * (flame.fuel_temperature - REFERENCE_TEMPERATURE)
    released = fuel.heating_value_net - flue.carbon_monoxide * CARBON_MONOXIDE_HEAT - flue.hydrogen * HYDROGEN_HEAT_NET
    return float((released - warmth_out + warmth_in) / fuel.heating_value_gross)


def worked_out(flame: Flame, jacket: float = 0.0) -> analysis.Analysis:
    """The kernel's own analysis of the flame."""
    return analysis.analyse(
        prepared=analysis.prepare(fuel=flame.fuel, air=flame.air),
        oxygen_dry_fraction=flame.oxygen,
        carbon_monoxide_dry_fraction=flame.carbon_monoxide,
        hydrogen_dry_fraction=flame.hydrogen,
        flue_temperature=flame.flue_temperature,
        air_temperature=flame.air_temperature,
        jacket_fraction=jacket,
        fuel_temperature=flame.fuel_temperature,
    )


@MANY
@given(flame=flames(), jacket=numbers(0.0, 0.05))
def test_losses_and_efficiency_make_one(flame: Flame, jacket: float) -> None:
    done = worked_out(flame, jacket)
    size = max(1.0, abs(done.loss_gross))
    assert abs(done.efficiency_gross + done.loss_gross + jacket - 1.0) < CLOSED * size
    parts = done.loss_dry_gas + done.loss_vapour + done.loss_carbon_monoxide
    assert abs(parts - done.loss_gross) < CLOSED * size
    useful = done.efficiency_gross * flame.fuel.heating_value_gross
    assert abs(useful / flame.fuel.heating_value_net - done.efficiency_net) < CLOSED * size


@MANY
@given(flame=flames(), warmth=numbers(250.0, 330.0))
def test_efficiency_is_the_heat_the_gases_gave_up(flame: Flame, warmth: float) -> None:
    for arriving in (REFERENCE_TEMPERATURE, flame.air_temperature, warmth):
        flame = replace(flame, fuel_temperature=arriving)
        heat = heat_given_up(flame)
        assert abs(worked_out(flame).efficiency_gross - heat) < CLOSED * max(1.0, abs(heat))


@MANY
@given(flame=flames(rich=False), warmth=numbers(250.0, 330.0), share=numbers(0.0, 1.0))
def test_a_warmer_fuel_brings_its_warmth_whatever_condenses(flame: Flame, warmth: float, share: float) -> None:
    """The gain is the warmth brought above 25 C over the gross heat, in efficiency and dry loss and nowhere else."""
    brought = flame.fuel.heat_capacity * (warmth - REFERENCE_TEMPERATURE) / flame.fuel.heating_value_gross
    one, other = worked_out(flame), worked_out(replace(flame, fuel_temperature=warmth))
    size = CLOSED * max(1.0, abs(one.loss_gross))
    assert abs(other.efficiency_gross - one.efficiency_gross - brought) < size
    assert abs(one.loss_dry_gas - other.loss_dry_gas - brought) < size
    assert (one.loss_vapour, one.loss_carbon_monoxide) == (other.loss_vapour, other.loss_carbon_monoxide)
    flue = flame.flue()
    ends = [
        analysis.condensing(
            prepared=analysis.prepare(fuel=flame.fuel, air=flame.air),
            flue=flue,
            flue_temperature=flame.flue_temperature,
            air_temperature=flame.air_temperature,
            condensed_amount=share * flue.water,
            fuel_temperature=arriving,
        )
        for arriving in (REFERENCE_TEMPERATURE, warmth)
    ]
    assert abs(ends[0].loss_gross - ends[1].loss_gross - brought) < size
    for end in ends:
        assert abs(end.efficiency_gross + end.loss_gross - 1.0) < size


@MANY
@given(fuel=gases(), damp=numbers(0.01, 0.3))
def test_gross_less_net_is_the_heat_of_all_water(fuel: Fuel, damp: float) -> None:
    """44,013 J/mol, ISO 6976:2016 at 25 C, vapour that the gas brings included; 60 J for what its table rounds, most of
    it methane's net value (46 J)."""
    water = fuel.hydrogen / 2.0 + fuel.water
    assert fuel.heating_value_gross - fuel.heating_value_net == pytest.approx(44_013.0 * water, abs=60.0)
    vapour = gas(name="vapour", mole_fractions={"H2O": 1.0})
    wetted = blend(name="wetted", parts=[(fuel, 1.0 - damp), (vapour, damp)])
    dry_net, dry_gross = ((1.0 - damp) * heat for heat in (fuel.heating_value_net, fuel.heating_value_gross))
    assert wetted.heating_value_net == pytest.approx(dry_net, rel=1e-12)
    assert wetted.heating_value_gross - dry_gross == pytest.approx(44_013.0 * damp, rel=1e-9)


@MANY
@given(flame=flames(rich=False), share=numbers(0.0, 1.0))
def test_condensed_water_gives_back_its_latent_heat_and_its_warmth(flame: Flame, share: float) -> None:
    from fluewright.kernel import saturation

    prepared = analysis.prepare(fuel=flame.fuel, air=flame.air)
    flue = flame.flue()
    assume(flue.water > 0.0)  # a flue gas without any water has a test of its own
    amount = share * flue.water
    wet = analysis.condensing(
        prepared=prepared,
        flue=flue,
        flue_temperature=flame.flue_temperature,
        air_temperature=flame.air_temperature,
        condensed_amount=amount,
    )
    liquid = losses.LIQUID_WATER_HEAT_CAPACITY * (flame.flue_temperature - REFERENCE_TEMPERATURE)
    each = saturation.latent_heat(temperature=REFERENCE_TEMPERATURE) + sensible("H2O", flame.flue_temperature) - liquid
    gained = amount * each / flame.fuel.heating_value_gross
    dry = worked_out(flame).efficiency_gross
    assert abs(wet.efficiency_gross - dry - gained) < CLOSED * max(1.0, abs(dry))
    assert wet.condensed_fraction == pytest.approx(share, abs=1e-12)


@MANY
@given(flame=flames(rich=False))
def test_flue_at_the_temperature_of_the_air_loses_only_what_is_bound(flame: Flame) -> None:
    at_reference = Flame(flame.fuel, flame.air, flame.oxygen, 0.0, 0.0, REFERENCE_TEMPERATURE, REFERENCE_TEMPERATURE)
    done = worked_out(at_reference)
    bound = 1.0 - flame.fuel.heating_value_net / flame.fuel.heating_value_gross
    assert done.loss_gross == pytest.approx(bound, abs=1e-10)
    assert done.efficiency_net == pytest.approx(1.0, abs=1e-10)
