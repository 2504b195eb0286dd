"""There and back again."""

from dataclasses import fields

import pytest
from flames import MANY, Flame, flames, numbers
from hypothesis import assume, given

from fluewright.kernel import air as airs
from fluewright.kernel import balance, dilution, gas_properties, sampling, saturation
from fluewright.kernel.components import COMPONENTS

CLOSE = 1e-10


@MANY
@given(flame=flames())
def test_oxygen_to_carbon_dioxide_and_back(flame: Flame) -> None:
    assume(flame.fuel.carbon > 0.05)
    there = flame.flue()
    reading = balance.carbon_dioxide_dry_fraction(flue=there, air=flame.air)
    assume(reading > 1e-3)
    back = balance.from_dry_carbon_dioxide(
        fuel=flame.fuel,
        air=flame.air,
        carbon_dioxide_dry_fraction=reading,
        carbon_monoxide_dry_fraction=flame.carbon_monoxide,
        hydrogen_dry_fraction=flame.hydrogen,
    )
    assert balance.oxygen_dry_fraction(flue=back) == pytest.approx(flame.oxygen, abs=CLOSE)
    assert back.air_ratio == pytest.approx(there.air_ratio, rel=1e-9)
    assert back.water == pytest.approx(there.water, rel=1e-9, abs=CLOSE)


@MANY
@given(flame=flames())
def test_dry_to_wet_and_back(flame: Flame) -> None:
    there = flame.flue()
    wet = there.dry + there.water
    back = balance.from_wet_oxygen(
        fuel=flame.fuel,
        air=flame.air,
        oxygen_wet_fraction=there.oxygen / wet,
        carbon_monoxide_wet_fraction=there.carbon_monoxide / wet,
        hydrogen_wet_fraction=there.hydrogen / wet,
    )
    assert balance.oxygen_dry_fraction(flue=back) == pytest.approx(flame.oxygen, abs=CLOSE)
    assert back.dry == pytest.approx(there.dry, rel=1e-9)
    assert back.air_ratio == pytest.approx(there.air_ratio, rel=1e-9)


@MANY
@given(flame=flames())
def test_dry_to_wet_carbon_dioxide_and_back(flame: Flame) -> None:
    """A wet reading is counted above the carbon dioxide of the fresh air as it comes, its damp included."""
    assume(flame.fuel.carbon > 0.05)
    there = flame.flue()
    wet = there.dry + there.water
    reading = there.carbon_dioxide / wet - flame.air.carbon_dioxide / (1.0 + flame.air.water_ratio)
    assume(reading > 1e-3)
    back = balance.from_wet_carbon_dioxide(
        fuel=flame.fuel,
        air=flame.air,
        carbon_dioxide_wet_fraction=reading,
        carbon_monoxide_wet_fraction=there.carbon_monoxide / wet,
        hydrogen_wet_fraction=there.hydrogen / wet,
    )
    assert balance.oxygen_dry_fraction(flue=back) == pytest.approx(flame.oxygen, abs=CLOSE)
    for field in fields(balance.FlueGas):
        there_and_back = getattr(back, field.name), getattr(there, field.name)
        assert there_and_back[0] == pytest.approx(there_and_back[1], rel=1e-9, abs=CLOSE), field.name


@MANY
@given(flame=flames(rich=False))
def test_air_ratio_to_wet_carbon_dioxide_and_back(flame: Flame) -> None:
    assume(flame.fuel.carbon > 0.05)
    lean = flame.flue().air_ratio
    there = balance.from_air_ratio(fuel=flame.fuel, air=flame.air, air_ratio=lean)
    reading = there.carbon_dioxide / (there.dry + there.water)
    reading -= flame.air.carbon_dioxide / (1.0 + flame.air.water_ratio)
    assume(reading > 1e-3)
    back = balance.from_wet_carbon_dioxide(fuel=flame.fuel, air=flame.air, carbon_dioxide_wet_fraction=reading)
    assert back.air_ratio == pytest.approx(lean, rel=1e-9)


