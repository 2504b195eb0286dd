"""Photos and traces in an exchange: asked for by hash, sent in pieces, taken up where the link dropped."""

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from fluewright.record.files import digest_of, flushed, named_in, path_of
from fluewright.record.journal import Journal
from fluewright.record.parcel import Piece

PIECE = 192 * 1024
"""Bytes of a file in one line."""

LARGEST = 2 << 30
"""Bytes of the largest file that is taken."""


def _coming(folder: Path, name: str) -> Path:
    """Where the bytes of a file lie until it is whole."""
    return folder / f"{name}.coming"


def lacks_of(journal: Journal) -> tuple[tuple[str, int], ...]:
    """Files that entries name and that are not here, with how many bytes of each have come."""
    folder = journal.store.settings.files_folder()
    names = dict.fromkeys(each.name for each in named_in(journal))
    missing = [name for name in names if not path_of(folder, name).exists()]
    parts = {name: _coming(folder, name) for name in missing}
    return tuple((name, part.stat().st_size if part.exists() else 0) for name, part in parts.items())


def pieces_for(journal: Journal, lacks: Iterable[tuple[str, int]], most: int) -> Iterator[Piece]:
    """Pieces of the files that another lacks, as far as they are here and go into a message."""
    folder, size = journal.store.settings.files_folder(), 0
    for name, have in lacks:
        path = path_of(folder, name)
        if not path.exists():
            continue
        whole = path.stat().st_size
        with path.open("rb") as file:
            file.seek(have)
            while size < most and (part := file.read(PIECE)):
                yield Piece(name, file.tell() - len(part), whole, part)
                size += len(part)
        if size >= most:
            return


def _whole(folder: Path, name: str, part: Path) -> bool:
    """Put a file in its place when it proves to be the one; otherwise its bytes are dropped and asked for anew."""
    if digest_of(part) != name:
        part.unlink()
        return False
    path = path_of(folder, name)
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    part.replace(path)
    flushed(path.parent)
    return True


def pieces_taken(journal: Journal, pieces: Iterable[Piece]) -> tuple[int, int, set[str]]:
    """Add pieces to the files that are coming; one that does not go on where the last ended is left.

    -> bytes taken, files that are now whole and in their place, names of those that came and were another
    """
    folder, taken, whole, spoilt = journal.store.settings.files_folder(), 0, 0, set[str]()
    wanted = dict(lacks_of(journal))
    for piece in pieces:
        if wanted.get(piece.hash) != piece.at or not piece.at + len(piece.part) <= piece.size <= LARGEST:
            continue
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        part = _coming(folder, piece.hash)
        part.touch(mode=0o600)
        with part.open("ab") as file:
            file.write(piece.part)
            file.flush()
            os.fsync(file.fileno())
        taken += len(piece.part)
        wanted[piece.hash] = piece.at + len(piece.part)
        if wanted[piece.hash] == piece.size:
            if _whole(folder, piece.hash, part):
                whole += 1
            else:
                spoilt.add(piece.hash)
            del wanted[piece.hash]
    return taken, whole, spoilt
