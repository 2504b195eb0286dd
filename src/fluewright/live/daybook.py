"""Rows on the disk before anybody is told that they were kept, in files of their own until they are trace blocks.

A line for each row: eight hexadecimal digits (CRC-32), a space, JSON. The first line of a file says where the counting
stands and what has to be known so that a copy of an earlier row is known as one. A line that a cut power tore is the
last one, and was acknowledged to nobody.
"""

import json
import os
import zlib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import IO, Any

from fluewright import clock
from fluewright.errors import NotAllowed
from fluewright.record.files import disk_told, flushed
from fluewright.record.shape import ID

END = ".rows"


def _line(held: Mapping[str, Any]) -> bytes:
    text = json.dumps(held, ensure_ascii=False, separators=(",", ":")).encode("utf-8", "surrogateescape")
    return b"%08x " % zlib.crc32(text) + text + b"\n"


def _held(line: bytes) -> dict[str, Any] | None:
    """What a line says; None where it is torn or damaged."""
    check, space, text = line.rstrip(b"\n").partition(b" ")
    try:
        whole = space and line.endswith(b"\n") and int(check, 16) == zlib.crc32(text)
        found = json.loads(text) if whole else None
    except ValueError:
        return None
    return found if isinstance(found, dict) else None


def lines_in(path: Path) -> Iterator[dict[str, Any] | None]:
    """The lines of a file, the head first; None for one that is not whole. A torn last line is none at all."""
    with path.open("rb") as file:
        for line in file:
            if line.endswith(b"\n"):
                yield _held(line)


class Daybook:
    """The rows that are not in the journal yet.

    folder  of its files; made when it is not there
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._file: IO[bytes] | None = None
        self._lock: IO[bytes] | None = None
        self.path = folder

    def take(self) -> None:
        """Take the folder for this process alone; NotAllowed when another one keeps its rows there."""
        with disk_told(self.folder):
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            lock = (self.folder / "lock").open("ab")
        if os.name == "posix":
            import fcntl

            try:
                fcntl.flock(lock.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError as error:
                lock.close()
                raise NotAllowed(
                    code="FW-N-110",
                    where=str(self.folder),
                    read="another program that listens for this journal",
                    expected="one at a time; it may listen to many sources",
                    matters="two would keep the same row twice, or each think that the other has",
                    do="stop the other one, or give it the mappings of both",
                ) from error
        self._lock = lock

    def left(self) -> list[Path]:
        """The files that are there, oldest first; their rows are acknowledged and may not be in the journal yet."""
        found = (path for path in self.folder.glob(f"*{END}") if ID.fullmatch(path.name.removesuffix(END)))
        return sorted(found) if self.folder.is_dir() else []

    def begin(self, head: Mapping[str, Any]) -> Path | None:
        """Begin a new file; -> the one before, which nothing more is written to."""
        before = self.path if self._file is not None else None
        path = self.folder / f"{clock.new_id()}{END}"
        with disk_told(self.folder):
            new = path.open("xb")
            new.write(_line(head))
            new.flush()
            os.fsync(new.fileno())
            flushed(self.folder)
        if self._file is not None:
            self._file.close()
        self._file, self.path = new, path
        return before

    def keep(self, rows: Sequence[Mapping[str, Any]]) -> None:
        """Keep rows; when this returns, they are on the disk."""
        assert self._file is not None
        with disk_told(self.folder):
            self._file.write(b"".join(map(_line, rows)))
            self._file.flush()
            os.fsync(self._file.fileno())

    def gone(self, path: Path, *, damaged: int) -> None:
        """Let a file go whose rows are in the journal; one with damaged lines is put aside and kept.

        damaged  lines that are not whole
        """
        with disk_told(self.folder):
            if damaged:
                path.replace(path.with_suffix(".damaged"))
            else:
                path.unlink(missing_ok=True)
            flushed(self.folder)

    def close(self) -> None:
        """Let go of the files."""
        for file in (self._file, self._lock):
            if file is not None:
                file.close()
        self._file = self._lock = None
