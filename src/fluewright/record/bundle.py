"""A folder with a copy of a journal as one file, plain or locked with words, and back; nothing else is taken out."""

import io
import os
import re
import tarfile
from collections.abc import Iterator
from pathlib import Path
from typing import IO, TYPE_CHECKING, BinaryIO, cast

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record.files import flushed
from fluewright.record.locked import MAGIC, Locking, is_locked, unlocked

if TYPE_CHECKING:
    from _typeshed import WriteableBuffer

MEMBER = re.compile(r"journal\.db|journal\.db\.anchor|journal\.files/[0-9a-f]{2}/[0-9a-f]{62}")
"""The only names in a backup."""


def members(folder: Path) -> Iterator[tuple[str, Path]]:
    """The files of a backup in a folder, by name; whatever else lies there is left alone."""
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_file() and MEMBER.fullmatch(name):
            yield name, path


def _tarred(folder: Path, into: IO[bytes]) -> None:
    """A folder as a tar stream, the same bytes for the same content."""
    with tarfile.open(fileobj=into, mode="w|", format=tarfile.PAX_FORMAT) as tar:
        for name, path in members(folder):
            head = tarfile.TarInfo(name)
            head.size, head.mode = path.stat().st_size, 0o600
            with path.open("rb") as file:
                tar.addfile(head, file)


def bundled(folder: Path, target: Path, words: str = "") -> None:
    """Write a folder as one file, locked when words are given, flushed when this returns.

    folder  holds the copy
    target  the new file
    words   eight of them, or none
    """
    with os.fdopen(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        if words:
            locking = Locking(file, words)
            _tarred(folder, cast(IO[bytes], locking))
            locking.finish()
        else:
            _tarred(folder, file)
        file.flush()
        os.fsync(file.fileno())
    flushed(target.parent)


class _Pieces(io.RawIOBase):
    """Pieces as a file to read from."""

    def __init__(self, pieces: Iterator[bytes]) -> None:
        self._pieces = pieces
        self._left = b""

    def readable(self) -> bool:
        """It is for reading."""
        return True

    def readinto(self, buffer: "WriteableBuffer", /) -> int:
        """Fill a buffer."""
        view = memoryview(buffer).cast("B")
        while not self._left:
            following = next(self._pieces, None)
            if following is None:
                return 0
            self._left = following
        count = min(len(view), len(self._left))
        view[:count] = self._left[:count]
        self._left = self._left[count:]
        return count


def needs_words(source: Path) -> bool:
    """Whether a backup is locked with words."""
    if not source.is_file():
        return False
    with source.open("rb") as file:
        return is_locked(file.read(len(MAGIC)))


def _no_words(source: Path) -> EntryError:
    return EntryError(
        code="FW-J-043",
        where=str(source),
        read="no words for a backup that is locked with words",
        expected="the eight words that were printed when it was made",
        matters="without them nobody can read it, and neither can we",
        do="give the words",
    )


def _taken_out(stream: IO[bytes], folder: Path, source: Path) -> None:
    try:
        with tarfile.open(fileobj=stream, mode="r|") as tar:
            for member in tar:
                path = folder / member.name
                plain = member.type == tarfile.REGTYPE and not member.issparse()  # a sparse one is larger than it is
                if not plain or not MEMBER.fullmatch(member.name) or path.exists():
                    raise _strange(source, f"it holds {member.name[:80]!r}")
                path.parent.mkdir(parents=True, exist_ok=True)
                held = tar.extractfile(member)
                with path.open("xb") as file:
                    while held is not None and (piece := held.read(1 << 20)):
                        file.write(piece)
        while stream.read(1 << 20):  # to the end, so that a cut is noticed
            pass
    except (tarfile.TarError, EOFError) as error:
        raise _strange(source, f"it does not hold together: {error}") from error


def _strange(source: Path, why: str) -> RecordDamaged:
    return RecordDamaged(
        code="FW-R-033",
        where=str(source),
        read=why,
        expected="a backup of a journal as this program writes it",
        matters="nothing of a damaged or foreign file is taken for a record",
        do="take another copy of it, or an older backup",
    )


def unbundled(source: Path, folder: Path, words: str = "") -> None:
    """Take a backup in one file apart into an empty folder.

    source  the file
    folder  empty
    words   for a locked one
    -> nothing; EntryError for missing or other words, RecordDamaged when it is not as it was written
    """
    if needs_words(source):
        if not words:
            raise _no_words(source)
        with source.open("rb") as below:
            pieces = unlocked(cast(BinaryIO, below), words)
            _taken_out(io.BufferedReader(_Pieces(pieces)), folder, source)
        return
    with source.open("rb") as plain:
        _taken_out(plain, folder, source)
