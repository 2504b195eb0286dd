"""What was tried on the instrument, as a part of the job: sentences of the sheet, and what stays open."""

from collections.abc import Iterator
from dataclasses import dataclass

from fluewright.evidence.checked import MONOXIDE, OXYGEN, Check, offset
from fluewright.evidence.checked_doubts import READ_AS, WORD, believable, channel_of, difference
from fluewright.evidence.part import Part, Piece, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.quantity import names, show

AT = {"outdoors": " outdoors", "doorway": " in the doorway", "inside": " indoors", "": ""}
NAMES = {"zero": "zero taken", "closing zero": "closing zero taken"}

NO_CLOSING = "Whether the zero held to the end: no closing zero was taken outdoors."
NO_LEAK = "Whether hose and probe were tight: no leak check was entered."
CLOSED_INSIDE = "Whether the zero held to the end: the closing zero was taken indoors, where nobody knows the air."


@dataclass(frozen=True, slots=True)
class _Told:
    """The sentences of one visit's tries."""

    account: Account

    def shown(self, value: float, quantity: str, spread: float | None = None) -> str:
        return show.shown(value, spread, quantity=quantity, system=self.account.system)

    def of(self, number: int, check: Check) -> Iterator[Statement]:
        """One try in one sentence, and what follows from it."""
        if check.what in NAMES:
            yield self._zero(number, check)
            yield from self._offsets(check)
        elif check.what == "leak":
            how = f", {check.how}" if check.how else ""
            held = "hose and probe held tight" if check.tight else "hose or probe leaks"
            yield Statement((f"Leak check: {held}", Voiced(how), "."), time=check.time)
        elif check.what == "response":
            yield self._response(number, check)
        else:
            yield from self._beside(number, check)

    def _zero(self, number: int, check: Check) -> Statement:
        pieces: list[Piece] = [f"{NAMES[check.what]}{AT[check.place]}"]
        if check.on is not None:
            pieces += [", ", Voiced(check.on.typed.text), " after switching on"]
        if check.pressure is not None:
            pieces += [", barometer there ", self.shown(check.pressure, "barometer")]
        seen = ((OXYGEN, check.oxygen), (MONOXIDE, check.monoxide))
        read = [(cell, one) for cell, one in seen if one is not None]
        for index, (cell, one) in enumerate(read):
            pieces += [", " if index else ": ", f"{cell.replace('_', ' ')} ", Seen(f"check {number} {cell}", one)]
        if check.how:
            pieces += [", " if read else ": ", Voiced(check.how)]
        return Statement((*pieces, "."), mark="measured" if believable(check) else "unknown", time=check.time)

    def _offsets(self, check: Check) -> Iterator[Statement]:
        """How far a zero had moved, and that the readings carry it."""
        for cell in (MONOXIDE, OXYGEN):
            off, channel = offset(check, cell), channel_of(self.account.instrument, READ_AS[cell])
            if off is None or (check.what == "zero" and not off):
                continue
            words = names.of(READ_AS[cell]).words.replace(" in dry flue gas", "")
            step = 0.0 if channel is None else channel.resolution
            if abs(off) < step:
                yield Statement((f"The zero of {words} held.",), mark="derived")
                continue
            side = "high" if off > 0 else "low"
            amount = f"{abs(off) * 100:.1f} points" if cell == OXYGEN else self.shown(abs(off), READ_AS[cell])
            head = "In fresh air oxygen read" if cell == OXYGEN else f"The zero of {words} was"
            if check.what == "zero":
                head = "Air that is not clean set the zero: carbon monoxide then reads"
            said = f"{head} {amount} too {side}: readings may be up to that much too {side}, and their doubt counts it."
            yield Statement((said,), mark="derived")

    def _response(self, number: int, check: Check) -> Statement:
        channel = channel_of(self.account.instrument, READ_AS[MONOXIDE] if check.here is None else check.here.quantity)
        usual = "" if channel is None else f"; instruments of its class take {channel.t90:.0f} s"
        seen: list[Piece] = [] if check.response is None else [Seen(f"check {number} response", check.response)]
        return Statement(("Response to a step: nine tenths after ", *seen, f"{usual}."), time=check.time)

    def _beside(self, number: int, check: Check) -> Iterator[Statement]:
        gap = difference(check, self.account.instrument)
        if check.here is None or check.there is None:
            return
        name = check.here.quantity
        pieces: list[Piece] = ["On the same gas as ", Voiced(check.other or "another instrument"), ": "]
        pieces += [f"{names.of(name).words} ", Seen(f"check {number} here", check.here), " here, "]
        pieces += [Seen(f"check {number} there", check.there), " there"]
        if gap is not None:
            fits = "within" if abs(gap[0]) <= 2.0 * gap[1] else "beyond"
            apart, joint = self.shown(abs(gap[0]), name), self.shown(2.0 * gap[1], name)
            pieces += [f"; {apart} apart, {fits} their joint doubt of {joint}"]
        yield Statement((*pieces, "."), time=check.time)

    def unsaid(self) -> tuple[str, ...]:
        """What stays open about the instrument."""
        checks = self.account.instrument.checks
        closing = [check for check in checks if check.what == "closing zero"]
        found = [] if closing else [NO_CLOSING]
        found += [CLOSED_INSIDE] if closing and not any(map(believable, closing)) else []
        return (*found, *(() if any(check.what == "leak" for check in checks) else (NO_LEAK,)))


@dataclass(frozen=True, slots=True)
class Tried:
    """Stands among the parts of a visit in which something was tried on the instrument."""

    @property
    def late(self) -> bool:
        """It waits for nothing."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """The tries in order; what they say against readings is among the findings of the flame."""
        told = _Told(so_far.account)
        checks = so_far.account.instrument.checks
        statements = tuple(one for number, check in enumerate(checks, 1) for one in told.of(number, check))
        data = {"checks": [_data(check) for check in checks]}
        return Part(WORD, "The instrument", "before", statements, cannot_tell=told.unsaid(), data=data)


def _data(check: Check) -> dict[str, object]:
    seen = {"on": check.on, "oxygen": check.oxygen, "monoxide": check.monoxide, "response": check.response,
            "here": check.here, "there": check.there}  # fmt: skip
    figures = {name: one.figure for name, one in seen.items() if isinstance(one, Reading)}
    words = {"what": check.what, "time": check.time, "place": check.place, "tight": check.tight, "other": check.other}
    return {**words, "pressure": check.pressure, **figures}
