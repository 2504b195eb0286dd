"""A journal that a newer version of the program wrote: read as far as it goes, counted, never written to."""

import json
from pathlib import Path

import pytest
from sqlalchemy import insert, update
from views_kit import new_journal

from fluewright import clock
from fluewright.cli.main import main
from fluewright.errors import NotAllowed, RecordDamaged
from fluewright.record.canonical import canonical, digest
from fluewright.record.entry import Entry
from fluewright.record.journal import Draft, Journal, keep
from fluewright.record.opening import opened
from fluewright.record.reading import last_of
from fluewright.record.settings import Settings
from fluewright.record.tables import ENTRY, MARK
from fluewright.record.views.catching_up import looked_at, unread


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    made = new_journal(tmp_path)
    made.add(Draft("visit", {"title": "no heat", "day": "2026-11-25"}))
    for kind, version in (("scent", 1), ("scent", 1), ("note", 9)):
        _newer(made, kind, version)
    return made


def _newer(journal: Journal, kind: str, version: int) -> None:
    with journal.store.writing() as connection:
        last = last_of(connection, journal.device)
        assert last is not None
        now, body = journal.now().isoformat(), {"visit": clock.new_id(), "word": "of things to come"}
        number = last.sequence + 1
        keep(
            connection,
            Entry(clock.new_id(), kind, version, journal.device, number, last.hash, now, "", "p", "typed", body),
        )


def _of_a_newer_form(journal: Journal, form: str = "fluewright journal 2") -> Settings:
    """The store marked as of another form, with one entry in an envelope of that form."""
    with journal.store.writing() as connection:
        connection.execute(update(MARK).where(MARK.c.name == "form").values(value=form))
        last = last_of(connection, journal.device)
        assert last is not None
        text = canonical({"form": 2, "kind": "scent", "version": 3, "more": "than before"})
        connection.execute(insert(ENTRY).values(device=journal.device, sequence=last.sequence + 1, id=clock.new_id(),
                                                kind="scent", subject="", hash=digest(text), text=text))  # fmt: skip
    return journal.store.settings


def test_entries_of_unknown_kinds_are_kept_and_counted_and_the_journal_is_worked_on(journal: Journal) -> None:
    found = opened(journal.store.settings)
    assert not found.wrong and not found.newer
    found.journal.add(Draft("visit", {"title": "one more", "day": "2026-11-25"}))
    with looked_at(found.journal.store) as connection:
        assert [(row.kind, row.version, row.entries) for row in unread(connection)] == [("note", 9, 1), ("scent", 1, 2)]


def test_a_store_of_a_newer_form_opens_for_reading_only_with_a_count(journal: Journal) -> None:
    found = opened(_of_a_newer_form(journal))
    assert not found.wrong
    assert "newer version" in found.newer and "3 entries of kinds" in found.newer and "3 of 'scent'" in found.newer
    with pytest.raises(NotAllowed) as met:
        found.journal.add(Draft("visit", {"title": "x", "day": "2026-11-25"}))
    assert met.value.code == "FW-N-002"
    with looked_at(found.journal.store) as connection:
        told = [(row.kind, row.version, row.entries) for row in unread(connection)]
    assert told == [("note", 9, 1), ("scent", 1, 2), ("scent", 3, 1)]


def test_the_commands_say_so_and_find_what_they_understand(
    journal: Journal, capsys: pytest.CaptureFixture[str]
) -> None:
    path = _of_a_newer_form(journal).database
    assert main(["journal", "find", "heat", "--journal", path]) == 0
    said = capsys.readouterr()
    assert "no heat" in said.out
    assert "open for reading only: it was written by a newer version" in said.err
    assert "1 entry of the kind 'note', form 9: written by a newer version, not shown" in said.err
    assert main(["journal", "rebuild", "--journal", path]) == 5


@pytest.mark.parametrize("form", ["", "something else", "fluewright journal 0", "fluewright journal x"])
def test_what_is_no_journal_is_not_taken_for_a_newer_one(journal: Journal, form: str) -> None:
    with pytest.raises(RecordDamaged):
        opened(_of_a_newer_form(journal, form))


def test_json_of_the_questions(journal: Journal, capsys: pytest.CaptureFixture[str]) -> None:
    path = journal.store.settings.database
    visit = next(journal.of_kind("visit")).entry.id
    journal.add(Draft("notice", {"visit": visit, "words": "flue is open", "consent": "refused"}))
    journal.add(Draft("next", {"visit": visit, "word": "sweep the flue", "due": "2026-12-01"}))
    assert main(["journal", "find", "haet", "--json", "--journal", path]) == 0
    assert json.loads(capsys.readouterr().out)[0]["id"] == visit
    assert main(["journal", "due", "--journal", path]) == 0
    assert "2026-12-01" in (out := capsys.readouterr().out) and "sweep the flue; no heat" in out
    assert main(["journal", "due", "--until", "2026-11-30", "--journal", path]) == 0
    assert capsys.readouterr().out == "nothing is due up to 2026-11-30\n"
    assert main(["journal", "notices", "--journal", path]) == 1
    assert "flue is open; no heat; consent: refused" in capsys.readouterr().out
    assert main(["journal", "rebuild", "--journal", path]) == 0
    assert "7 entries read; 3 that this version cannot read" in capsys.readouterr().out
