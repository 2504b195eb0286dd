"""Photos, traces and other files beside the database, each under the hash of its content.

A file is on the disk before the entry that names it, so no entry ever names a file that a power cut took. The hash of
a photo is itself about a person (whoever has the photo could look for it): the entry holds a commitment to it. The
hash of a block of samples is not, and stands in the open.
"""

import hashlib
import os
import re
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record.entry import Entry
from fluewright.record.journal import Draft, Journal
from fluewright.record.personal import ERASED
from fluewright.record.shape import HASH

_FOLDER = re.compile(r"[0-9a-f]{2}")
_REST = re.compile(r"[0-9a-f]{62}")
_BLOCK = 1 << 20


def flushed(folder: Path) -> None:
    """Flush a folder, so that a new or renamed file in it survives a power cut; where folders cannot be, nothing."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextmanager
def disk_told(folder: Path) -> Iterator[None]:
    """Within: what the disk refuses is told in words."""
    try:
        yield
    except (OSError, sqlite3.Error) as error:
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise EntryError(
            code="FW-J-053",
            where=str(folder),
            read=f"the disk did not take it, or does not give it: {why}",
            expected="a folder with room that can be written and read",
            matters="what was begun there is not whole and was taken away again; the journal is as it was",
            do="free some space, mend the disk or name another folder, then run it again",
        ) from error


def digest_of(path: Path) -> str:
    """SHA-256 of a file's content, read in pieces."""
    found = hashlib.sha256()
    with path.open("rb") as file:
        while piece := file.read(_BLOCK):
            found.update(piece)
    return found.hexdigest()


def path_of(folder: Path, name: str) -> Path:
    """Where the file of this hash lies: two digits for the folder, the others for the file."""
    if not HASH.fullmatch(name):
        raise EntryError(
            code="FW-J-031",
            read=f"{name[:80]!r} as the name of a file",
            expected="64 hexadecimal digits, the hash of its content",
            matters="a file under another name could not be proven to be the one that was kept",
            do="name it as the entry does",
        )
    return folder / name[:2] / name[2:]


def kept_in(folder: Path, content: bytes) -> str:
    """Keep some bytes as a file; when this returns they are on the disk under their hash.

    folder   of the journal's files
    content  the bytes
    -> their hash; EntryError when the disk does not take them
    """
    name = hashlib.sha256(content).hexdigest()
    path = path_of(folder, name)
    if path.exists() and digest_of(path) == name:
        return name
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        part.touch(mode=0o600)
        with part.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
        flushed(path.parent)
        flushed(folder)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise EntryError(
            code="FW-J-032",
            where=str(folder),
            read=f"the file was not taken: {error.strerror}",
            expected="a disk with room that can be written",
            matters="the file was not kept, and no entry names it",
            do="free some space or mend the disk, then take the file again",
        ) from error
    return name


def content_of(folder: Path, name: str) -> bytes:
    """The bytes of a kept file, proven to be those that were kept.

    -> bytes; RecordDamaged when it is missing or another
    """
    path = path_of(folder, name)
    found = path.read_bytes() if path.exists() else None
    if found is None or hashlib.sha256(found).hexdigest() != name:
        raise RecordDamaged(
            code="FW-R-031",
            where=str(path),
            read="the file is not there" if found is None else "its content is not the one that was kept",
            expected="the file as it was kept",
            matters="what it showed is not known any more",
            do="put it back from a backup or from another device; its name is the hash of its content",
        )
    return found


def names_in(folder: Path) -> Iterator[str]:
    """Hashes of all files in a folder of files, in order; nothing when there is no folder."""
    if not folder.is_dir():
        return
    for first in sorted(each for each in folder.iterdir() if _FOLDER.fullmatch(each.name)):
        for rest in sorted(first.iterdir()):
            if _REST.fullmatch(rest.name):
                yield first.name + rest.name


def removed(folder: Path, name: str) -> bool:
    """Take a file away for good, its bytes overwritten first; whether it was there.

    A disk that writes in other places than it is told may still hold the old bytes; see docs/journal-format.md.
    """
    path = path_of(folder, name)
    if not path.exists():
        return False
    with path.open("r+b") as file:
        left = path.stat().st_size
        while left > 0:
            left -= file.write(bytes(min(left, _BLOCK)))
        file.flush()
        os.fsync(file.fileno())
    path.unlink()
    flushed(path.parent)
    if not any(path.parent.iterdir()):
        path.parent.rmdir()
    return True


@dataclass(frozen=True, slots=True)
class Named:
    """A file that an entry names.

    name     hash of its content
    entry    id of the entry
    private  whether the hash is about a person
    """

    name: str
    entry: str
    private: bool


def named_in(journal: Journal) -> Iterator[Named]:
    """All files that entries name; erased ones are named by nobody."""
    for read in journal.of_kind("file", "trace block"):
        private = read.entry.kind == "file"
        name = read.body.get("content" if private else "file")
        if isinstance(name, str) and name != ERASED and HASH.fullmatch(name):
            yield Named(name, read.entry.id, private)


def added(
    journal: Journal,
    content: bytes,
    *,
    type: str,
    visit: str = "",
    appliance: str = "",
    place: str = "",
    words: str = "",
    taken: datetime | None = None,
    author: str = "",
) -> Entry:
    """Keep a photo or another file and the entry that names it.

    content  its bytes
    type     such as image/jpeg
    visit, appliance  ids that it belongs to
    place    what it shows, in a word
    words    what it shows, in a sentence
    taken    when
    author   id of the person
    -> the entry; the file is on the disk before it
    """
    name = kept_in(journal.store.settings.files_folder(), content)
    body: dict[str, object] = {"content": name, "type": type, "bytes": len(content)}
    told = {"visit": visit, "appliance": appliance, "place": place, "words": words}
    body |= {key: value for key, value in told.items() if value}
    if taken is not None:
        body["taken"] = taken.isoformat()
    return journal.add(Draft("file", body, author=author))
