"""Short formulas of laws and handbooks, each with its own constants, beside and never mixed with first principles."""

from collections.abc import Mapping
from typing import NamedTuple

from fluewright.kernel.ops import Number

SCF_PER_POUND_MOLE = 385.3
"""ft3 per lb-mol at 68 F and 29.92 inHg, as 40 CFR 60 Method 19 rounds it."""

PPM = 1e6


class Siegert(NamedTuple):
    """Constants of the German flue-loss formula for one group of fuels.

    oxygen_factor          A, for the oxygen form (1. BImSchV 2010 Annex 2 no. 3.4.1, read)
    carbon_dioxide_factor  A1, for the older carbon dioxide form (1997 text, from memory)
    offset                 B, per cent per kelvin
    """

    oxygen_factor: float
    carbon_dioxide_factor: float
    offset: float


SIEGERT: Mapping[str, Siegert] = {
    "heating oil": Siegert(0.68, 0.50, 0.007),
    "gas of public supply": Siegert(0.66, 0.37, 0.009),
    "coke-oven gas": Siegert(0.60, 0.29, 0.011),
    "liquefied petroleum gas": Siegert(0.63, 0.42, 0.008),
}


def siegert_from_oxygen(
    *, group: str, flue_temperature: Number, air_temperature: Number, oxygen_dry_fraction: Number
) -> Number:
    """Flue loss on the net basis by the German ordinance, from oxygen.

    What the law compares with its limit; physics may differ by 0.6 points for liquefied petroleum gas.

    group                key of SIEGERT
    flue_temperature     K, any shape
    air_temperature      K, any shape
    oxygen_dry_fraction  mol/mol dry, below 0.21, any shape
    -> flue loss, fraction of the net heating value

    Holds   as a legal figure for oil and gas
    Fails   not a physical loss for liquefied petroleum gas
    Source  1. BImSchV 2010 Annex 2 no. 3.4.1 (read); checks BIM-001 to BIM-014, GUM-026
    """
    k = SIEGERT[group]
    rise = flue_temperature - air_temperature
    return rise * (k.oxygen_factor / (21.0 - 100.0 * oxygen_dry_fraction) + k.offset) / 100.0


def siegert_from_carbon_dioxide(
    *, group: str, flue_temperature: Number, air_temperature: Number, carbon_dioxide_dry_fraction: Number
) -> Number:
    """Flue loss on the net basis by the older German form, from carbon dioxide.

    group                        key of SIEGERT
    flue_temperature             K, any shape
    air_temperature              K, any shape
    carbon_dioxide_dry_fraction  mol/mol dry, above 0, any shape
    -> flue loss, fraction of the net heating value

    Holds   comparison with old records
    Fails   no longer law
    Source  1. BImSchV 1997 Annex III (from memory); checks BIM-029 to BIM-033
    """
    k = SIEGERT[group]
    rise = flue_temperature - air_temperature
    return rise * (k.carbon_dioxide_factor / (100.0 * carbon_dioxide_dry_fraction) + k.offset) / 100.0


class FFactor(NamedTuple):
    """Flue gas per heat as 40 CFR 60 Appendix A-7 Method 19 table 19-2 prints it, gross heat, 68 F, 0 % oxygen.

    dry             dscf per million Btu
    wet             wscf per million Btu, None where the table gives none
    carbon          scf of carbon dioxide per million Btu
    known           how the row was seen
    """

    dry: float
    wet: float | None
    carbon: float
    known: str


F_FACTORS: Mapping[str, FFactor] = {
    "anthracite": FFactor(10100.0, 10540.0, 1970.0, "from memory"),
    "bituminous coal": FFactor(9780.0, 10640.0, 1800.0, "from memory"),
    "lignite": FFactor(9860.0, 11950.0, 1910.0, "from memory"),
    "oil": FFactor(9190.0, 10320.0, 1420.0, "from memory"),
    "natural gas": FFactor(8710.0, 10610.0, 1040.0, "read in 40 CFR 75 App. F table 1; wet from memory"),
    "propane": FFactor(8710.0, 10200.0, 1190.0, "read in 40 CFR 75 App. F table 1; wet from memory"),
    "butane": FFactor(8710.0, 10390.0, 1250.0, "read in 40 CFR 75 App. F table 1; wet from memory"),
    "wood": FFactor(9240.0, None, 1830.0, "from memory"),
    "wood bark": FFactor(9600.0, None, 1920.0, "from memory"),
}

