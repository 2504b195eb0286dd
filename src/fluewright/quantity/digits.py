"""How many digits a number may have, and how they are written.

The expanded uncertainty is given to two figures when it begins with 1 to 4, else to one, and the value is rounded to
the same place (JCGM 100:2008, GUM 7.2.6: at most two significant digits, and the value rounded to match). One figure
after a 3 or 4 would move the uncertainty by up to a seventh, which a limit nearby would feel.
"""

import math
import re
from decimal import ROUND_HALF_EVEN, Context, Decimal

from fluewright.quantity.meaning import Quantity
from fluewright.quantity.units import Unit, in_unit
from fluewright.words import decimal_mark

NARROW = "\u202f"
"""Narrow no-break space, between groups of three digits and between figure and unit."""

MINUS = "\u2212"

_WIDE = Context(prec=400)

_PLAIN = str.maketrans(
    {
        "°": None,
        "µ": "u",
        "‰": "permille",
        NARROW: " ",
        MINUS: "-",
        "±": "+/-",
        "–": "..",
        "³": "3",
        "²": "2",
        "≥": ">=",
        "≤": "<=",
    }
)

_RAISED = re.compile(r"(m|ft|in)([23])\b")
"""Areas and volumes in a unit."""

_USUAL = {
    "%": 1,
    "ppm": 0,
    "°C": 0,
    "°F": 0,
    "Pa": 1,
    "hPa": 1,
    "mbar": 1,
    "in w.c.": 2,
    "inHg": 2,
    "psi": 1,
    "bar": 2,
    "gph": 2,
    "gpm": 1,
    "ft": 0,
    "m": 0,
    "s": 0,
    "min": 1,
    "µA": 1,
    "Btu/h": 0,
    "Btu/ft3": 0,
    "Btu/lb": 0,
    "mg/m3": 0,
    "mg/kWh": 0,
    "lb/MMBtu": 3,
}
"""Digits after the mark without doubt given: what field instruments show (common practice, no source)."""

_USUAL_OF = {
    ("temperature_difference", "K"): 0,
    ("draft", "in w.c."): 3,
    ("co_co2_ratio", "1"): 4,
    ("smoke_spot", "1"): 0,
    ("carbon_factor", "lb/MMBtu"): 1,
    ("carbon_factor_net", "lb/MMBtu"): 1,
    ("length", "ft"): 1,
    ("length", "m"): 2,
    **dict.fromkeys([("heat_rate_ratio", "1"), ("primary_air_ratio", "1"), ("air_ratio_later", "1")], 3),
    **dict.fromkeys([("lifting_index", "1"), ("flash_back_index", "1")], 2),
}

_FIGURES = 4
"""Significant figures of everything else without doubt given."""


def place_of(doubt: float) -> int:
    """The decimal place (power of ten) of the last digit that an expanded uncertainty justifies."""
    two = Decimal(f"{doubt:.1e}")
    first = two.adjusted()
    return first - 1 if two.as_tuple().digits[0] <= 4 else first


def usual_place(*, value: float, quantity: Quantity, unit: Unit) -> int:
    """The place of the last digit when no doubt is given; value in the unit."""
    decimals = _USUAL_OF.get((quantity.name, unit.symbol), _USUAL.get(unit.symbol))
    vanishing = decimals is not None and quantity.exclusive and abs(value) < 10.0**-decimals
    if decimals is not None and not vanishing:  # a bore is never shown as nothing
        half = quantity.name == "smoke_spot" and value % 1.0 != 0.0  # the eye tells halves
        return -1 if half else -decimals
    if value == 0.0 or not math.isfinite(value):
        return 0
    return min(Decimal(f"{value:.{_FIGURES - 1}e}").adjusted() - _FIGURES + 1, 0)


def typed_place(*, step: float) -> int:
    """The place of the last digit after a typed step went through a unit change.

    A fifth of the typed step at least: one place coarser would throw away more than was typed.
    """
    return math.ceil(math.log10(step / 5.0) - 1e-9)


def figure(value: float, *, place: int) -> str:
    """A number rounded to a decimal place, grouped, with a true minus and never a negative zero."""
    if not math.isfinite(value):
        return "not a number" if math.isnan(value) else "without end"
    step = Decimal(1).scaleb(place)
    rounded = Decimal(repr(value)).quantize(step, rounding=ROUND_HALF_EVEN, context=_WIDE)
    whole, dot, part = f"{abs(rounded):f}".partition(".")
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", NARROW)
    return (MINUS if rounded < 0 else "") + whole + (dot and decimal_mark()) + part


def suffix(unit: Unit) -> str:
    """The unit as it stands behind a figure, with its space; nothing for pure numbers."""
    if unit.symbol == "1":
        return ""
    if unit.symbol.startswith("1/"):
        return unit.symbol[1:]
    return NARROW + _RAISED.sub(lambda power: power[1] + "²³"[int(power[2]) - 2], unit.symbol)


def plainly(text: str) -> str:
    """The same text in ASCII, for terminals and files without more."""
    return text.translate(_PLAIN)


def band(*, quantity: Quantity, unit: Unit, hard: bool = False) -> str:
    """The plausible range of a quantity, or what cannot be passed, such as 0 to 20.95 %."""
    ends = (quantity.least, quantity.most) if hard else (quantity.low, quantity.high)
    low, high = (None if end is None else _short(in_unit(end, unit=unit, quantity=quantity)) for end in ends)
    tail = "" if unit.symbol == "1" else f" {unit.symbol}"
    if low is None:
        return f"at most {high}{tail}"
    if hard and quantity.exclusive:
        return f"more than {low}{tail}" if high is None else f"more than {low} and at most {high}{tail}"
    return f"at least {low}{tail}" if high is None else f"{low} to {high}{tail}"


def _short(value: float) -> str:
    """Four figures without trailing zeros."""
    text = f"{float(f'{value:.4g}') + 0.0:.12f}"
    return text.rstrip("0").rstrip(".")
