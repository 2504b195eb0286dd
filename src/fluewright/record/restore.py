"""A journal restored from a backup, in a new place, proven before it is said to be there.

A restored copy is another machine, as long as nobody says otherwise: had the lost one written anything after the
backup, two entries of one device would bear one number, and each would be taken for a forgery of the other. So the
copy goes on as a new device whose first entry names the old one and where its chain ended. Who is sure that the old
device is gone, and that nothing of it reached anyone after the backup, may say so with the reason: then the old chain
goes on, with a new key, and the old key counts no more.
"""

import shutil
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import insert, update

from fluewright import clock
from fluewright.errors import EntryError, NotAllowed
from fluewright.record.backup import BESIDE, DATABASE, anchor_in, anchors_from, damaged_copy
from fluewright.record.bundle import members, unbundled
from fluewright.record.chain import Anchor
from fluewright.record.check import every
from fluewright.record.copies import carried, settings_of
from fluewright.record.erased import obeyed
from fluewright.record.files import content_of, disk_told, kept_in, names_in
from fluewright.record.journal import Draft, Journal, Now
from fluewright.record.keys_ed25519 import FileKey, key_of
from fluewright.record.opening import opened
from fluewright.record.practice import is_practice
from fluewright.record.settings import Settings
from fluewright.record.store import Store
from fluewright.record.tables import ANCHOR, MARK


@dataclass(frozen=True, slots=True)
class Restored:
    """A journal that was restored.

    journal  open
    was      the device that the backup was made on
    anchors  the ends of all chains as they were in the backup
    erased   values about people that were in the backup but had been erased meanwhile, by its own word
    """

    journal: Journal
    was: str
    anchors: tuple[Anchor, ...]
    erased: int


def _need_new_place(settings: Settings) -> None:
    files = settings.files_folder()
    if not Store(settings).is_there() and not any(names_in(files)):
        return
    raise NotAllowed(
        code="FW-N-035",
        where=settings.database if settings.is_sqlite() else str(files),
        read="a restore to where something is",
        expected="a place where no journal and none of its files are",
        matters="what is there may be the only copy of what was entered since",
        do="restore it into another place, compare the two, then exchange their entries",
    )


def _need_reason(same_device: str | None) -> None:
    if same_device is not None and not same_device.strip():
        raise EntryError(
            code="FW-J-044",
            read="a restore as the same device, without the reason",
            expected="why the old device can have written nothing after the backup",
            matters="if it did, two entries of one device bear one number, and both are in doubt",
            do="say why, or leave it out: then the copy goes on as a new device, which is always safe",
        )


def _laid_out(source: Path, folder: Path, words: str) -> None:
    """The content of a backup in a folder of our own."""
    if not source.exists():
        raise EntryError(
            code="FW-J-052",
            where=str(source),
            read="nothing there",
            expected="the folder or the file that a backup made",
            matters="nothing was restored",
            do="look where backups lie; their names begin with journal_ and a time",
        )
    if source.is_dir():
        for name, path in members(source):
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, folder / name)
    else:
        unbundled(source, folder, words)
    if not (folder / DATABASE).is_file():
        raise damaged_copy(source, ["there is no journal in it"])


def _witnesses(source: Path, folder: Path, given: Sequence[Anchor]) -> list[Anchor]:
    """Every anchor that says what must be in a backup: in its name, beside it, in it, and on paper."""
    found = list(given)
    named = anchor_in(source.name)
    found += [named] if named is not None else []
    for path in (source.with_name(source.name + BESIDE), folder / (DATABASE + BESIDE)):
        try:
            found += anchors_from(path.read_text("ascii")) if path.is_file() else []
        except (EntryError, ValueError) as error:
            raise damaged_copy(source, [f"the anchors in {path.name} cannot be read"]) from error
    return found


def _proven(folder: Path, source: Path, witnesses: Sequence[Anchor]) -> tuple[str, tuple[Anchor, ...]]:
    """The device and the ends of a copy in which everything holds; RecordDamaged otherwise."""
    found = opened(settings_of(folder / DATABASE, read_only=True))
    try:
        wrong = list(found.wrong) + every(found.journal.store, witnesses).wrong
        anchors = tuple(found.journal.anchors())
    finally:
        found.journal.store.close()
    if wrong:
        raise damaged_copy(source, wrong)
    return found.journal.device, anchors