FO_RANGES: Mapping[str, tuple[float, float]] = {
    "natural gas": (1.600, 1.836),
    "distillate oil": (1.260, 1.413),
    "residual oil": (1.210, 1.370),
    "propane": (1.434, 1.586),
    "butane": (1.405, 1.553),
    "wood": (1.000, 1.120),
    "wood bark": (1.003, 1.130),
}
"""Expected Fo, 40 CFR 60 App. A-2 Method 3B (from memory)."""

LATENT_CONSTANTS: Mapping[str, float] = {"natural gas": 0.0955, "propane": 0.0799, "No. 2 oil": 0.0650}
"""Latent loss, fraction of gross, of the US test procedure (ASHRAE 103, 10 CFR 430 App. N, O; from memory)."""

NOX_POUND_PER_SCF_PPM = 1.194e-7
"""lb NO2 per scf and ppm (40 CFR 75 App. F 3.3.1, read)."""


def pound_per_scf_ppm(*, molar_mass: float) -> float:
    """Mass of a trace gas in a standard cubic foot at 1 ppm.

    molar_mass  kg/mol
    -> lb/scf per ppm

    Holds   68 F, 29.92 inHg
    Fails   -
    Source  40 CFR 60 Method 19, 385.3 ft3/lb-mol; checks EMI-006, EMI-007
    """
    return molar_mass * 1000.0 / SCF_PER_POUND_MOLE / PPM


def method_19_rate(*, ppm_dry: Number, oxygen_percent: Number, dry_factor: Number, pound_per_scf_ppm: Number) -> Number:
    """Emission rate by the US dry F-factor, from oxygen.

    ppm_dry            ppm dry, any shape
    oxygen_percent     % dry, below 20.9, any shape
    dry_factor         Fd, dscf per million Btu
    pound_per_scf_ppm  lb/scf per ppm
    -> lb per million Btu, gross heat input

    Holds   as a regulatory figure
    Fails   differs by about 2 % from physics for propane and butane
    Source  40 CFR 60 App. A-7 Method 19 equation 19-1; checks EMI-008 to EMI-012, AP42-001
    """
    return ppm_dry * pound_per_scf_ppm * dry_factor * 20.9 / (20.9 - oxygen_percent)


def method_19_rate_wet(
    *, ppm_wet: Number, oxygen_wet_percent: Number, wet_factor: Number, air_moisture: Number, pound_per_scf_ppm: Number
) -> Number:
    """Emission rate by the US wet F-factor, from wet oxygen.

    ppm_wet             ppm wet, any shape
    oxygen_wet_percent  % wet, any shape
    wet_factor          Fw, wscf per million Btu
    air_moisture        Bwa, mol water per mol of damp air
    pound_per_scf_ppm   lb/scf per ppm
    -> lb per million Btu, gross heat input

    Holds   as a regulatory figure; no moisture added after the flame
    Fails   with scrubbers or steam
    Source  40 CFR 60 App. A-7 Method 19 equation 19-3 (from memory)
    """
    return ppm_wet * pound_per_scf_ppm * wet_factor * 20.9 / (20.9 * (1.0 - air_moisture) - oxygen_wet_percent)


def method_19_rate_carbon(
    *, ppm: Number, carbon_dioxide_percent: Number, carbon_factor: Number, pound_per_scf_ppm: Number
) -> Number:
    """Emission rate by the US carbon F-factor, from carbon dioxide on the same basis.

    ppm                     ppm, any shape
    carbon_dioxide_percent  %, above 0, same basis, any shape
    carbon_factor           Fc, scf CO2 per million Btu
    pound_per_scf_ppm       lb/scf per ppm
    -> lb per million Btu, gross heat input

    Holds   as a regulatory figure
    Fails   carbon dioxide from elsewhere
    Source  40 CFR 60 App. A-7 Method 19 equation 19-6 (from memory)
    """
    return ppm * pound_per_scf_ppm * carbon_factor * 100.0 / carbon_dioxide_percent