@MANY
@given(flame=flames(rich=False))
def test_air_ratio_to_oxygen_and_back(flame: Flame) -> None:
    there = balance.from_dry_oxygen(fuel=flame.fuel, air=flame.air, oxygen_dry_fraction=flame.oxygen)
    back = balance.from_air_ratio(fuel=flame.fuel, air=flame.air, air_ratio=there.air_ratio)
    assert balance.oxygen_dry_fraction(flue=back) == pytest.approx(flame.oxygen, abs=CLOSE)


@MANY
@given(fraction=numbers(0.0, 0.21), trap=numbers(273.2, 330.0), pressure=numbers(68_000.0, 105_000.0))
def test_dried_to_dry_and_back(fraction: float, trap: float, pressure: float) -> None:
    shown = sampling.dried_from_dry(dry_fraction=fraction, trap_temperature=trap, pressure=pressure)
    back = sampling.dry_from_dried(dried_fraction=shown, trap_temperature=trap, pressure=pressure)
    assert back == pytest.approx(fraction, rel=1e-14)


@MANY
@given(temperature=numbers(273.16, 646.0))
def test_saturation_there_and_back(temperature: float) -> None:
    """IF97's backward equation is the exact solution of its basic one: only rounding is left."""
    pressure = saturation.pressure(temperature=temperature)
    assert saturation.temperature(pressure=pressure) == pytest.approx(temperature, rel=1e-10)


@MANY
@given(humidity=numbers(0.05, 1.0), temperature=numbers(275.0, 323.0), pressure=numbers(68_000.0, 105_000.0))
def test_wet_bulb_there_and_back(humidity: float, temperature: float, pressure: float) -> None:
    water = airs.water_ratio(relative_humidity=humidity, temperature=temperature, pressure=pressure)
    wet = airs.wet_bulb_temperature(relative_humidity=humidity, temperature=temperature, pressure=pressure)
    assume(wet > 273.16)  # below, ice sits on the wick and the formula does not hold
    back = airs.water_ratio_from_wet_bulb(wet_bulb_temperature=wet, temperature=temperature, pressure=pressure)
    assert back == pytest.approx(water, rel=1e-9)
    assert wet <= temperature + 1e-9


@MANY
@given(oxygen=numbers(0.0, 0.19), reference=numbers(0.0, 0.19), constant=numbers(0.209, 0.21))
def test_reference_oxygen_there_and_back(oxygen: float, reference: float, constant: float) -> None:
    there = dilution.at_reference_oxygen(
        fraction=1e-4,
        oxygen_dry_fraction=oxygen,
        reference_oxygen_fraction=reference,
        air_oxygen_fraction=constant,
    )
    back = dilution.at_reference_oxygen(
        fraction=there,
        oxygen_dry_fraction=reference,
        reference_oxygen_fraction=oxygen,
        air_oxygen_fraction=constant,
    )
    assert back == pytest.approx(1e-4, rel=1e-12)


@MANY
@given(share=numbers(0.0, 0.5), oxygen=numbers(0.0, 0.18))
def test_recirculation_there_and_back(share: float, oxygen: float) -> None:
    intake = sampling.intake_oxygen_fraction(recirculated_fraction=share, oxygen_dry_fraction=oxygen)
    back = sampling.recirculated_fraction(intake_oxygen_fraction=intake, oxygen_dry_fraction=oxygen)
    assert back == pytest.approx(share, abs=1e-13)


@MANY
@given(first=numbers(0.05, 0.95), metering=numbers(0, 3.99))
def test_volumes_to_moles_and_back(first: float, metering: float) -> None:
    from fluewright.kernel.components import METERING

    place = int(metering)
    volumes = {"CH4": first, "C3H8": 1.0 - first}
    moles = gas_properties.mole_fractions_from_volume(volume_fractions=volumes, metering=METERING[place])
    assert sum(moles.values()) == pytest.approx(1.0, abs=1e-14)
    back = {name: part * COMPONENTS[name].compression[place] for name, part in moles.items()}
    total = sum(back.values())
    assert back["CH4"] / total == pytest.approx(first, rel=1e-13)
    assert moles["C3H8"] > volumes["C3H8"]
