"""The units, each with its factor to the canonical unit, the spellings people type and where the factor comes from.

canonical = value x factor + offset. "SP 811" is NIST Special Publication 811 (2008), Guide for the Use of the
International System of Units, Appendix B; its rounded values are met, the factors here are built from exact parts.
"""

from typing import NamedTuple

EXACT = "exact by definition"
SI = "SI Brochure 9th edition, prefixes and coherent units, exact"
INTERNATIONAL = "international yard and pound, 1959, exact (SP 811 B.6)"
IT = "International Table Btu, 1055.055 852 62 J exactly (SP 811 B.8 gives 1.055 056 E+03)"
WATER_COLUMN = "conventional inch of water, 1000 kg/m3 and 9.806 65 m/s2 (SP 811 B.8 gives 249.0889 Pa)"
MERCURY = "conventional mercury, 13 595.1 kg/m3 and 9.806 65 m/s2 (SP 811 B.8 gives 3386.389 Pa and 133.3224 Pa)"
GALLON = "US gallon, 231 cubic inches exactly (SP 811 B.8 gives 3.785 412 E-03 m3)"

FOOT = 0.3048
INCH = 0.0254
POUND = 0.45359237
GRAVITY = 9.80665
BTU = 1055.05585262
MMBTU = 1.0e6 * BTU
CUBIC_FOOT = FOOT**3
US_GALLON = 231.0 * INCH**3
IMPERIAL_GALLON = 4.54609e-3
PSI = POUND * GRAVITY / INCH**2
INCH_OF_WATER = INCH * 1000.0 * GRAVITY
INCH_OF_MERCURY = INCH * 13595.1 * GRAVITY
KILOCALORIE = 4186.8
HOUR = 3600.0
KWH = 3.6e6


class Unit(NamedTuple):
    """One unit of one dimension.

    symbol     as written in data, such as "in w.c." or "m3/h"; a page may typeset it
    dimension  what it measures
    factor, offset  canonical = value x factor + offset
    spellings  how people type it, folded: lower case, without spaces, dots, degree signs
    source     where the factor comes from
    """

    symbol: str
    dimension: str
    factor: float
    offset: float
    spellings: tuple[str, ...]
    source: str


def _rate(*stems: str) -> tuple[str, ...]:
    return tuple(f"{stem}{end}" for stem in stems for end in ("/h", "/hr", "/hour", "h"))


def of_dimension(dimension: str, *rows: tuple[str, float, str, str]) -> tuple[Unit, ...]:
    """Units of one dimension from rows of symbol, factor, further spellings and source."""
    return tuple(
        Unit(symbol, dimension, factor, 0.0, tuple(more.split()), source) for symbol, factor, more, source in rows
    )


FRACTIONS = of_dimension(
    "fraction",
    ("1", 1.0, "1 fraction mol/mol", EXACT),
    ("%", 1e-2, "% percent pct vol% vol-% %vol volume% mol% %v/v", EXACT),
    ("‰", 1e-3, "‰ permille", EXACT),
    ("ppm", 1e-6, "ppm ppmv vppm umol/mol", EXACT),
    ("ppb", 1e-9, "ppb ppbv", EXACT),
)

RATIOS = of_dimension("ratio", ("1", 1.0, "1 m3/m3 mol/mol ft3/ft3", EXACT))
SPOTS = of_dimension("spot number", ("1", 1.0, "1 spot", EXACT))

MASS_RATIOS = of_dimension(
    "mass ratio",
    ("kg/kg", 1.0, "kg/kg", EXACT),
    ("lb/lb", 1.0, "lb/lb lbs/lb", EXACT),
    ("g/kg", 1e-3, "g/kg", SI),
    ("gr/lb", 1.0 / 7000.0, "gr/lb grains/lb grain/lb grains/pound", "7000 grains a pound, exact (SP 811 B.8)"),
)

_FAHRENHEIT = "exact by definition of the degree Fahrenheit (SP 811 B.8)"
TEMPERATURES = (
    Unit("K", "temperature", 1.0, 0.0, ("k", "kelvin", "kelvins"), SI),
    Unit("°C", "temperature", 1.0, 273.15, ("c", "celsius", "centigrade"), "SI Brochure 9th edition 2.3.1, exact"),
    Unit("°F", "temperature", 5.0 / 9.0, 459.67 * 5.0 / 9.0, ("f", "fahrenheit"), _FAHRENHEIT),
    Unit("°R", "temperature", 5.0 / 9.0, 0.0, ("r", "rankine"), _FAHRENHEIT),
)

DIFFERENCES = of_dimension(
    "temperature difference",
    ("K", 1.0, "k kelvin kelvins", SI),
    ("°C", 1.0, "c celsius", SI),
    ("°F", 5.0 / 9.0, "f fahrenheit", _FAHRENHEIT),
    ("°R", 5.0 / 9.0, "r rankine", _FAHRENHEIT),
)

