"""One flue reading worked out in full: the formulas of the other modules in the order a technician asks for them.

For one reading typed in a cellar, for uncertain numbers, and for blocks of a million archived rows alike.
"""

import math
from typing import NamedTuple

from fluewright.kernel import balance, dewpoint, dilution, emissions, losses, ops
from fluewright.kernel.air import Air
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.constants import REFERENCE_TEMPERATURE
from fluewright.kernel.fuel import Fuel, Stoichiometry, stoichiometry
from fluewright.kernel.losses import Carriers
from fluewright.kernel.ops import Number


class Prepared(NamedTuple):
    """What depends on fuel and air alone, worked out once for any number of readings."""

    fuel: Fuel
    air: Air
    need: Stoichiometry
    carriers: Carriers
    has_carbon: bool


class Analysis(NamedTuple):
    """Everything one flue reading tells; fractions 0..1, temperatures K.

    Losses and efficiency_gross are fractions of the gross heating value, loss_net and efficiency_net of the net one,
    with nothing condensed; co_co2_ratio is not a number where neither fuel nor air has carbon. Volumes per J of gross
    heat at 0 C and 101.325 kPa, dry.
    """

    flue: FlueGas
    air_ratio: Number
    excess_air: Number
    oxygen_dry: Number
    carbon_dioxide_dry: Number
    carbon_dioxide_dry_max: Number
    carbon_monoxide_air_free: Number
    co_co2_ratio: Number
    loss_dry_gas: Number
    loss_vapour: Number
    loss_carbon_monoxide: Number
    loss_gross: Number
    loss_net: Number
    efficiency_gross: Number
    efficiency_net: Number
    flue_gas_volume: Number
    combustion_air_volume: Number


class Condensing(NamedTuple):
    """What changes when water condenses: an amount per unit of fuel and what it gives back.

    condensed_fraction  mol condensed per mol of all water in the flue gas
    efficiency_gross    fraction of the gross heating value
    efficiency_net      fraction of the net heating value, above 1 when much condenses
    loss_vapour         fraction of the gross heating value
    loss_gross          fraction of the gross heating value
    loss_net            fraction of the net heating value
    """

    condensed_fraction: Number
    efficiency_gross: Number
    efficiency_net: Number
    loss_vapour: Number
    loss_gross: Number
    loss_net: Number


def prepare(*, fuel: Fuel, air: Air) -> Prepared:
    """Work out what fuel and air alone decide.

    fuel  per unit
    air   per mole dry
    -> prepared

    Holds   always
    Fails   -
    Source  stoichiometry and enthalpy polynomials
    """
    has_carbon = bool(ops.value_of(fuel.carbon)) or bool(ops.value_of(air.carbon_dioxide))
    return Prepared(fuel, air, stoichiometry(fuel=fuel, air=air), losses.carriers(fuel=fuel, air=air), has_carbon)


def _ratio(prepared: Prepared, carbon_monoxide: Number, carbon_dioxide: Number) -> Number:
    """CO per CO2, not a number where neither fuel nor air has carbon."""
    if not prepared.has_carbon:
        return math.nan
    return dilution.ratio_to_carbon_dioxide(
        carbon_monoxide_dry_fraction=carbon_monoxide, carbon_dioxide_dry_fraction=carbon_dioxide
    )


def analyse_flue(
    *,
    prepared: Prepared,
    flue: FlueGas,
    carbon_monoxide_dry_fraction: Number,
    flue_temperature: Number,
    air_temperature: Number,
    jacket_fraction: Number = 0.0,
    fuel_temperature: Number = REFERENCE_TEMPERATURE,
) -> Analysis:
    """Work out everything from a known flue gas and two temperatures, nothing condensed.

    prepared                      fuel and air
    flue                          flue gas per unit of fuel, from the balance
    carbon_monoxide_dry_fraction  mol/mol dry, any shape
    flue_temperature              K, 200..1000, any shape
    air_temperature               K, same boundary and stretch, any shape
    jacket_fraction               jacket loss, fraction of gross, 0 when left out
    fuel_temperature              K, of the fuel as it arrives; 25 C when nobody has read it
    -> analysis

    Holds   steady state, one boundary
    Fails   as balance and losses
    Source  docs/method; checks of the parts
    """
    fuel, air = prepared.fuel, prepared.air
    lost = losses.losses(
        fuel=fuel,
        carriers=prepared.carriers,
        flue=flue,
        flue_temperature=flue_temperature,
        air_temperature=air_temperature,
        water_ratio=air.water_ratio,
        fuel_temperature=fuel_temperature,
    )
    carbon_dioxide = flue.carbon_dioxide / flue.dry - air.carbon_dioxide
    vapour = lost.vapour_sensible + lost.latent
    gross = lost.dry_gas + vapour + lost.unburned
    net = losses.loss_net(fuel=fuel, losses=lost)
    ratio = fuel.heating_value_gross / fuel.heating_value_net
    return Analysis(
        flue=flue,
        air_ratio=flue.air_ratio,
        excess_air=flue.air_ratio - 1.0,
        oxygen_dry=flue.oxygen / flue.dry,
        carbon_dioxide_dry=carbon_dioxide,
        carbon_dioxide_dry_max=prepared.need.carbon_dioxide_dry_max,
        carbon_monoxide_air_free=dilution.at_reference_oxygen(
            fraction=carbon_monoxide_dry_fraction,
            oxygen_dry_fraction=flue.oxygen / flue.dry,
            air_oxygen_fraction=air.oxygen,
        ),
        co_co2_ratio=_ratio(prepared, carbon_monoxide_dry_fraction, carbon_dioxide),
        loss_dry_gas=lost.dry_gas,
        loss_vapour=vapour,
        loss_carbon_monoxide=lost.unburned,
        loss_gross=gross,
        loss_net=net,
        efficiency_gross=1.0 - gross - jacket_fraction,
        efficiency_net=1.0 - net - jacket_fraction * ratio,
        flue_gas_volume=emissions.flue_gas_volume_per_heat(fuel=fuel, flue=flue),
        combustion_air_volume=emissions.combustion_air_volume_per_heat(fuel=fuel, flue=flue),
    )


