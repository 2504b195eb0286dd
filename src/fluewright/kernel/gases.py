"""Thermodynamic data of the gases in and around a flame, and the enthalpies made from them.

Source of the polynomials: McBride, Gordon, Reno, NASA TM-4513 (1993), seven coefficients for each of two ranges,
as shipped in the open data file nasa_gas.yaml of Cantera 3.2.0 (read). Molar masses: ISO 6976:2016 table 1 where
it lists the gas, else IUPAC 2013 atomic masses (from memory; 1e-5 relative).
"""

from collections.abc import Mapping
from typing import NamedTuple

from fluewright.kernel import ops
from fluewright.kernel.constants import GAS_CONSTANT, REFERENCE_TEMPERATURE
from fluewright.kernel.ops import Number


class Species(NamedTuple):
    """One gas: molar mass in kg/mol, atoms, and cp/R = a1 + a2 T + a3 T^2 + a4 T^3 + a5 T^4 below and above 1000 K.

    a6 and a7 are the integration constants of enthalpy and entropy.
    """

    molar_mass: float
    atoms: Mapping[str, int]
    low: tuple[float, ...]
    high: tuple[float, ...]


RANGE_JOIN = 1000.0
"""K, where the two polynomial ranges meet."""

SPECIES: Mapping[str, Species] = {
    "CO2": Species(
        0.0440095,
        {"C": 1, "O": 2},
        (2.35677352, 0.00898459677, -7.12356269e-06, 2.45919022e-09, -1.43699548e-13, -48371.9697, 9.90105222),
        (4.63659493, 0.00274131991, -9.95828531e-07, 1.60373011e-10, -9.16103468e-15, -49024.9341, -1.93534855),
    ),
    "H2O": Species(
        0.01801528,
        {"H": 2, "O": 1},
        (4.19864056, -0.0020364341, 6.52040211e-06, -5.48797062e-09, 1.77197817e-12, -30293.7267, -0.849032208),
        (2.67703787, 0.00297318329, -7.7376969e-07, 9.44336689e-11, -4.26900959e-15, -29885.8938, 6.88255571),
    ),
    "N2": Species(
        0.0280134,
        {"N": 2},
        (3.53100528, -0.000123660987, -5.02999437e-07, 2.43530612e-09, -1.40881235e-12, -1046.97628, 2.96747468),
        (2.95257626, 0.00139690057, -4.92631691e-07, 7.86010367e-11, -4.60755321e-15, -923.948645, 5.87189252),
    ),
    "O2": Species(
        0.0319988,
        {"O": 2},
        (3.78245636, -0.00299673415, 9.847302e-06, -9.68129508e-09, 3.24372836e-12, -1063.94356, 3.65767573),
        (3.66096083, 0.000656365523, -1.41149485e-07, 2.05797658e-11, -1.29913248e-15, -1215.97725, 3.41536184),
    ),
    "Ar": Species(
        0.039948,
        {"Ar": 1},
        (2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 4.37967491),
        (2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 4.37967491),
    ),
    "CO": Species(
        0.02801,
        {"C": 1, "O": 1},
        (3.57953347, -0.00061035368, 1.01681433e-06, 9.07005884e-10, -9.04424499e-13, -14344.086, 3.50840928),
        (3.04848583, 0.00135172818, -4.85794075e-07, 7.88536486e-11, -4.69807489e-15, -14266.1171, 6.0170979),
    ),
    "H2": Species(
        0.0020159,
        {"H": 2},
        (2.34433112, 0.00798052075, -1.9478151e-05, 2.01572094e-08, -7.37611761e-12, -917.935173, 0.683010238),
        (2.93286579, 0.000826607967, -1.46402335e-07, 1.54100359e-11, -6.88804432e-16, -813.065597, -1.02432887),
    ),
    "SO2": Species(
        0.064064,
        {"O": 2, "S": 1},
        (3.2665338, 0.0053237902, 6.8437552e-07, -5.2810047e-09, 2.5590454e-12, -36908.148, 9.66465108),
        (5.2451364, 0.0019704204, -8.0375769e-07, 1.5149969e-10, -1.0558004e-14, -37558.227, -1.07404892),
    ),
    "NO": Species(
        0.030006,
        {"N": 1, "O": 1},
        (4.21859896, -0.00463988124, 1.10443049e-05, -9.34055507e-09, 2.80554874e-12, 9845.09964, 2.28061001),
        (3.26071234, 0.00119101135, -4.29122646e-07, 6.94481463e-11, -4.03295681e-15, 9921.43132, 6.36900518),
    ),
    "NO2": Species(
        0.0460055,
        {"N": 1, "O": 2},
        (3.94403907, -0.00158547444, 1.66578984e-05, -2.04754478e-08, 7.83503265e-12, 2896.59865, 6.31196225),
        (4.88474429, 0.00217241639, -8.2807902e-07, 1.57477293e-10, -1.05110549e-14, 2316.48462, -0.117357075),
    ),
    "OH": Species(
        0.01700734,
        {"H": 1, "O": 1},
        (3.99201543, -0.00240131752, 4.61793841e-06, -3.88113333e-09, 1.3641147e-12, 3615.08056, -0.103925458),
        (2.83864607, 0.00110725586, -2.93914978e-07, 4.20524247e-11, -2.42169092e-15, 3943.95852, 5.84452662),
    ),
    "H": Species(
        0.00100795,
        {"H": 1},
        (2.5, 0.0, 0.0, 0.0, 0.0, 25473.6599, -0.446682853),
        (2.50000286, -5.65334214e-09, 3.63251723e-12, -9.1994972e-16, 7.95260746e-20, 25473.6589, -0.446698494),
    ),
    "O": Species(
        0.0159994,
        {"O": 1},
        (3.1682671, -0.00327931884, 6.64306396e-06, -6.12806624e-09, 2.11265971e-12, 29122.2592, 2.05193346),
        (2.54363697, -2.73162486e-05, -4.1902952e-09, 4.95481845e-12, -4.79553694e-16, 29226.012, 4.92229457),
    ),
    "He": Species(
        0.004002602,
        {"He": 1},
        (2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 0.928724724),
        (2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 0.928724724),
    ),
    "CH4": Species(
        0.01604246,
        {"C": 1, "H": 4},
        (5.14987613, -0.0136709788, 4.91800599e-05, -4.84743026e-08, 1.66693956e-11, -10246.6476, -4.64130376),
        (1.63552643, 0.0100842795, -3.36916254e-06, 5.34958667e-10, -3.15518833e-14, -10005.6455, 9.99313326),
    ),
    "C2H6": Species(
        0.03006904,
        {"C": 2, "H": 6},
        (4.29142492, -0.0055015427, 5.99438288e-05, -7.08466285e-08, 2.68685771e-11, -11522.2055, 2.66682316),
        (4.04666674, 0.0153538766, -5.47039321e-06, 8.77826228e-10, -5.23167305e-14, -12447.3512, -0.968683607),
    ),
    "C3H8": Species(
        0.04409562,
        {"C": 3, "H": 8},
        (4.2110262, 0.00171599803, 7.06183472e-05, -9.19594116e-08, 3.64421372e-11, -14381.2106, 5.60930491),
        (6.66789363, 0.0206120214, -7.36553027e-06, 1.18440761e-09, -7.0695321e-14, -16274.8521, -13.1859503),
    ),
}


