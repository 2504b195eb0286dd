"""Constants that more than one formula needs, each with its source."""

GAS_CONSTANT = 8.314462618
"""J/(mol K). SI 2019 exact values of k and N_A, rounded at 1e-10 relative (CODATA 2018)."""

REFERENCE_TEMPERATURE = 298.15
"""K, 25 C: the temperature at which heating values and enthalpies are counted here (ISO 6976:2016, 25 C column)."""

ZERO_CELSIUS = 273.15
"""K, exact by definition."""

STANDARD_PRESSURE = 101325.0
"""Pa, one standard atmosphere, exact by definition (10th CGPM 1954)."""

MOLAR_VOLUME = GAS_CONSTANT * ZERO_CELSIUS / STANDARD_PRESSURE
"""m3/mol of an ideal gas at 0 C and 101.325 kPa."""

CARBON_MONOXIDE_HEAT = 282_980.0
"""J/mol released when carbon monoxide burns, 25 C (ISO 6976:2016 table 3)."""

HYDROGEN_HEAT_GROSS = 285_830.0
"""J/mol released when hydrogen burns to liquid water, 25 C (ISO 6976:2016 table 3)."""

HYDROGEN_HEAT_NET = 241_810.0
"""J/mol released when hydrogen burns to vapour, 25 C (ISO 6976:2016 table 3)."""

WATER_MOLAR_MASS = 0.01801528
"""kg/mol (IAPWS)."""

LATENT_HEAT = 2_441_800.0 * WATER_MOLAR_MASS
"""J/mol, condensation of water at 25 C: the step from gross to net heating value (IAPWS-95: 2441.7 kJ/kg; the
customary 2441.8 is kept so that net values of liquid and solid fuels agree with published ones)."""

GRAVITY = 9.80665
"""m/s2, conventional (exact, NIST SP 811 B.8)."""

PI = 3.141592653589793
"""Circumference of a circle over its diameter; the kernel takes numbers of any kind, so it imports no mathematics."""
