"""What was tried on an instrument during a visit, and how far its zero may have moved while it read."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fluewright.evidence.reading import Instrument, Reading
from fluewright.kernel.air import DRY_AIR

What = Literal["zero", "closing zero", "leak", "response", "cross-check"]

PLACES = ("outdoors", "doorway", "inside")
"""Where a zero is taken, the air one may believe first."""
BELIEVABLE = ("outdoors", "doorway")
"""Air in which what an instrument shows can be held against what is there."""

TRIED = "tried on the instrument"
"""Source of a reading that speaks of the instrument and not of the appliance."""

MONOXIDE, OXYGEN = "carbon_monoxide", "oxygen"
"""The two cells whose zero is taken in air, by how the names of their readings begin."""


@dataclass(frozen=True, slots=True)
class Check:
    """One thing tried on the instrument.

    what        zero, closing zero, leak, response, cross-check
    time        as typed
    place       of a zero: outdoors, doorway or inside
    tight       of a leak check: whether hose and probe held
    how         how it was tried, as typed
    on          time since it was switched on
    pressure    barometer there in Pa, None when not said
    oxygen      what it showed in that air
    monoxide    what it showed, or another meter knew, of that air
    response    time to 90 % of a step
    here        reading of this instrument beside another one
    there       reading of the other one
    other       what the other one is called
    """

    what: What
    time: str = ""
    place: str = ""
    tight: bool | None = None
    how: str = ""
    on: Reading | None = None
    pressure: float | None = None
    oxygen: Reading | None = None
    monoxide: Reading | None = None
    response: Reading | None = None
    here: Reading | None = None
    there: Reading | None = None
    other: str = ""


def zero_place(typed: str, checks: Sequence[Check], first: str) -> str:
    """The place of the zero that readings rest on: of several the least believable, unless a later one replaced it.

    typed   what the visit says of it without a time
    checks  of the visit, in order
    first   time of the first reading, HH:MM; empty when nobody has said
    -> outdoors, doorway, inside, or empty
    """
    zeros = [("", typed)] if typed else []
    zeros += [(check.time, check.place) for check in checks if check.what == "zero" and check.place]
    before = [place for time, place in zeros if first and time and _minutes(time) <= _minutes(first)]
    counting = [place for time, place in zeros if not before or (time and _minutes(time) > _minutes(first))]
    counting += before[-1:]
    return max(counting, key=PLACES.index, default="")


def _minutes(time: str) -> float:
    hours, _, rest = time.partition(":")
    return int(hours) * 60.0 + float(rest.replace(":", ".") or 0.0)


ANOTHER_METER = frozenset({"carbon_monoxide_personal"})
"""Readings of a meter that somebody wears, whatever the visit is read with."""


def cell_of(quantity: str) -> str:
    """Which of the instrument's two cells takes a reading; empty for any other."""
    if quantity in ANOTHER_METER:
        return ""
    return next((cell for cell in (MONOXIDE, OXYGEN) if quantity.startswith(f"{cell}_")), "")


def offset(check: Check, cell: str) -> float | None:
    """How much too high a cell read after this zero, or at this closing zero, mol/mol; None where it does not tell.

    A zero taken in air that held carbon monoxide takes that much off every reading after it.
    """
    seen = check.monoxide if cell == MONOXIDE else check.oxygen
    figure = None if seen is None else seen.figure
    if figure is None or check.what not in ("zero", "closing zero"):
        return None
    if check.what == "zero":
        return -max(0.0, figure) if cell == MONOXIDE else None
    if check.place not in BELIEVABLE:
        return None
    return figure if cell == MONOXIDE else figure - DRY_AIR.oxygen


def moved(reading: Reading, instrument: Instrument) -> tuple[float, float]:
    """How much too high and how much too low a reading may be because of its zero.

    When between zero and closing zero it moved, nobody saw: each reading may have all of it, or nothing.

    -> (too high, too low), 0 or more, canonical unit
    """
    cell = cell_of(reading.quantity)
    if not cell or reading.source == TRIED:
        return 0.0, 0.0
    found = [off for check in instrument.checks if (off := offset(check, cell)) is not None]
    return max([0.0, *found]), max([0.0, *(-off for off in found)])
