"""What unit a bare number is in: that of the system somebody stated, for as long as it stands."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Literal

from fluewright.quantity.meaning import Quantity
from fluewright.quantity.units import Unit, unit_named

System = Literal["us", "si"]

_STATED: ContextVar[System | None] = ContextVar("system of bare numbers", default=None)

ASKED_FOR = ("temperature", "temperature difference")
"""Dimensions whose bare figures are believable in both systems: 60 is a cool day in one and a burn in the other."""


@contextmanager
def stated(system: System | None) -> Iterator[None]:
    """While it lasts, bare numbers are in the units of this system.

    system  us or si; None where nobody said: US units, but a temperature that may be °C is asked for
    """
    before = _STATED.set(system)
    try:
        yield
    finally:
        _STATED.reset(before)


def unit_of(quantity: Quantity) -> Unit:
    """The unit of a bare number of a quantity."""
    symbol = quantity.shown_si if _STATED.get() == "si" else quantity.shown_us
    return unit_named(symbol, quantity=quantity)


def other_unit(quantity: Quantity) -> Unit | None:
    """The unit that a bare number may as well be in; None where a system was stated or there is no doubt."""
    if _STATED.get() is not None or quantity.dimension not in ASKED_FOR:
        return None
    return unit_named(quantity.shown_si, quantity=quantity)
