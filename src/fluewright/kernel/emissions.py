"""Trace gases per volume and per heat, in whatever a rule asks for. NO never silently becomes NO2.

Masses per heat are counted from the composition of the fuel. The factors printed in a rule live in short_forms.
"""

from fluewright.kernel.balance import FlueGas
from fluewright.kernel.constants import GAS_CONSTANT, MOLAR_VOLUME
from fluewright.kernel.fuel import Fuel
from fluewright.kernel.gases import molar_mass
from fluewright.kernel.ops import Number

CARBON_DIOXIDE_MASS = 0.0440095


def mass_concentration(
    *, fraction: Number, species: str, temperature: Number = 273.15, pressure: Number = 101_325.0
) -> Number:
    """Mass of a trace gas in a volume.

    fraction     mol/mol, any shape
    species      key of gases.SPECIES; nitrogen oxides "as NO2" are the caller's choice
    temperature  K, state of the volume; 0 C unless the rule says otherwise
    pressure     Pa, absolute, state of the volume
    -> mass concentration, kg/m3

    Holds   ideal gas
    Fails   sulfur dioxide deviates by 2 % in real-gas tables
    Source  ideal-gas law; checks EMI-001 to EMI-004
    """
    return fraction * molar_mass(species=species) * pressure / (GAS_CONSTANT * temperature)


def mass_per_heat_gross(*, fuel: Fuel, flue: FlueGas, dry_fraction: Number, species: str) -> Number:
    """Mass of a trace gas per gross heat of fuel burned.

    Dilution drops out: more air thins the gas and makes more of it.

    fuel          per unit
    flue          flue gas per unit of fuel, worked out from the same sample
    dry_fraction  mol/mol dry of the trace gas, any shape
    species       key of gases.SPECIES
    -> mass per gross heat, kg/J

    Holds   input of heat; for a limit per heat delivered divide by the efficiency
    Fails   as the balance
    Source  element balance; checks EMI-026 to EMI-035
    """
    return dry_fraction * flue.dry * molar_mass(species=species) / fuel.heating_value_gross


def mass_per_heat_net(*, fuel: Fuel, flue: FlueGas, dry_fraction: Number, species: str) -> Number:
    """Mass of a trace gas per net heat of fuel burned, as European appliance standards count it.

    fuel          per unit
    flue          flue gas per unit of fuel, worked out from the same sample
    dry_fraction  mol/mol dry of the trace gas, any shape
    species       key of gases.SPECIES
    -> mass per net heat, kg/J

    Holds   input of heat
    Fails   as the balance
    Source  element balance; checks EMI-026 to EMI-035
    """
    return dry_fraction * flue.dry * molar_mass(species=species) / fuel.heating_value_net


def carbon_factor(*, fuel: Fuel) -> Number:
    """Carbon dioxide per gross heat when all carbon burns.

    fuel  per unit
    -> carbon factor, kg CO2 per J gross

    Holds   fossil or not, as burned
    Fails   says nothing of the supply chain
    Source  element balance; checks CFR98-008 to CFR98-015
    """
    return fuel.carbon * CARBON_DIOXIDE_MASS / fuel.heating_value_gross


def flue_gas_volume_per_heat(*, fuel: Fuel, flue: FlueGas) -> Number:
    """Dry flue gas per gross heat, at 0 C and 101.325 kPa.

    fuel  per unit
    flue  flue gas per unit of fuel
    -> dry volume per gross heat, m3/J

    Holds   ideal gas
    Fails   -
    Source  element balance; checks STOI-024, LIQ-016
    """
    return flue.dry * MOLAR_VOLUME / fuel.heating_value_gross


def flue_gas_volume_wet_per_heat(*, fuel: Fuel, flue: FlueGas) -> Number:
    """Flue gas with its water vapour per gross heat, at 0 C and 101.325 kPa.

    fuel  per unit
    flue  flue gas per unit of fuel
    -> wet volume per gross heat, m3/J

    Holds   ideal gas, nothing condensed
    Fails   -
    Source  element balance
    """
    return (flue.dry + flue.water) * MOLAR_VOLUME / fuel.heating_value_gross


def combustion_air_volume_per_heat(*, fuel: Fuel, flue: FlueGas) -> Number:
    """Dry combustion air per gross heat, at 0 C and 101.325 kPa.

    fuel  per unit
    flue  flue gas per unit of fuel
    -> air volume per gross heat, m3/J

    Holds   ideal gas
    Fails   damp air takes up to 4 % more room
    Source  element balance
    """
    return flue.air * MOLAR_VOLUME / fuel.heating_value_gross