def dry_factor_from_ultimate(
    *, hydrogen: Number, carbon: Number, sulfur: Number, nitrogen: Number, oxygen: Number, heating_value: Number
) -> Number:
    """Dry F-factor from an ultimate analysis by the method's own equation.

    hydrogen       % by mass
    carbon         % by mass
    sulfur         % by mass
    nitrogen       % by mass
    oxygen         % by mass
    heating_value  Btu/lb, gross
    -> Fd, dscf per million Btu

    Holds   analysis and heating value on one basis
    Fails   0.1 % off stoichiometry by its rounded factors
    Source  40 CFR 60 App. A-7 Method 19 equation 19-13; checks M19-022 to M19-025
    """
    sum_ = 3.64 * hydrogen + 1.53 * carbon + 0.57 * sulfur + 0.14 * nitrogen - 0.46 * oxygen
    return 1e6 * sum_ / heating_value


def dry_factor_from_ultimate_si(
    *, hydrogen: Number, carbon: Number, sulfur: Number, nitrogen: Number, oxygen: Number, heating_value: Number
) -> Number:
    """Dry F-factor in SI units from an ultimate analysis.

    hydrogen       % by mass
    carbon         % by mass
    sulfur         % by mass
    nitrogen       % by mass
    oxygen         % by mass
    heating_value  kJ/kg, gross
    -> Fd, dscm/J

    Holds   as dry_factor_from_ultimate
    Fails   as dry_factor_from_ultimate
    Source  40 CFR 60 App. A-7 Method 19 equation 19-13; check M19-023
    """
    sum_ = 22.7 * hydrogen + 9.57 * carbon + 3.54 * sulfur + 0.86 * nitrogen - 2.85 * oxygen
    return 1e-5 * sum_ / heating_value


def carbon_factor_from_ultimate(*, carbon: Number, heating_value: Number) -> Number:
    """Carbon F-factor from an ultimate analysis.

    carbon         % by mass
    heating_value  Btu/lb, gross
    -> Fc, scf CO2 per million Btu

    Holds   all carbon burns
    Fails   -
    Source  40 CFR 60 App. A-7 Method 19 equation 19-15 (from memory); check M19-026
    """
    return 1e6 * 0.321 * carbon / heating_value


def fo_from_factors(*, dry_factor: Number, carbon_factor: Number) -> Number:
    """Fuel factor Fo from the two F-factors.

    dry_factor     Fd, dscf per million Btu
    carbon_factor  Fc, scf per million Btu
    -> Fo, -

    Holds   one fuel
    Fails   -
    Source  40 CFR 60 App. A-2 Method 3B; checks M19-015 to M19-021
    """
    return 0.209 * dry_factor / carbon_factor


def fo_from_analysis(
    *, oxygen_percent: Number, carbon_dioxide_percent: Number, carbon_monoxide_percent: Number = 0.0
) -> Number:
    """Fuel factor Fo from a flue analysis, to see whether oxygen and carbon dioxide fit the fuel.

    oxygen_percent           % dry, any shape
    carbon_dioxide_percent   % dry, above 0, any shape
    carbon_monoxide_percent  % dry, any shape
    -> Fo, -

    Holds   combustion of one fuel in air
    Fails   cannot see air that leaked in
    Source  40 CFR 60 App. A-2 Method 3B (read); check M3B-003
    """
    oxygen = oxygen_percent - 0.5 * carbon_monoxide_percent
    return (20.9 - oxygen) / (carbon_dioxide_percent + carbon_monoxide_percent)