PRESSURES = of_dimension(
    "pressure",
    ("Pa", 1.0, "pa pascal pascals", SI),
    ("hPa", 100.0, "hpa", SI),
    ("kPa", 1000.0, "kpa", SI),
    ("MPa", 1.0e6, "mpa", SI),
    ("mbar", 100.0, "mbar millibar mb mbars", "bar, 100 000 Pa exactly (SP 811 B.8)"),
    ("bar", 1.0e5, "bar bars", "bar, 100 000 Pa exactly (SP 811 B.8)"),
    (
        "in w.c.",
        INCH_OF_WATER,
        'inwc inwg inh2o iwc iwg inh20 "wc "wg "h2o inchwc inchwg incheswc incheswg inchesh2o inchesofwater '
        'inchesofwatercolumn inchofwater incheswatercolumn inswc "ofwater wc wg in " inch inches',
        WATER_COLUMN,
    ),
    ("mm w.c.", GRAVITY, "mmwc mmwg mmh2o mmh20 mmwater mmofwater mmws mm", WATER_COLUMN),
    ("cm w.c.", 10.0 * GRAVITY, "cmwc cmwg cmh2o", WATER_COLUMN),
    (
        "psi",
        PSI,
        "psi lb/in2 lbf/in2 lbs/in2 pounds/squareinch",
        "pound-force per square inch from exact parts (SP 811 B.8)",
    ),
    ("osi", PSI / 16.0, "osi oz/in2 ozf/in2 oz ounces ounce oz/sqin", "sixteenth of a psi, exact"),
    ("inHg", INCH_OF_MERCURY, 'inhg inchhg incheshg "hg inchesofmercury inchmercury in " inch inches', MERCURY),
    ("mmHg", INCH_OF_MERCURY / 25.4, "mmhg mmofmercury mm", MERCURY),
    ("torr", 101325.0 / 760.0, "torr", "standard atmosphere / 760, exact (SP 811 B.8)"),
    ("atm", 101325.0, "atm atmosphere atmospheres", "standard atmosphere, 101 325 Pa exactly (SP 811 B.8)"),
)

GAUGE_ONLY = of_dimension(
    "gauge pressure",
    ("psig", PSI, "psig", "as psi, counted from the pressure of the room"),
    ("barg", 1.0e5, "barg", "as bar, counted from the pressure of the room"),
)

ABSOLUTE_ONLY = of_dimension(
    "absolute pressure",
    ("psia", PSI, "psia", "as psi, counted from vacuum"),
    ("bara", 1.0e5, "bara", "as bar, counted from vacuum"),
)

POWERS = of_dimension(
    "power",
    ("W", 1.0, "w watt watts j/s", SI),
    ("kW", 1.0e3, "kw kilowatt kilowatts kj/s", SI),
    ("MW", 1.0e6, "mw megawatt megawatts", SI),
    ("MJ/h", 1.0e6 / HOUR, "mj/h mj/hr mjh", SI),
    ("Btu/h", BTU / HOUR, " ".join(_rate("btu", "btus")), IT),
    ("kBtu/h", 1e3 * BTU / HOUR, " ".join(_rate("kbtu", "kbtus")), IT),
    ("MBH", 1e3 * BTU / HOUR, "mbh " + " ".join(_rate("mbtu")), IT + "; M is the old thousand"),
    ("MMBtu/h", MMBTU / HOUR, "mmbh " + " ".join(_rate("mmbtu", "mbtu")), IT),
    ("therm/h", 1e5 * BTU / HOUR, " ".join(_rate("therm", "therms", "thm")), IT + "; 100 000 Btu"),
    (
        "kcal/h",
        KILOCALORIE / HOUR,
        "kcal/h kcal/hr kcalh",
        "International Table calorie, 4.1868 J exactly (SP 811 B.8)",
    ),
    (
        "bhp",
        33475.0 * BTU / HOUR,
        "bhp boilerhp boilerhorsepower hp(boiler)",
        "33 475 Btu/h, common practice, no source",
    ),
)

ENERGIES = of_dimension(
    "energy",
    ("J", 1.0, "j joule joules", SI),
    ("kJ", 1.0e3, "kj", SI),
    ("MJ", 1.0e6, "mj", SI),
    ("GJ", 1.0e9, "gj", SI),
    ("Wh", 3600.0, "wh", SI),
    ("kWh", KWH, "kwh", SI),
    ("MWh", 1e3 * KWH, "mwh", SI),
    ("Btu", BTU, "btu btus", IT),
    ("kBtu", 1e3 * BTU, "kbtu", IT),
    ("MMBtu", MMBTU, "mmbtu dth dekatherm", IT),
    ("therm", 1e5 * BTU, "therm therms thm", IT + "; 100 000 Btu, the US legal therm is 0.024 % less"),
    ("kcal", KILOCALORIE, "kcal", "International Table calorie, 4.1868 J exactly (SP 811 B.8)"),
)

