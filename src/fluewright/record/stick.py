"""A folder, on a stick or a share, through which journals meet that never see each other.

It holds for each device one file of lines as they travel, the files that entries name, and for each device that came
by what it had. It is taken apart like any message: a cut line, a spoilt file or a foreign hand is noticed, and written
anew from what a journal has.
"""

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record.canonical import canonical, digest
from fluewright.record.chain import Anchor
from fluewright.record.erased import demanded, held_in
from fluewright.record.files import content_of, flushed, kept_in, named_in, path_of, removed
from fluewright.record.files_sync import lacks_of
from fluewright.record.journal import Journal
from fluewright.record.keeper import lines_of, rows_after
from fluewright.record.merge import Taken
from fluewright.record.parcel import Ends, Parcel, lines_in, parcel_line, said_in
from fluewright.record.practice import need_real
from fluewright.record.shape import HASH, ID
from fluewright.record.sync import AT_ONCE, ends_of, obey, taken_from

ABOUT, ENTRIES, FILES, RECEIPTS, ERASED = "ABOUT.txt", "entries", "files", "receipts.jsonl", "erased.txt"

_WORDS = """\
This folder carries journals of Fluewright between devices. Run `fluewright journal sync` with it on each of them.

entries/DEVICE.jsonl  one entry a line, as that device wrote it, in its order, with texts about people beside it
files                 photos and traces, each under the SHA-256 of its content
receipts.jsonl        what each device had when it was here last
erased.txt            a hash over what was erased, so that copies here go too

It names people and places. Keep it as you keep the journal, and empty it when it is no longer needed.
"""


@dataclass(slots=True)
class Carried:
    """What an exchange with a folder came to.

    taken    what came in
    written  entries that went out
    files    files that came in and went out
    anew     device files that were written anew: spoilt ones, and all after an erasure
    """

    taken: Taken = field(default_factory=Taken)
    written: int = 0
    files: int = 0
    anew: int = 0


def _need_ours(folder: Path) -> None:
    """Refuse a folder in which something else lies."""
    about = folder / ABOUT
    if about.exists() and about.read_text("utf-8", "replace").startswith(_WORDS.splitlines()[0]):
        return
    if folder.is_dir() and any(folder.iterdir()):
        raise EntryError(
            code="FW-J-065",
            where=str(folder),
            read="a folder with other things in it",
            expected="an empty folder, or one that journals already met through",
            matters="files of the exchange would be strewn among others",
            do="make an empty folder on the stick and name that",
        )
    try:
        (folder / ENTRIES).mkdir(parents=True, exist_ok=True)
        _written(about, _WORDS.encode())
    except OSError as error:
        raise _not_taken(folder, error) from error


def _not_taken(folder: Path, error: OSError) -> EntryError:
    return EntryError(
        code="FW-J-066",
        where=str(folder),
        read=f"the folder did not take it: {error.strerror}",
        expected="a folder with room that can be written",
        matters="what is new here did not go out; what came in is kept",
        do="free some space on it or take another stick, then run it again",
    )


def _written(path: Path, content: bytes) -> None:
    """A file as a whole or not at all, on the disk when this returns."""
    new = path.with_name(path.name + ".new")
    with new.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    new.replace(path)
    flushed(path.parent)


def _whole_lines(path: Path) -> list[bytes]:
    """The lines of a file that have their end."""
    lines = lines_in(path.read_bytes()) if path.exists() else []
    return lines if not lines or lines[-1].endswith(b"\n") else lines[:-1]


def _device_files(folder: Path) -> Iterator[tuple[str, Path]]:
    for path in sorted((folder / ENTRIES).glob("*.jsonl")):
        if ID.fullmatch(path.stem):
            yield path.stem, path


def _ends_with(lines: list[bytes], end: Anchor) -> bool:
    """Whether the line of this number is the entry that is known here."""
    return len(lines) >= end.sequence and f'"hash":"{end.hash}"'.encode() in lines[end.sequence - 1]


def _came(journal: Journal, folder: Path) -> Taken:
    """Take in what is new in a folder; what is known here is not gone through again."""
    taken, known = Taken(), ends_of(journal).known()
    for device, path in _device_files(folder):
        lines = _whole_lines(path)
        end = known.get(device)
        fresh = lines[end.sequence :] if end is not None and _ends_with(lines, end) else lines
        for start in range(0, len(fresh), AT_ONCE):
            taken.add(taken_from(journal, fresh[start : start + AT_ONCE]))
    for line in _whole_lines(folder / RECEIPTS):
        taken.add(taken_from(journal, [line]))
    return taken


def _last_of(lines: list[bytes]) -> Parcel | None:
    said = said_in(lines[-1]) if lines else ""
    return said if isinstance(said, Parcel) else None


