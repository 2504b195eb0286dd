"""From a unit and back: which unit a spelling means for a quantity, and values to and from the canonical unit.

Inch of water: the conventional one, 249.088 91 Pa (water of 1000 kg/m3). Makers of gauges differ: at 60 °F it is
248.84 Pa, a tenth of a percent less, far below what any draft gauge resolves.
"""

from collections.abc import Iterator

from fluewright.quantity import refusals
from fluewright.quantity.meaning import Quantity
from fluewright.quantity.names import of
from fluewright.quantity.site_units import SITE_UNITS
from fluewright.quantity.unit_table import FITS, FLAME_UNITS, Unit

__all__ = ["UNITS", "Unit", "from_canonical", "to_canonical", "unit_named", "units_for"]

UNITS = (*FLAME_UNITS, *SITE_UNITS)
"""Every unit of the program."""

_FOLD = str.maketrans(
    {
        " ": None,
        ".": None,
        "^": None,
        "*": None,
        "·": None,
        "°": None,
        "³": "3",
        "²": "2",
        "₂": "2",
        "µ": "u",
        "μ": "u",
        "″": '"',
        "”": '"',
        "“": '"',
        "′": "'",
        "’": "'",
    }
)


def _by_spelling() -> dict[str, tuple[Unit, ...]]:
    found: dict[str, tuple[Unit, ...]] = {}
    for unit in UNITS:
        for spelling in dict.fromkeys((folded(unit.symbol), *unit.spellings)):
            found[spelling] = (*found.get(spelling, ()), unit)
    return found


def folded(text: str) -> str:
    """A unit as typed, reduced to what tells units apart: no case, spaces, dots or degree signs."""
    lower = text.lower().replace(" per ", "/")
    if "deg" in lower:
        lower = lower.replace("degrees", "").replace("degree", "").replace("deg", "")
    return lower.translate(_FOLD).replace("''", '"')


_SPELLED = _by_spelling()

_PARTS = {
    unit.factor: float(round(1.0 / unit.factor))
    for unit in UNITS
    if unit.factor < 1.0 and 1.0 / round(1.0 / unit.factor) == unit.factor
}
"""Factors that are one part of a whole number: dividing by it gives 50 ppm as 5e-05, multiplying would not."""


def _fits(quantity: Quantity) -> dict[str, float]:
    return FITS.get(quantity.dimension, {quantity.dimension: 1.0})


def units_for(quantity: Quantity) -> Iterator[Unit]:
    """All units that fit a quantity, in the order of the table."""
    dimensions = _fits(quantity)
    return (unit for unit in UNITS if unit.dimension in dimensions)


def spelled(text: str) -> tuple[Unit, ...]:
    """All units, of any dimension, that a typed spelling can mean; empty when there is none."""
    key = folded(text)
    half = key[: len(key) // 2]
    return _SPELLED.get(key) or (_SPELLED.get(half, ()) if half * 2 == key else ())


def unit_named(text: str, *, quantity: Quantity) -> Unit:
    """The one unit that a symbol or spelling means for this quantity.

    text      symbol such as "in w.c.", or any spelling people type
    quantity  decides between units that share a spelling
    -> unit; QuantityError FW-Q-003 unknown, FW-Q-004 of another dimension, FW-Q-010 two units possible
    """
    fitting = candidates(text, quantity=quantity)
    if not fitting:
        found = spelled(text)
        symbols = [unit.symbol for unit in units_for(quantity)]
        if found:
            raise refusals.wrong_dimension(text, found[0].dimension, quantity, symbols)
        raise refusals.unknown_unit(text, quantity, symbols)
    exact = [unit for unit in fitting if unit.symbol == text]
    shown = [unit for unit in fitting if unit.symbol in (quantity.shown_us, quantity.shown_si)]
    own = [unit for unit in exact if unit.dimension == quantity.dimension]
    for choice in (exact, own, shown, fitting):
        if len(choice) == 1:
            return choice[0]
    raise refusals.two_units(text, quantity, [unit.symbol for unit in fitting])


def candidates(text: str, *, quantity: Quantity) -> list[Unit]:
    """All units of fitting dimension that a spelling can mean for this quantity."""
    dimensions = _fits(quantity)
    return [unit for unit in spelled(text) if unit.dimension in dimensions]


def canonical(value: float, *, unit: Unit, quantity: Quantity) -> float:
    """A value in a known unit, in the canonical unit of its quantity."""
    whole = _PARTS.get(unit.factor)
    scaled = value / whole if whole else value * unit.factor
    return (scaled + unit.offset) * _fits(quantity)[unit.dimension]


def in_unit(value: float, *, unit: Unit, quantity: Quantity) -> float:
    """A canonical value in a known unit."""
    whole = _PARTS.get(unit.factor)
    there = value / _fits(quantity)[unit.dimension] - unit.offset
    return there * whole if whole else there / unit.factor


def per_unit(*, unit: Unit, quantity: Quantity) -> float:
    """One step of a unit in the canonical unit, without any offset."""
    return unit.factor * _fits(quantity)[unit.dimension]


def to_canonical(value: float, *, unit: str, quantity: str | Quantity) -> float:
    """A value in a unit, in the canonical unit of its quantity.

    value     in unit
    unit      symbol or spelling
    quantity  registry name or entry
    -> value in quantity.unit
    """
    meant = of(quantity) if isinstance(quantity, str) else quantity
    return canonical(value, unit=unit_named(unit, quantity=meant), quantity=meant)


def from_canonical(value: float, *, unit: str, quantity: str | Quantity) -> float:
    """A canonical value in another unit.

    value     in quantity.unit
    unit      symbol or spelling
    quantity  registry name or entry
    -> value in unit
    """
    meant = of(quantity) if isinstance(quantity, str) else quantity
    return in_unit(value, unit=unit_named(unit, quantity=meant), quantity=meant)
