"""Every factor against pint, and from there and back."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.errors import QuantityError
from fluewright.quantity.names import REGISTRY, of
from fluewright.quantity.unit_table import FITS, Unit
from fluewright.quantity.units import UNITS as ALL
from fluewright.quantity.units import folded, from_canonical, to_canonical, unit_named, units_for

CANONICAL = {
    "fraction": "dimensionless", "ratio": "dimensionless", "spot number": "dimensionless", "mass ratio": "kg/kg",
    "temperature difference": "kelvin", "pressure": "pascal", "gauge pressure": "pascal",
    "absolute pressure": "pascal", "power": "watt", "energy": "joule", "volume flow": "m**3/s", "mass flow": "kg/s",
    "mass": "kg", "volume": "m**3", "heat per volume": "J/m**3", "heat per mass": "J/kg",
    "mass per volume": "kg/m**3", "mass per heat": "kg/J", "volume per heat": "m**3/J", "molar mass": "kg/mol",
    "length": "m", "time": "s", "current": "ampere", "area": "m**2", "velocity": "m/s", "per time": "1/s",
    "kinematic viscosity": "m**2/s", "heat per temperature": "W/kelvin", "temperature time": "kelvin*day",
    "price per heat": "1/J", "fraction time": "second", "price per volume": "1/m**3", "price per mass": "1/kg",
    "volume per power": "m**3/W", "area per power": "m**2/W",
    "heat per volume and kelvin": "J/m**3/kelvin",
}  # fmt: skip
"""Canonical unit of every dimension, as pint spells it."""

THEIRS = {
    "%": "percent", "‰": "permille", "ppb": "1e-9", "1": "1.0", "gr/lb": "grain/lb", "K": "kelvin",
    "°C": "delta_degC", "°F": "delta_degF", "°R": "5/9 kelvin", "in w.c.": "inch_H2O", "mm w.c.": "0.1 cm_H2O",
    "cm w.c.": "cm_H2O", "osi": "psi/16", "inHg": "inch_Hg", "psig": "psi", "psia": "psi", "barg": "bar",
    "bara": "bar", "MBH": "1000*Btu_it/hour", "bhp": "boiler_horsepower", "Wh": "watt*hour",
    "kWh": "kilowatt*hour", "MWh": "megawatt*hour", "gph": "gallon/hour", "gpm": "gallon/minute",
    "imp gal/h": "imperial_gallon/hour", "cfh": "foot**3/hour", "cfm": "foot**3/minute", "gal": "gallon",
    "in": "inch", "min": "minute", "h": "hour", "d": "day", "s": "second", "kn": "knot", "rpm": "1/minute",
    "mph": "mile/hour", "km/h": "km/hour", "Btu/h·°F": "Btu_it/hour/(5/9*kelvin)", "K·d": "kelvin*day",
    "°F·d": "5/9*kelvin*day", "1·s": "second", "ppm·min": "1e-6*minute", "ppm·h": "1e-6*hour",
    "1/h": "1/hour", "1/therm": "1/(1e5*Btu_it)", "1/MMBtu": "1/(1e6*Btu_it)", "1/kWh": "1/(kilowatt*hour)",
    "1/MWh": "1/(megawatt*hour)", "1/s": "1/second", "1/J": "1/joule",
    "ft/min": "foot/minute", "in2": "inch**2", "ft2": "foot**2", "m2": "m**2", "cm2": "cm**2", "mm2": "mm**2",
    "m2/s": "m**2/s", "mm2/s": "mm**2/s", "1/m3": "1/m**3", "1/L": "1/liter", "1/gal": "1/gallon",
    "1/ft3": "1/foot**3", "1/ccf": "1/(100*foot**3)", "ccf": "100*foot**3",
    "1/mcf": "1/(1000*foot**3)", "1/lb": "1/pound", "1/t": "1/metric_ton", "1/ton": "1/(2000*pound)",
    "m3/W": "m**3/W", "m3/kW": "m**3/kW",
    "ft3/kBtu/h": "foot**3/(1000*Btu_it/hour)", "m2/W": "m**2/W", "mm2/kW": "mm**2/kW", "cm2/kW": "cm**2/kW",
    "in2/kBtu/h": "inch**2/(1000*Btu_it/hour)",
    "J/(m3·K)": "J/m**3/kelvin", "kWh/(m3·K)": "kilowatt*hour/m**3/kelvin",
    "Btu/h per cfm·°F": "Btu_it/hour/(foot**3/minute)/(5/9*kelvin)",
    "Btu/h per gpm·°F": "Btu_it/hour/(gallon/minute)/(5/9*kelvin)",
}  # fmt: skip
"""Symbols that pint spells otherwise, whole."""

PARTS = {
    "m3": "m**3", "ft3": "ft**3", "µ": "u", "MMBtu": "(1e6*Btu_it)", "kBtu": "(1000*Btu_it)", "therm": "(1e5*Btu_it)",
    "kcal": "(1000*international_calorie)", "kWh": "(kilowatt*hour)", "lb": "pound",
}  # fmt: skip
"""Parts of symbols that pint spells otherwise; Btu alone is rounded there to 1055.056 J, so its Btu_it is taken."""

LOOSE = {"inHg": 2e-6, "mmHg": 2e-6, "bhp": 2e-7}
"""pint's mercury is a measured density to six figures, ours the conventional one; its bhp rests on the rounded Btu."""