def _device_out(journal: Journal, path: Path, end: Anchor, gone: set[str] | None) -> tuple[int, bool]:
    """Bring one device's file up to what is known here; -> entries added, and whether it was written anew.

    What the folder has beyond that, and what could not be taken yet, is somebody's only copy and stays in it.

    gone  commitments that were erased since the folder was written; None when none was
    """
    lines = _whole_lines(path)
    last = _last_of(lines)
    with journal.store.reading() as connection:
        if gone is None and last is not None and last.entry.device == end.device and len(lines) == last.entry.sequence:
            here = rows_after(connection, {end.device: last.entry.sequence - 1}, 1)
            if here and here[0][1] == last.hash:
                rows = rows_after(connection, {end.device: last.entry.sequence}, end.sequence)
                new = lines_of(connection, rows)
                if new or path.stat().st_size != sum(map(len, lines)):
                    _appended(path, sum(map(len, lines)), b"".join(new))
                return len(new), False
        rows = rows_after(connection, {end.device: 0}, end.sequence)
        beyond = [each for each in lines if _sequence_in(each, end.device) > end.sequence]
        _written(path, b"".join([*lines_of(connection, rows), *_without(beyond, gone or set())]))
    return max(0, len(rows) - len(lines)), bool(lines)


def _sequence_in(line: bytes, device: str) -> int:
    said = said_in(line)
    return said.entry.sequence if isinstance(said, Parcel) and said.entry.device == device else 0


def _without(lines: list[bytes], gone: set[str]) -> Iterator[bytes]:
    """Lines without the values that were erased; what is no entry of this version is left as it is."""
    for line in lines:
        said = said_in(line)
        if not isinstance(said, Parcel):
            yield line
            continue
        yield parcel_line(said.text, said.hash, [each for each in said.secrets if each.commitment not in gone])


def _photos_gone(folder: Path, gone: set[str]) -> set[str]:
    """Names of the photos on a folder of which all that names them there was erased."""
    going, staying = set[str](), set[str]()
    for _, path in _device_files(folder):
        for said in map(said_in, _whole_lines(path)):
            for each in said.secrets if isinstance(said, Parcel) else ():
                (going if each.commitment in gone else staying).add(each.value)
    return {name for name in going - staying if HASH.fullmatch(name)}


def _appended(path: Path, whole: int, content: bytes) -> None:
    """Add lines behind the last whole one; half a line that a pulled stick left is cut off first."""
    with path.open("r+b") as file:
        file.truncate(whole)
        file.seek(whole)
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _went(journal: Journal, folder: Path, carried: Carried) -> None:
    """Write out what the folder lacks."""
    erased = demanded(journal)
    stamp, said = folder / ERASED, digest(canonical(sorted(erased)))
    gone = erased if stamp.exists() and stamp.read_text("ascii", "replace").strip() != said else None
    for name in _photos_gone(folder, gone) - _named(journal) if gone else ():
        removed(folder / FILES, name)
    forked = {fork.device for fork in carried.taken.forks}
    ends = {end.device: end for end in ends_of(journal).ends if end.device not in forked}
    for device, path in _device_files(folder) if gone else ():
        if device not in ends:
            _written(path, b"".join(_without(_whole_lines(path), gone or set())))
    for end in ends.values():
        new, again = _device_out(journal, folder / ENTRIES / f"{end.device}.jsonl", end, gone)
        carried.written += new
        carried.anew += again
    _written(stamp, said.encode() + b"\n")


def _files(journal: Journal, folder: Path, taken: Taken) -> int:
    """Exchange files by hash; what a hold keeps here of what was erased does not go out."""
    ours, theirs, count = journal.store.settings.files_folder(), folder / FILES, 0
    for name, _ in lacks_of(journal):
        if path_of(theirs, name).exists():
            count += _copied(theirs, ours, name, taken)
    for name in _named(journal):
        if path_of(ours, name).exists() and not path_of(theirs, name).exists():
            count += _copied(ours, theirs, name, taken)
    return count


def _copied(source: Path, target: Path, name: str, taken: Taken) -> bool:
    """Copy one file; one that is not what its name says is told and hinders no other."""
    try:
        kept_in(target, content_of(source, name))
    except RecordDamaged as error:
        taken.drop(f"the file {name[:16]}: {error.read}")
        return False
    return True


def _named(journal: Journal) -> set[str]:
    """Names of the files that go out: all that entries name, except what was erased elsewhere and is held here."""
    with journal.store.reading() as connection:
        held = {each.value for each in held_in(connection, demanded(journal))}
    return {each.name for each in named_in(journal)} - held


def _receipt(journal: Journal, folder: Path) -> None:
    """Leave what is here now as a receipt, in place of this device's earlier one."""
    ours = ends_of(journal)
    said = {each.by: each for each in map(said_in, _whole_lines(folder / RECEIPTS)) if isinstance(each, Ends)}
    said[ours.by] = Ends(ours.by, ours.ends)
    _written(folder / RECEIPTS, b"".join(each.line() for _, each in sorted(said.items())))


def carried(journal: Journal, folder: Path) -> Carried:
    """Exchange with a folder: take in what is new there, write out what it lacks, leave a receipt.

    journal  open for writing
    folder   on a stick or a share; made when it is not there
    -> what it came to; EntryError for a folder of something else, or one that does not take it
    """
    need_real(journal)
    _need_ours(folder)
    found = Carried()
    found.taken = _came(journal, folder)
    obey(journal, found.taken)
    try:
        _went(journal, folder, found)
        found.files = _files(journal, folder, found.taken)
        _receipt(journal, folder)
    except OSError as error:
        raise _not_taken(folder, error) from error
    return found
