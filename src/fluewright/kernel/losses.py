"""Heat that leaves by the flue, and what is left: dry gas, vapour, carbon monoxide, humidity of the air.

Losses are fractions of the gross heating value, counted from 25 C, with the warmth that air and fuel bring in given
back. Temperatures of air and flue must belong to one boundary and one stretch; this module cannot see whether they do.
"""

from dataclasses import dataclass

from fluewright.kernel import gases, ops, saturation
from fluewright.kernel.air import Air
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.constants import (
    CARBON_MONOXIDE_HEAT,
    HYDROGEN_HEAT_GROSS,
    HYDROGEN_HEAT_NET,
    REFERENCE_TEMPERATURE,
    WATER_MOLAR_MASS,
)
from fluewright.kernel.fuel import Fuel
from fluewright.kernel.ops import Number

LIQUID_WATER_HEAT_CAPACITY = 75.3
"""J/(mol K), 4.18 kJ/(kg K) (IAPWS-95 near 25 C)."""

_VAPOUR = gases.mixture_enthalpy_polynomial(amounts={"H2O": 1.0})


@dataclass(frozen=True, slots=True)
class Losses:
    """Where the heat of one unit of fuel went, each as a fraction of the gross heating value.

    dry_gas          sensible heat of the dry gas less what dry air and fuel brought in
    vapour_sensible  sensible heat of the water vapour less that of the humidity brought in
    latent           heat bound in water that left as vapour, fuel's own water only
    unburned         carbon monoxide and hydrogen
    """

    dry_gas: Number
    vapour_sensible: Number
    latent: Number
    unburned: Number


Polynomial = tuple[Number, ...]


@dataclass(frozen=True, slots=True)
class Carriers:
    """Enthalpy polynomials of what carries heat, made once for a fuel and its air.

    The dry flue gas of any air ratio is the fuel's own products less the oxygen they took, plus all the air, plus a
    correction for each mole of CO and H2 that did not burn; so three polynomials serve every reading.
    """

    from_fuel: Polynomial
    air: Polynomial


def carriers(*, fuel: Fuel, air: Air) -> Carriers:
    """The enthalpy polynomials of a fuel and its air.

    fuel  per unit
    air   per mole dry
    -> polynomials in K, giving J per unit of fuel and J per mole of dry air

    Holds   200 K to 1000 K
    Fails   hotter
    Source  NASA TM-4513 polynomials
    """
    need = fuel.carbon + fuel.sulfur + fuel.hydrogen / 4.0 - fuel.oxygen / 2.0
    return Carriers(
        from_fuel=gases.mixture_enthalpy_polynomial(
            amounts={
                "CO2": fuel.carbon,
                "SO2": fuel.sulfur,
                "N2": fuel.nitrogen / 2.0,
                "Ar": fuel.argon,
                "He": fuel.helium,
                "O2": -need,
            }
        ),
        air=gases.mixture_enthalpy_polynomial(
            amounts={"O2": air.oxygen, "N2": air.nitrogen, "Ar": air.argon, "CO2": air.carbon_dioxide}
        ),
    )


_TO_CARBON_MONOXIDE = gases.mixture_enthalpy_polynomial(amounts={"CO": 1.0, "CO2": -1.0, "O2": 0.5})
_TO_HYDROGEN = gases.mixture_enthalpy_polynomial(amounts={"H2": 1.0, "O2": 0.5})


def dry_flue_enthalpy(*, carriers: Carriers, flue: FlueGas, temperature: Number) -> Number:
    """Sensible enthalpy of the dry flue gas above 25 C.

    carriers     polynomials of the fuel and air
    flue         flue gas per unit of fuel
    temperature  K, 200..1000, any shape
    -> enthalpy, J per unit of fuel

    Holds   200 K to 1000 K
    Fails   hotter
    Source  NASA TM-4513 polynomials; checks PROD-015 to PROD-030
    """
    return (
        ops.polynomial(temperature, carriers.from_fuel)
        + flue.air * ops.polynomial(temperature, carriers.air)
        + flue.carbon_monoxide * ops.polynomial(temperature, _TO_CARBON_MONOXIDE)
        + flue.hydrogen * ops.polynomial(temperature, _TO_HYDROGEN)
    )


