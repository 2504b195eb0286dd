"""A complete copy for people and machines: canonical entries as lines, values about people apart, files, and two small
programs that check it all with nothing but Python."""

import json
import shutil
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from importlib.resources import files as resources
from pathlib import Path
from typing import Any

from fluewright.errors import FluewrightError, NotAllowed
from fluewright.record.canonical import canonical
from fluewright.record.chain import Anchor, Break, Row
from fluewright.record.entry import Entry, entry_from
from fluewright.record.files import content_of, disk_told, kept_in
from fluewright.record.fold import CHANGES
from fluewright.record.journal import Journal
from fluewright.record.personal import commitments_in
from fluewright.record.salvage import sound_rows, sound_secrets
from fluewright.record.seal import rows_of_visit
from fluewright.record.shape import HASH, ID

FORM = "fluewright export 1"
ENTRIES, PEOPLE, FILES, ABOUT, ANCHORS = "journal.jsonl", "people.jsonl", "files", "about.json", "anchors.txt"
ALONG = ("verify_journal.py", "verify_seals.py")
KEYS = ("device", "person", "revocation")
"""Kinds that every part needs, so that its seals can be checked."""

README = """\
{what}

journal.jsonl   one entry a line, as it is kept; the form is described at the top of verify_journal.py
people.jsonl    texts about people with their salts{people}
files           photos, traces and other files, each under the SHA-256 of its content
anchors.txt     the last entry of each device
tables          the same for reading in a spreadsheet, where it was asked for; nothing is proven by them

To check it with any Python 3.11 or later, on any machine, without anything installed:
    python -I -S verify_journal.py
    python -I -S verify_seals.py
"""


@dataclass
class Export:
    """An export that was written.

    folder   where
    part     which part of the journal it is; empty for all of it
    entries, values, files  how many
    anchors  the last entry of each device in it
    skipped  what of a damaged journal could not be exported, in sentences
    """

    folder: Path
    part: str = ""
    entries: int = 0
    values: int = 0
    files: int = 0
    anchors: list[Anchor] = field(default_factory=list)
    skipped: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Part:
    """Which entries an export takes.

    words  what it is, for people
    wants  whether it takes an entry; None for all
    """

    words: str = ""
    wants: Callable[[Entry], bool] | None = None


ALL = Part()


def _named(value: Any) -> Iterator[str]:
    """Ids within a body."""
    if isinstance(value, str):
        if ID.fullmatch(value):
            yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from _named(each)
    elif isinstance(value, list):
        for each in value:
            yield from _named(each)


def of_visit(journal: Journal, visit: str) -> Part:
    """One visit with all that it names: its customer, place, appliances, instruments, and the keys of its seals."""
    with journal.store.reading() as connection:
        wanted = {row.id for row in rows_of_visit(connection, visit)}
    waiting = list(wanted)
    while waiting:
        read = journal.entry(waiting.pop())
        new = set(_named(dict(read.entry.body))) - wanted if read is not None else set()
        changes = [each.entry for name in new for each in journal.of_subject(name) if each.entry.kind in CHANGES]
        new |= {entry.id for entry in changes}
        wanted |= new
        waiting += new
    return Part(f"visit {visit}", lambda entry: entry.id in wanted or entry.kind in KEYS)


def of_year(year: int) -> Part:
    """All that was entered in a year, and the keys."""
    return Part(f"entries of {year}", lambda entry: entry.entered.startswith(f"{year}-") or entry.kind in KEYS)


def _need_empty(folder: Path) -> None:
    if folder.exists() and any(folder.iterdir()):
        raise NotAllowed(
            code="FW-N-038",
            where=str(folder),
            read="an export into a folder that is not empty",
            expected="a new or an empty folder",
            matters="files of two exports in one folder would prove nothing",
            do="name another folder",
        )


