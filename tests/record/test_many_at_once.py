"""Many entries in one transaction: the same as one after the other, and each id once."""

from pathlib import Path

import pytest

from fluewright import clock
from fluewright.errors import EntryError
from fluewright.record.chain import breaks
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made
from fluewright.record.reading import rows_of
from fluewright.record.settings import Settings


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return made(Settings(str(tmp_path / "journal.db")), device_name="a device of the tests")


def note(word: str, note_id: str = "") -> Draft:
    return Draft("note", {"visit": "0" * 8 + "-0000-7000-8000-" + "0" * 12, "word": word}, id=note_id)


def test_a_thousand_at_once_are_one_chain(journal: Journal) -> None:
    entries = journal.add_all([note(f"word {n}", clock.new_id()) for n in range(1100)])
    assert [entry.sequence for entry in entries] == list(range(2, 1102))
    with journal.store.reading() as connection:
        rows = list(rows_of(connection, journal.device))
    assert not list(breaks(rows)) and len(rows) == 1101
    found = journal.entry(entries[700].id)
    assert found is not None and found.body["word"] == "word 700"


def test_the_same_id_twice_is_kept_once(journal: Journal) -> None:
    one, two = clock.new_id(), clock.new_id()
    first, again, other = journal.add_all([note("x", one), note("x", one), note("y", two)])
    assert first == again and other.sequence == first.sequence + 1
    assert journal.add_all([note("y", two), note("z")])[0] == other
    assert journal.anchors()[0].sequence == 4


def test_one_that_does_not_fit_keeps_none(journal: Journal) -> None:
    with pytest.raises(EntryError):
        journal.add_all([note("x"), Draft("note", {"word": "without a visit"})])
    assert journal.anchors()[0].sequence == 1
