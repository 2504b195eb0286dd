"""Room air that a draft hood or a barometric damper lets into the flue, by gas analysis and by temperature."""

from fluewright.kernel import ops
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.losses import Carriers, vapour_enthalpy, wet_flue_enthalpy
from fluewright.kernel.ops import Number


def air_added_from_oxygen(
    *,
    oxygen_dry_fraction: Number,
    diluted_oxygen_dry_fraction: Number,
    air_oxygen_fraction: Number = DRY_AIR.oxygen,
) -> Number:
    """Room air let in for each mole of dry flue gas, from the oxygen on both sides of the opening.

    oxygen_dry_fraction    mol/mol dry, below the hood, any shape
    diluted_oxygen_dry_fraction     mol/mol dry, where the two have mixed, any shape
    air_oxygen_fraction  mol/mol of the dry room air
    -> dry air over dry flue gas, mol/mol

    Holds   gas well mixed at the second point
    Fails   as oxygen nears that of air the figure grows without bound
    Source  mixing; checks DIL-O2, RED-DIL
    """
    return (diluted_oxygen_dry_fraction - oxygen_dry_fraction) / (air_oxygen_fraction - diluted_oxygen_dry_fraction)


def air_added_from_carbon_dioxide(
    *,
    carbon_dioxide_dry_fraction: Number,
    diluted_carbon_dioxide_dry_fraction: Number,
    air_carbon_dioxide_fraction: Number = 0.0,
) -> Number:
    """Room air let in for each mole of dry flue gas, from the carbon dioxide on both sides of the opening.

    carbon_dioxide_dry_fraction    mol/mol dry, below the hood, any shape
    diluted_carbon_dioxide_dry_fraction     mol/mol dry, where the two have mixed, any shape
    air_carbon_dioxide_fraction  mol/mol that the instrument shows in room air: 0 where it was zeroed in fresh air
    -> dry air over dry flue gas, mol/mol

    Holds   gas well mixed at the second point; room air without flue gas in it
    Fails   a room that already holds flue gas
    Source  mixing; check DIL-CO2
    """
    lost = carbon_dioxide_dry_fraction - diluted_carbon_dioxide_dry_fraction
    return lost / (diluted_carbon_dioxide_dry_fraction - air_carbon_dioxide_fraction)


def air_added_from_temperatures(
    *,
    carriers: Carriers,
    flue: FlueGas,
    flue_temperature: Number,
    diluted_temperature: Number,
    room_temperature: Number,
    water_ratio: Number = 0.0,
) -> Number:
    """Room air let in for each mole of dry flue gas, from three temperatures and real enthalpies.

    The heat that the flue gas lost is the heat that the room air took up.

    carriers             polynomials of the fuel and air
    flue                 flue gas before the opening, per unit of fuel
    flue_temperature     K, before, any shape
    diluted_temperature  K, where the two have mixed, between the others, any shape
    room_temperature     K, of the air let in, any shape
    water_ratio          mol water per mol dry air
    -> dry air over dry flue gas, mol/mol

    Holds   no heat lost between the two points, nothing condensed
    Fails   a cold hood or pipe takes heat out, and the figure comes out too large
    Source  energy balance with NASA TM-4513 enthalpies; checks DIL-T-10, DIL-T-14
    """
    given = wet_flue_enthalpy(carriers=carriers, flue=flue, temperature=flue_temperature) - wet_flue_enthalpy(
        carriers=carriers, flue=flue, temperature=diluted_temperature
    )

    def carried(temperature: Number) -> Number:
        return ops.polynomial(temperature, carriers.air) + water_ratio * vapour_enthalpy(temperature=temperature)

    return given / (carried(diluted_temperature) - carried(room_temperature)) / flue.dry
