"""The air that feeds the flame: what it is made of, how thin it is, how damp it is."""

from dataclasses import dataclass

from fluewright.kernel import ops, saturation
from fluewright.kernel.constants import GAS_CONSTANT, WATER_MOLAR_MASS
from fluewright.kernel.ops import Number


@dataclass(frozen=True, slots=True)
class Air:
    """Combustion air, per mole of its dry part.

    oxygen          mol/mol dry air
    nitrogen        mol/mol dry air
    argon           mol/mol dry air, with the other rare gases
    carbon_dioxide  mol/mol dry air
    water_ratio     mol water per mol dry air
    """

    oxygen: Number
    nitrogen: Number
    argon: Number
    carbon_dioxide: Number
    water_ratio: Number = 0.0


DRY_AIR = Air(oxygen=0.20946, nitrogen=0.78084, argon=0.0093, carbon_dioxide=0.0004)
"""US Standard Atmosphere 1976 table 3 for O2, N2 and Ar (0.20948, 0.78084, 0.00934) with CO2 as CIPM-2007 (0.0004);
oxygen 0.20946 as ISO 6976 and CIPM-81; argon closes the sum. From memory, 3e-5 absolute."""

DRY_AIR_TWO_GASES = Air(oxygen=0.2095, nitrogen=0.7905, argon=0.0, carbon_dioxide=0.0)
"""20.95 % oxygen and the rest nitrogen: the convention of most handbook tables, used to check against them."""

MOLAR_MASS = 0.02896546
"""kg/mol of dry air (ISO 6976:2016, from memory; CIPM-2007 gives 0.02896546 at 400 ppm CO2)."""


def pressure_at_altitude(*, altitude: Number) -> Number:
    """Barometric pressure of the standard atmosphere at a height.

    What to assume when nobody has read a barometer; the weather moves it by 3 % either way.

    altitude  m above sea level, -500..11000, any shape
    -> pressure, Pa, same shape

    Holds   up to 11 km
    Fails   real weather differs by up to 3 kPa
    Source  US Standard Atmosphere 1976, troposphere; checks ALT-001 to ALT-010
    """
    ratio = 1.0 - altitude / 44_330.77
    return 101_325.0 * ops.exp(5.255876 * ops.log(ratio))


def temperature_at_altitude(*, altitude: Number) -> Number:
    """Air temperature of the standard atmosphere at a height.

    altitude  m above sea level, -500..11000, any shape
    -> temperature, K, same shape

    Holds   up to 11 km
    Fails   not a forecast
    Source  US Standard Atmosphere 1976, 6.5 K per km; check ALT-011
    """
    return 288.15 - 0.0065 * altitude


def water_ratio(*, relative_humidity: Number, temperature: Number, pressure: Number) -> Number:
    """Moles of water vapour per mole of dry air.

    relative_humidity  fraction of saturation, 0..1, any shape
    temperature        K, any shape
    pressure           Pa, absolute, any shape
    -> water ratio, mol/mol dry air

    Holds   ideal mixture; the enhancement factor (0.4 % at 1 atm) is left out
    Fails   grows without bound as the vapour pressure nears the barometer
    Source  Dalton's law with IAPWS-IF97 saturation; checks HUM-001 to HUM-005
    """
    vapour = relative_humidity * saturation.pressure(temperature=temperature)
    return vapour / (pressure - vapour)


def humidity_ratio(*, relative_humidity: Number, temperature: Number, pressure: Number) -> Number:
    """Mass of water vapour per mass of dry air.

    relative_humidity  fraction of saturation, 0..1, any shape
    temperature        K, any shape
    pressure           Pa, absolute, any shape
    -> humidity ratio, kg/kg dry air

    Holds   ideal mixture
    Fails   as water_ratio
    Source  ASHRAE Handbook Fundamentals, psychrometrics (from memory); checks HUM-001 to HUM-005
    """
    moles = water_ratio(relative_humidity=relative_humidity, temperature=temperature, pressure=pressure)
    return moles * (WATER_MOLAR_MASS / MOLAR_MASS)


def humid(*, relative_humidity: Number, temperature: Number, pressure: Number, dry: Air = DRY_AIR) -> Air:
    """Air with the water vapour of a measured humidity.

    relative_humidity  fraction of saturation, 0..1
    temperature        K, where the humidity was read
    pressure           Pa, absolute
    dry                the dry air it is made of
    -> air, with its water ratio set

    Holds   ideal mixture
    Fails   as water_ratio
    Source  Dalton's law
    """
    moles = water_ratio(relative_humidity=relative_humidity, temperature=temperature, pressure=pressure)
    return Air(dry.oxygen, dry.nitrogen, dry.argon, dry.carbon_dioxide, moles)


def water_ratio_from_wet_bulb(*, wet_bulb_temperature: Number, temperature: Number, pressure: Number) -> Number:
    """Moles of water vapour per mole of dry air, from a wetted thermometer.

    The wet bulb cools until the heat from the air pays for the water it gives off.

    wet_bulb_temperature  K, of the wetted and ventilated thermometer, any shape
    temperature           K, of the dry one, any shape
    pressure              Pa, absolute, any shape
    -> water ratio, mol/mol dry air

    Holds   0 C to 50 C, ventilated wick
    Fails   still air reads too damp
    Source  energy balance of adiabatic saturation (ASHRAE Fundamentals, from memory); checks HUM-006, HUM-007
    """
    wet, dry = wet_bulb_temperature - 273.15, temperature - 273.15
    saturated = humidity_ratio(relative_humidity=1.0, temperature=wet_bulb_temperature, pressure=pressure)
    mass = ((2501.0 - 2.326 * wet) * saturated - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet)
    return mass * (MOLAR_MASS / WATER_MOLAR_MASS)


def wet_bulb_temperature(*, relative_humidity: Number, temperature: Number, pressure: Number) -> Number:
    """Temperature that a wetted, ventilated thermometer settles at.

    The inverse of `water_ratio_from_wet_bulb`, by a fixed number of halvings so that arrays can pass.

    relative_humidity  fraction of saturation, 0..1, any shape
    temperature        K, any shape
    pressure           Pa, absolute, any shape
    -> wet bulb temperature, K

    Holds   0 C to 50 C
    Fails   below freezing
    Source  as water_ratio_from_wet_bulb; checks HUM-006, HUM-007
    """
    goal = water_ratio(relative_humidity=relative_humidity, temperature=temperature, pressure=pressure)

    def damp(wet: Number) -> Number:
        return water_ratio_from_wet_bulb(wet_bulb_temperature=wet, temperature=temperature, pressure=pressure)

    return ops.root_between(damp, temperature - 45.0, temperature, goal=goal)


def oxygen_wet_fraction(*, air: Air) -> Number:
    """Oxygen in fresh air as a hot-wet probe sees it.

    Damp air holds less oxygen than dry air, which can be taken for a leak.

    air  with its water ratio
    -> oxygen, mol/mol of damp air

    Holds   always
    Fails   -
    Source  Dalton's law; checks HUM-008, RED-HUM
    """
    return air.oxygen / (1.0 + air.water_ratio)


def density(*, temperature: Number, pressure: Number) -> Number:
    """Density of dry air as an ideal gas.

    temperature  K, any shape
    pressure     Pa, absolute, any shape
    -> density, kg/m3

    Holds   ideal gas; 0.04 % low at room conditions
    Fails   near liquefaction, far from here
    Source  ideal-gas law; checks ALT-014, ALT-015
    """
    return pressure * MOLAR_MASS / (GAS_CONSTANT * temperature)
