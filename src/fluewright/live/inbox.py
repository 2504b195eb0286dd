"""Where threads of libraries hand over what came; a full one lets them wait, so that nothing piles up."""

import asyncio
import threading

from fluewright.live.row import Lost, Row

DEEP = 256
"""Rows that wait at most."""

LOOK = 0.5
"""s after which one that waits for room looks whether there will be any."""


class Inbox:
    """Rows from a thread, in order."""

    def __init__(self, deep: int = DEEP) -> None:
        self._loop = asyncio.get_running_loop()
        self._rows: asyncio.Queue[Row | Lost | None] = asyncio.Queue()
        self._room = threading.Semaphore(deep)
        self._shut = False

    def offer(self, found: Row | Lost | None) -> bool:
        """Hand over a row, that the source was lost, or that it ended; waits for room. False when nobody takes it.

        Called by a thread that is not the one of the loop.
        """
        while not self._shut:
            if self._room.acquire(timeout=LOOK):
                try:
                    self._loop.call_soon_threadsafe(self._rows.put_nowait, found)
                except RuntimeError:  # the loop is no more
                    return False
                return True
        return False

    async def next(self) -> Row | None:
        """The oldest row, waiting for one; None when there will be no more, Lost when the source was lost."""
        found = await self._rows.get()
        self._room.release()
        if isinstance(found, Lost):
            raise found
        return found

    def shut(self) -> None:
        """Take nothing more, and let those go that wait for room."""
        self._shut = True