@pytest.fixture(scope="module")
def pint_units() -> Any:
    """pint with its own table."""
    pint = pytest.importorskip("pint")
    return pint.UnitRegistry(cache_folder=None)


def spelled_for_pint(symbol: str) -> str:
    """A symbol of ours as an expression of pint's."""
    if symbol in THEIRS:
        return THEIRS[symbol]
    top, _, bottom = symbol.partition("/")
    parts = [THEIRS.get(part, part) if part in ("h", "min", "s") else part for part in (top, bottom) if part]
    for ours, theirs in PARTS.items():
        parts = [part.replace(ours, theirs) for part in parts]
    return "/".join(part if "Btu_it" in part else part.replace("Btu", "Btu_it") for part in parts)


@pytest.mark.parametrize("unit", ALL, ids=lambda unit: f"{unit.dimension}: {unit.symbol}")
def test_a_factor_is_pints(unit: Unit, pint_units: Any) -> None:
    if unit.dimension == "temperature":
        spelled = {"K": "kelvin", "°C": "degC", "°F": "degF", "°R": "degR"}[unit.symbol]
        for value in (0.0, 385.0, -40.0):
            theirs = pint_units.Quantity(value, spelled).to("kelvin").magnitude
            assert value * unit.factor + unit.offset == pytest.approx(theirs, abs=1e-9)
        return
    theirs = pint_units.Quantity(pint_units.parse_expression(spelled_for_pint(unit.symbol)))
    theirs = theirs.to(CANONICAL[unit.dimension]).magnitude
    assert unit.factor == pytest.approx(theirs, rel=LOOSE.get(unit.symbol, 1e-12))
    assert unit.offset == 0.0


PRINTED = [
    # symbol, dimension, factor as printed in NIST SP 811 (2008) B.8, seven digits
    ("in w.c.", "pressure", 249.0889),
    ("mm w.c.", "pressure", 9.80665),
    ("inHg", "pressure", 3386.389),
    ("mmHg", "pressure", 133.3224),
    ("psi", "pressure", 6894.757),
    ("Btu", "energy", 1055.056),
    ("Btu/h", "power", 0.2930711),
    ("gal", "volume", 3.785412e-3),
    ("gph", "volume flow", 1.051503e-6),
    ("gpm", "volume flow", 6.309020e-5),
    ("ft3", "volume", 2.831685e-2),
    ("lb", "mass", 0.4535924),
    ("lb/ft3", "mass per volume", 16.01846),
    ("lb/gal", "mass per volume", 119.8264),
    ("Btu/ft3", "heat per volume", 3.725895e4),
    ("Btu/lb", "heat per mass", 2326.0),
    ("torr", "pressure", 133.3224),
    ("kcal/h", "power", 1.163),
]


