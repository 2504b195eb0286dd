"""The small text beside a journal, and ends of chains found without walking them."""

import shutil
from pathlib import Path

import pytest

from fluewright import clock
from fluewright.errors import NotAllowed
from fluewright.record.beside import EVERY, named_in, write
from fluewright.record.chain import Anchor
from fluewright.record.journal import Draft
from fluewright.record.opening import made, opened
from fluewright.record.reading import anchors_of
from fluewright.record.tables import ENTRY
from record_example import reading, settings_in


def test_it_is_written_at_the_first_entry_then_from_time_to_time_and_at_closing(tmp_path: Path) -> None:
    journal = made(settings_in(tmp_path), device_name="tablet")
    beside = journal.store.side_file()
    assert [each.sequence for each in named_in(beside)] == [1]
    for _ in range(EVERY):
        journal.add(reading())
    assert [each.sequence for each in named_in(beside)] == [EVERY]
    journal.store.close()
    assert named_in(beside) == journal.anchors()


def test_what_closes_a_visit_is_written_at_once(tmp_path: Path) -> None:
    journal = made(settings_in(tmp_path), device_name="tablet")
    journal.add(Draft("notice", {"visit": clock.new_id(), "words": "spills", "consent": "refused"}))
    assert [each.sequence for each in named_in(journal.store.side_file())] == [2]


def test_a_lost_main_file_is_noticed_and_no_empty_one_takes_its_place(tmp_path: Path) -> None:
    journal = made(settings_in(tmp_path), device_name="tablet")
    journal.store.close()
    journal.store.settings.path().unlink()
    with pytest.raises(NotAllowed, match="an empty journal in the place of another"):
        made(settings_in(tmp_path), device_name="tablet")
    assert not journal.store.settings.path().exists()


def test_a_file_of_yesterday_put_back_is_noticed(tmp_path: Path) -> None:
    journal = made(settings_in(tmp_path), device_name="tablet")
    journal.store.close()
    yesterday = tmp_path / "yesterday.db"
    shutil.copy(journal.store.settings.path(), yesterday)
    journal.add_all([reading() for _ in range(7)])
    journal.store.close()
    shutil.copy(yesterday, journal.store.settings.path())
    assert opened(settings_in(tmp_path)).wrong == (
        f"7 entries short of the anchor: device {journal.device} ends at 1, not 8",
    )


def test_it_names_never_less_than_it_did(tmp_path: Path) -> None:
    device, other = clock.new_id(), clock.new_id()
    write(tmp_path / "a", [Anchor(device, 9, "a" * 64), Anchor(other, 2, "b" * 64)])
    write(tmp_path / "a", [Anchor(device, 7, "c" * 64)])
    assert {each.sequence for each in named_in(tmp_path / "a")} == {9, 2}
    assert [each.name for each in tmp_path.iterdir()] == ["a"]


@pytest.mark.parametrize("left", [b"", b"\xff\xfe\0", b"half a li"])
def test_one_that_power_took_says_less_and_hinders_nothing(tmp_path: Path, left: bytes) -> None:
    journal = made(settings_in(tmp_path), device_name="tablet")
    journal.store.close()
    journal.store.side_file().write_bytes(left)
    assert opened(settings_in(tmp_path)).wrong == ()


def test_a_folder_that_refuses_it_hinders_no_entry(tmp_path: Path) -> None:
    journal = made(settings_in(tmp_path), device_name="tablet")
    journal.store.side_file().unlink()
    journal.store.side_file().mkdir()
    for _ in range(EVERY):
        journal.add(reading())
    assert journal.anchors()[0].sequence == EVERY + 1


def test_in_a_browser_there_is_none(tmp_path: Path) -> None:
    journal = made(settings_in(tmp_path, mode="truncate"), device_name="phone")
    journal.store.close()
    assert not journal.store.side_file().exists()


def test_ends_of_chains_are_those_that_a_walk_finds(tmp_path: Path) -> None:
    journal = made(settings_in(tmp_path), device_name="tablet")
    devices = sorted(clock.new_id() for _ in range(5))
    with journal.store.writing() as connection:
        for number, device in enumerate(devices, 1):
            rows = [
                {"device": device, "sequence": at, "id": clock.new_id(), "kind": "note", "subject": device,
                 "hash": f"{number:032x}{at:032x}", "text": "{}"}
                for at in range(1, number + 1)
            ]  # fmt: skip
            connection.execute(ENTRY.insert(), rows)
    with journal.store.reading() as connection:
        found = {each.device: each for each in anchors_of(connection)}
    assert {device: found[device].sequence for device in devices} == {d: n for n, d in enumerate(devices, 1)}
    assert all(found[d].hash == f"{n:032x}{n:032x}" for n, d in enumerate(devices, 1))
