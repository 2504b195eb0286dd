"""Units of rooms, openings, ducts, pipes and prices, in the form of unit_table.py."""

from fluewright.quantity.unit_table import (
    BTU,
    EXACT,
    FOOT,
    HOUR,
    INCH,
    INTERNATIONAL,
    IT,
    KWH,
    MMBTU,
    POUND,
    SI,
    US_GALLON,
    Unit,
    of_dimension,
)

MILE = 5280.0 * FOOT
KNOT = 1852.0 / HOUR
KELVIN_PER_FAHRENHEIT = 5.0 / 9.0

AREAS = of_dimension(
    "area",
    ("m2", 1.0, "m2 sqm squaremeter squaremeters squaremetre squaremetres", SI),
    ("cm2", 1e-4, "cm2 sqcm", SI),
    ("mm2", 1e-6, "mm2 sqmm", SI),
    ("in2", INCH**2, "in2 sqin sqinch squareinch squareinches", INTERNATIONAL),
    ("ft2", FOOT**2, "ft2 sqft squarefoot squarefeet", INTERNATIONAL),
)

VELOCITIES = of_dimension(
    "velocity",
    ("m/s", 1.0, "m/s mps", SI),
    ("km/h", 1e3 / HOUR, "km/h kmh kph", SI),
    ("ft/min", FOOT / 60.0, "ft/min fpm feet/minute", INTERNATIONAL),
    ("mph", MILE / HOUR, "mph mi/h miles/hour", INTERNATIONAL),
    ("kn", KNOT, "kn kt knot knots", "international nautical mile, 1852 m exactly (SP 811 B.8)"),
)

PER_TIME = of_dimension(
    "per time",
    ("1/s", 1.0, "1/s /s", SI),
    ("1/h", 1.0 / HOUR, "1/h /h ach achr airchanges airchanges/hour", EXACT),
    ("rpm", 1.0 / 60.0, "rpm r/min 1/min", EXACT),
)

VISCOSITIES = of_dimension(
    "kinematic viscosity",
    ("m2/s", 1.0, "m2/s", SI),
    ("mm2/s", 1e-6, "mm2/s cst centistokes", SI),
)

CONDUCTANCES = of_dimension(
    "heat per temperature",
    ("W/K", 1.0, "w/k", SI),
    ("Btu/h·°F", BTU / HOUR / KELVIN_PER_FAHRENHEIT, "btu/hf btu/(hf) btuh/f", IT),
)

HEATS_CARRIED = of_dimension(
    "heat per volume and kelvin",
    ("J/(m3·K)", 1.0, "j/(m3k) j/m3k", SI),
    ("kWh/(m3·K)", KWH, "kwh/(m3k) kwh/m3k", SI),
    ("Btu/h per cfm·°F", BTU / (60.0 * FOOT**3 * KELVIN_PER_FAHRENHEIT), "btu/hpercfmf btu/hcfmf", IT),
    ("Btu/h per gpm·°F", BTU / (60.0 * US_GALLON * KELVIN_PER_FAHRENHEIT), "btu/hpergpmf btu/hgpmf", IT),
)

DEGREE_DAYS = of_dimension(
    "temperature time",
    ("K·d", 1.0, "kd hdd(k)", "kelvin times day"),
    ("°F·d", KELVIN_PER_FAHRENHEIT, "fd hdd", "five ninths of a kelvin times day, exact"),
)

PRICES = of_dimension(
    "price per heat",
    ("1/J", 1.0, "1/j /j", "money per heat, whatever the money"),
    ("1/kWh", 1.0 / KWH, "1/kwh /kwh", "money per heat, whatever the money"),
    ("1/MWh", 1e-3 / KWH, "1/mwh /mwh", "money per heat, whatever the money"),
    ("1/therm", 1.0 / (1e5 * BTU), "1/therm /therm", IT),
    ("1/MMBtu", 1.0 / MMBTU, "1/mmbtu /mmbtu", IT),
)

PRICES_PER_VOLUME = of_dimension(
    "price per volume",
    ("1/m3", 1.0, "1/m3 /m3", "money per volume, whatever the money"),
    ("1/L", 1e3, "1/l /l /liter /litre", "money per volume, whatever the money"),
    ("1/gal", 1.0 / US_GALLON, "1/gal /gal /gallon", "money per US gallon, whatever the money"),
    ("1/ft3", 1.0 / FOOT**3, "1/ft3 /ft3 /cuft /cf", INTERNATIONAL),
    ("1/ccf", 1e-2 / FOOT**3, "1/ccf /ccf", INTERNATIONAL + "; a hundred cubic feet"),
    ("1/mcf", 1e-3 / FOOT**3, "1/mcf /mcf", INTERNATIONAL + "; a thousand cubic feet"),
)

PRICES_PER_MASS = of_dimension(
    "price per mass",
    ("1/kg", 1.0, "1/kg /kg", "money per mass, whatever the money"),
    ("1/lb", 1.0 / POUND, "1/lb /lb", INTERNATIONAL),
    ("1/t", 1e-3, "1/t /t /tonne", "money per tonne, whatever the money"),
    ("1/ton", 1.0 / (2000.0 * POUND), "1/ton /ton /shortton", INTERNATIONAL + "; short ton of 2000 lb"),
)

ROOMS_PER_INPUT = of_dimension(
    "volume per power",
    ("m3/W", 1.0, "m3/w", SI),
    ("m3/kW", 1e-3, "m3/kw", SI),
    ("ft3/kBtu/h", FOOT**3 / (1e3 * BTU / HOUR), "ft3/kbtu/h ft3/(kbtu/h)", IT),
)

OPENINGS_PER_INPUT = of_dimension(
    "area per power",
    ("m2/W", 1.0, "m2/w", SI),
    ("mm2/kW", 1e-9, "mm2/kw", SI),
    ("cm2/kW", 1e-7, "cm2/kw", SI),
    ("in2/kBtu/h", INCH**2 / (1e3 * BTU / HOUR), "in2/kbtu/h in2/(kbtu/h)", IT),
)

EXPOSURES = of_dimension(
    "fraction time",
    ("1·s", 1.0, "1s", SI),
    ("ppm·min", 6e-5, "ppmmin", EXACT),
    ("ppm·h", 1e-6 * HOUR, "ppmh", EXACT),
)

SITE_UNITS: tuple[Unit, ...] = (
    *AREAS,
    *VELOCITIES,
    *PER_TIME,
    *VISCOSITIES,
    *CONDUCTANCES,
    *HEATS_CARRIED,
    *DEGREE_DAYS,
    *PRICES,
    *PRICES_PER_VOLUME,
    *PRICES_PER_MASS,
    *ROOMS_PER_INPUT,
    *OPENINGS_PER_INPUT,
    *EXPOSURES,
)
