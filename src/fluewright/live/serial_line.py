"""Lines of text from a serial port. A line that does not come in time is no reading, and never a zero."""

import asyncio
import contextlib
import os
import threading
from typing import Any

from fluewright import clock
from fluewright.live import payload
from fluewright.live.inbox import Inbox
from fluewright.live.mapping import Mapping
from fluewright.live.row import Lost, Row

WAIT = 0.5
"""s that one look at the port takes when nothing comes."""


class SerialLine:
    """Lines of one port; opened anew after it was lost.

    wire  always: who sends is whoever is at the other end of the cable
    """

    wire, real = True, True

    def __init__(self, mapping: Mapping) -> None:
        self.mapping = mapping
        self.name = mapping.name
        self.dropped = 0
        self._inbox: Inbox | None = None
        self._port: Any = None
        self._thread: threading.Thread | None = None

    async def next(self) -> Row | None:
        """The next line that holds; Lost when the port is not there."""
        if self._inbox is None:
            self._port = await asyncio.to_thread(self._opened)
            self._inbox = Inbox()
            self._thread = threading.Thread(target=self._read, args=(self._port, self._inbox), daemon=True)
            self._thread.start()
        try:
            return await self._inbox.next()
        except Lost:
            await self.close()
            raise

    def _opened(self) -> Any:
        import serial

        told = self.mapping.connection
        try:
            return serial.Serial(
                told["device"], int(told.get("baud", 9600)), parity=told.get("parity", "N"), timeout=WAIT
            )
        except (serial.SerialException, OSError, ValueError) as error:
            why = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else error
            raise Lost(f"{told['device']} cannot be opened: {why}") from error

    def _read(self, port: Any, inbox: Inbox) -> None:
        """Read on until the port is lost or nobody takes the lines; runs in its own thread."""
        import serial

        held = b""
        try:
            while True:
                held += port.read(max(1, port.in_waiting))
                *lines, held = held.split(b"\n")
                for line in lines:
                    row = self._row(line.rstrip(b"\r"))
                    if row is not None and not inbox.offer(row):
                        return
                if len(held) > payload.LONGEST:
                    held, self.dropped = b"", self.dropped + 1
                if not port.is_open:
                    return
        except (serial.SerialException, OSError, TypeError, AttributeError) as error:  # a port closed while it is read
            inbox.offer(Lost(f"the port was lost: {error}"))

    def _row(self, line: bytes) -> Row | None:
        if not line.strip():
            return None
        try:
            found = payload.taken(payload.checked(line, self.mapping.text.checksum), self.mapping.text)
        except payload.NotTaken:
            self.dropped += 1
            return None
        return Row(self.name, clock.seconds(), found.cells, found.stamped, found.number)

    async def close(self) -> None:
        """Let go of the port."""
        inbox, port, thread = self._inbox, self._port, self._thread
        self._inbox = self._port = self._thread = None
        if inbox is not None:
            inbox.shut()
        if port is not None:
            with contextlib.suppress(OSError, AttributeError):
                port.close()
        if thread is not None:
            await asyncio.to_thread(thread.join, 2.0 * WAIT)