def excess_air_method_3b(
    *, oxygen_percent: Number, carbon_dioxide_percent: Number, carbon_monoxide_percent: Number = 0.0
) -> Number:
    """Excess air from an Orsat analysis, nitrogen by difference.

    oxygen_percent           % dry, any shape
    carbon_dioxide_percent   % dry, any shape
    carbon_monoxide_percent  % dry, any shape
    -> excess air, %

    Holds   fuels with little nitrogen
    Fails   gases with much nitrogen or carbon dioxide
    Source  40 CFR 60 App. A-2 Method 3B (from memory); checks M3B-001, M3B-002
    """
    left = oxygen_percent - 0.5 * carbon_monoxide_percent
    nitrogen = 100.0 - oxygen_percent - carbon_dioxide_percent - carbon_monoxide_percent
    return 100.0 * left / (0.264 * nitrogen - left)


class AbbreviatedLoss(NamedTuple):
    """Losses by an abbreviated form, fractions of gross, and the dry gas per fuel it used."""

    dry_gas_per_fuel: Number
    dry_gas: Number
    hydrogen_moisture: Number
    carbon_monoxide: Number


def ptc_abbreviated(
    *,
    carbon: Number,
    hydrogen: Number,
    sulfur: Number,
    heating_value: Number,
    oxygen_percent: Number,
    carbon_dioxide_percent: Number,
    carbon_monoxide_percent: Number,
    flue_fahrenheit: Number,
    air_fahrenheit: Number,
) -> AbbreviatedLoss:
    """Heat losses by the abbreviated US power-test form.

    carbon                   % by mass burned
    hydrogen                 % by mass
    sulfur                   % by mass
    heating_value            Btu/lb, gross
    oxygen_percent           % dry
    carbon_dioxide_percent   % dry
    carbon_monoxide_percent  % dry
    flue_fahrenheit          F, below 575
    air_fahrenheit           F, of air and fuel
    -> lb dry gas per lb fuel and losses as fractions of gross

    Holds   flue below 575 F
    Fails   constants are rounded
    Source  ASME PTC 4.1 abbreviated form (from memory); checks PTC-001 to PTC-004
    """
    nitrogen = 100.0 - oxygen_percent - carbon_dioxide_percent - carbon_monoxide_percent
    carbons = carbon_dioxide_percent + carbon_monoxide_percent
    burned = (carbon + 0.375 * sulfur) / 100.0
    weighed = 11.0 * carbon_dioxide_percent + 8.0 * oxygen_percent + 7.0 * (nitrogen + carbon_monoxide_percent)
    dry = weighed / (3.0 * carbons) * burned
    return AbbreviatedLoss(
        dry,
        0.24 * dry * (flue_fahrenheit - air_fahrenheit) / heating_value,
        9.0 * hydrogen / 100.0 * (1089.0 + 0.46 * flue_fahrenheit - air_fahrenheit) / heating_value,
        10160.0 * carbon / 100.0 * carbon_monoxide_percent / carbons / heating_value,
    )


def bs845_dry_gas(*, carbon: Number, heating_value: Number, rise: Number, carbon_dioxide_percent: Number) -> Number:
    """Dry flue-gas loss by the British short form, gross.

    carbon                  % by mass
    heating_value           kJ/kg, gross
    rise                    K, flue less air
    carbon_dioxide_percent  % dry
    -> loss, % of gross

    Holds   k = 255 C / Qgr
    Fails   rounded constant
    Source  BS 845-1 (from memory); checks BS845-001, BS845-002
    """
    return 255.0 * carbon / heating_value * rise / carbon_dioxide_percent


def bs845_moisture(
    *, water: Number, hydrogen: Number, heating_value: Number, flue_celsius: Number, air_celsius: Number
) -> Number:
    """Loss by moisture and hydrogen by the British short form, gross.

    water          % by mass
    hydrogen       % by mass
    heating_value  kJ/kg, gross
    flue_celsius   C
    air_celsius    C
    -> loss, % of gross

    Holds   nothing condensed
    Fails   rounded constants
    Source  BS 845-1 (from memory); check BS845-003
    """
    return (water + 9.0 * hydrogen) * (2488.0 - 4.2 * air_celsius + 2.1 * flue_celsius) / heating_value