def _drafts(journal: Journal, key: FileKey, was: str, name: str, same_device: str | None, end: Anchor) -> list[Draft]:
    """What a restored copy says of itself, as its first words."""
    body = {"name": name, "key": key.public, "anchor": end.printed()}
    if same_device is None:
        practice = {"practice": True} if is_practice(journal) else {}
        return [Draft("device", {**body, **practice, "continues": was}, source="program", id=journal.device)]
    old = [read.body.get("key") for read in journal.of_kind("device") if read.entry.device == was]
    before = str(old[-1]) if old and old[-1] else ""
    body["because"] = same_device
    if not before or before == key.public:
        return [Draft("device", body, source="program")]
    since = journal.now().isoformat()
    lost = {"key": before, "since": since, "because": same_device, "device": was, "sequence": end.sequence}
    return [Draft("device", {**body, "revoked_key": before}, source="program"), Draft("revocation", lost)]


def _begun(folder: Path, settings: Settings, was: str, name: str, same_device: str | None, now: Now) -> None:
    """Make a proven copy a journal of its own."""
    store = Store(settings_of(folder / DATABASE))
    device = was if same_device is not None else clock.new_id()
    journal = Journal(store, device, now)
    ends = journal.anchors()
    end = next((each for each in ends if each.device == was), ends[0])
    drafts = _drafts(journal, key_of(settings), was, name, same_device, end)
    at = now().isoformat()
    rows = [{"device": each.device, "sequence": each.sequence, "hash": each.hash, "at": at, "by": "restored"}
            for each in ends]  # fmt: skip
    with store.writing() as connection:
        connection.execute(update(MARK).where(MARK.c.name == "device").values(value=device))
        connection.execute(insert(ANCHOR), rows)
        journal.written(connection, drafts, at)
    store.close()


def _put(folder: Path, settings: Settings) -> None:
    """Move a finished copy to where it is to be."""
    copy = settings_of(folder / DATABASE, read_only=True)
    for name in names_in(copy.files_folder()):
        kept_in(settings.files_folder(), content_of(copy.files_folder(), name))
    if settings.is_sqlite():
        (folder / DATABASE).replace(settings.path())
        return
    source, target = Store(copy), Store(settings)
    carried(source, target)
    source.close()
    target.close()


def restored(
    source: Path,
    settings: Settings,
    *,
    words: str = "",
    anchors: Sequence[Anchor] = (),
    same_device: str | None = None,
    device_name: str = "restored",
    now: Now = clock.now,
) -> Restored:
    """Restore a backup into a new place.

    source       a backup: folder or file
    settings     the new place, where nothing is
    words        of a locked one
    anchors      from printed sheets or receipts, that it must agree with
    same_device  why the old chain may go on; None: it goes on as a new device
    device_name  what people call this machine
    -> the journal, open, every chain walked and every file hashed where it now lies; RecordDamaged when the backup
       does not hold, NotAllowed when something is there
    """
    _need_new_place(settings)
    _need_reason(same_device)
    place = settings.path().parent if settings.is_sqlite() else settings.files_folder().parent
    with disk_told(place):
        place.mkdir(parents=True, exist_ok=True)
    with disk_told(place), tempfile.TemporaryDirectory(prefix=".restore-", dir=place) as work:
        folder = Path(work) / "copy"
        folder.mkdir()
        _laid_out(source, folder, words)
        was, ends = _proven(folder, source, _witnesses(source, folder, anchors))
        _begun(folder, settings, was, device_name, same_device, now)
        _put(folder, settings)
    found = opened(settings, now=now)
    erased = obeyed(found.journal)
    wrong = list(found.wrong) + every(found.journal.store, ends).wrong
    if wrong:
        raise damaged_copy(Path(settings.database), wrong)
    return Restored(found.journal, was, ends, erased)
