"""Readings of a room with their times, from what was typed: 10:05 8 ppm; 10:20 12 ppm."""

import math
import re
from collections.abc import Iterable
from pathlib import Path

from fluewright.errors import PhysicsRefused, TraceError, UseError
from fluewright.evidence.reading import Reading
from fluewright.evidence.room_means import Timed
from fluewright.evidence.trace import read as traces
from fluewright.quantity import parse
from fluewright.quantity.meaning import Typed

ROOM = "carbon_monoxide_room"
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}))?")
_PAIR = re.compile(
    r"\s*(?P<time>\d{1,2}:\d{2}(?::\d{2})?|\d+(?:[.,]\d+)?\s*(?:seconds?|secs?|s|minutes?|mins?|min|hours?|hrs?|h)?)"
    r"(?:\s*=\s*|\s+)(?P<reading>\S.*)",
    re.IGNORECASE,
)
DAY = 86_400.0
CHANNELS = (ROOM, "carbon_monoxide_dry", "carbon_monoxide_wet")
"""Channels of a trace that may hold the air of a room, the plainest name first."""


def reading(text: str, quantity: str) -> Reading:
    """One typed value as a reading of a quantity."""
    return Reading(quantity, parse.parse(text, quantity=quantity))


def seconds_of(text: str) -> tuple[float, bool]:
    """A time as typed in s, and whether it was a clock; QuantityError when it is no time."""
    clock = _CLOCK.fullmatch(text.strip())
    if clock and int(clock[1]) < 24 and int(clock[2]) < 60 and int(clock[3] or 0) < 60:
        return 3600.0 * int(clock[1]) + 60.0 * int(clock[2]) + float(clock[3] or 0), True
    return float(parse.single(text, quantity="time_between").value or 0.0), False


def in_order(typed: Iterable[tuple[str, Reading, str]]) -> tuple[Timed, ...]:
    """Readings in the order they were typed, with their times on one clock.

    typed  time, reading and place of each
    -> readings; PhysicsRefused where a time goes back, a clock is mixed with minutes, or a time comes twice in a place
    """
    found: list[Timed] = []
    kinds: set[bool] = set()
    for words, read, place in typed:
        seconds, clock = seconds_of(words)
        kinds.add(clock)
        last = found[-1].seconds if found else None
        if clock and last is not None:
            seconds += DAY * (last // DAY)
            if last - seconds > DAY / 2.0:  # over midnight
                seconds += DAY
        _need_later(seconds, words, last, mixed=len(kinds) > 1)
        if any(one.seconds == seconds and one.place == place for one in found):
            raise PhysicsRefused(
                code="FW-K-027",
                read=f"two readings at {words}{f' {place}' if place else ''}",
                expected="one reading at a time in one place",
                matters="a mean cannot go straight up in no time",
                do="type the seconds too, or say where each was read",
            )
        found.append(Timed(seconds, words, read, place))
    return tuple(found)


def _need_later(seconds: float, words: str, last: float | None, *, mixed: bool) -> None:
    if not mixed and (last is None or seconds >= last):
        return
    raise PhysicsRefused(
        code="FW-K-028",
        read=f"the time {words}{', a clock among minutes' if mixed else ', earlier than the one before it'}",
        expected="times that go on, all as a clock or all as minutes since the start",
        matters="a mean over time hangs on which reading came first",
        do="put the readings in order and write their times alike",
    )


def readings_of(text: str) -> tuple[Timed, ...]:
    """Several readings in one line, a semicolon between them.

    text  such as "10:05 8 ppm; 10:20 12 ppm" or "0 min 3; 10 min >35"
    -> readings with their times; UseError for a piece without time or reading
    """
    typed = []
    for piece in text.split(";"):
        pair = _PAIR.fullmatch(piece)
        if pair is None:
            raise UseError(
                code="FW-U-220",
                read=f"{piece.strip()!r} among the readings",
                expected="a time and a reading, such as 10:05 8 ppm or 15 min 8 ppm",
                matters="a mean over time needs to know when",
                do="write each as time and reading, with a semicolon between them",
            )
        typed.append((pair["time"], reading(pair["reading"], ROOM), ""))
    return in_order(typed)


def _cell(value: float, *, above: bool, below: bool) -> Typed:
    """A cell of a trace as a reading; its text is the figure that the file held."""
    step = 1e-6 if round(value * 1e6, 3) == round(value * 1e6) else 1e-7
    text = f"{'>' if above else '<' if below else ''}{value * 1e6:.6g} ppm"
    if above or below:
        return Typed(text, ROOM, "bound", None, value if above else None, value if below else None, "ppm", "", 0, step)
    return Typed(text, ROOM, "value", value, None, None, "ppm", "", 0, step)


def recorded(path: Path) -> tuple[Timed, ...]:
    """The readings of a recorded trace, in order of time.

    path  CSV or Parquet with times and a channel of carbon monoxide
    -> readings; TraceError when there is no such channel or no cell in it
    """
    with traces.read(path) as trace:
        name = next((name for name in CHANNELS if name in trace.names), None)
        index = -1 if name is None else trace.index(name)
        found: list[Timed] = []
        for sample in () if name is None else trace:
            above, below = bool(sample.above >> index & 1), bool(sample.below >> index & 1)
            bound = dict(sample.bounds).get(index)
            value = sample.values[index] if bound is None else bound
            if not math.isnan(value) and (not found or sample.time > found[-1].seconds):
                read = Reading(ROOM, _cell(value, above=above, below=below), "from the trace")
                found.append(Timed(sample.time, "", read))
    if found:
        return tuple(found)
    raise TraceError(
        code="FW-T-091",
        where=path.name,
        read="no carbon monoxide in it",
        expected="a column of carbon monoxide with figures, such as room_co [ppm], beside its times",
        matters="there is nothing to take a mean of",
        do="see fluewright trace for how its columns were understood",
    )