def vapour_enthalpy(*, temperature: Number) -> Number:
    """Sensible enthalpy of water vapour above 25 C, per mole.

    temperature  K, 200..1000, any shape
    -> enthalpy, J/mol

    Holds   200 K to 1000 K
    Fails   hotter
    Source  NASA TM-4513 polynomials
    """
    return ops.polynomial(temperature, _VAPOUR)


def wet_flue_enthalpy(*, carriers: Carriers, flue: FlueGas, temperature: Number) -> Number:
    """Sensible enthalpy of the wet flue gas above 25 C, water as vapour.

    carriers     polynomials of the fuel and air
    flue         flue gas per unit of fuel
    temperature  K, 200..1000, any shape
    -> enthalpy, J per unit of fuel

    Holds   200 K to 1000 K, nothing condensed
    Fails   hotter
    Source  NASA TM-4513 polynomials; checks PROD-015 to PROD-030
    """
    dry = dry_flue_enthalpy(carriers=carriers, flue=flue, temperature=temperature)
    return dry + flue.water * vapour_enthalpy(temperature=temperature)


def losses(
    *,
    fuel: Fuel,
    carriers: Carriers,
    flue: FlueGas,
    flue_temperature: Number,
    air_temperature: Number,
    water_ratio: Number = 0.0,
    condensed_amount: Number = 0.0,
    fuel_temperature: Number = REFERENCE_TEMPERATURE,
) -> Losses:
    """Losses of one steady moment.

    What the gas carries out above 25 C, less what air and fuel carried in, plus the heat of what did not burn.

    fuel              per unit
    carriers          polynomials of the fuel and air
    flue              flue gas per unit of fuel
    flue_temperature  K, 200..1000, any shape
    air_temperature   K, of the air that enters the same boundary, any shape
    water_ratio       mol water per mol dry air
    condensed_amount  mol H2O per unit that left as liquid at flue temperature
    fuel_temperature  K, of the fuel as it arrives; 25 C when nobody has read it
    -> losses, fractions of the gross heating value

    Holds   steady state, one boundary, flue below 1000 K
    Fails   a warming appliance still stores heat, which is no loss
    Source  first law with NASA TM-4513 enthalpies; checks EFF-001 to EFF-037, COND-001 to COND-014, RED-CONC
    """
    heat = fuel.heating_value_gross
    fuel_warmth = fuel.heat_capacity * (fuel_temperature - REFERENCE_TEMPERATURE)
    dry = dry_flue_enthalpy(carriers=carriers, flue=flue, temperature=flue_temperature)
    air_warmth = flue.air * ops.polynomial(air_temperature, carriers.air)
    humidity = water_ratio * flue.air
    vapour = flue.water - condensed_amount
    vapour_out = vapour * vapour_enthalpy(temperature=flue_temperature)
    vapour_in = humidity * vapour_enthalpy(temperature=air_temperature)
    liquid = condensed_amount * LIQUID_WATER_HEAT_CAPACITY * (flue_temperature - REFERENCE_TEMPERATURE)
    per_mole = saturation.latent_heat(temperature=REFERENCE_TEMPERATURE)
    latent = (fuel.heating_value_gross - fuel.heating_value_net) - per_mole * condensed_amount
    unburned_net = flue.carbon_monoxide * CARBON_MONOXIDE_HEAT + flue.hydrogen * HYDROGEN_HEAT_NET
    return Losses(
        dry_gas=(dry - air_warmth - fuel_warmth) / heat,
        vapour_sensible=(vapour_out - vapour_in + liquid) / heat,
        latent=(latent - flue.hydrogen * (HYDROGEN_HEAT_GROSS - HYDROGEN_HEAT_NET)) / heat,
        unburned=(unburned_net + flue.hydrogen * (HYDROGEN_HEAT_GROSS - HYDROGEN_HEAT_NET)) / heat,
    )


