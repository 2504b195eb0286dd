"""Real-gas properties of a fuel gas at a metering and a combustion reference (ISO 6976)."""

from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.kernel import ops
from fluewright.kernel.air import MOLAR_MASS as AIR_MOLAR_MASS
from fluewright.kernel.components import AIR_COMPRESSION, COMBUSTION, COMPONENTS, METERING, METERING_TEMPERATURE
from fluewright.kernel.constants import GAS_CONSTANT, STANDARD_PRESSURE
from fluewright.kernel.ops import Number


@dataclass(frozen=True, slots=True)
class GasProperties:
    """A fuel gas at its references.

    molar_mass           kg/mol
    compression_factor   -, at the metering reference
    density              kg/m3 real gas
    relative_density     - against dry air at the same reference
    heating_value_gross  J/m3 real gas
    heating_value_net    J/m3 real gas
    wobbe_gross          J/m3
    wobbe_net            J/m3
    """

    molar_mass: Number
    compression_factor: Number
    density: Number
    relative_density: Number
    heating_value_gross: Number
    heating_value_net: Number
    wobbe_gross: Number
    wobbe_net: Number


def _summation(compression: float) -> float:
    """The factor of one gas in the mixture rule; hydrogen, helium and neon count as zero."""
    return float((1.0 - compression) ** 0.5) if compression < 1.0 else 0.0


def compression_factor(*, mole_fractions: Mapping[str, Number], metering: str) -> Number:
    """Compression factor of a mixture at 101.325 kPa.

    Real gases take a little less room than ideal ones: 0.2 % for natural gas, 2 to 3 % for propane and butane.

    mole_fractions  mol/mol, keys of COMPONENTS
    metering        "0", "15", "60F" or "20"
    -> compression factor, -

    Holds   at 101.325 kPa; Z above 0.9
    Fails   high pressures
    Source  ISO 6976:2016 equation 1: Z = 1 - (sum x s)^2; check WOB-007
    """
    place = METERING.index(metering)
    total: Number = 0.0
    for component, fraction in mole_fractions.items():
        total = total + fraction * _summation(COMPONENTS[component].compression[place])
    return 1.0 - total * total


def gas_properties(
    *, mole_fractions: Mapping[str, Number], combustion: str = "25", metering: str = "0", ideal: bool = False
) -> GasProperties:
    """Heating values, density and Wobbe index of a mixture.

    mole_fractions  mol/mol, keys of COMPONENTS, summing to 1
    combustion      temperature the heat is counted at: "0", "15", "60F", "20" or "25"
    metering        temperature the volume is counted at: "0", "15", "60F" or "20"
    ideal           count volumes as an ideal gas (US practice of GPA tables)
    -> properties at 101.325 kPa

    Holds   dry gas of components with Z above 0.9
    Fails   ValueError for an unknown reference, KeyError for an unknown component
    Source  ISO 6976:2016; checks FUEL-001 to FUEL-037, EN437-001 to EN437-025, GPA-001 to GPA-012, WOB-003 to WOB-008
    """
    heat = COMBUSTION.index(combustion)
    place = METERING.index(metering)
    mass: Number = 0.0
    gross: Number = 0.0
    net: Number = 0.0
    for component, fraction in mole_fractions.items():
        data = COMPONENTS[component]
        mass = mass + fraction * data.molar_mass
        gross = gross + fraction * data.gross[heat]
        net = net + fraction * data.net[heat]
    factor: Number = 1.0 if ideal else compression_factor(mole_fractions=mole_fractions, metering=metering)
    amount = STANDARD_PRESSURE / (GAS_CONSTANT * METERING_TEMPERATURE[place] * factor)
    against = mass / AIR_MOLAR_MASS * ((1.0 if ideal else AIR_COMPRESSION[place]) / factor)
    root = ops.sqrt(against)
    return GasProperties(
        mass, factor, mass * amount, against, gross * amount, net * amount, gross * amount / root, net * amount / root
    )


def mole_fractions_from_volume(*, volume_fractions: Mapping[str, Number], metering: str = "15") -> dict[str, Number]:
    """Mole fractions from fractions of real volume.

    EN 437 gives its test gases by volume; a litre of propane holds 1.6 % more moles than a litre of methane.

    volume_fractions  m3/m3, keys of COMPONENTS, summing to 1
    metering          temperature of the volumes: "0", "15", "60F" or "20"
    -> mole fractions, mol/mol, summing to 1

    Holds   at 101.325 kPa, volumes of the separate gases added
    Fails   KeyError for an unknown component
    Source  EN 437:2003+A1:2009 clause on test gases (read as excerpt); checks EN437-011 to EN437-015
    """
    place = METERING.index(metering)
    moles = {c: v / COMPONENTS[c].compression[place] for c, v in volume_fractions.items()}
    total: Number = 0.0
    for amount in moles.values():
        total = total + amount
    return {component: amount / total for component, amount in moles.items()}


def weaver_flame_speed(*, mole_fractions: Mapping[str, Number], air_need: Number) -> Number:
    """Flame speed of a gas in per cent of hydrogen's.

    How fast a flame runs back towards the port; the figure behind lift and flash-back.

    mole_fractions  mol/mol, keys of COMPONENTS
    air_need        mol dry air per mol gas
    -> flame-speed factor, % of hydrogen

    Holds   fuel gases of hydrogen, carbon monoxide, methane to butane, nitrogen, carbon dioxide, oxygen
    Fails   KeyError for a combustible component without a published factor
    Source  Weaver, NBS Research Paper 2193 (1951): abstract read, constants from memory; checks WEAV-001 to WEAV-005
    """
    factors = {"H2": 339.0, "CO": 61.0, "CH4": 148.0, "C2H6": 301.0, "C3H8": 398.0, "nC4H10": 513.0, "iC4H10": 513.0}
    inert: Number = mole_fractions.get("N2", 0.0) + mole_fractions.get("CO2", 0.0)
    total: Number = 0.0
    for component, fraction in mole_fractions.items():
        if component not in ("N2", "CO2", "O2"):
            total = total + factors[component] * fraction
    return total / (air_need + 5.0 * inert - 18.8 * mole_fractions.get("O2", 0.0) + 1.0)
