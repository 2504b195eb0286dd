"""Backups hold everything, prove it, and come back as a journal of their own."""

import shutil
import signal
import sqlite3
import threading
from pathlib import Path

import pytest
from made import Watch, exchanged, new_journal, reading, seal_of, visit_in
from shop import PHOTO, shop_in

from fluewright.errors import EntryError, FluewrightError, NotAllowed, RecordDamaged
from fluewright.record.backup import anchor_in, anchors_from, backed_up
from fluewright.record.chain import Anchor
from fluewright.record.check import every
from fluewright.record.copies import carried, into_file, settings_of
from fluewright.record.export import exported
from fluewright.record.files import content_of, named_in
from fluewright.record.journal import Journal
from fluewright.record.keys import known_keys, revocations
from fluewright.record.opening import opened
from fluewright.record.reading import devices_of, rows_of
from fluewright.record.restore import restored
from fluewright.record.seal_check import verified
from fluewright.record.settings import Settings
from fluewright.record.store import Store
from fluewright.record.words import new_words
from trust import told


def texts(journal: Journal) -> dict[str, list[str]]:
    """Every entry as it is kept, by device."""
    with journal.store.reading() as connection:
        return {device: [row.text for row in rows_of(connection, device)] for device in devices_of(connection)}


@pytest.mark.parametrize("form", ["folder", "file", "locked"])
def test_a_backup_comes_back_with_every_entry_value_and_file(tmp_path: Path, form: str) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    words = new_words() if form == "locked" else ""
    before = texts(journal)
    made = backed_up(journal, tmp_path / "stick", words=words, one_file=form == "file")
    assert made.entries == sum(len(each) for each in before.values()) and made.files == 2
    place = Settings(str(tmp_path / "new place" / "journal.db"))
    found = restored(made.path, place, words=words)
    after = texts(found.journal)
    assert after[journal.device] == before[journal.device]
    assert found.was == journal.device and found.journal.device != journal.device
    assert every(found.journal.store, made.anchors).wrong == []
    assert verified(found.journal, shop.visit).holds
    photo = next(each for each in named_in(found.journal) if each.private)
    assert content_of(place.files_folder(), photo.name) == PHOTO
    first = found.journal.entry(found.journal.device)
    assert first is not None and first.body["continues"] == journal.device
    assert first.body["key"] in known_keys(found.journal) and first.body["key"] != key.public
    assert not list((tmp_path / "new place").glob(".restore*")) and not list((tmp_path / "shop").glob(".backup*"))
    visit = visit_in(found.journal)
    from fluewright.record.keys_ed25519 import key_of

    seal_of(found.journal, visit, key_of(place))
    assert verified(found.journal, visit).holds