def efficiency_gross(*, losses: Losses, jacket_fraction: Number = 0.0) -> Number:
    """Share of the gross heating value that did not leave by the flue or the jacket.

    Combustion efficiency at this moment: not seasonal, not of the whole house.

    losses           fractions of the gross heating value
    jacket_fraction  heat lost through the jacket, fraction of gross, 0 when left out
    -> efficiency, fraction of the gross heating value

    Holds   at the moment and boundary of the readings
    Fails   says nothing of a year
    Source  indirect method; checks EFF-001 to EFF-035
    """
    return 1.0 - losses.dry_gas - losses.vapour_sensible - losses.latent - losses.unburned - jacket_fraction


def loss_net(*, fuel: Fuel, losses: Losses) -> Number:
    """Flue loss as a fraction of the net heating value, the latent heat of the vapour not counted.

    fuel    per unit
    losses  fractions of the gross heating value
    -> flue loss, fraction of the net heating value; negative when much condenses

    Holds   as losses; condensing shows as a negative latent part
    Fails   cannot be compared with a gross figure
    Source  first law; checks EFF-002 to EFF-036
    """
    ratio = fuel.heating_value_gross / fuel.heating_value_net
    bound = (fuel.heating_value_gross - fuel.heating_value_net) / fuel.heating_value_net
    total = losses.dry_gas + losses.vapour_sensible + losses.latent + losses.unburned
    return total * ratio - bound


def vapour_left(*, flue: FlueGas, temperature: Number, pressure: Number) -> Number:
    """Water that stays vapour when the flue gas leaves saturated at a temperature.

    flue         flue gas per unit of fuel
    temperature  K, 273..370, any shape
    pressure     Pa, absolute, any shape
    -> vapour, mol per unit, at most all the water there is

    Holds   equilibrium at the exit
    Fails   real gas leaves partly unsaturated, and drops leave with it: this is one end of a band
    Source  Dalton's law with IAPWS-IF97; checks COND-002 to COND-012
    """
    vapour = saturation.pressure(temperature=temperature)
    saturated = ops.less(vapour, 0.95 * pressure)
    room = ops.where(saturated, flue.dry * vapour / (pressure - ops.minimum(vapour, 0.95 * pressure)), flue.water)
    return ops.minimum(room, flue.water)


def condensate_mass_per_heat(*, fuel: Fuel, condensed_amount: Number) -> Number:
    """Condensate per heat of fuel burned, gross.

    fuel              per unit
    condensed_amount  mol H2O per unit
    -> condensate, kg/J

    Holds   always
    Fails   -
    Source  definition; check COND-014
    """
    return condensed_amount * WATER_MOLAR_MASS / fuel.heating_value_gross


def diluted_temperature(
    *,
    carriers: Carriers,
    flue: FlueGas,
    flue_temperature: Number,
    diluted: FlueGas,
    room_temperature: Number,
    water_ratio: Number = 0.0,
) -> Number:
    """Temperature of flue gas after room air has mixed in and no heat was lost.

    Behind a draft hood the gas is colder and thinner, but carries the same heat away.

    carriers          polynomials of the fuel and air
    flue              before mixing
    flue_temperature  K, before mixing
    diluted           after mixing (worked out from its own oxygen)
    room_temperature  K, of the air mixed in
    water_ratio       mol water per mol dry air
    -> temperature after mixing, K

    Holds   adiabatic mixing, room air in
    Fails   a cold hood takes heat out
    Source  energy balance; practice P1, checks RED-DIL
    """
    before = wet_flue_enthalpy(carriers=carriers, flue=flue, temperature=flue_temperature)
    added = diluted.air - flue.air
    mixed_in = added * (
        ops.polynomial(room_temperature, carriers.air) + water_ratio * vapour_enthalpy(temperature=room_temperature)
    )

    def carried(temperature: Number) -> Number:
        return wet_flue_enthalpy(carriers=carriers, flue=diluted, temperature=temperature)

    return ops.root_between(carried, room_temperature, flue_temperature, goal=before + mixed_in)
