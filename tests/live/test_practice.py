"""A journal for practice says so on every page, and meets no other journal whatever way it is tried."""

from pathlib import Path
from typing import Any

import pytest
from set_up import journal_in

from fluewright.cli.main import main
from fluewright.errors import NotAllowed
from fluewright.record import backup, export, restore, stick, sync, take_in
from fluewright.record.draft import Draft
from fluewright.record.journal import Journal
from fluewright.record.opening import made
from fluewright.record.practice import is_practice
from fluewright.record.settings import Settings
from fluewright.report import html
from fluewright.visit import adding, kept, work

TABLES: dict[str, Any] = {
    "visit": {"title": "Invented boiler", "date": "2026-11-25", "units": "si"},
    "appliance": {"words": "invented boiler"},
    "fuel": {"name": "natural-gas"},
}


@pytest.fixture
def practice(tmp_path: Path) -> Journal:
    folder = tmp_path / "practice"
    return made(Settings(str(folder / "journal.db")), device_name="test", practice=True)


def test_it_exchanges_with_nobody(tmp_path: Path, practice: Journal) -> None:
    real = journal_in(tmp_path)
    assert is_practice(practice) and not is_practice(real)
    tries = [
        lambda: sync.synced(practice, lambda message: sync.answered(real, message)),
        lambda: sync.answered(practice, sync.message(real, None)[0]),
        lambda: stick.carried(practice, tmp_path / "stick"),
        lambda: take_in.taken_in(practice, export.exported(real, tmp_path / "real").folder),
    ]
    for attempt in tries:
        with pytest.raises(NotAllowed) as error:
            attempt()
        assert error.value.code == "FW-N-111"
    assert len(list(real.of_kind("device"))) == len(list(practice.of_kind("device"))) == 1
    assert not (tmp_path / "stick").exists()


def test_what_was_carried_by_other_hands_is_not_taken(tmp_path: Path, practice: Journal) -> None:
    real = journal_in(tmp_path)
    practice.add(Draft("due", {"what": "invented", "due": "2027-01-01"}))
    taken = sync.taken_from(real, sync.message(practice, sync.ends_of(real))[0].splitlines(keepends=True))
    assert taken.new == 0 and "for practice" in " ".join(taken.why)
    with pytest.raises(NotAllowed) as error:
        take_in.taken_in(real, export.exported(practice, tmp_path / "export").folder)
    assert error.value.code == "FW-N-112"
    assert [read.entry.device for read in real.of_kind("device", "due")] == [real.device]


def test_every_sheet_says_so(practice: Journal, tmp_path: Path) -> None:
    for journal, says in ((practice, True), (journal_in(tmp_path), False)):
        visit = kept.begun(journal, TABLES).id
        adding.added(journal, visit, "o2 4.3 % co 38 ppm stack 180 C air 20 C")
        sheet = work.judged(kept.account_of(journal, visit)).sheet()
        assert ("PRACTICE, not a real visit" in sheet.running_right) is says
        assert sheet.title.startswith("Practice, not a real visit") is says
        assert sheet.customer_title.startswith("Practice, not a real visit") is says
        assert sheet.invented is says
        assert ("Practice, not a real visit" in html.page(sheet)) is says


def test_it_is_begun_as_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = ["--journal", str(tmp_path / "p.db")]
    assert main(["journal", "new", "--practice", *place]) == 0
    assert "invented visits only" in capsys.readouterr().out
    assert main(["journal", "sync", str(tmp_path / "stick"), *place]) == 5
    assert "FW-N-111" in capsys.readouterr().err


def test_a_copy_that_was_restored_is_for_practice_still(tmp_path: Path, practice: Journal) -> None:
    real = journal_in(tmp_path)
    backed = backup.backed_up(practice, tmp_path / "copies")
    again = restore.restored(backed.path, Settings(str(tmp_path / "again" / "journal.db"))).journal
    assert again.device != practice.device and is_practice(again)
    with pytest.raises(NotAllowed) as error:
        stick.carried(again, tmp_path / "stick")
    assert error.value.code == "FW-N-111"
    again.add(Draft("due", {"what": "invented", "due": "2027-01-01"}))
    taken = sync.taken_from(real, sync.message(again, sync.ends_of(real))[0].splitlines(keepends=True))
    assert taken.new == 0
    assert [read.entry.device for read in real.of_kind("device", "due")] == [real.device]
    again.store.close()
