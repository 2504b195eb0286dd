"""Lines that another program goes on writing to a file; where we had read to is known again after a restart."""

import asyncio
import os
from pathlib import Path
from typing import BinaryIO

from fluewright import clock
from fluewright.live import payload
from fluewright.live.mapping import Mapping
from fluewright.live.row import Lost, Row

LOOK = 0.1
"""s between two looks at the file."""


class FileTail:
    """The lines of one file, those to come, or all of it where the mapping says start = "beginning".

    place  how far it was read before, as a row told it; empty for never
    """

    wire, real = True, True

    def __init__(self, mapping: Mapping, place: str = "") -> None:
        self.mapping = mapping
        self.name = mapping.name
        self.dropped = 0
        self._path: Path = mapping.path("file")
        self._file: BinaryIO | None = None
        self._place = place
        self._held = b""

    async def next(self) -> Row | None:
        """The next whole line that holds; Lost while there is no file."""
        while True:
            if self._file is None:
                self._open()
            line = self._line()
            if line is None:
                await asyncio.sleep(LOOK)
                self._look()
                continue
            row = self._row(line)
            if row is not None:
                return row

    def _open(self) -> None:
        try:
            self._file = self._path.open("rb")
        except OSError as error:
            raise Lost(f"{self._path.name} cannot be read: {error.strerror}") from error
        number, _, at = self._place.partition(":")
        known = os.fstat(self._file.fileno())
        if number == str(known.st_ino) and int(at) <= known.st_size:
            self._file.seek(int(at))
        elif not self._place and self.mapping.connection.get("start", "end") == "end":
            self._file.seek(0, os.SEEK_END)
        self._held = b""

    def _line(self) -> bytes | None:
        assert self._file is not None
        self._held += self._file.readline(payload.LONGEST)
        if not self._held.endswith(b"\n"):
            if len(self._held) > payload.LONGEST:
                self._held = b""
                self.dropped += 1
            return None
        line, self._held = self._held, b""
        return line

    def _look(self) -> None:
        """Whether the file was begun anew, another one in its place or cut short; then it is read from its top."""
        assert self._file is not None
        try:
            there, ours = self._path.stat(), os.fstat(self._file.fileno())
        except OSError:
            return
        if there.st_ino != ours.st_ino or there.st_size < self._file.tell():
            self._file.close()
            self._file, self._place = None, "anew:0"

    def _row(self, line: bytes) -> Row | None:
        if not line.strip():
            return None
        try:
            found = payload.taken(payload.checked(line.rstrip(b"\r\n"), self.mapping.text.checksum), self.mapping.text)
        except payload.NotTaken:
            self.dropped += 1
            return None
        assert self._file is not None
        place = f"{os.fstat(self._file.fileno()).st_ino}:{self._file.tell()}"
        return Row(self.name, clock.seconds(), found.cells, found.stamped, found.number, place=place)

    async def close(self) -> None:
        """Let go of the file."""
        if self._file is not None:
            self._file.close()
            self._file = None
