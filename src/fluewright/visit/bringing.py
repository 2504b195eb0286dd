"""Visit files and bundles brought in: first tried without keeping anything, then kept all at once, or not at all."""

import io
import re
import tarfile
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fluewright.record import export, take_in
from fluewright.record.settings import Settings
from fluewright.visit import file, kept, once
from fluewright.visit.sent_in import Sent, refused
from fluewright.visit.source import Source, tree_of

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

_MEMBER = re.compile(
    r"(?:\./)?(journal\.jsonl|people\.jsonl|about\.json|anchors\.txt|READ-ME\.txt|verify_\w+\.py|"
    r"files/[0-9a-f]{2}/[0-9a-f]{62})"
)
"""The only names in a bundle."""

MOST_UNPACKED = 512 << 20
"""Bytes that a bundle may hold in all."""


@dataclass(frozen=True, slots=True)
class Tried:
    """What would become of something, tried without keeping it.

    title  what it is
    facts  as (what, how much)
    """

    title: str
    facts: tuple[tuple[str, str], ...]


@contextmanager
def laid_out(sent: Sent) -> Iterator[Path]:
    """A visit file with what it names, in a folder that is thrown away; what was not sent with it is refused."""
    with tempfile.TemporaryDirectory() as place:
        for name, content in sent.files.items():
            (Path(place) / name).write_bytes(content)
        path = Path(place) / sent.main
        named = file.files_of(Source(path, tree_of(path)))
        missing = [name for name in named if name not in sent.files]
        if missing:
            raise refused(sent.main, f"it names {', '.join(map(repr, missing))[:200]}, which was not sent with it",
                          "every trace and mapping that a visit names, sent together with it",
                          "choose all of its files at once")  # fmt: skip
        yield path


def try_visit(sent: Sent) -> Tried:
    """A visit file read and nothing kept.

    -> what is in it; Problems with every fault
    """
    with laid_out(sent) as path:
        account = file.read(path)
    facts: list[tuple[str, Any]] = [
        ("day", account.day.isoformat()),
        ("customer", account.customer),
        ("site", account.site),
        ("appliance", account.appliance.words),
        ("technician", account.technician),
        ("moments with readings", len(account.stretches)),
        ("readings", sum(len(stretch.readings) for stretch in account.stretches)),
        ("parts beside the flame", len(account.parts)),
        ("files", len(sent.files)),
    ]
    return Tried(account.title, tuple((what, str(how)) for what, how in facts if how not in ("", 0)))


def bring_visit(journal: "Journal", sent: Sent, *, form: str) -> "Entry":
    """A visit file kept, every line of it.

    form  id under which it was sent: the same sent twice is kept once
    -> the entry of the visit
    """
    already = journal.entry(once.derived(form, 0))
    if already is not None:
        return already.entry
    with laid_out(sent) as path:
        return kept.brought_in(journal, path, form=form)


def _need_bundle(sent: Sent, members: list[tarfile.TarInfo]) -> None:
    wrong = next((m for m in members if not (m.isdir() or (m.type == tarfile.REGTYPE and not m.issparse()
                 and _MEMBER.fullmatch(m.name)))), None)  # fmt: skip
    if wrong is not None:
        raise refused(sent.main, f"a bundle that holds {wrong.name[:80]!r}")
    if len({member.name.removeprefix("./") for member in members}) < len(members):
        raise refused(sent.main, "a bundle in which one name stands twice")
    if sum(member.size for member in members) > MOST_UNPACKED:
        raise refused(sent.main, "a bundle of more than it may unpack to", f"at most {MOST_UNPACKED >> 20} MB",
                      "take it in by the command line: `fluewright journal import FOLDER`")  # fmt: skip


@contextmanager
def unpacked(sent: Sent) -> Iterator[Path]:
    """A bundle as the folder of an export, thrown away afterwards; nothing in it can lead elsewhere."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        try:
            with tarfile.open(fileobj=io.BytesIO(sent.content), mode="r:") as tar:
                members = tar.getmembers()
                _need_bundle(sent, members)
                for member in members:
                    held = tar.extractfile(member) if member.isfile() else None
                    if held is not None:
                        path = folder / member.name.removeprefix("./")
                        path.parent.mkdir(parents=True, exist_ok=True)
                        path.write_bytes(held.read())
        except tarfile.TarError as error:
            raise refused(sent.main, f"a bundle that does not hold together: {error}") from error
        yield folder


def try_bundle(journal: "Journal", sent: Sent) -> Tried:
    """A bundle taken into a journal that is thrown away, so that all of it is proven before anything is kept.

    -> what is in it and how much of it is here already; RecordDamaged when anything in it was changed
    """
    from fluewright.record.opening import made

    with unpacked(sent) as folder, tempfile.TemporaryDirectory() as place:
        trial = made(Settings(str(Path(place) / "trial.db")), device_name="trial", now=journal.now)
        try:
            taken = take_in.taken_in(trial, folder)
        finally:
            trial.store.close()
        ids = [entry.id for _, entry in take_in.lines_of(folder)]
        here = len({read.entry.id for read in journal.all_under(ids)})
    facts = (("entries", f"{taken.entries:,}"), ("of them here already", f"{here:,}"),
             ("texts about people", f"{taken.values:,}"), ("files", f"{taken.files:,}"),
             ("left, since what stood before is missing", str(len(taken.left)) if taken.left else ""))  # fmt: skip
    return Tried("Records of another journal", tuple((what, how) for what, how in facts if how))


def bring_bundle(journal: "Journal", sent: Sent) -> take_in.Taken:
    """A bundle taken in under equal hashes, all of it or nothing; what is here already stays once."""
    with unpacked(sent) as folder:
        return take_in.taken_in(journal, folder)


def bundle_of(journal: "Journal", *, visit: str = "", people: bool = True) -> bytes:
    """An export as one file, to be brought in or checked elsewhere.

    visit   one visit with what it names; for checking, not for taking in. Empty: the whole journal
    people  whether texts and photos about people go along
    -> bytes of a tar
    """
    part = export.of_visit(journal, visit) if visit else export.ALL
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "export"
        export.exported(journal, folder, people=people, part=part)
        made = io.BytesIO()
        with tarfile.open(fileobj=made, mode="w", format=tarfile.PAX_FORMAT) as tar:
            for path in sorted(folder.rglob("*")):
                if path.is_file():
                    head = tarfile.TarInfo(path.relative_to(folder).as_posix())
                    head.size, head.mode = path.stat().st_size, 0o600
                    with path.open("rb") as content:
                        tar.addfile(head, content)
    return made.getvalue()


def tables_of(journal: "Journal", *, people: bool = True) -> bytes:
    """The journal as tables for a spreadsheet, packed: no cell of them can act as a formula."""
    import zipfile

    from fluewright.record.sheets import CsvSheets, laid_out

    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "tables"
        laid_out(journal, CsvSheets(folder), people=people)
        made = io.BytesIO()
        with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as packed:
            for path in sorted(folder.glob("*.csv")):
                packed.write(path, path.name)
    return made.getvalue()