def test_the_anchor_is_in_the_name_beside_it_and_remembered(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    made = backed_up(journal, tmp_path / "stick")
    end = journal.anchors()[0]
    named = anchor_in(made.path.name)
    assert named is not None and named.agrees(end.hash) and named.sequence == end.sequence
    assert anchors_from(made.path.with_name(made.path.name + ".anchor").read_text()) == [end]
    with sqlite3.connect(journal.store.settings.path()) as raw:
        assert raw.execute("SELECT by, sequence, hash FROM anchor").fetchall() == [
            (f"backup {made.path.name}", end.sequence, end.hash)
        ]
    assert anchor_in("journal") is None and anchor_in("renamed by hand") is None


def test_a_copy_of_the_main_file_alone_lacks_entries_and_the_backup_does_not(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    visit = visit_in(journal)
    with sqlite3.connect(journal.store.settings.path()) as holding:  # a reader keeps the log from being carried over
        holding.execute("BEGIN")
        holding.execute("SELECT count(*) FROM entry").fetchone()
        for number in range(200):
            reading(journal, visit, f"{number} ppm")
        bare = tmp_path / "bare" / "journal.db"
        bare.parent.mkdir()
        shutil.copy(journal.store.settings.path(), bare)
        made = backed_up(journal, tmp_path / "stick")
    with sqlite3.connect(bare) as raw:
        there = raw.execute("SELECT count(*) FROM sqlite_master WHERE name = 'entry'").fetchone()[0]
        by_hand = raw.execute("SELECT count(*) FROM entry").fetchone()[0] if there else 0
    assert made.entries == 204 and by_hand < 204


def test_what_was_acknowledged_before_a_backup_under_load_is_in_it(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    visit = visit_in(journal)
    acknowledged: list[str] = []
    asked = lost = 0
    stop = threading.Event()
    writer = Journal(Store(journal.store.settings), journal.device, journal.now)

    def write() -> None:
        while not stop.is_set():
            acknowledged.append(reading(writer, visit, "38 ppm"))

    thread = threading.Thread(target=write)
    thread.start()
    try:
        for number in range(5):
            while len(acknowledged) < 20 * (number + 1):
                stop.wait(0.01)
            before = list(acknowledged)
            made = backed_up(journal, tmp_path / f"stick {number}")
            copy = opened(settings_of(made.path / "journal.db", read_only=True)).journal
            held = {read.entry.id for read in copy.of_kind("reading")}
            assert set(before) <= held
            asked, lost = asked + len(before), lost + len(set(before) - held)
    finally:
        stop.set()
        thread.join()
    told(10, "backup under load", acknowledged=asked, lost=lost, backups=5)


@pytest.mark.parametrize("what", ["entry", "value", "file", "missing file"])
def test_a_damaged_journal_gives_no_backup(tmp_path: Path, what: str) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    with sqlite3.connect(journal.store.settings.path()) as raw:
        raw.execute("DROP TRIGGER entry_UPDATE")
        if what == "entry":
            raw.execute("UPDATE entry SET text = replace(text, '4.3', '4.1')")
        elif what == "value":
            raw.execute("UPDATE secret SET value = 'Somebody Else' WHERE value LIKE 'Wendeline A%'")
    name = next(each.name for each in named_in(journal) if each.entry == shop.photo)
    path = journal.store.settings.files_folder() / name[:2] / name[2:]
    if what == "file":
        path.write_bytes(PHOTO + b"!")
    elif what == "missing file":
        path.unlink()
    for words in ("", new_words()):
        with pytest.raises(RecordDamaged, match=r"FW-R-03[14]"):
            backed_up(journal, tmp_path / "stick", words=words)
        assert list((tmp_path / "stick").iterdir()) == []


def test_a_restore_goes_nowhere_where_something_is(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    made = backed_up(journal, tmp_path / "stick")
    with pytest.raises(NotAllowed, match="FW-N-035"):
        restored(made.path, journal.store.settings)
    lone = Settings(str(tmp_path / "lone" / "journal.db"))
    lone.path().parent.mkdir()
    lone.path().with_name("journal.db.anchor").write_text("")
    with pytest.raises(NotAllowed, match="FW-N-035"):
        restored(made.path, lone)
    shutil.copytree(journal.store.settings.files_folder(), tmp_path / "files only" / "journal.files")
    with pytest.raises(NotAllowed, match="FW-N-035"):
        restored(made.path, Settings(str(tmp_path / "files only" / "journal.db")))


def test_a_bent_backup_is_not_restored_and_leaves_nothing(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    words = new_words()
    folder = backed_up(journal, tmp_path / "a").path
    plain = backed_up(journal, tmp_path / "b", one_file=True).path
    locked = backed_up(journal, tmp_path / "c", words=words).path
    with sqlite3.connect(folder / "journal.db") as raw:
        raw.execute("DROP TRIGGER entry_DELETE")
        raw.execute("DELETE FROM entry WHERE arrival > 5")
    plain.write_bytes(plain.read_bytes().replace(b"yearly test", b"yearly tost"))
    locked.write_bytes(locked.read_bytes()[:-20])
    cases = [(folder, "", "FW-R-034"), (plain, "", "FW-R-034"), (locked, words, "FW-R-032"),
             (locked, "", "FW-J-043"), (locked, new_words(), "FW-J-042"), (tmp_path, "", "FW-R-034")]  # fmt: skip
    for source, given, code in cases:
        place = tmp_path / "new place"
        with pytest.raises(FluewrightError, match=code):
            restored(source, Settings(str(place / "journal.db")), words=given)
        assert not place.exists() or list(place.iterdir()) == []


def test_a_backup_older_than_a_printed_sheet_says_so(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    made = backed_up(journal, tmp_path / "stick")
    visit_in(journal)
    sheet = journal.anchors()[0]
    with pytest.raises(RecordDamaged, match="3 entries short"):
        restored(made.path, Settings(str(tmp_path / "n" / "journal.db")), anchors=[sheet])


def test_a_restored_copy_and_the_original_can_both_go_on_and_meet_again(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    copy = restored(backed_up(journal, tmp_path / "stick").path, Settings(str(tmp_path / "n" / "journal.db"))).journal
    ours, theirs = visit_in(journal), visit_in(copy)
    exchanged(journal, copy)
    assert texts(journal) == texts(copy)
    assert every(journal.store).wrong == every(copy.store).wrong == []
    assert journal.entry(theirs) is not None and copy.entry(ours) is not None


def test_the_same_device_goes_on_only_with_a_reason_and_a_new_key(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    made = backed_up(journal, tmp_path / "stick")
    place = Settings(str(tmp_path / "n" / "journal.db"))
    with pytest.raises(EntryError, match="FW-J-044"):
        restored(made.path, place, same_device="  ")
    found = restored(made.path, place, same_device="the disk burned before anything was sent", now=Watch(journal.now()))
    assert found.journal.device == journal.device
    *_, last = found.journal.of_kind("device")
    assert last.body["revoked_key"] == key.public
    assert key.public in revocations(found.journal)
    assert verified(found.journal, shop.visit).holds
    assert every(found.journal.store).wrong == []
    with pytest.raises(NotAllowed, match="FW-N-030"):
        seal_of(found.journal, shop.other_visit, key)


def test_a_copy_row_by_row_is_the_same_as_the_engines_own(tmp_path: Path) -> None:
    """The way that a server is copied, tried between two files."""
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    target = Store(settings_of(tmp_path / "rows.db"))
    carried(journal.store, target)
    into_file(journal.store, tmp_path / "engine.db")
    found = []
    for name in ("rows.db", "engine.db"):
        with sqlite3.connect(tmp_path / name) as raw:
            tables = ("entry", "secret", "mark", "anchor")
            found.append([sorted(raw.execute(f"SELECT * FROM {table}").fetchall()) for table in tables])
    assert found[0] == found[1]


def test_an_anchor_printed_is_taken_from_a_renamed_backup_too(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    made = backed_up(journal, tmp_path / "stick")
    renamed = made.path.rename(tmp_path / "stick" / "my backup")
    wrong = Anchor(journal.device, 3, "0" * 64)
    with pytest.raises(RecordDamaged, match="is not the one that the anchor names"):
        restored(renamed, Settings(str(tmp_path / "n" / "journal.db")), anchors=[wrong])


def test_a_disk_that_takes_nothing_is_told_and_nothing_half_is_left(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    (tmp_path / "file").write_text("no folder")
    made = backed_up(journal, tmp_path / "stick")
    for work in (
        lambda: backed_up(journal, tmp_path / "file"),
        lambda: exported(journal, tmp_path / "file"),
        lambda: restored(made.path, Settings(str(tmp_path / "file" / "journal.db"))),
    ):
        with pytest.raises(EntryError, match="FW-J-053"):
            work()
    assert every(journal.store).wrong == []


@pytest.mark.parametrize("words", [True, False])
def test_a_full_disk_leaves_no_half_backup(tmp_path: Path, words: bool) -> None:
    """The largest file that the system lets this process write stands for the end of the disk."""
    resource = pytest.importorskip("resource")
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (40_000, before[1]))
    try:
        with pytest.raises(EntryError, match=r"FW-J-0(53|32|04)"):
            backed_up(journal, tmp_path / "stick", words=new_words() if words else "")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert list((tmp_path / "stick").iterdir()) == []
    assert backed_up(journal, tmp_path / "stick").entries == 16


def test_a_backup_is_for_its_owner_and_is_not_written_over(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path, now=Watch())
    shop_in(journal, key)
    moment = journal.now()
    journal.now = lambda: moment
    for words, mode in (("", 0o700), (new_words(), 0o600)):
        made = backed_up(journal, tmp_path / "stick", words=words)
        assert made.path.stat().st_mode & 0o777 == mode
        with pytest.raises(NotAllowed, match="FW-N-039"):
            backed_up(journal, tmp_path / "stick", words=words)
    assert len(list((tmp_path / "stick").iterdir())) == 4
