"""Gas on its way through a flue: how thick it is, how it cools, what it loses to walls and bends."""

from fluewright.kernel import ops
from fluewright.kernel.constants import GAS_CONSTANT
from fluewright.kernel.ops import Number


def gas_density(*, molar_mass: Number, temperature: Number, pressure: Number) -> Number:
    """Density of a gas mixture: outdoor air, flue gas, what they mix to.

    molar_mass   kg/mol, any shape; where a standard gives a gas constant in J/(kg K), 8.314462618 over it
    temperature  K, above 0, any shape
    pressure     Pa, absolute
    -> density, kg/m3

    Holds   ideal gas, houses and chimneys
    Fails   flue gas below its dew point, where water has left it
    Source  ideal-gas law, as rho = p / (R T) in EN 13384-1 (from memory); checks FLUE-RHO-1, DR-EN-1, DR-EN-2
    """
    return pressure * molar_mass / (GAS_CONSTANT * temperature)


def gas_viscosity(*, temperature: Number) -> Number:
    """Viscosity of air, and near enough of flue gas.

    Flue gas of 10 % carbon dioxide and 15 % water is thinner by a tenth, which moves the friction of a flue by a
    fiftieth.

    temperature  K, 200..1500, any shape
    -> dynamic viscosity, Pa s

    Holds   air within 1 %; flue gas within 10 %
    Fails   colder than 100 K
    Source  US Standard Atmosphere 1976, equation 51 (Sutherland), constants as printed there; check FLUE-MU-1
    """
    return 1.458e-6 * temperature**1.5 / (temperature + 110.4)


def temperature_at_end(
    *, temperature: Number, surrounding_temperature: Number, heat_loss_rate: Number, heat_flow_rate: Number
) -> Number:
    """Temperature of the gas where it leaves a length of flue.

    Each metre loses heat in proportion to what is left above the surroundings, so the excess falls exponentially.

    temperature              K, where it enters, any shape
    surrounding_temperature  K, of the room or the air around the flue
    heat_loss_rate           W/K, U-value times inner surface of the length, 0 or more
    heat_flow_rate           W/K, mass flow times heat capacity, above 0
    -> temperature, K

    Holds   steady, one U-value over the length
    Fails   a flue still warming up: it takes more
    Source  heat balance; EN 13384-1 uses the same exponential (from memory); checks FLUE-T-1, FLUE-T-2
    """
    excess = ops.exp(-heat_loss_rate / heat_flow_rate)
    return surrounding_temperature + (temperature - surrounding_temperature) * excess


def temperature_over_length(
    *, temperature: Number, surrounding_temperature: Number, heat_loss_rate: Number, heat_flow_rate: Number
) -> Number:
    """Mean temperature of the gas over a length of flue.

    temperature              K, where it enters, any shape
    surrounding_temperature  K, of the room or the air around the flue
    heat_loss_rate           W/K, U-value times inner surface of the length, above 0
    heat_flow_rate           W/K, mass flow times heat capacity, above 0
    -> temperature, K

    Holds   steady, one U-value over the length
    Fails   a flue still warming up
    Source  integral of the exponential; EN 13384-1 uses the same mean (from memory); check FLUE-T-3
    """
    cooling = heat_loss_rate / heat_flow_rate
    share = (1.0 - ops.exp(-cooling)) / cooling
    return surrounding_temperature + (temperature - surrounding_temperature) * share


def dynamic_pressure(*, mass_flow: Number, density: Number, area: Number) -> Number:
    """Dynamic pressure of a gas in a flue: what bends and the way out take a share of.

    mass_flow  kg/s, any shape
    density    kg/m3, above 0
    area       m2, of the flue, above 0
    -> dynamic pressure, Pa

    Holds   slow flow
    Fails   near the speed of sound
    Source  definition, half of density times velocity squared; check FLUE-DYN
    """
    velocity = mass_flow / (density * area)
    return 0.5 * density * velocity * velocity
