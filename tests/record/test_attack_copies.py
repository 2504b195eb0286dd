"""Bent exports and backups, half made journals, sticks with something on them that could not be taken yet."""

import shutil
import tarfile
from collections.abc import Callable
from pathlib import Path

import pytest
from made import PEOPLE, new_journal, visit_in
from shop import shop_in
from test_erase import found_in

from fluewright.errors import NotAllowed, RecordDamaged
from fluewright.record import opening
from fluewright.record.backup import backed_up
from fluewright.record.check import every
from fluewright.record.erase import erased, held
from fluewright.record.export import exported
from fluewright.record.files import added, named_in, names_in
from fluewright.record.journal import Draft
from fluewright.record.opening import made, opened
from fluewright.record.restore import restored
from fluewright.record.settings import Settings
from fluewright.record.stick import carried
from fluewright.record.sync import answered, synced
from fluewright.record.take_in import taken_in


def lines_of(path: Path) -> list[str]:
    """The lines of a file."""
    return path.read_text("utf-8").splitlines(keepends=True)


def file_in(folder: Path) -> Path:
    """Some file of an export."""
    return next(path for path in sorted((folder / "files").rglob("*")) if path.is_file())


def swapped(folder: Path) -> None:
    lines = lines_of(folder / "journal.jsonl")
    lines[2], lines[3] = lines[3], lines[2]
    (folder / "journal.jsonl").write_text("".join(lines), "utf-8")


def headless(folder: Path) -> None:
    """A chain that begins with something else than its device, and anchors that agree."""
    from forger import Forger

    from fluewright.record.entry import NOTHING_BEFORE, Entry

    device = Forger().device
    entry = Entry(
        device, "customer", 1, device, 1, NOTHING_BEFORE, "2026-11-25T12:00:00+00:00", "", device, "typed", {}
    )
    path = folder / "journal.jsonl"
    path.write_text(path.read_text("utf-8") + entry.text() + "\n", "utf-8")
    about = folder / "about.json"
    about.write_text(about.read_text("utf-8").replace('"entries": 16', '"entries": 17'), "utf-8")


BENT: dict[str, Callable[[Path], object]] = {
    "its end cut": lambda f: (f / "journal.jsonl").write_text("".join(lines_of(f / "journal.jsonl")[:-3]), "utf-8"),
    "its anchors taken away": lambda f: (f / "anchors.txt").unlink(),
    "two entries swapped": swapped,
    "a device that does not introduce itself": headless,
    "no text any more": lambda f: (f / "journal.jsonl").write_bytes((f / "journal.jsonl").read_bytes() + b"\xff\n"),
    "a name changed": lambda f: (f / "people.jsonl").write_text(
        (f / "people.jsonl").read_text("utf-8").replace("Wendeline", "Wendeling"), "utf-8"),
    "a name taken away": lambda f: (f / "people.jsonl").write_text("".join(lines_of(f / "people.jsonl")[1:]), "utf-8"),
    "all names taken away": lambda f: (f / "people.jsonl").unlink(),
    "a line that is no line": lambda f: (f / "people.jsonl").open("a").write("{\n"),
    "a line that is no text": lambda f: (f / "people.jsonl").open("ab").write(b"\xff\n"),
    "a photo taken away": lambda f: file_in(f).unlink(),
    "a photo changed": lambda f: file_in(f).write_bytes(b"another"),
}  # fmt: skip


@pytest.mark.parametrize("name", BENT)
def test_nothing_of_a_bent_export_is_taken(tmp_path: Path, name: str) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    folder = exported(journal, tmp_path / "export").folder
    BENT[name](folder)
    other, _ = new_journal(tmp_path, "other")
    before = other.anchors()
    with pytest.raises(RecordDamaged):
        taken_in(other, folder)
    assert other.anchors() == before and every(other.store).wrong == []
    assert list(names_in(other.store.settings.files_folder())) == []


def sparse(target: Path) -> None:
    """A tar whose one member is written in a few bytes and unpacked as 3 GB (the old GNU form)."""
    head = tarfile.TarInfo("journal.db")
    block = bytearray(head.tobuf(tarfile.GNU_FORMAT))
    octal = [f"{number:011o}\0".encode() for number in (0, 512, 3 * 2**30 - 512, 512, 3 * 2**30, 1024)]
    block[124:136], block[156:157] = octal[5], b"S"
    block[386:434], block[482:483], block[483:495] = b"".join(octal[:4]), b"\0", octal[4]
    block[148:156] = b" " * 8
    block[148:156] = f"{sum(block[:512]):06o}\0 ".encode()
    target.write_bytes(bytes(block[:512]) + b"x" * 1024 + bytes(1024))


def twice(target: Path) -> None:
    with tarfile.open(target, "a") as tar:
        tar.addfile(tarfile.TarInfo("journal.db"))


