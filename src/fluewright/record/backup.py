"""Backups: the engine's own copy of a journal with its files and anchors, proven after it was written."""

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC
from pathlib import Path

from sqlalchemy import func, insert, select

from fluewright.errors import NotAllowed, RecordDamaged
from fluewright.record.bundle import bundled, unbundled
from fluewright.record.chain import SHORT, Anchor, anchor_from
from fluewright.record.check import every
from fluewright.record.copies import into_file, settings_of
from fluewright.record.files import content_of, digest_of, disk_told, flushed, kept_in, named_in
from fluewright.record.journal import Journal
from fluewright.record.opening import opened
from fluewright.record.tables import ANCHOR, ENTRY

DATABASE = "journal.db"
BESIDE = ".anchor"
LOCKED, PLAIN = ".locked", ".tar"


@dataclass(frozen=True, slots=True)
class Backup:
    """A backup that was written and proven.

    path     the folder, or the file
    anchors  the last entry of every device in it
    entries  how many
    files    how many
    """

    path: Path
    anchors: tuple[Anchor, ...]
    entries: int
    files: int


def name_of(journal: Journal, own: Anchor) -> str:
    """The name of a backup: when, and the end of the device's chain, so that the anchor is wherever the name is."""
    at = journal.now().astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    return f"journal_{at}_{own.device}_{own.sequence}_{own.hash[:SHORT]}"


def anchor_in(name: str) -> Anchor | None:
    """The anchor in the name of a backup; None when it was renamed."""
    parts = name.removesuffix(LOCKED).removesuffix(PLAIN).split("_")
    return anchor_from(" ".join(parts[2:])) if len(parts) == 5 and parts[0] == "journal" else None


def anchor_lines(anchors: Sequence[Anchor]) -> str:
    """Anchors as a text, one a line, with the whole hash."""
    return "".join(f"{each.device} {each.sequence} {each.hash}\n" for each in anchors)


def anchors_from(text: str) -> list[Anchor]:
    """Anchors of such a text."""
    return [anchor_from(line) for line in text.splitlines() if line.strip()]


def damaged_copy(where: Path, wrong: Sequence[str]) -> RecordDamaged:
    """A copy that does not hold."""
    return RecordDamaged(
        code="FW-R-034",
        where=str(where),
        read="the copy is not whole: " + "; ".join(wrong[:5]) + (f"; and {len(wrong) - 5} more" if wrong[5:] else ""),
        expected="every chain, value and file as it was kept",
        matters="a backup that cannot be restored is none; it was taken away again",
        do="run `fluewright journal check --all` on the journal, export what is sound, then back it up again",
    )


def copied_into(journal: Journal, folder: Path) -> Backup:
    """A copy of a journal in an empty folder, proven: opened, every chain walked, every file hashed.

    journal  open
    folder   empty
    -> what is in it; RecordDamaged when the copy does not hold
    """
    database = folder / DATABASE
    into_file(journal.store, database)
    copy = opened(settings_of(database, read_only=True)).journal
    try:
        source, target = journal.store.settings.files_folder(), copy.store.settings.files_folder()
        names = sorted({each.name for each in named_in(copy)})
        for name in names:
            kept_in(target, content_of(source, name))
        anchors = tuple(copy.anchors())
        beside = database.with_name(DATABASE + BESIDE)
        beside.write_text(anchor_lines(anchors), "ascii")
        with copy.store.reading() as connection:
            entries = int(connection.scalar(select(func.count()).select_from(ENTRY)) or 0)
        wrong = every(copy.store, anchors).wrong
    finally:
        copy.store.close()
    if wrong:
        raise damaged_copy(folder, wrong)
    flushed(folder)
    return Backup(folder, anchors, entries, len(names))


def _noted(journal: Journal, backup: Backup) -> None:
    """Keep the anchors of a backup as a witness, with its name: so it is known which backups there are."""
    if journal.store.settings.read_only:
        return
    at, by = journal.now().isoformat(), f"backup {backup.path.name}"
    rows = [{"device": each.device, "sequence": each.sequence, "hash": each.hash, "at": at, "by": by}
            for each in backup.anchors]  # fmt: skip
    with journal.store.writing() as connection:
        connection.execute(insert(ANCHOR), rows)


def _place(journal: Journal) -> Path | None:
    """Where a copy is made before it is locked: on the disk of the journal, so that nothing open reaches the other."""
    return journal.store.settings.path().parent if journal.store.settings.is_sqlite() else None


def _as_file(journal: Journal, folder: Path, words: str) -> Backup:
    """A backup in one file, read back and proven after it was written."""
    with tempfile.TemporaryDirectory(prefix=".backup-", dir=_place(journal)) as work:
        made = copied_into(journal, _new(Path(work) / "copy"))
        own = _own(journal, made.anchors)
        target = _need_free(folder / (name_of(journal, own) + (LOCKED if words else PLAIN)))
        part = folder / f".{target.name}.part"
        part.unlink(missing_ok=True)
        try:
            bundled(made.path, part, words)
            again = _new(Path(work) / "again")
            unbundled(part, again, words)
            _need_same(made.path, again)
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)
    return Backup(target, made.anchors, made.entries, made.files)


def _need_same(first: Path, again: Path) -> None:
    """Refuse a file that does not give back, byte for byte, what went into it."""
    names = [sorted(path.relative_to(each) for path in each.rglob("*") if path.is_file()) for each in (first, again)]
    if names[0] != names[1] or any(digest_of(first / name) != digest_of(again / name) for name in names[0]):
        raise damaged_copy(first, ["what was read back is not what was written"])


def _new(folder: Path) -> Path:
    folder.mkdir(mode=0o700)
    return folder


def _own(journal: Journal, anchors: Sequence[Anchor]) -> Anchor:
    """The end of this device's chain, or of any other where it has written nothing."""
    return next((each for each in anchors if each.device == journal.device), anchors[0])


def _as_folder(journal: Journal, folder: Path) -> Backup:
    with tempfile.TemporaryDirectory(prefix=".journal-", dir=folder) as work:
        made = copied_into(journal, _new(Path(work) / "copy"))
        target = _need_free(folder / name_of(journal, _own(journal, made.anchors)))
        made.path.replace(target)
    return Backup(target, made.anchors, made.entries, made.files)


def _need_free(target: Path) -> Path:
    if target.exists():
        raise NotAllowed(
            code="FW-N-039",
            where=str(target),
            read="a backup of this second and of the same entries",
            expected="one backup under one name",
            matters="the one that is there was proven, and is not written over",
            do="keep it; it holds the same",
        )
    return target


def backed_up(journal: Journal, folder: Path, *, words: str = "", one_file: bool = False) -> Backup:
    """Back a journal up into a folder, under a name that holds the anchor.

    journal   open; others may go on writing to it
    folder    made when it is not there; several backups may lie in it
    words     eight of them: the backup is one locked file
    one_file  one plain file
    -> the backup, proven; what was acknowledged before this was called is in it, and its anchor says up to where it
       reaches; RecordDamaged when it does not hold, and then there is none
    """
    with disk_told(folder):
        folder.mkdir(parents=True, exist_ok=True)
        made = _as_file(journal, folder, words) if words or one_file else _as_folder(journal, folder)
        beside = made.path.with_name(made.path.name + BESIDE)
        beside.write_text(anchor_lines(made.anchors), "ascii")
        flushed(folder)
    _noted(journal, made)
    return made
