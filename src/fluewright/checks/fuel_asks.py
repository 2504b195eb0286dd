"""Adapters for what a fuel is: heating values, densities, Wobbe, air need, products, interchange."""

from collections.abc import Callable, Mapping
from dataclasses import fields
from typing import Any

from fluewright.checks.fuels_given import air, fuel, mole_fractions
from fluewright.checks.rows import Row
from fluewright.checks.units import to_si
from fluewright.kernel import air as airs
from fluewright.kernel import balance, emissions, gas_properties, interchange, losses, metering
from fluewright.kernel import fuel as fuel_kernel
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.constants import MOLAR_VOLUME, REFERENCE_TEMPERATURE
from fluewright.kernel.fuel import Stoichiometry
from fluewright.kernel.gas_properties import GasProperties
from fluewright.kernel.gases import molar_mass

_REFERENCES = {"0 C": "0", "15 C": "15", "60 F": "60F", "20 C": "20", "25 C": "25"}


def _properties(row: Row, name: str = "fuel") -> GasProperties:
    return gas_properties.gas_properties(
        mole_fractions=mole_fractions(row, name),
        combustion=_REFERENCES[row.word("combustion", "15 C")],
        metering=_REFERENCES[row.word("metering", "15 C")],
        ideal=row.word("gas", "real") == "ideal",
    )


def _property(field: str) -> Callable[[Row], Any]:
    return lambda row: getattr(_properties(row), field)


def _compression_factor(row: Row) -> Any:
    metering_at = _REFERENCES[row.word("metering", "15 C")]
    return gas_properties.compression_factor(mole_fractions=mole_fractions(row), metering=metering_at)


def _liquid_heating_value(row: Row) -> float:
    return metering.liquid_heating_value(component=row.word("component"))


def _wobbe_change(field: str) -> Callable[[Row], Any]:
    def change(row: Row) -> Any:
        return getattr(_properties(row, "blend"), field) / getattr(_properties(row, "fuel"), field) - 1.0

    return change


def _need(row: Row, name: str = "fuel") -> Stoichiometry:
    return fuel_kernel.stoichiometry(fuel=fuel(row, name), air=air(row))


def _air_mass_need(row: Row) -> Any:
    return _need(row).air_need * airs.MOLAR_MASS / fuel(row).mass


def _water_wet_max(row: Row) -> Any:
    need = _need(row)
    return need.water / (need.water + need.dry_products)


def _net(row: Row) -> Any:
    return fuel(row).heating_value_net


def _gross(row: Row) -> Any:
    return fuel(row).heating_value_gross


def _gross_of_blend(row: Row) -> Any:
    parts = [(fuel(row, "first"), row.number("first share")), (fuel(row, "second"), row.number("second share"))]
    return fuel_kernel.blend(name="blend", parts=parts).heating_value_gross


def _gross_estimate(row: Row) -> Any:
    shares = {name: value / 100.0 for name, value in row.fuels[row.word("fuel")]["mass_percent"].items()}
    whole = {atom: shares.get(atom, 0.0) for atom in ("C", "H", "O", "N", "S", "ash")}
    return fuel_kernel.gross_from_ultimate(mass_fractions=whole)


def _latent_share(row: Row) -> Any:
    given = fuel(row)
    return (given.heating_value_gross - given.heating_value_net) / given.heating_value_gross


def _carbon_factor(row: Row) -> Any:
    return emissions.carbon_factor(fuel=fuel(row))


def _flue(row: Row) -> FlueGas:
    return balance.from_air_ratio(fuel=fuel(row), air=air(row), air_ratio=row.number("air ratio"))


def _wet_share(gas: str) -> Callable[[Row], Any]:
    def share(row: Row) -> Any:
        flue = _flue(row)
        return getattr(flue, gas) / (flue.dry + flue.water)

    return share


_GASES = {
    "carbon_dioxide": "CO2", "carbon_monoxide": "CO", "hydrogen": "H2", "oxygen": "O2", "nitrogen": "N2",
    "argon": "Ar", "helium": "He", "sulfur_dioxide": "SO2", "water": "H2O",
}  # fmt: skip