VOLUME_FLOWS = of_dimension(
    "volume flow",
    ("m3/s", 1.0, "m3/s", SI),
    ("m3/h", 1.0 / HOUR, "m3/h m3/hr m3h cbm/h", SI),
    ("m3/min", 1.0 / 60.0, "m3/min", SI),
    ("L/s", 1e-3, "l/s lps", SI),
    ("L/min", 1e-3 / 60.0, "l/min lpm l/m", SI),
    ("L/h", 1e-3 / HOUR, "l/h l/hr lph liters/hour litres/hour liter/h litre/h", SI),
    ("mL/min", 1e-6 / 60.0, "ml/min cc/min", SI),
    ("gph", US_GALLON / HOUR, "gph gal/h gal/hr gals/hr gallons/hour gal/hour usgph usgal/h", GALLON),
    ("gpm", US_GALLON / 60.0, "gpm gal/min gallons/minute usgpm usgal/min", GALLON),
    ("imp gal/h", IMPERIAL_GALLON / HOUR, "impgal/h impgal/hr impgph igph ukgal/h", "4.546 09 L exactly (SP 811 B.8)"),
    ("cfh", CUBIC_FOOT / HOUR, "cfh ft3/h ft3/hr cuft/h cuft/hr cf/h cubicfeet/hour", INTERNATIONAL),
    ("cfm", CUBIC_FOOT / 60.0, "cfm ft3/min cuft/min cubicfeet/minute", INTERNATIONAL),
)

MASS_FLOWS = of_dimension(
    "mass flow",
    ("kg/s", 1.0, "kg/s", SI),
    ("kg/h", 1.0 / HOUR, "kg/h kg/hr kgh", SI),
    ("g/h", 1e-3 / HOUR, "g/h g/hr", SI),
    ("g/min", 1e-3 / 60.0, "g/min", SI),
    ("g/s", 1e-3, "g/s", SI),
    ("lb/h", POUND / HOUR, "lb/h lb/hr lbs/h lbs/hr pph pounds/hour", INTERNATIONAL),
)

MASSES = of_dimension(
    "mass",
    ("kg", 1.0, "kg kilogram kilograms", SI),
    ("g", 1e-3, "g gram grams", SI),
    ("lb", POUND, "lb lbs pound pounds", INTERNATIONAL),
    ("oz", POUND / 16.0, "oz ounce ounces", INTERNATIONAL),
)

VOLUMES = of_dimension(
    "volume",
    ("m3", 1.0, "m3", SI),
    ("L", 1e-3, "l liter liters litre litres", SI),
    ("mL", 1e-6, "ml cc cm3", SI),
    ("gal", US_GALLON, "gal gallon gallons usgal", GALLON),
    ("ft3", CUBIC_FOOT, "ft3 cuft cf cubicfeet cubicfoot", INTERNATIONAL),
    ("ccf", 100.0 * CUBIC_FOOT, "ccf", INTERNATIONAL + "; a hundred cubic feet"),
)

HEATS_PER_VOLUME = of_dimension(
    "heat per volume",
    ("J/m3", 1.0, "j/m3", SI),
    ("kJ/m3", 1e3, "kj/m3", SI),
    ("MJ/m3", 1e6, "mj/m3", SI),
    ("kWh/m3", KWH, "kwh/m3", SI),
    ("MJ/L", 1e9, "mj/l", SI),
    ("kWh/L", 1e3 * KWH, "kwh/l", SI),
    ("Btu/ft3", BTU / CUBIC_FOOT, "btu/ft3 btu/cuft btu/cf btu/cubicfoot btu/scf", IT),
    ("Btu/gal", BTU / US_GALLON, "btu/gal btu/gallon", IT),
    ("kcal/m3", KILOCALORIE, "kcal/m3", "International Table calorie, 4.1868 J exactly (SP 811 B.8)"),
)

HEATS_PER_MASS = of_dimension(
    "heat per mass",
    ("J/kg", 1.0, "j/kg", SI),
    ("kJ/kg", 1e3, "kj/kg", SI),
    ("MJ/kg", 1e6, "mj/kg", SI),
    ("kWh/kg", KWH, "kwh/kg", SI),
    ("Btu/lb", BTU / POUND, "btu/lb btu/lbm btu/pound", IT),
    ("kcal/kg", KILOCALORIE, "kcal/kg", "International Table calorie, 4.1868 J exactly (SP 811 B.8)"),
)