BACKUPS: dict[str, Callable[[Path], object]] = {
    "larger than it is": sparse,
    "one name twice": twice,
    "anchors that are no text": lambda path: path.with_name(path.name + ".anchor").write_bytes(b"\xff"),
    "anchors that are none": lambda path: path.with_name(path.name + ".anchor").write_text("none"),
}


@pytest.mark.parametrize("name", BACKUPS)
def test_a_bent_backup_is_refused_before_it_is_unpacked(tmp_path: Path, name: str) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    backup = backed_up(journal, tmp_path / "backups", one_file=True).path
    BACKUPS[name](backup)
    with pytest.raises(RecordDamaged):
        restored(backup, Settings(str(tmp_path / "place" / "journal.db")))
    assert list((tmp_path / "place").iterdir()) == []


def test_a_journal_whose_making_was_killed_is_never_written_to_without_a_device(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings = Settings(str(tmp_path / "journal.db"))

    def killed(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(opening, "insert", killed)
        with pytest.raises(KeyboardInterrupt):
            made(settings, device_name="invented")
    with pytest.raises(RecordDamaged):
        opened(settings)
    settings = Settings(str(tmp_path / "other" / "journal.db"))
    journal = made(settings, device_name="invented")
    with journal.store.writing() as connection:
        connection.exec_driver_sql("DELETE FROM mark WHERE name = 'device'")
    found = opened(settings)
    assert found.wrong
    with pytest.raises(NotAllowed):
        found.journal.add(Draft("customer", {"name": "x"}))


@pytest.mark.parametrize("what", ["journal.db-wal", "journal.db-journal", "journal.files"])
def test_no_new_journal_beside_what_is_left_of_another(tmp_path: Path, what: str) -> None:
    """SQLite throws away a write-ahead file beside an empty file, with all the entries in it."""
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    left = tmp_path / "left"
    left.mkdir()
    source = journal.store.settings.path().with_name(what if what != "journal.db-journal" else "journal.db-wal")
    shutil.copytree(source, left / what) if source.is_dir() else shutil.copyfile(source, left / what)
    with pytest.raises(NotAllowed):
        made(Settings(str(left / "journal.db")), device_name="invented")
    assert (left / what).is_dir() or (left / what).read_bytes() == source.read_bytes()


def test_what_could_not_be_taken_from_a_stick_stays_on_it(tmp_path: Path) -> None:
    """The phone is lost; a line of the stick is spoilt; the office must not write over what stands behind it."""
    phone, _ = new_journal(tmp_path, "phone")
    office, _ = new_journal(tmp_path, "office")
    stick = tmp_path / "stick"
    visit = visit_in(phone)
    for number in range(30):
        phone.add(Draft("note", {"visit": visit, "word": f"remark {number}"}))
    photo = added(phone, b"of the chimney", type="image/jpeg", visit=visit)
    carried(phone, stick)
    path = stick / "entries" / f"{phone.device}.jsonl"
    lines = path.read_bytes().splitlines(keepends=True)
    spoilt = [*lines[:9], b'{"entry":' + bytes(40).hex().encode() + b"\n", *lines[10:]]
    path.write_bytes(b"".join(spoilt))
    carried(office, stick)
    carried(office, stick)
    assert {line for line in lines if line != lines[9]} <= set(path.read_bytes().splitlines(keepends=True))
    assert any(each.entry == photo.id for each in named_in(phone))
    assert len(list(names_in(stick / "files"))) == 1
    mended = path.read_bytes() + lines[9]
    path.write_bytes(mended)
    assert carried(office, stick).taken.early == 0
    assert [each.sequence for each in office.anchors() if each.device == phone.device] == [len(lines)]
    assert len(list(names_in(office.store.settings.files_folder()))) == 1


def test_a_device_without_the_names_leaves_photos_on_the_stick_alone(tmp_path: Path) -> None:
    phone, key = new_journal(tmp_path, "phone")
    auditor, _ = new_journal(tmp_path, "auditor")
    shop_in(phone, key)
    stick = tmp_path / "stick"
    carried(phone, stick)
    taken_in(auditor, exported(phone, tmp_path / "export", people=False).folder)
    carried(auditor, stick)
    assert set(names_in(stick / "files")) == {each.name for each in named_in(phone)}


def test_an_erased_photo_leaves_the_stick_and_a_held_one_does_not_go_out(tmp_path: Path) -> None:
    phone, key = new_journal(tmp_path, "phone")
    office, _ = new_journal(tmp_path, "office")
    shop = shop_in(phone, key)
    photo = next(each.name for each in named_in(phone) if each.private)
    stick = tmp_path / "stick"
    carried(phone, stick)
    carried(office, stick)
    synced(phone, lambda request: answered(office, request))
    held(office, shop.visit, because="a claim")
    erased(phone, shop.customer, because="asked for")
    carried(phone, stick)
    assert photo not in set(names_in(stick / "files"))
    carried(office, stick)
    assert photo in {each.name for each in named_in(office)}
    assert photo not in set(names_in(stick / "files"))
    assert found_in(stick, [str(PEOPLE["name"]).encode(), photo.encode()]) == {}