@pytest.mark.parametrize(("symbol", "dimension", "factor"), PRINTED)
def test_a_factor_is_the_printed_one(symbol: str, dimension: str, factor: float) -> None:
    unit = next(unit for unit in ALL if (unit.symbol, unit.dimension) == (symbol, dimension))
    rounding = 0.5 * 10.0 ** (math.floor(math.log10(factor)) - 6)
    assert unit.factor == pytest.approx(factor, rel=1e-12, abs=rounding)


def test_a_boiler_horsepower_is_near_the_printed_one() -> None:
    """SP 811 prints 9.809 50 E+03 W; the trade's 33 475 Btu/h is 1.1e-4 more, which the unit's source says."""
    assert to_canonical(1.0, unit="bhp", quantity="heat_output") == pytest.approx(9809.50, rel=1.2e-4)


def test_every_unit_has_a_source_and_a_name_of_its_own() -> None:
    assert all(unit.source for unit in ALL)
    assert len({(unit.dimension, unit.symbol) for unit in ALL}) == len(ALL)


def test_every_spelling_is_folded() -> None:
    assert not [spelling for unit in ALL for spelling in unit.spellings if folded(spelling) != spelling]


@pytest.mark.parametrize("quantity", REGISTRY.values(), ids=lambda quantity: quantity.name)
def test_every_symbol_means_itself(quantity: Any) -> None:
    symbols = [unit.symbol for unit in units_for(quantity)]
    assert {quantity.shown_us, quantity.shown_si} <= set(symbols)
    for symbol in symbols:
        assert unit_named(symbol, quantity=quantity).symbol == symbol


@pytest.mark.parametrize("quantity", REGISTRY.values(), ids=lambda quantity: quantity.name)
def test_the_canonical_unit_changes_nothing(quantity: Any) -> None:
    assert to_canonical(0.7, unit=quantity.unit, quantity=quantity) == 0.7


PAIRS = [(quantity.name, unit.symbol) for quantity in REGISTRY.values() for unit in units_for(quantity)]


@given(st.sampled_from(PAIRS), st.floats(-1e6, 1e6))
def test_from_a_unit_and_back(pair: tuple[str, str], value: float) -> None:
    name, symbol = pair
    canonical = to_canonical(value, unit=symbol, quantity=name)
    assert from_canonical(canonical, unit=symbol, quantity=name) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_whole_ppm_stay_whole() -> None:
    assert to_canonical(50, unit="ppm", quantity="carbon_monoxide_dry") == 5e-05
    assert from_canonical(5e-05, unit="ppm", quantity="carbon_monoxide_dry") == 50.0


def test_a_bare_inch_is_what_the_quantity_makes_it() -> None:
    wanted = {"draft": "in w.c.", "gas_pressure": "in w.c.", "barometer": "inHg", "oil_vacuum": "inHg", "length": "in"}
    assert {name: unit_named('"', quantity=of(name)).symbol for name in wanted} == wanted


def test_no_unit_is_guessed() -> None:
    for text, code in (("mbtu/h", "FW-Q-010"), ("foo", "FW-Q-003"), ("Pa", "FW-Q-004")):
        with pytest.raises(QuantityError, match=code):
            unit_named(text, quantity=of("fuel_input"))


def test_what_fits_more_than_its_own_dimension_is_known() -> None:
    dimensions = {unit.dimension for unit in ALL}
    used = {quantity.dimension for quantity in REGISTRY.values()}
    assert used <= dimensions | FITS.keys()
    assert {dimension for fits in FITS.values() for dimension in fits} <= dimensions
