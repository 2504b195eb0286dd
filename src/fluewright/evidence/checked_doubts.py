"""What the tries of an instrument say against its readings: each such reason lets them alarm and clear nothing."""

from collections.abc import Iterator
from dataclasses import dataclass

from fluewright.evidence.checked import BELIEVABLE, MONOXIDE, OXYGEN, Check, offset
from fluewright.evidence.finding import PHYSICS, PRACTICE, Clause, Finding
from fluewright.evidence.origins import class_for, spread_of
from fluewright.evidence.reading import Account, Instrument
from fluewright.evidence.trust import NEAR_FRESH
from fluewright.kernel.response import partial_pressure_reading
from fluewright.quantity import names, show
from fluewright.quantity.uncertain import Channel, limit_of_error

WORD = "the instrument"
"""By which evidence refers to what was tried on it."""

MOVED_AIR = 0.01
"""Relative change of the barometer since the zero from which on a new one is asked (common practice, no source)."""
WARM_UP = 300.0
"""s since switching on before which no zero is believed (common practice, no source; the maker's time comes first)."""
SLOW = 1.5
"""Times the T90 of its class from which on a cell is slow (common practice, no source)."""
SHOWN = 0.05
"""mol/mol of oxygen by which a moved cell is explained."""

READ_AS = {MONOXIDE: "carbon_monoxide_dry", OXYGEN: "oxygen_dry"}
"""Reading by whose class the zero of a cell is judged."""


def channel_of(instrument: Instrument, quantity: str) -> Channel | None:
    """The channel of the instrument's class that takes a reading; None when none does."""
    kind = class_for(quantity, instrument)
    return None if kind is None else kind.channels[0]


def _doubt(code: str, lead: str, body: str, do: str, *keys: str, clause: Clause = PHYSICS) -> Finding:
    said = f"{body} Its readings can raise an alarm; they clear nothing."
    return Finding(code, "advise", lead, said, tuple((WORD, key) for key in keys), clause, do_next=(do,))