MASSES_PER_VOLUME = of_dimension(
    "mass per volume",
    ("kg/m3", 1.0, "kg/m3 g/l", SI),
    ("g/m3", 1e-3, "g/m3", SI),
    ("mg/m3", 1e-6, "mg/m3", SI),
    ("µg/m3", 1e-9, "ug/m3", SI),
    ("kg/L", 1e3, "kg/l g/cm3 g/ml", SI),
    ("lb/ft3", POUND / CUBIC_FOOT, "lb/ft3 lb/cuft lbs/ft3", INTERNATIONAL),
    ("lb/gal", POUND / US_GALLON, "lb/gal lbs/gal", INTERNATIONAL),
)

MASSES_PER_HEAT = of_dimension(
    "mass per heat",
    ("kg/J", 1.0, "kg/j", SI),
    ("mg/kWh", 1e-6 / KWH, "mg/kwh", SI),
    ("g/kWh", 1e-3 / KWH, "g/kwh", SI),
    ("kg/kWh", 1.0 / KWH, "kg/kwh", SI),
    ("ng/J", 1e-12, "ng/j", SI),
    ("mg/MJ", 1e-12, "mg/mj", SI),
    ("g/GJ", 1e-12, "g/gj", SI),
    ("g/MJ", 1e-9, "g/mj", SI),
    ("kg/GJ", 1e-9, "kg/gj", SI),
    ("lb/MMBtu", POUND / MMBTU, "lb/mmbtu lbs/mmbtu", IT),
    ("kg/MMBtu", 1.0 / MMBTU, "kg/mmbtu", IT),
    ("lb/therm", POUND / (1e5 * BTU), "lb/therm", IT),
)

VOLUMES_PER_HEAT = of_dimension(
    "volume per heat",
    ("m3/J", 1.0, "m3/j", SI),
    ("m3/kWh", 1.0 / KWH, "m3/kwh", SI),
    ("m3/MJ", 1e-6, "m3/mj", SI),
    ("ft3/MMBtu", CUBIC_FOOT / MMBTU, "ft3/mmbtu cuft/mmbtu cf/mmbtu", IT),
    ("ft3/kBtu", CUBIC_FOOT / (1e3 * BTU), "ft3/kbtu cuft/kbtu", IT),
)

MOLAR_MASSES = of_dimension(
    "molar mass",
    ("kg/mol", 1.0, "kg/mol", SI),
    ("g/mol", 1e-3, "g/mol kg/kmol lb/lbmol", SI),
)

LENGTHS = of_dimension(
    "length",
    ("m", 1.0, "m meter meters metre metres", SI),
    ("km", 1e3, "km", SI),
    ("cm", 1e-2, "cm", SI),
    ("mm", 1e-3, "mm", SI),
    ("ft", FOOT, "ft ' foot feet", INTERNATIONAL),
    ("in", INCH, 'in " inch inches ins', INTERNATIONAL),
)

TIMES = of_dimension(
    "time",
    ("s", 1.0, "s sec secs second seconds", SI),
    ("min", 60.0, "min mins minute minutes", EXACT),
    ("h", HOUR, "h hr hrs hour hours", EXACT),
    ("d", 86400.0, "d day days", EXACT),
)

CURRENTS = of_dimension(
    "current",
    ("A", 1.0, "a amp amps", SI),
    ("mA", 1e-3, "ma milliamp milliamps", SI),
    ("µA", 1e-6, "ua microamp microamps uamp uamps", SI),
)

FLAME_UNITS: tuple[Unit, ...] = (
    *FRACTIONS,
    *RATIOS,
    *SPOTS,
    *MASS_RATIOS,
    *TEMPERATURES,
    *DIFFERENCES,
    *PRESSURES,
    *GAUGE_ONLY,
    *ABSOLUTE_ONLY,
    *POWERS,
    *ENERGIES,
    *VOLUME_FLOWS,
    *MASS_FLOWS,
    *MASSES,
    *VOLUMES,
    *HEATS_PER_VOLUME,
    *HEATS_PER_MASS,
    *MASSES_PER_VOLUME,
    *MASSES_PER_HEAT,
    *VOLUMES_PER_HEAT,
    *MOLAR_MASSES,
    *LENGTHS,
    *TIMES,
    *CURRENTS,
)

WATER_DENSITY = 998.2
"""kg/m3, liquid water at 20 °C (IAPWS-95, rounded); condensate is caught in a jug and read by volume."""

FITS: dict[str, dict[str, float]] = {
    "pressure": {"pressure": 1.0, "gauge pressure": 1.0},
    "absolute pressure": {"pressure": 1.0, "absolute pressure": 1.0},
    "ratio": {"ratio": 1.0, "fraction": 1.0},
    "water mass": {"mass": 1.0, "volume": WATER_DENSITY},
    "water mass flow": {"mass flow": 1.0, "volume flow": WATER_DENSITY},
}
"""Unit dimensions that fit the dimension of a quantity, with the extra factor; any other takes its own name only."""
