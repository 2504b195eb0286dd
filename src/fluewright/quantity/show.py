"""Values as text: digits follow the doubt, units follow the reader, typed readings keep the digits that were typed."""

import math
from typing import Literal

from fluewright.quantity.digits import MINUS, figure, place_of, plainly, suffix, typed_place, usual_place
from fluewright.quantity.meaning import Quantity, Spread, Typed
from fluewright.quantity.names import of
from fluewright.quantity.units import Unit, in_unit, per_unit, unit_named

System = Literal["us", "si"]


def unit_of(quantity: str | Quantity, system: System = "us") -> str:
    """The symbol of the unit a quantity is shown in.

    quantity  registry name or entry
    system    us or si
    -> symbol, as units.py spells it
    """
    meant = of(quantity) if isinstance(quantity, str) else quantity
    return meant.shown_us if system == "us" else meant.shown_si


def number(
    value: float,
    spread: float | Spread | None = None,
    *,
    quantity: str | Quantity,
    system: System = "us",
    k: float = 2.0,
    plain: bool = False,
    unit: str | None = None,
) -> str:
    """Only the figure of a value, with the digits that its doubt justifies.

    value     canonical unit
    spread    standard uncertainty in the canonical unit, or a Spread with two sides; None for the usual digits
    quantity  registry name or entry
    system    us or si
    k         coverage factor
    plain     ASCII only
    unit      another unit than the one of the system
    -> text such as 3.1
    """
    text = _split(value, spread, quantity, system, k, unit)[0]
    return plainly(text) if plain else text


def shown(
    value: float,
    spread: float | Spread | None = None,
    *,
    quantity: str | Quantity,
    system: System = "us",
    k: float = 2.0,
    plain: bool = False,
    unit: str | None = None,
) -> str:
    """A value with its expanded uncertainty and unit, such as 262 ± 14 ppm.

    value     canonical unit
    spread    standard uncertainty in the canonical unit, or a Spread with two sides; None for the usual digits
    quantity  registry name or entry
    system    us or si
    k         coverage factor, 2 for about 95 %
    plain     ASCII only, for terminals without more
    unit      another unit than the one of the system
    -> text
    """
    text = "".join(_split(value, spread, quantity, system, k, unit))
    return plainly(text) if plain else text


def as_typed(typed: Typed, *, plain: bool = False) -> str:
    """A typed reading with its own unit and digits, whatever the typing looked like.

    typed  from parse()
    plain  ASCII only
    -> text such as 40–120 ppm, rising
    """
    unit = unit_named(typed.unit, quantity=of(typed.quantity))
    step = typed.resolution / per_unit(unit=unit, quantity=of(typed.quantity)) or 1.0
    power = round(math.log10(step))
    return _reading(typed, typed.unit, power if math.isclose(10.0**power, step) else -typed.decimals, plain)


def converted(typed: Typed, *, system: System = "us", plain: bool = False) -> str:
    """A typed reading in the reader's unit; it gains no digits by the change.

    typed   from parse()
    system  us or si
    plain   ASCII only
    -> text such as −5.0 Pa
    """
    meant = of(typed.quantity)
    symbol = unit_of(meant, system)
    if symbol == typed.unit or typed.kind == "trend":
        return as_typed(typed, plain=plain)
    step = typed.resolution / per_unit(unit=unit_named(symbol, quantity=meant), quantity=meant)
    return _reading(typed, symbol, typed_place(step=step), plain)


def _split(
    value: float, spread: float | Spread | None, quantity: str | Quantity, system: System, k: float, symbol: str | None
) -> tuple[str, str, str]:
    """Figure, doubt and unit of a value."""
    meant = of(quantity) if isinstance(quantity, str) else quantity
    unit = unit_named(symbol or unit_of(meant, system), quantity=meant)
    there = in_unit(value, unit=unit, quantity=meant)
    below, above = _expanded(spread, unit, meant, k)
    doubt = max(below, above)
    if not (doubt > 0.0 and math.isfinite(doubt)):
        place = usual_place(value=there, quantity=meant, unit=unit)
        return figure(there, place=place), "", suffix(unit)
    if below > above and meant.least is not None:
        below = min(below, there - in_unit(meant.least, unit=unit, quantity=meant))  # no less than nothing
    place = place_of(max(below, above))
    small = min(below, above)
    if small > 0.0 and small < 0.5 * 10.0**place:
        place = place_of(small)
    down, up = figure(below, place=place), figure(above, place=place)
    return figure(there, place=place), f" ± {up}" if down == up else f" +{up} {MINUS}{down}", suffix(unit)


def _expanded(spread: float | Spread | None, unit: Unit, meant: Quantity, k: float) -> tuple[float, float]:
    if spread is None:
        return 0.0, 0.0
    factor = k / per_unit(unit=unit, quantity=meant)
    if isinstance(spread, Spread):
        return spread.below * factor, spread.above * factor
    return spread * factor, spread * factor


def _reading(typed: Typed, symbol: str, place: int, plain: bool) -> str:
    if typed.kind == "trend":
        return typed.trend
    meant = of(typed.quantity)
    unit = unit_named(symbol, quantity=meant)
    text = _span(
        *(
            None if part is None else figure(in_unit(part, unit=unit, quantity=meant), place=place)
            for part in (typed.value, typed.low, typed.high)
        )
    )
    if typed.kind == "bound" and ("=" in typed.text or "≥" in typed.text or "≤" in typed.text):
        text = text.replace(">", "≥").replace("<", "≤")
    text += suffix(unit) + (f", {typed.trend}" if typed.trend else "")
    return plainly(text) if plain else text


def _span(value: str | None, low: str | None, high: str | None) -> str:
    if value is not None:
        return value
    if low is not None and high is not None:
        return f"{low} to {high}" if MINUS in low + high else f"{low}–{high}"
    return f">{low}" if low is not None else f"<{high}"