def _rows(journal: Journal, part: Part, made: Export) -> Iterator[tuple[Row, Entry]]:
    """The rows to be written, by device and number; those that do not hold are told and left out."""
    skipped: list[Break] = []
    last: Row | None = None
    for row in sound_rows(journal.store, skipped):
        entry = entry_from(row.text, where=f"device {row.device}, entry {row.sequence}")
        if part.wants is not None and not part.wants(entry):
            continue
        if last is not None and last.device != row.device:
            made.anchors.append(Anchor(last.device, last.sequence, last.hash))
        last = row
        yield row, entry
    if last is not None:
        made.anchors.append(Anchor(last.device, last.sequence, last.hash))
    made.skipped += [each.sentence() for each in skipped]


def _entries(journal: Journal, part: Part, made: Export) -> tuple[set[str], set[str]]:
    """Write the entries; -> commitments and open file names in them."""
    committed, names = set[str](), set[str]()
    with (made.folder / ENTRIES).open("w", encoding="utf-8", newline="\n") as file:
        for row, entry in _rows(journal, part, made):
            file.write(row.text + "\n")
            made.entries += 1
            committed.update(commitments_in(entry.body))
            if entry.kind == "trace block" and isinstance(entry.body.get("file"), str):
                names.add(str(entry.body["file"]))
    return committed, names


def _people(journal: Journal, committed: set[str], made: Export) -> set[str]:
    """Write the values behind commitments, in the order of these; -> names of files among them."""
    found = {each.commitment: each for each in sound_secrets(journal.store) if each.commitment in committed}
    with (made.folder / PEOPLE).open("w", encoding="utf-8", newline="\n") as file:
        for name in sorted(found):
            each = found[name]
            line = {"commitment": each.commitment, "salt": each.salt, "value": each.value}
            file.write(canonical(line) + "\n")
            made.values += 1
    return {each.value for each in found.values() if HASH.fullmatch(each.value)}


def _files(journal: Journal, names: Iterable[str], made: Export) -> None:
    """Copy files, each proven; one that is missing or damaged is told."""
    source, target = journal.store.settings.files_folder(), made.folder / FILES
    for name in sorted(names):
        try:
            kept_in(target, content_of(source, name))
            made.files += 1
        except FluewrightError as error:
            made.skipped.append(f"{error.where}: {error.read}")


def _along(made: Export, *, people: bool) -> None:
    """What travels with an export: what it is, its anchors, and the programs that check it."""
    about = {
        "form": FORM,
        "part": made.part,
        "people": people,
        "entries": made.entries,
        "values": made.values,
        "files": made.files,
        "skipped": made.skipped,
    }
    (made.folder / ABOUT).write_text(json.dumps(about, indent=1, ensure_ascii=False) + "\n", "utf-8")
    lines = "".join(f"{each.device} {each.sequence} {each.hash}\n" for each in made.anchors)
    (made.folder / ANCHORS).write_text(lines, "ascii")
    for name in ALONG:
        text = resources("fluewright.record.along").joinpath(name).read_text("utf-8")
        (made.folder / name).write_text(text, "utf-8")
    what = f"A part of a journal of Fluewright: {made.part}." if made.part else "A journal of Fluewright."
    left = "" if people else "; left out of this export, and the entries verify without them"
    (made.folder / "READ-ME.txt").write_text(README.format(what=what, people=left), "utf-8")


def exported(journal: Journal, folder: Path, *, people: bool = True, part: Part = ALL) -> Export:
    """Export a journal, whole or damaged, so that it can be read, checked and taken in elsewhere.

    journal  open; of a damaged one all that still holds is exported, and the rest is told
    folder   new or empty
    people   whether texts and photos about people go along; without them all still verifies
    part     which entries; all when not given
    -> what was written; NotAllowed when the folder is not empty
    """
    made = Export(folder, part.words)
    with disk_told(folder):
        _need_empty(folder)
        folder.mkdir(parents=True, exist_ok=True)
    try:
        with disk_told(folder):
            committed, names = _entries(journal, part, made)
            if people:
                names |= _people(journal, committed, made)
            _files(journal, names, made)
            _along(made, people=people)
    except BaseException:
        with suppress(OSError):
            shutil.rmtree(folder)
        raise
    return made