def molar_mass(*, species: str) -> float:
    """Molar mass of one gas in kg/mol.

    Looked up once when a formula is set up, so it is a plain number.

    species  key of SPECIES
    -> molar mass, kg/mol

    Holds   for the species listed
    Fails   KeyError for any other name
    Source  ISO 6976:2016 table 1; IUPAC 2013 for species not in it
    """
    return SPECIES[species].molar_mass


def _range_enthalpy(temperature: Number, coefficients: tuple[float, ...]) -> Number:
    """H/R in K from one range: a1 T + a2 T^2/2 + ... + a5 T^5/5 + a6."""
    a1, a2, a3, a4, a5, a6, _ = coefficients
    return ops.polynomial(temperature, (a6, a1, a2 / 2, a3 / 3, a4 / 4, a5 / 5))


def heat_capacity(*, species: str, temperature: Number) -> Number:
    """Heat capacity at constant pressure of one gas in the ideal-gas state.

    The heat that a mole takes up per kelvin; it grows with temperature, which a constant would miss.

    species      key of SPECIES
    temperature  K, 200..6000, any shape
    -> heat capacity, J/(mol K), same shape

    Holds   200 K to 6000 K; SO2 300 K to 5000 K
    Fails   extrapolates without warning outside
    Source  NASA TM-4513 polynomials; values in checks CP-001 to CP-027
    """
    gas = SPECIES[species]
    low = ops.polynomial(temperature, gas.low[:5])
    high = ops.polynomial(temperature, gas.high[:5])
    return GAS_CONSTANT * ops.where(ops.less(temperature, RANGE_JOIN), low, high)


