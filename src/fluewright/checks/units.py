"""Units of the check files. Written apart from the units of the doors: a wrong factor there cannot hide here."""

from collections.abc import Mapping

_BTU = 1055.05585262
_POUND = 0.45359237
_FOOT = 0.3048
_CUBIC_FOOT = _FOOT**3
_GALLON = 231.0 * 0.0254**3
_PSI = _POUND * 9.80665 / 0.0254**2
_KWH = 3.6e6

FACTORS: Mapping[str, float] = {
    "-": 1.0,
    "1": 1.0,
    "%": 1e-2,
    "ppm": 1e-6,
    "smoke number": 1.0,
    "m3/m3": 1.0,
    "kg/kg": 1.0,
    "lb/lb": 1.0,
    "K/K": 1.0,
    "difference K": 1.0,
    "difference F": 5.0 / 9.0,
    "Pa": 1.0,
    "kPa": 1e3,
    "mbar": 1e2,
    "atm": 101_325.0,
    "mmHg": 133.322387415,
    "psi": _PSI,
    "psia": _PSI,
    "psig": _PSI,
    "in w.c.": 249.08891,
    "bar": 1e5,
    "mbar/K": 1e2,
    "Pa s": 1.0,
    "kg/s": 1.0,
    "L": 1e-3,
    "L/h": 1e-3 / 3600.0,
    "min": 60.0,
    "kBtu/h": 1e3 * _BTU / 3600.0,
    "inWC": 249.08891,
    "inHg": 3386.388640341,
    "R": 5.0 / 9.0,
    "m/s": 1.0,
    "m2": 1.0,
    "cm2": 1e-4,
    "mm2": 1e-6,
    "in2": 0.0254**2,
    "mm2/kW": 1e-9,
    "ft3": _CUBIC_FOOT,
    "m3": 1.0,
    "m3/s": 1.0,
    "m3/h": 1.0 / 3600.0,
    "cfm": _CUBIC_FOOT / 60.0,
    "1/h": 1.0 / 3600.0,
    "m": 1.0,
    "ft": _FOOT,
    "nm": 1e-9,
    "s": 1.0,
    "kg/m3": 1.0,
    "g/mol": 1e-3,
    "mg": 1e-6,
    "mL": 1e-6,
    "mg/L": 1e-3,
    "mg/m3": 1e-6,
    "mg/m3 per ppm": 1e-6,
    "mg/kWh": 1e-6 / _KWH,
    "mg/kWh per ppm": 1e-6 / _KWH,
    "mg/kWh per mg/m3": 1.0 / _KWH,
    "kg/kWh": 1.0 / _KWH,
    "kW": 1e3,
    "J/mol": 1.0,
    "kJ/mol": 1e3,
    "kJ/kg": 1e3,
    "MJ/kg": 1e6,
    "MJ/m3": 1e6,
    "m3/kg": 1.0,
    "J/(mol K)": 1.0,
    "kJ/(kg K)": 1e3,
    "Btu/ft3": _BTU / _CUBIC_FOOT,
    "Btu/gal": _BTU / _GALLON,
    "Btu/lb": _BTU / _POUND,
    "MMBtu/scf": 1e6 * _BTU / _CUBIC_FOOT,
    "MMBtu/gal": 1e6 * _BTU / _GALLON,
    "MMBtu/short ton": 1e6 * _BTU / (2000.0 * _POUND),
    "kg/MMBtu": 1.0 / (1e6 * _BTU),
    "ng/J": 1e-12,
    "lb/MMBtu": _POUND / (1e6 * _BTU),
    "lb/10^6 scf": _POUND / (1e6 * _CUBIC_FOOT),
    "dscf/MMBtu": _CUBIC_FOOT / (1e6 * _BTU),
    "wscf/MMBtu": _CUBIC_FOOT / (1e6 * _BTU),
    "scf/MMBtu": _CUBIC_FOOT / (1e6 * _BTU),
    "m3/J": 1.0,
    "m3/MJ": 1e-6,
    "lb/scf per ppm": _POUND / _CUBIC_FOOT / 1e-6,
    "therm": 1e5 * _BTU,
    "kWh": _KWH,
    "gal": _GALLON,
    "kg": 1.0,
    "t/TJ": 1e-9,
    "1/therm": 1.0 / (1e5 * _BTU),
    "1/MMBtu": 1.0 / (1e6 * _BTU),
    "1/gal": 1.0 / _GALLON,
    "F d": 5.0 / 9.0,
    "K d": 1.0,
    "W/K": 1.0,
    "Btu/h F": _BTU / 3600.0 / (5.0 / 9.0),
    "h": 3600.0,
    "days": 1.0,
    "months": 1.0,
    "years": 1.0,
    "dwellings": 1.0,
    "count": 1.0,
    "month and day": 1.0,
    "year, month and day": 1.0,
    "mm": 1e-3,
    "mm2/s": 1e-6,
    "papers": 1.0,
    "weeks": 7.0 * 86_400.0,
    "calendar years": 1.0,
    "year": 1.0,
    "gal/h": _GALLON / 3600.0,
    "kg/L": 1e3,
    "kWh/kg": _KWH,
    "Btu/h": _BTU / 3600.0,
    "V": 1.0,
    "A": 1.0,
    "ohm": 1.0,
    "rad": 1.0,
    "W": 1.0,
    "hp": 550.0 * _FOOT * _POUND * 9.80665,
    "rpm": 1.0 / 60.0,
    "ft/min": _FOOT / 60.0,
    "gpm": _GALLON / 60.0,
    "J/kg": 1.0,
    "J/(kg K)": 1.0,
    "lb/ft3": _POUND / _CUBIC_FOOT,
    "Btu/(lb F)": _BTU / _POUND * 1.8,
    "Btu/h per cfm F": _BTU / 3600.0 / (_CUBIC_FOOT / 60.0) * 1.8,
    "Btu/h per gpm F": _BTU / 3600.0 / (_GALLON / 60.0) * 1.8,
    "1/K": 1.0,
    "ppm min": 6e-5,
    "mL/min": 1e-6 / 60.0,
    "mL/(min mmHg)": 1e-6 / 60.0 / 133.322387415,
    "mmHg min/mL": 133.322387415 * 60.0 / 1e-6,
    "in": _FOOT / 12.0,
    "ft3/h": _CUBIC_FOOT / 3600.0,
    "kWh/m3": _KWH,
    "ft3/h/(in2 inWC^0.5)": _CUBIC_FOOT / 3600.0 / ((_FOOT / 12.0) ** 2 * 249.08891**0.5),
}
"""SI value of one unit. International pound and foot (1959), IT Btu, US gallon, conventional mercury and water."""