def analyse(
    *,
    prepared: Prepared,
    oxygen_dry_fraction: Number,
    flue_temperature: Number,
    air_temperature: Number,
    carbon_monoxide_dry_fraction: Number = 0.0,
    hydrogen_dry_fraction: Number = 0.0,
    jacket_fraction: Number = 0.0,
    fuel_temperature: Number = REFERENCE_TEMPERATURE,
) -> Analysis:
    """Work out one reading of oxygen, carbon monoxide and two temperatures.

    prepared                      fuel and air
    oxygen_dry_fraction           mol/mol dry, 0 <= x < 0.2095, any shape
    flue_temperature              K, 200..1000, any shape
    air_temperature               K, same boundary and stretch, any shape
    carbon_monoxide_dry_fraction  mol/mol dry, any shape
    hydrogen_dry_fraction         mol/mol dry, any shape
    jacket_fraction               jacket loss, fraction of gross, 0 when left out
    fuel_temperature              K, of the fuel as it arrives; 25 C when nobody has read it
    -> analysis, nothing condensed

    Holds   steady state, undiluted sample, one boundary
    Fails   as balance and losses; a diluted sample keeps air-free CO and losses, not the excess air of the flame
    Source  docs/method; checks of the parts
    """
    flue = balance.from_dry_oxygen(
        fuel=prepared.fuel,
        air=prepared.air,
        oxygen_dry_fraction=oxygen_dry_fraction,
        carbon_monoxide_dry_fraction=carbon_monoxide_dry_fraction,
        hydrogen_dry_fraction=hydrogen_dry_fraction,
    )
    return analyse_flue(
        prepared=prepared,
        flue=flue,
        carbon_monoxide_dry_fraction=carbon_monoxide_dry_fraction,
        flue_temperature=flue_temperature,
        air_temperature=air_temperature,
        jacket_fraction=jacket_fraction,
        fuel_temperature=fuel_temperature,
    )


def condensing(
    *,
    prepared: Prepared,
    flue: FlueGas,
    flue_temperature: Number,
    air_temperature: Number,
    condensed_amount: Number,
    jacket_fraction: Number = 0.0,
    fuel_temperature: Number = REFERENCE_TEMPERATURE,
) -> Condensing:
    """What a known amount of condensate gives back.

    prepared          fuel and air
    flue              flue gas per unit of fuel
    flue_temperature  K, any shape
    air_temperature   K, any shape
    condensed_amount  mol H2O per unit that left as liquid, measured or from `saturated_condensate`
    jacket_fraction   jacket loss, fraction of gross
    fuel_temperature  K, of the fuel as it arrives; 25 C when nobody has read it
    -> condensing

    Holds   condensate leaves at flue temperature
    Fails   as losses
    Source  first law; checks COND-001 to COND-014, RED-COND
    """
    fuel = prepared.fuel
    lost = losses.losses(
        fuel=fuel,
        carriers=prepared.carriers,
        flue=flue,
        flue_temperature=flue_temperature,
        air_temperature=air_temperature,
        water_ratio=prepared.air.water_ratio,
        condensed_amount=condensed_amount,
        fuel_temperature=fuel_temperature,
    )
    net = losses.loss_net(fuel=fuel, losses=lost)
    ratio = fuel.heating_value_gross / fuel.heating_value_net
    return Condensing(
        condensed_fraction=condensed_amount / ops.where(ops.less(0.0, flue.water), flue.water, 1.0),
        efficiency_gross=losses.efficiency_gross(losses=lost, jacket_fraction=jacket_fraction),
        efficiency_net=1.0 - net - jacket_fraction * ratio,
        loss_vapour=lost.vapour_sensible + lost.latent,
        loss_gross=lost.dry_gas + lost.vapour_sensible + lost.latent + lost.unburned,
        loss_net=net,
    )


def saturated_condensate(*, flue: FlueGas, flue_temperature: Number, pressure: Number) -> Number:
    """Most water that can have condensed when the gas leaves saturated.

    flue              flue gas per unit of fuel
    flue_temperature  K, any shape
    pressure          Pa, absolute, any shape
    -> condensed water, mol per unit, 0 above the dew point

    Holds   equilibrium at the exit: the upper end of a band
    Fails   real gas leaves partly unsaturated
    Source  Dalton's law with IAPWS-IF97; checks COND-002 to COND-012
    """
    return flue.water - losses.vapour_left(flue=flue, temperature=flue_temperature, pressure=pressure)


def water_dew_point(*, flue: FlueGas, pressure: Number) -> Number:
    """Water dew point of the flue gas.

    flue      flue gas per unit of fuel
    pressure  Pa, absolute, any shape
    -> water dew point, K

    Holds   as dewpoint.water
    Fails   as dewpoint.water
    Source  checks DEW-001 to DEW-015
    """
    return dewpoint.water(flue=flue, pressure=pressure)
