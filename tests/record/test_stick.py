"""Journals that meet through a folder only."""

from pathlib import Path

import pytest
from on_store import whole_of

from fluewright.errors import EntryError
from fluewright.record.chain import Anchor
from fluewright.record.erase import erased
from fluewright.record.files import added, content_of
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made, opened
from fluewright.record.retention import laws
from fluewright.record.stick import ENTRIES, RECEIPTS, carried
from fluewright.record.tables import ANCHOR
from postgres import NewPlace


def pair(new_place: NewPlace) -> tuple[Journal, Journal]:
    """Two journals with something in each."""
    one, other = made(new_place(), device_name="a"), made(new_place(), device_name="b")
    for number in range(4):
        one.add(Draft("customer", {"name": f"Invented Person {number}"}))
        other.add(Draft("note", {"visit": other.device, "word": f"remark {number}"}))
    return one, other


def test_two_journals_meet_through_a_folder(new_place: NewPlace, tmp_path: Path) -> None:
    one, other = pair(new_place)
    stick = tmp_path / "stick"
    first = carried(one, stick)
    assert (first.written, first.taken.new) == (5, 0)
    second = carried(other, stick)
    assert (second.written, second.taken.new) == (5, 5)
    third = carried(one, stick)
    assert (third.written, third.taken.new, third.anew) == (0, 5, 0)
    assert whole_of(one) == whole_of(other)
    assert carried(one, stick).taken.already == 0
    assert "fluewright journal sync" in (stick / "ABOUT.txt").read_text()
    with one.store.reading() as connection:
        rows = connection.execute(ANCHOR.select().where(ANCHOR.c.by == other.device)).all()
    assert {Anchor(row.device, row.sequence, row.hash) for row in rows} == set(one.anchors())


def test_a_stick_pulled_at_any_byte_is_mended(on_sqlite: NewPlace, tmp_path: Path) -> None:
    one, other = pair(on_sqlite)
    stick = tmp_path / "stick"
    carried(one, stick)
    file = stick / ENTRIES / f"{one.device}.jsonl"
    whole = file.read_bytes()
    for cut in range(0, len(whole), 97):
        file.write_bytes(whole[:cut])
        carried(one, stick)
        assert file.read_bytes() == whole
    file.write_bytes(whole[: len(whole) // 2])
    assert carried(other, stick).taken.forks == []
    carried(one, stick)
    carried(other, stick)
    assert whole_of(one) == whole_of(other)


def test_a_spoilt_file_is_written_anew(on_sqlite: NewPlace, tmp_path: Path) -> None:
    one, other = pair(on_sqlite)
    stick = tmp_path / "stick"
    carried(one, stick)
    file = stick / ENTRIES / f"{one.device}.jsonl"
    whole = file.read_bytes()
    file.write_bytes(whole.replace(b"customer", b"costumer", 1))
    came = carried(other, stick)
    assert came.taken.spoilt == 1 and came.taken.new == 1 and came.taken.early == 3
    carried(one, stick)
    came = carried(one, stick)
    assert file.read_bytes() == whole
    assert carried(other, stick).taken.new == 4


def test_an_erasure_goes_over_the_stick_too(new_place: NewPlace, tmp_path: Path) -> None:
    one, other = pair(new_place)
    visit = one.add(Draft("visit", {"title": "x", "day": "2026-03-01", "customer_name": "Somebody Invented"})).id
    photo = added(one, b"a photo of somebody", type="image/png", visit=visit)
    name = str(one.entry(photo.id).body["content"])  # type: ignore[union-attr]
    stick = tmp_path / "stick"
    carried(one, stick)
    assert carried(other, stick).files == 1
    assert content_of(other.store.settings.files_folder(), name) == b"a photo of somebody"
    assert any(b"Somebody" in path.read_bytes() for path in stick.rglob("*.jsonl"))
    erased(one, visit, because="asked for", not_under=[law.id for law in laws()])
    assert carried(one, stick).anew > 0
    kept = [path.read_bytes() for path in stick.rglob("*") if path.is_file()]
    assert not any(b"Somebody" in each or b"a photo of" in each or name.encode() in each for each in kept)
    assert carried(other, stick).taken.gone > 0
    assert whole_of(one) != b"" and b"Somebody" not in whole_of(other)


def test_a_fork_on_a_stick_is_told_and_left(on_sqlite: NewPlace, tmp_path: Path) -> None:
    one, other = pair(on_sqlite)
    stick = tmp_path / "stick"
    carried(one, stick)
    carried(other, stick)
    copy = Journal(other.store, one.device)
    one.add(Draft("note", {"visit": one.device, "word": "ours"}))
    copy.add(Draft("note", {"visit": one.device, "word": "theirs"}))
    carried(one, stick)
    before = (stick / ENTRIES / f"{one.device}.jsonl").read_bytes()
    assert [fork.sequence for fork in carried(other, stick).taken.forks] == [6]
    assert (stick / ENTRIES / f"{one.device}.jsonl").read_bytes() == before
    assert not opened(other.store.settings).wrong


def test_a_folder_of_something_else_is_refused(on_sqlite: NewPlace, tmp_path: Path) -> None:
    one, _ = pair(on_sqlite)
    (tmp_path / "holiday.txt").write_text("pictures")
    with pytest.raises(EntryError, match="FW-J-065"):
        carried(one, tmp_path)


def test_foreign_lines_on_a_stick_harm_nothing(on_sqlite: NewPlace, tmp_path: Path) -> None:
    one, other = pair(on_sqlite)
    stick = tmp_path / "stick"
    carried(one, stick)
    (stick / ENTRIES / "readme.jsonl").write_text("{}\n")
    (stick / RECEIPTS).write_bytes(b"\x00\xff\n" + (stick / RECEIPTS).read_bytes() + b'{"ends":[[')
    assert carried(other, stick).taken.new == 5
    assert (stick / RECEIPTS).read_bytes().count(b"\n") == 2