_TEMPERATURES: Mapping[str, tuple[float, float]] = {"K": (1.0, 0.0), "C": (1.0, 273.15), "F": (5 / 9, 459.67 * 5 / 9)}
"""Scale and offset to kelvin of temperatures on a scale; differences have units of their own."""


def unit_of(words: str) -> str:
    """The unit at the head of words such as "% dry" or "kg/kWh of gross"; the rest is basis."""
    parts = words.split(" ")
    for count in range(len(parts), 0, -1):
        head = " ".join(parts[:count])
        if head in FACTORS or head in _TEMPERATURES:
            return head
    raise KeyError(words)


def to_si(value: float, unit: str) -> float:
    """A value in SI; temperatures on a scale become kelvin."""
    name = unit_of(unit)
    if name in _TEMPERATURES:
        scale, offset = _TEMPERATURES[name]
        return value * scale + offset
    return value * FACTORS[name]


def from_si(value: float, unit: str) -> float:
    """An SI value in a unit; kelvin become degrees of its scale."""
    name = unit_of(unit)
    if name in _TEMPERATURES:
        scale, offset = _TEMPERATURES[name]
        return (value - offset) / scale
    return value / FACTORS[name]


def parted(text: str) -> tuple[float, str]:
    """Number and unit of a text such as "3.0 % dry"; a bare number has the unit "-"."""
    number, _, unit = text.partition(" ")
    return float(number), unit or "-"
