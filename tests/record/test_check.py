"""fluewright journal check and doctor, as a person meets them."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.record import doctor
from fluewright.record.check import every, structure
from fluewright.record.journal import Draft
from fluewright.record.opening import made
from fluewright.record.store import Store
from record_example import journal_in, settings_in


def path_in(folder: Path, entries: int = 30) -> tuple[str, str]:
    """A journal's file and its printed anchor."""
    journal = journal_in(folder, entries)
    printed = journal.anchors()[0].printed()
    journal.store.close()
    return str(journal.store.settings.path()), printed


def test_a_whole_journal_is_said_to_be_whole_and_what_cannot_be_told_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, printed = path_in(tmp_path)
    assert main(["journal", "check", "--journal", path]) == 0
    said = capsys.readouterr().out
    assert "whole: nothing" in said and "cannot tell whether anything came after entry 30" in said
    assert main(["journal", "check", "--all", "--journal", path, "--anchor", printed, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["holds"], found["entries"], found["secrets"]) == (True, 30, 6)
    assert "vouches up to entry 30" in found["unknown"][0]


def test_a_changed_entry_is_named_and_the_command_ends_with_4(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, _ = path_in(tmp_path)
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("DROP TRIGGER entry_UPDATE")
        raw.execute("UPDATE entry SET text = replace(text, '1.7 %', '1.1 %') WHERE sequence = 19")
        raw.execute("UPDATE entry SET kind = 'note' WHERE sequence = 21")
        raw.execute("UPDATE entry SET subject = id WHERE sequence = 23")
        raw.execute("UPDATE secret SET value = 'other words' WHERE rowid = 2")
        raw.commit()
    assert main(["journal", "check", "--all", "--journal", path]) == 4
    lines = [line.strip() for line in capsys.readouterr().out.splitlines()]
    first = lines.index("NOT WHOLE: 5 things do not hold") + 1
    assert "entry 19: its content is not the one that was kept" in lines[first]
    text = "\n".join(lines)
    assert "entry 21: it was filed under another kind" in text and "entry 23: it was filed under another visit" in text
    assert "is not the one that was committed to" in text and "guard 'entry_UPDATE'" in text
    assert "other words" not in text


def test_an_anchor_of_another_sheet_is_found_and_one_that_is_none_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, printed = path_in(tmp_path)
    device, number, digits = printed.split(" ", 2)
    other = f"{device} {number} {digits.replace(digits[0], '0' if digits[0] != '0' else '1')}"
    assert main(["journal", "check", "--journal", path, "--anchor", other]) == 4
    assert "is not the one that the anchor names" in capsys.readouterr().out
    assert main(["journal", "check", "--journal", path, "--anchor", "whatever"]) == 3
    assert "FW-J-003" in capsys.readouterr().err
    later = f"{device} {int(number) + 4} {digits}"
    assert main(["journal", "check", "--all", "--journal", path, "--anchor", later]) == 4
    assert "4 entries short of the anchor" in capsys.readouterr().out


def test_a_changed_or_missing_file_is_found(tmp_path: Path) -> None:
    from fluewright.record import files

    journal = journal_in(tmp_path, 5)
    kept = [files.added(journal, bytes([at]) * 100, type="image/jpeg") for at in range(3)]
    folder = journal.store.settings.files_folder()
    names = sorted(files.names_in(folder))
    assert every(journal.store).files == 3 and every(journal.store).holds()
    files.path_of(folder, names[0]).write_bytes(b"another photo")
    files.path_of(folder, names[1]).unlink()
    found = every(journal.store)
    assert any(names[0][:16] in sentence and "its hash differs" in sentence for sentence in found.wrong)
    assert any("is not there" in sentence and any(e.id in sentence for e in kept) for sentence in found.wrong)


def test_bodies_of_every_shape_pass_the_look_at_their_columns(tmp_path: Path) -> None:
    """The quick look at a visit that stands last, and the slow one at all other bodies, agree with the entry."""
    journal = made(settings_in(tmp_path), device_name="tablet")
    visit = journal.add(Draft("visit", {"title": 'a "visit":" in quotes},"device":"', "day": "2026-11-25"}))
    note = journal.add(Draft("note", {"visit": visit.id, "word": "x"}))
    journal.add(Draft("struck out", {"of": note.id, "because": "wrong"}))
    journal.add(Draft("line", {"visit": visit.id, "table": "x", "typed": {"visit": "no id", "of": {"visit": "x"}}}))
    journal.add(Draft("settings", {"name": "units", "value": '"visit":"'}))
    assert every(journal.store).wrong == []


def test_no_journal_is_told_and_none_is_made(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for question in (["check"], ["check", "--all"], ["doctor"]):
        assert main(["journal", *question, "--journal", str(tmp_path / "none.db")]) == 3
        assert "FW-J-010" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_guard_that_was_taken_away_is_found_without_looking_at_every_byte(tmp_path: Path) -> None:
    path, _ = path_in(tmp_path)
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("DROP TRIGGER anchor_DELETE")
        raw.commit()
    assert structure(Store(settings_in(tmp_path))).wrong == [
        "the guard 'anchor_DELETE', which refuses changes, was taken away"
    ]


def test_the_doctor_looks_and_advises(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path, _ = path_in(tmp_path)
    Path(path).chmod(0o644)
    Path(path).parent.chmod(0o755)
    monkeypatch.setattr(doctor, "flush_seconds", lambda folder: 4e-6)
    assert main(["journal", "doctor", "--journal", path]) == 0
    said = capsys.readouterr().out
    assert "too good to be true" in said and "0.004 ms" in said
    assert "chmod 700" in said and "wal, flushed FULL" in said
    assert main(["journal", "doctor", "--journal", path, "--json"]) == 0
    looks = {look["name"]: look for look in json.loads(capsys.readouterr().out)["looks"]}
    assert {"flush", "disk", "room", "readers", "SQLite", "writing", "clock"} <= set(looks)
    assert not looks["flush"]["good"] and looks["writing"]["good"]


@pytest.mark.parametrize(("seconds", "good"), [(4e-6, False), (0.2e-3, True), (8e-3, True), (0.3, False)])
def test_a_flush_is_judged(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seconds: float, good: bool) -> None:
    journal = journal_in(tmp_path, 2)
    monkeypatch.setattr(doctor, "flush_seconds", lambda folder: seconds)
    look = next(each for each in doctor.looks(journal.store) if each.name == "flush")
    assert look.good is good and bool(look.do) is not good


def test_a_flush_is_measured(tmp_path: Path) -> None:
    assert 0 < doctor.flush_seconds(tmp_path, times=3) < 10
    assert list(tmp_path.iterdir()) == []


def test_a_new_journal_is_readable_by_its_owner_only(tmp_path: Path) -> None:
    path, _ = path_in(tmp_path / "new")
    assert Path(path).stat().st_mode & 0o077 == 0 and Path(path).parent.stat().st_mode & 0o077 == 0
    look = next(each for each in doctor.looks(Store(settings_in(tmp_path / "new"))) if each.name == "readers")
    assert look.good
