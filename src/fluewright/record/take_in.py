"""An export taken in: entries of other journals come to stand beside those of this one, under equal hashes."""

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy import insert, select
from sqlalchemy.engine import Connection

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record.backup import anchors_from
from fluewright.record.canonical import digest
from fluewright.record.chain import Anchor
from fluewright.record.entry import NOTHING_BEFORE, Entry, entry_from
from fluewright.record.erased import demanded, obeyed
from fluewright.record.export import ABOUT, ANCHORS, ENTRIES, FILES, FORM, PEOPLE
from fluewright.record.files import content_of, kept_in, names_in, removed
from fluewright.record.journal import Journal
from fluewright.record.personal import Secret, commitments_in
from fluewright.record.practice import need_real, not_taken, practises
from fluewright.record.reading import last_of
from fluewright.record.tables import ENTRY, SECRET

AT_ONCE = 1000


@dataclass
class Taken:
    """What became of an export.

    entries  taken in
    already  were here before
    values   about people, taken in
    files    taken in
    left     entries that could not be taken, in sentences: those after a gap
    """

    entries: int = 0
    already: int = 0
    values: int = 0
    files: int = 0
    left: list[str] = field(default_factory=list)


def _bent(folder: Path, where: str, why: str) -> RecordDamaged:
    return RecordDamaged(
        code="FW-R-035",
        where=f"{folder / ENTRIES}, {where}",
        read=why,
        expected="entries as they were kept, each following the one before it on its device",
        matters="nothing of an export is taken in when any of it was changed",
        do="run `python verify_journal.py` in its folder, and take another copy of it",
    )


def _need_export(folder: Path) -> dict[str, Any]:
    """What an export says of itself; refused when it is none, or only a part of a journal."""
    try:
        about = json.loads((folder / ABOUT).read_text("utf-8"))
        form, part = about["form"], about["part"]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        form, part = "", ""
    if form != FORM or part:
        raise EntryError(
            code="FW-J-051",
            where=str(folder),
            read=f"a part of a journal: {part}" if form == FORM else "no export of this form",
            expected="the folder of an export of a whole journal",
            matters="entries without those before them cannot be proven to be what was kept",
            do="export the whole journal; a part is for reading and checking",
        )
    return dict(about)


def _need_whole(folder: Path, about: dict[str, Any]) -> None:
    """Refuse an export of which anything was cut, changed or taken away since it was written."""
    lines, hashes = 0, dict[tuple[str, int], str]()
    anchors = _anchors(folder)
    asked = {(each.device, each.sequence) for each in anchors}
    for text, entry in lines_of(folder):
        lines += 1
        if (entry.device, entry.sequence) in asked:
            hashes[entry.device, entry.sequence] = digest(text)
    for each in anchors:
        if not each.agrees(hashes.get((each.device, each.sequence), "")):
            raise _bent(
                folder, f"device {each.device}", f"entry {each.sequence}, where it ended, is not there or another"
            )
    values = sum(1 for _ in _told(folder))
    found = {"entries": lines, "values": values, "files": sum(1 for _ in names_in(folder / FILES))}
    for name, count in found.items():
        if count != about.get(name):
            raise _bent(folder, ABOUT, f"{count} {name} are there, and {about.get(name)!r} were written")


def _anchors(folder: Path) -> list[Anchor]:
    try:
        return anchors_from((folder / ANCHORS).read_text("ascii"))
    except (OSError, ValueError, EntryError) as error:
        raise _bent(folder, ANCHORS, "the ends of its chains cannot be read") from error


def _told(folder: Path) -> Iterator[Secret]:
    """The values of an export, each proven."""
    if not (folder / PEOPLE).exists():
        return
    number = 0
    with (folder / PEOPLE).open(encoding="utf-8", newline="\n") as file:
        try:
            for line in file:
                number += 1
                told = json.loads(line)
                secret = Secret(str(told["commitment"]), str(told["salt"]), str(told["value"]))
                if not secret.holds():
                    raise ValueError
                yield secret
        except (ValueError, KeyError, TypeError, RecursionError, EntryError) as error:
            where = f"of {PEOPLE}, line {number}"
            raise _bent(folder, where, "a text about a person is not the one that was committed to") from error


def lines_of(folder: Path) -> Iterator[tuple[str, Entry]]:
    """The entries of an export, each as it is written and as it is understood."""
    number = 0
    try:
        with (folder / ENTRIES).open(encoding="utf-8", newline="\n") as file:
            for number, line in enumerate(file, 1):
                text = line.removesuffix("\n")
                yield text, entry_from(text, where=f"{folder / ENTRIES}, line {number}")
    except UnicodeError as error:
        raise _bent(folder, f"after line {number}", "it is no text any more") from error