def absolute_enthalpy(*, species: str, temperature: Number) -> Number:
    """Enthalpy of one gas including its formation from the elements.

    Differences of it across a reaction give the heat released.

    species      key of SPECIES
    temperature  K, 200..6000, any shape
    -> enthalpy, J/mol, zero for the elements at 298.15 K, same shape

    Holds   200 K to 6000 K
    Fails   extrapolates without warning outside
    Source  NASA TM-4513 polynomials
    """
    gas = SPECIES[species]
    low = _range_enthalpy(temperature, gas.low)
    high = _range_enthalpy(temperature, gas.high)
    return GAS_CONSTANT * ops.where(ops.less(temperature, RANGE_JOIN), low, high)


def formation_enthalpy(*, species: str) -> float:
    """Standard enthalpy of formation of one gas at 298.15 K.

    The heat bound in a mole when it is made from the elements.

    species  key of SPECIES
    -> formation enthalpy, J/mol

    Holds   at 298.15 K
    Fails   KeyError for any other name
    Source  NASA TM-4513 polynomials; values in checks CP-037 to CP-041
    """
    return GAS_CONSTANT * float(_range_enthalpy(REFERENCE_TEMPERATURE, SPECIES[species].low))


def enthalpy(*, species: str, temperature: Number) -> Number:
    """Sensible enthalpy of one gas above 25 C.

    What a mole carries up the flue, water counted as vapour.

    species      key of SPECIES
    temperature  K, 200..6000, any shape
    -> enthalpy above 298.15 K, J/mol, same shape

    Holds   200 K to 6000 K
    Fails   extrapolates without warning outside
    Source  NASA TM-4513 polynomials; values in checks CP-028 to CP-036
    """
    return absolute_enthalpy(species=species, temperature=temperature) - formation_enthalpy(species=species)


def entropy(*, species: str, temperature: Number) -> Number:
    """Standard entropy of one gas at 1 bar.

    Needed with the enthalpy to tell which way a reaction runs.

    species      key of SPECIES
    temperature  K, 200..6000, any shape
    -> entropy, J/(mol K), same shape

    Holds   200 K to 6000 K, 1 bar
    Fails   extrapolates without warning outside
    Source  NASA TM-4513 polynomials
    """
    gas = SPECIES[species]

    def part(coefficients: tuple[float, ...]) -> Number:
        a1, a2, a3, a4, a5, _, a7 = coefficients
        return a1 * ops.log(temperature) + ops.polynomial(temperature, (a7, a2, a3 / 2, a4 / 3, a5 / 4))

    return GAS_CONSTANT * ops.where(ops.less(temperature, RANGE_JOIN), part(gas.low), part(gas.high))


def mixture_enthalpy_polynomial(*, amounts: Mapping[str, Number]) -> tuple[Number, ...]:
    """One polynomial for the sensible enthalpy of a mixture above 25 C, below 1000 K.

    The polynomials of the gases add up, so a flue gas of six gases costs one evaluation instead of six.

    amounts  mol of each species, keys of SPECIES
    -> six coefficients c0..c5, J: enthalpy = c0 + c1 T + ... + c5 T^5

    Holds   200 K to 1000 K, hotter than any flue worth testing
    Fails   off above 1000 K, where the second range would have to be used
    Source  NASA TM-4513 polynomials, low range
    """
    totals: list[Number] = [0.0] * 6
    for name, amount in amounts.items():
        a1, a2, a3, a4, a5, a6, _ = SPECIES[name].low
        offset = a6 - formation_enthalpy(species=name) / GAS_CONSTANT
        for index, coefficient in enumerate((offset, a1, a2 / 2, a3 / 3, a4 / 4, a5 / 5)):
            totals[index] = totals[index] + amount * (GAS_CONSTANT * coefficient)
    return tuple(totals)
