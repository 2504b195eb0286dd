"""Where threads of libraries hand over what came; a full one lets them wait, so that nothing piles up."""

import asyncio
from concurrent.futures import CancelledError

from fluewright.live.row import Lost, Row

DEEP = 256
"""Rows that wait at most."""


class Inbox:
    """Rows from a thread, in order."""

    def __init__(self, deep: int = DEEP) -> None:
        self._loop = asyncio.get_running_loop()
        self._rows: asyncio.Queue[Row | Lost | None] = asyncio.Queue(deep)
        self._shut = False

    def offer(self, found: Row | Lost | None) -> bool:
        """Hand over a row, that the source was lost, or that it ended; waits for room. False when nobody takes it.

        Called by a thread that is not the one of the loop.
        """
        if self._shut or self._loop.is_closed():
            return False
        try:
            asyncio.run_coroutine_threadsafe(self._rows.put(found), self._loop).result()
        except (CancelledError, RuntimeError):
            return False
        return not self._shut

    async def next(self) -> Row | None:
        """The oldest row, waiting for one; None when there will be no more, Lost when the source was lost."""
        found = await self._rows.get()
        if isinstance(found, Lost):
            raise found
        return found

    def shut(self) -> None:
        """Take nothing more, and let those go that wait for room."""
        self._shut = True
        while not self._rows.empty():
            self._rows.get_nowait()
