"""A device that tells what it likes: a chain that holds, with any bodies, ids and times in it."""

from collections.abc import Mapping
from typing import Any

from fluewright import clock
from fluewright.record.entry import NOTHING_BEFORE, Entry
from fluewright.record.parcel import parcel_line

FIRST = "00000000-0000-7000-8000-000000000001"
"""An id that stands before those of all honest devices."""

NOON = "2026-11-25T12:00:00+00:00"


class Forger:
    """A chain of its own, as lines of a message."""

    def __init__(self, device: str = FIRST) -> None:
        self.device = device
        self.lines: list[bytes] = []
        self._previous = NOTHING_BEFORE
        self.say("device", {"name": "forger"}, id=device)

    def say(self, kind: str, body: Mapping[str, Any], *, id: str = "", entered: str = NOON, version: int = 1) -> Entry:
        """One more entry of it."""
        entry = Entry(id or clock.new_id(), kind, version, self.device, len(self.lines) + 1, self._previous, entered,
                      "", self.device, "typed", body)  # fmt: skip
        self._previous = entry.hash()
        self.lines.append(parcel_line(entry.text(), entry.hash(), ()))
        return entry
