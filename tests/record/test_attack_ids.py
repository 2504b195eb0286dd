"""Somebody takes the id of another's entry: nothing that was kept is read otherwise, and it is told."""

import subprocess
import sys
from pathlib import Path

import pytest
from forger import Forger
from made import new_journal, reading, seal_of, visit_in

from fluewright import clock
from fluewright.errors import EntryError
from fluewright.record.check import every
from fluewright.record.erase import erased, held
from fluewright.record.erased import left_in, obeyed
from fluewright.record.export import exported
from fluewright.record.journal import Draft, Journal
from fluewright.record.seal_check import verified
from fluewright.record.sync import answered, synced, taken_from
from fluewright.record.tables import ENTRY
from fluewright.record.views.catching_up import looked_at
from fluewright.record.views.readings import READING

OTHER_VALUE = {"typed": "4 ppm", "quantity": "oxygen_dry_fraction"}


def meet(one: Journal, other: Journal) -> None:
    """An exchange with nothing between the two."""
    synced(one, lambda request: answered(other, request))


def test_a_reading_under_the_id_of_another_is_not_read_for_it(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    visit = visit_in(journal)
    mine = reading(journal, visit, "400 ppm")
    seal_of(journal, visit, key)
    forger = Forger()
    forger.say("reading", {"visit": visit, "name": "oxygen_dry_fraction", "value": OTHER_VALUE}, id=mine)
    assert taken_from(journal, forger.lines).new == 2

    assert journal.entry(mine).body["value"]["typed"] == "400 ppm"  # type: ignore[union-attr]
    typed = [read.body["value"]["typed"] for read in journal.of_subject(visit) if read.entry.kind == "reading"]
    assert typed == ["4.3 %", "38 ppm", "400 ppm"]
    with looked_at(journal.store) as connection:
        assert "4 ppm" not in str(connection.execute(READING.select()).all())
    verdict = verified(journal, visit)
    assert verdict.holds and [later.entry.device for later in verdict.later] == [forger.device]
    said = every(journal.store).unknown
    assert any(mine in sentence and "do not say the same" in sentence for sentence in said)


def test_an_honest_seal_holds_where_the_other_came_first(tmp_path: Path) -> None:
    """On a store that got the other entry first, and in an export, where it stands first."""
    journal, key = new_journal(tmp_path)
    office, _ = new_journal(tmp_path, "office")
    visit = visit_in(journal)
    mine = reading(journal, visit, "400 ppm")
    seal_of(journal, visit, key)
    forger = Forger()
    forger.say("reading", {"visit": visit, "name": "oxygen_dry_fraction", "value": OTHER_VALUE}, id=mine)
    taken_from(office, forger.lines)
    meet(journal, office)
    for each in (journal, office):
        assert verified(each, visit).holds, verified(each, visit).sentences()
    folder = exported(office, tmp_path / "export").folder
    run = subprocess.run([sys.executable, "-I", "-S", folder / "verify_seals.py"], capture_output=True, text=True)
    assert run.returncode == 0, run.stdout


def test_erasing_reaches_what_two_devices_kept_under_one_id(tmp_path: Path) -> None:
    one, _ = new_journal(tmp_path, "one")
    other, _ = new_journal(tmp_path, "other")
    told = Draft("customer", {"name": "Twinname Person"}, id=clock.new_id())
    one.add(told)
    other.add(told)
    meet(one, other)
    erased(other, told.id, because="asked for")
    assert left_in(other.store.settings.path(), [b"Twinname"]) == set()
    meet(one, other)
    assert left_in(one.store.settings.path(), [b"Twinname"]) == set()


def test_a_hold_keeps_what_two_devices_kept_under_one_id(tmp_path: Path) -> None:
    one, _ = new_journal(tmp_path, "one")
    other, _ = new_journal(tmp_path, "other")
    told = Draft("customer", {"name": "Twinname Person"}, id=clock.new_id())
    one.add(told)
    other.add(told)
    meet(one, other)
    held(one, told.id, because="asked for by a court")
    erased(other, told.id, because="asked for")
    meet(one, other)
    obeyed(one)
    with one.store.reading() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM secret WHERE value LIKE 'Twinname%'").scalar() == 2


def test_other_words_under_an_id_that_was_kept_are_refused_and_not_acknowledged(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    visit = visit_in(journal)
    first = Draft("note", {"visit": visit, "word": "the fan is loose"}, id=clock.new_id())
    kept = journal.add(first)
    assert journal.add(first) == kept
    for draft in (
        Draft("note", {"visit": visit, "word": "the fan was tightened"}, id=kept.id),
        Draft("done", {"visit": visit, "word": "the fan is loose"}, id=kept.id),
    ):
        with pytest.raises(EntryError, match="something else was kept"):
            journal.add(draft)
    with journal.store.reading() as connection:
        assert len(connection.execute(ENTRY.select().where(ENTRY.c.id == kept.id)).all()) == 1
    erased(journal, visit, because="asked for")
    assert journal.add(first) == kept  # of an erased text nobody knows whether it was another
