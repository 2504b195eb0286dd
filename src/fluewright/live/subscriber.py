"""Whoever looks on: a bounded line of frames, the oldest of which are lost to one that is slow; samples never are."""

import asyncio
import json
from collections import deque
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

MOST = 256
"""Frames that wait for one that looks on."""


@dataclass(frozen=True)
class Frame:
    """What is shown at once.

    id       rises by one with each row that is kept, also over a restart: the id of an event of a page's stream
    samples  of one row, as plain data
    """

    id: int
    samples: dict[str, Any]

    @cached_property
    def event(self) -> bytes:
        """The frame as an event of a page's stream (server-sent events), written once for all pages."""
        return f"id: {self.id}\ndata: {json.dumps(self.samples, ensure_ascii=False)}\n\n".encode()


@dataclass(slots=True, eq=False)
class Subscriber:
    """One that looks on.

    lost  frames that it was too slow for; their samples are in the journal all the same
    """

    most: int = MOST
    lost: int = 0
    _waiting: deque[Frame] = field(default_factory=deque)
    _woken: asyncio.Event = field(default_factory=asyncio.Event)
    _over: bool = False

    def show(self, frame: Frame) -> None:
        """Put a frame in its line."""
        if len(self._waiting) >= self.most:
            self._waiting.popleft()
            self.lost += 1
        self._waiting.append(frame)
        self._woken.set()

    def end(self) -> None:
        """Nothing more will come."""
        self._over = True
        self._woken.set()

    async def next(self) -> Frame | None:
        """The oldest frame in its line, waiting for one; None when nothing more will come."""
        while not self._waiting:
            if self._over:
                return None
            self._woken.clear()
            await self._woken.wait()
        return self._waiting.popleft()

    def rest(self) -> list[Frame]:
        """All else that is in its line now, without waiting."""
        found = list(self._waiting)
        self._waiting.clear()
        return found
