"""Messages that a sender pushes by HTTP; it is answered when they are on the disk, and not before."""

import asyncio
import contextlib

from fluewright import clock
from fluewright.live import payload
from fluewright.live.inbox import DEEP
from fluewright.live.mapping import Mapping
from fluewright.live.row import Lost, Row

STALL = 10.0
"""s that a sender may be silent within a request."""

AT_ONCE = 64
"""Senders at the same time."""


class HttpPush:
    """Messages pushed to this machine: `pushed` is the door, `next` gives what came through it.

    A port of 127.0.0.1 is listened on where the mapping names one; a door of the pages may call `pushed` instead.
    """

    wire, real = False, True

    def __init__(self, mapping: Mapping) -> None:
        self.mapping = mapping
        self.name = mapping.name
        self.dropped = 0
        self._key = payload.key_in(mapping.key_file) if mapping.key_file is not None else b""
        self._rows: asyncio.Queue[Row] = asyncio.Queue(DEEP)
        self._server: asyncio.Server | None = None
        self._here = asyncio.Semaphore(AT_ONCE)

    async def next(self) -> Row | None:
        """The next message that was pushed."""
        port = self.mapping.connection.get("port")
        if self._server is None and port is not None:
            try:
                self._server = await asyncio.start_server(self._request, "127.0.0.1", int(port))
            except OSError as error:
                raise Lost(f"port {port} of 127.0.0.1 cannot be had: {error.strerror}") from error
        return await self._rows.get()

    async def pushed(self, message: bytes) -> None:
        """Take one message; returns when it is on the disk. NotTaken where it is damaged or not signed by the key."""
        try:
            body = payload.proven(message, self.name, self._key) if self._key else message
            found = payload.taken(payload.checked(body.rstrip(b"\r\n"), self.mapping.text.checksum), self.mapping.text)
        except payload.NotTaken:
            self.dropped += 1
            raise
        kept = asyncio.Event()
        row = Row(
            self.name, clock.seconds(), found.cells, found.stamped, found.number, proven=bool(self._key), kept=kept.set
        )
        await self._rows.put(row)
        await kept.wait()

    async def _request(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        """One request: POST with a length, answered with 204 once it is kept."""
        async with self._here:
            with contextlib.suppress(OSError, TimeoutError, asyncio.IncompleteReadError, asyncio.LimitOverrunError):
                status = await self._answered(reader)
                writer.write(f"HTTP/1.1 {status}\r\ncontent-length: 0\r\nconnection: close\r\n\r\n".encode())
                await writer.drain()
            writer.close()

    async def _answered(self, reader: asyncio.StreamReader) -> str:
        head = await asyncio.wait_for(reader.readuntil(b"\r\n\r\n"), STALL)
        first, *lines = head.decode("latin-1").split("\r\n")
        headers = {name.lower(): value.strip() for name, _, value in (line.partition(":") for line in lines) if name}
        host = headers.get("host", "").rpartition(":")[0] or headers.get("host", "")
        if host not in ("127.0.0.1", "localhost") or headers.get("origin"):  # a page of another site may not send
            return "403 Forbidden"
        length = headers.get("content-length", "")
        if not first.startswith("POST ") or not (length.isascii() and length.isdigit()) or len(length) > 9:
            return "405 Method Not Allowed"
        if int(length) > payload.LONGEST:
            return "413 Content Too Large"
        try:
            await self.pushed(await asyncio.wait_for(reader.readexactly(int(length)), STALL))
        except payload.NotTaken:
            return "422 Unprocessable Content"
        return "204 No Content"

    async def close(self) -> None:
        """Listen no more."""
        if self._server is not None:
            self._server.close()
            self._server = None