def _wet_enthalpy(row: Row) -> Any:
    """J per unit of fuel, sensible above 25 C."""
    carriers = losses.carriers(fuel=fuel(row), air=air(row))
    return losses.wet_flue_enthalpy(carriers=carriers, flue=_flue(row), temperature=row.number("temperature"))


def _wet_enthalpy_per_mole(row: Row) -> Any:
    flue = _flue(row)
    return _wet_enthalpy(row) / (flue.dry + flue.water)


def _mean_heat_capacity(row: Row) -> Any:
    flue = _flue(row)
    named = [field.name for field in fields(flue) if field.name in _GASES]
    mass = sum(getattr(flue, name) * molar_mass(species=_GASES[name]) for name in named)
    return _wet_enthalpy(row) / mass / (row.number("temperature") - REFERENCE_TEMPERATURE)


def _flame_speed(row: Row, name: str = "fuel") -> Any:
    """In per cent of hydrogen, as the formula gives it."""
    fractions = mole_fractions(row, name)
    return gas_properties.weaver_flame_speed(mole_fractions=fractions, air_need=_need(row, name).air_need)


def _primary_air_ratio(row: Row) -> Any:
    new, old = _properties(row, "fuel"), _properties(row, "set for")
    return interchange.primary_air_ratio(
        air_need=_need(row, "fuel").air_need,
        relative_density=new.relative_density,
        set_air_need=_need(row, "set for").air_need,
        set_relative_density=old.relative_density,
    )


def _heat_rate_ratio(row: Row) -> Any:
    new, old = _properties(row, "fuel"), _properties(row, "set for")
    return interchange.heat_rate_ratio(
        heating_value=new.heating_value_gross,
        relative_density=new.relative_density,
        set_heating_value=old.heating_value_gross,
        set_relative_density=old.relative_density,
    )


def _lifting(row: Row) -> Any:
    return interchange.lifting_index(
        primary_air_ratio=_primary_air_ratio(row),
        flame_speed=_flame_speed(row, "fuel"),
        set_flame_speed=_flame_speed(row, "set for"),
    )


def _flash_back(row: Row) -> Any:
    return interchange.flash_back_index(
        primary_air_ratio=_primary_air_ratio(row),
        flame_speed=_flame_speed(row, "fuel"),
        set_flame_speed=_flame_speed(row, "set for"),
    )


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "heating_value_gross": _property("heating_value_gross"),
    "heating_value_net": _property("heating_value_net"),
    "wobbe_gross": _property("wobbe_gross"),
    "wobbe_net": _property("wobbe_net"),
    "density": _property("density"),
    "relative_density": _property("relative_density"),
    "molar_mass": _property("molar_mass"),
    "compression_factor": _compression_factor,
    "liquid_heating_value": _liquid_heating_value,
    "wobbe_gross_change": _wobbe_change("wobbe_gross"),
    "wobbe_net_change": _wobbe_change("wobbe_net"),
    "air_need": lambda row: _need(row).air_need,
    "air_mass_need": _air_mass_need,
    "air_volume_need": lambda row: _need(row).air_need * MOLAR_VOLUME,
    "dry_products": lambda row: _need(row).dry_products,
    "dry_volume_products": lambda row: _need(row).dry_products * MOLAR_VOLUME,
    "carbon_dioxide_dry_max": lambda row: _need(row).carbon_dioxide_dry_max,
    "water_wet_max": _water_wet_max,
    "heat_gross": _gross,
    "heat_net": _net,
    "heat_gross_of_blend": _gross_of_blend,
    "heat_gross_estimate": _gross_estimate,
    "latent_share": _latent_share,
    "carbon_factor": _carbon_factor,
    "carbon_dioxide_wet": _wet_share("carbon_dioxide"),
    "water_wet": _wet_share("water"),
    "oxygen_wet": _wet_share("oxygen"),
    "nitrogen_wet": _wet_share("nitrogen"),
    "flue_enthalpy": _wet_enthalpy_per_mole,
    "flue_heat_capacity": _mean_heat_capacity,
    "flame_speed": lambda row: to_si(_flame_speed(row), "%"),
    "heat_rate_ratio": _heat_rate_ratio,
    "primary_air_ratio": _primary_air_ratio,
    "lifting_index": _lifting,
    "flash_back_index": _flash_back,
}