class _Chains:
    """Lines set against the chains of a store; those that go on are written in batches."""

    def __init__(self, connection: Connection, folder: Path, taken: Taken, *, gaps: bool) -> None:
        self.connection, self.folder, self.taken, self.gaps = connection, folder, taken, gaps
        self.ends: dict[str, Anchor | None] = {}
        self.stopped: set[str] = set()
        self.rows: list[dict[str, Any]] = []
        self.committed: set[str] = set()

    def _was(self, entry: Entry) -> str:
        asked = select(ENTRY.c.hash).where(ENTRY.c.device == entry.device, ENTRY.c.sequence == entry.sequence)
        return str(self.connection.scalar(asked))

    def step(self, text: str, entry: Entry) -> None:
        """Take one entry, or tell why not."""
        if entry.device in self.stopped:
            return
        if entry.device not in self.ends:
            self.ends[entry.device] = last_of(self.connection, entry.device)
        end = self.ends[entry.device]
        number, last = (end.sequence, end.hash) if end is not None else (0, NOTHING_BEFORE)
        found, where = digest(text), f"device {entry.device}, entry {entry.sequence}"
        if practises(entry):
            raise not_taken(where)
        if entry.sequence <= number:
            if self._was(entry) != found:
                raise _bent(self.folder, where, "it is another entry than the one that is here under this number")
            self.taken.already += 1
            self.committed.update(commitments_in(entry.body))
        elif entry.sequence > number + 1 and not self.gaps:
            raise _bent(self.folder, where, f"{entry.sequence - number - 1} before it are missing")
        elif entry.sequence > number + 1:
            self.stopped.add(entry.device)
            self.taken.left.append(f"{where} and all after it: {entry.sequence - number - 1} before it are missing")
        elif end is None and (entry.kind != "device" or entry.id != entry.device):
            raise _bent(self.folder, where, "its device does not introduce itself by its first entry")
        elif entry.previous != last:
            raise _bent(self.folder, where, "it does not follow the entry before it")
        else:
            self._keep(text, entry, found)

    def _keep(self, text: str, entry: Entry, found: str) -> None:
        self.rows.append({"device": entry.device, "sequence": entry.sequence, "id": entry.id, "kind": entry.kind,
                          "subject": entry.subject(), "hash": found, "text": text})  # fmt: skip
        self.ends[entry.device] = Anchor(entry.device, entry.sequence, found)
        self.committed.update(commitments_in(entry.body))
        self.taken.entries += 1
        if len(self.rows) >= AT_ONCE:
            self.write()

    def write(self) -> None:
        """Write what is gathered."""
        if self.rows:
            self.connection.execute(insert(ENTRY), self.rows)
            self.rows = []


def _secrets(folder: Path, committed: set[str]) -> Iterator[Secret]:
    """Values of the export that an entry committed to; others are nobody's."""
    yield from (secret for secret in _told(folder) if secret.commitment in committed)


def _people(connection: Connection, folder: Path, committed: set[str], gone: set[str], taken: Taken) -> None:
    """Values that are not here and were not erased here."""
    here = set(connection.scalars(select(SECRET.c.commitment)))
    rows = [{"commitment": each.commitment, "salt": each.salt, "value": each.value}
            for each in _secrets(folder, committed) if each.commitment not in here | gone]  # fmt: skip
    for start in range(0, len(rows), AT_ONCE):
        connection.execute(insert(SECRET), rows[start : start + AT_ONCE])
    taken.values = len(rows)


def _named(folder: Path, gone: set[str]) -> set[str]:
    """Names of files that go along: of traces, and of what is about people and was not erased here."""
    with (folder / ENTRIES).open(encoding="utf-8", newline="\n") as file:
        traces = [entry_from(line.removesuffix("\n")) for line in file if '"kind":"trace block"' in line]
    found = {str(entry.body.get("file")) for entry in traces if entry.kind == "trace block"}
    return found | {each.value for each in _told(folder) if each.commitment not in gone}


def _files(journal: Journal, folder: Path, gone: set[str]) -> Iterator[str]:
    """Files first, so that no entry names one that is not here; each proven. -> their names"""
    target = journal.store.settings.files_folder()
    here, wanted = set(names_in(target)), _named(folder, gone)
    for name in names_in(folder / FILES):
        if name in wanted and name not in here:
            kept_in(target, content_of(folder / FILES, name))
            yield name


def taken_in(journal: Journal, folder: Path) -> Taken:
    """Take an export into a journal, all of it or nothing.

    journal  open for writing; its own entries stay
    folder   of an export of a whole journal; of a damaged one each device is taken up to its first gap
    -> what became of it; RecordDamaged naming the first entry that does not hold or contradicts one that is here
    """
    need_real(journal)
    about = _need_export(folder)
    _need_whole(folder, about)
    taken, names = Taken(), list[str]()
    gone = demanded(journal)
    try:
        for name in _files(journal, folder, gone):
            names.append(name)
        with journal.store.writing() as connection:
            chains = _Chains(connection, folder, taken, gaps=bool(about.get("skipped")))
            for text, entry in lines_of(folder):
                chains.step(text, entry)
            chains.write()
            _people(connection, folder, chains.committed, gone, taken)
    except BaseException:
        for name in names:
            removed(journal.store.settings.files_folder(), name)
        raise
    taken.files = len(names)
    obeyed(journal)
    return taken
