"""Sizes that a form can be reckoned with: a nought, a slipped sign or a slipped unit is told before it divides."""

import math
from dataclasses import dataclass

from fluewright.errors import PhysicsRefused
from fluewright.evidence.reading import Reading
from fluewright.quantity import names, units


@dataclass(frozen=True, slots=True)
class Size:
    """What one value of a form can be, in the canonical unit.

    words    what it is
    matters  why no other can be reckoned with, a sentence without its stop
    least    smallest; itself no size where `above` says so
    most     largest
    above    whether it has to lie above the smallest
    """

    words: str
    matters: str
    least: float = 0.0
    most: float = math.inf
    above: bool = True

    def fits(self, value: float) -> bool:
        """Whether a figure is such a size."""
        return (value > self.least if self.above else value >= self.least) and value <= self.most


def need(reading: Reading | None, size: Size) -> None:
    """Every end of a reading within its size; nothing where nothing was read, or a word alone."""
    typed = None if reading is None else reading.typed
    ends = () if typed is None else (typed.value, typed.low, typed.high)
    if typed is None or all(size.fits(end) for end in ends if end is not None):
        return
    unit = units.unit_named(typed.unit, quantity=names.of(typed.quantity))

    def shown(end: float) -> str:
        return f"{units.in_unit(end, unit=unit, quantity=names.of(typed.quantity)):.4g} {typed.unit}".removesuffix(" 1")

    low = f"{'more than' if size.above else 'at least'} {shown(size.least) if size.least else 'nothing'}"
    raise PhysicsRefused(
        code="FW-K-084",
        read=f"{size.words}: {typed.text}",
        expected=low if math.isinf(size.most) else f"{low} and at most {shown(size.most)}",
        matters=size.matters,
        do="read it again, and look for a nought, a sign or a unit that slipped",
    )


def need_rising(least: Reading | None, most: Reading | None, words: str) -> None:
    """A least that lies below its most, where both were typed."""
    if least is None or most is None or least.figure is None or most.figure is None or least.figure <= most.figure:
        return
    raise PhysicsRefused(
        code="FW-K-085",
        read=f"{words}: at least {least.typed.text}, at most {most.typed.text}",
        expected="a least below the most",
        matters="nothing lies between the two, so every reading would be beyond one of them",
        do="read the plate again; the two may have been swapped",
    )
