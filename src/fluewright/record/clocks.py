"""Where the clock of a device was wrong, as far as its own entries show it. Order is by number, never by clock."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from fluewright.record.entry import Entry

LEEWAY = timedelta(seconds=2)
"""Entered times are whole seconds, and an id is made a moment after the time was asked for."""

AFTER = timedelta(minutes=2)
"""How much later than the entry its id may have been made."""

AHEAD = timedelta(days=1)
"""How much earlier: an id may be chosen when a form is opened, and the entry be kept when it is sent."""

EARLIEST = 2020
"""Years before this are those of a clock without a battery."""

LATEST = datetime(9999, 1, 1, tzinfo=UTC).timestamp()
"""What an id that was not made by a clock may say at most."""


def time_in(entry_id: str) -> datetime:
    """The moment within a UUID of version 7, to the millisecond (RFC 9562, 5.7)."""
    return datetime.fromtimestamp(min(int(entry_id[:8] + entry_id[9:13], 16) / 1000, LATEST)).astimezone()


def clock_doubts(entries: Iterable[Entry]) -> list[str]:
    """Where entered times run backwards, lie before this program was, or are not those within the ids.

    entries  each device's own in the order of their numbers; devices may be mixed
    -> sentences, in that order; none for a clock that was right, or wrong all the time by the same
    """
    found: list[str] = []
    before: dict[str, tuple[int, datetime]] = {}
    for entry in entries:
        at = datetime.fromisoformat(entry.entered)
        where = f"entry {entry.sequence} of device {entry.device}"
        number, last = before.get(entry.device, (0, at))
        if at < last - LEEWAY:
            found.append(
                f"{where} says {entry.entered}, {_span(last - at)} before entry {number}: the clock was set back"
            )
        if at.year < EARLIEST:
            found.append(f"{where} says {entry.entered}: the clock had lost the day")
        made = time_in(entry.id)
        if entry.source != "imported" and not at - AHEAD <= made <= at + AFTER:
            found.append(f"{where} says {entry.entered}, but its id was made at {made.isoformat('T', 'seconds')}")
        before[entry.device] = (entry.sequence, at)
    return found


def _span(gap: timedelta) -> str:
    seconds = int(gap.total_seconds())
    for name, size in (("days", 86400), ("h", 3600), ("min", 60)):
        if seconds >= 2 * size:
            return f"{seconds // size} {name}"
    return f"{seconds} s"