@dataclass(frozen=True, slots=True)
class _Doubts:
    """The reasons of one visit."""

    account: Account

    @property
    def instrument(self) -> Instrument:
        return self.account.instrument

    def shown(self, value: float, quantity: str) -> str:
        return show.shown(value, quantity=quantity, system=self.account.system)

    def of(self, number: int, check: Check) -> Iterator[Finding | None]:
        """What one try says against the readings."""
        if check.what == "zero":
            yield from (self.air(number, check), self.cold(number, check), self.elsewhere(number, check))
        if check.what in ("zero", "closing zero"):
            yield from (self.drifted(number, check, cell) for cell in (MONOXIDE, OXYGEN))
        if check.what == "leak" and check.tight is False:
            yield _doubt(
                "hose-leaks",
                "The hose or the probe leaks.",
                "Room air got into the sample: oxygen reads too high, carbon monoxide and carbon dioxide too low, and "
                "the test of oxygen against carbon dioxide cannot see it.",
                "mend the hose, try it again, and read everything in the flue again",
                f"check {number}",
            )
        yield self.slow(number, check)
        yield self.apart(number, check)

    def air(self, number: int, check: Check) -> Finding | None:
        """Oxygen at the zero that is not that of fresh air."""
        figure = None if check.oxygen is None else check.oxygen.figure
        if check.oxygen is None or figure is None or figure >= NEAR_FRESH:
            return None
        return _doubt(
            "zero-air",
            "The zero was taken where oxygen did not read as fresh air.",
            f"It showed {check.oxygen.typed.text} of oxygen, where fresh air holds 20.9 %: either the air was not "
            "fresh, or the oxygen cell is at its end.",
            "zero again in the open; if it still reads low there, the oxygen cell is due",
            f"check {number} oxygen",
        )

    def cold(self, number: int, check: Check) -> Finding | None:
        """A zero taken before the cells had settled."""
        figure = None if check.on is None else check.on.figure
        if check.on is None or figure is None or figure >= WARM_UP:
            return None
        return _doubt(
            "cold-zero",
            f"The zero was taken {check.on.typed.text} after switching on.",
            "Cells drift while they settle, and the zero moves with them. Five minutes is common practice; the maker's "
            "own time comes first.",
            "let it settle, zero again outdoors, and read again",
            f"check {number}",
            clause=PRACTICE,
        )

    def elsewhere(self, number: int, check: Check) -> Finding | None:
        """A zero taken at another pressure than the readings."""
        place, cell = self.account.surroundings, self.instrument.oxygen_cell
        if check.pressure is None or place.pressure_source.startswith("assumed") or cell == "capillary":
            return None
        change = place.pressure / check.pressure - 1.0
        if abs(change) <= MOVED_AIR:
            return None
        seen = partial_pressure_reading(fraction=SHOWN, zero_pressure=check.pressure, pressure=place.pressure)
        which = (
            "" if cell != "unknown" else " Nobody has said which kind its oxygen cell is; a capillary one hardly minds."
        )
        barometer = [self.shown(one, "barometer") for one in (check.pressure, place.pressure)]
        return _doubt(
            "zero-elsewhere",
            "The barometer has changed since the zero: it wants a new one.",
            f"Zeroed at {barometer[0]}, read at {barometer[1]}, {change * 100:+.1f} %. An oxygen cell that feels "
            f"partial pressure shows {float(seen) * 100:.1f} % where {SHOWN * 100:.1f} % is.{which}",
            "zero again in fresh air at this place and read again",
            f"check {number}",
        )

    def drifted(self, number: int, check: Check, cell: str) -> Finding | None:
        """A zero that moved by more than the class of the instrument allows."""
        off, channel = offset(check, cell), channel_of(self.instrument, READ_AS[cell])
        if off is None or channel is None:
            return None
        seen = check.monoxide if cell == MONOXIDE else check.oxygen
        allowed = limit_of_error(channel, 0.0 if cell == MONOXIDE else channel.high)
        if abs(off) <= allowed or seen is None:
            return None
        words = names.of(READ_AS[cell]).words
        edge = self.shown(allowed, READ_AS[cell])
        if check.what == "zero":
            lead = f"The zero was taken in air that held {seen.typed.text} of carbon monoxide."
            body = f"That much is missing from every reading after it; its class allows {edge}."
        else:
            lead = f"The zero of {words} had moved by {self._signed(off, cell)} at the end."
            body = f"Its class allows {edge}. When it moved, nobody saw: any reading of this visit may carry all of it."
        return _doubt(
            "zero-moved", lead, body, "zero outdoors, let it settle, and read again", f"check {number} {cell}"
        )

    def _signed(self, off: float, cell: str) -> str:
        amount = f"{abs(off) * 100:.1f} points" if cell == OXYGEN else self.shown(abs(off), READ_AS[cell])
        return ("+" if off > 0 else "−") + amount

    def slow(self, number: int, check: Check) -> Finding | None:
        """A cell that takes much longer than its class."""
        figure = None if check.response is None else check.response.figure
        seen = check.here
        channel = channel_of(self.instrument, seen.quantity if seen is not None else READ_AS[MONOXIDE])
        if check.response is None or figure is None or channel is None or figure <= SLOW * channel.t90:
            return None
        return _doubt(
            "slow-cell",
            f"It took {check.response.typed.text} to show nine tenths of a step.",
            f"Instruments of its class take {channel.t90:.0f} s. A reading that stood still for a minute may not have "
            "arrived: a filter may be blocked, the pump weak, the hose long, or the cell old.",
            "change the filter, try the step again, and wait three times as long before reading",
            f"check {number} response",
            clause=PRACTICE,
        )

    def apart(self, number: int, check: Check) -> Finding | None:
        """Two instruments that do not agree about the same gas."""
        gap = difference(check, self.instrument)
        if gap is None or check.here is None or check.there is None or abs(gap[0]) <= 2.0 * gap[1]:
            return None
        name = check.here.quantity
        return _doubt(
            "two-apart",
            f"Two instruments on the same gas do not agree: {check.here.typed.text} here, {check.there.typed.text} by "
            f"{check.other or 'the other'}.",
            f"They lie {self.shown(abs(gap[0]), name)} apart, where both doubts together explain "
            f"{self.shown(2.0 * gap[1], name)}. One of them is wrong, and this does not say which.",
            "try both on a known gas, or send both in; until then count the higher carbon monoxide",
            f"check {number} here",
        )


def difference(check: Check, instrument: Instrument) -> tuple[float, float] | None:
    """How far two instruments lie apart, and the standard uncertainty of that; None where not both read a figure.

    The other one is taken to be of the service class; two that were set with one bottle share its error, and that
    cancels here unseen.
    """
    if check.here is None or check.there is None or check.here.figure is None or check.there.figure is None:
        return None
    mine, others = max(spread_of(check.here, instrument)), max(spread_of(check.there, Instrument()))
    return check.here.figure - check.there.figure, float((mine**2 + others**2) ** 0.5)


def doubts(account: Account) -> tuple[Finding, ...]:
    """Every reason that lies in the instrument itself why its readings clear nothing."""
    asked = _Doubts(account)
    found = [one for number, check in enumerate(account.instrument.checks, 1) for one in asked.of(number, check) if one]
    return tuple(found)


def believable(check: Check) -> bool:
    """Whether a zero was taken where the air may be believed."""
    return check.place in BELIEVABLE
