"""Whoever can write the file bends it so that each part looks right: the check says what was done."""

from collections.abc import Callable
from pathlib import Path

import pytest
from made import new_journal, visit_in

from fluewright.record.check import every, structure
from fluewright.record.erase import erased
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made, opened
from fluewright.record.sync import answered, synced
from postgres import NewPlace

Statement = str


def bent(journal: Journal, *statements: Statement) -> None:
    """Statements of somebody with the file in hand."""
    with journal.store.writing() as connection:
        for each in statements:
            connection.exec_driver_sql(each)


GUARDS = {
    "a guard that lets everything through": (
        "DROP TRIGGER entry_UPDATE",
        "CREATE TRIGGER entry_UPDATE BEFORE UPDATE ON entry WHEN 0 BEGIN SELECT 1; END",
    ),
    "a trigger that drops dangers": (
        "CREATE TRIGGER quiet BEFORE INSERT ON entry WHEN NEW.kind = 'notice' BEGIN SELECT RAISE(IGNORE); END",
    ),
    "a trigger that drops names": (
        "CREATE TRIGGER nameless AFTER INSERT ON secret BEGIN DELETE FROM secret WHERE salt = NEW.salt; END",
    ),
    "a view in the place of a table": (
        "ALTER TABLE anchor RENAME TO elsewhere",
        "CREATE VIEW anchor AS SELECT * FROM elsewhere WHERE 0",
    ),
}


@pytest.mark.parametrize("name", GUARDS)
def test_guards_are_looked_at_and_not_their_names(tmp_path: Path, name: str) -> None:
    journal, _ = new_journal(tmp_path)
    assert structure(journal.store).wrong == []
    bent(journal, *GUARDS[name])
    assert structure(journal.store).wrong != [] and every(journal.store).wrong != []


ON_SERVER = {
    "a guard that lets everything through": (
        "CREATE OR REPLACE FUNCTION append_only() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END'",
    ),
    "a guard of fewer statements": (
        "CREATE OR REPLACE TRIGGER entry_guard BEFORE DELETE ON entry EXECUTE FUNCTION append_only()",
    ),
    "a rule that drops dangers": (
        "CREATE RULE quiet AS ON INSERT TO entry WHERE NEW.kind = 'notice' DO INSTEAD NOTHING",
    ),
    "a guard that sleeps": ("ALTER TABLE entry DISABLE TRIGGER entry_guard",),
}


@pytest.mark.parametrize("name", ON_SERVER)
def test_guards_on_a_server_are_looked_at(new_place: NewPlace, name: str) -> None:
    journal = made(new_place(), device_name="invented")
    assert structure(journal.store).wrong == []
    if journal.store.settings.is_sqlite():
        return
    bent(journal, *ON_SERVER[name])
    assert structure(journal.store).wrong != []


def test_a_text_taken_away_without_an_erasure_is_told(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    other, _ = new_journal(tmp_path, "other")
    journal.add(Draft("customer", {"name": "Wendeline Ashgrove"}))
    synced(journal, lambda request: answered(other, request))
    bent(journal, "DELETE FROM secret")
    bent(other, "DELETE FROM secret")
    (said,) = every(journal.store).wrong
    assert "entry 2" in said and "no erasure says so" in said
    assert every(other.store).wrong == []
    assert any("1 texts about people" in each for each in every(other.store).unknown)


def test_a_text_put_back_after_it_was_erased_is_told_and_taken_away(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    other, _ = new_journal(tmp_path, "other")
    customer = journal.add(Draft("customer", {"name": "Wendeline Ashgrove"})).id
    with journal.store.reading() as connection:
        row = connection.exec_driver_sql("SELECT commitment, salt, value FROM secret").one()
    erased(journal, customer, because="asked for")
    assert not any("erasure names" in each for each in every(journal.store).unknown)
    bent(journal, "INSERT INTO secret VALUES ('{}', '{}', '{}')".format(*row))
    assert any("1 texts about people are here that an erasure names" in each for each in every(journal.store).unknown)
    synced(journal, lambda request: answered(other, request))
    assert journal.entry(customer).body["name"] == "(erased)"  # type: ignore[union-attr]


def test_two_texts_swapped_are_told(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    for name in ("Wendeline", "Barnaby"):
        journal.add(Draft("customer", {"name": name}))
    bent(journal, "UPDATE secret SET value = CASE value WHEN 'Barnaby' THEN 'Wendeline' ELSE 'Barnaby' END")
    assert len(every(journal.store).wrong) == 2


INSIDE: dict[str, Callable[[str], dict[str, object]]] = {
    "kind": lambda _: {"a": "x", "kind": "note", "observed": ""},
    "visit": lambda other: {"table": {"a": "", "visit": other}, "device": "x"},
}


@pytest.mark.parametrize("name", INSIDE)
def test_words_within_a_body_do_not_pass_for_its_columns(tmp_path: Path, name: str) -> None:
    """A table in the body holds what the column is then changed to say."""
    journal, _ = new_journal(tmp_path)
    visit, other = visit_in(journal), visit_in(journal)
    line = journal.add(Draft("line", {"visit": visit, "table": "flue", "typed": INSIDE[name](other)}))
    guard = "DROP TRIGGER entry_UPDATE"
    with journal.store.reading() as connection:
        made_so = connection.exec_driver_sql("SELECT sql FROM sqlite_master WHERE name = 'entry_UPDATE'").scalar_one()
    change = {"kind": "kind = 'note'", "visit": f"subject = '{other}'"}[name]
    bent(journal, guard, f"UPDATE entry SET {change} WHERE id = '{line.id}'", made_so)
    (said,) = every(journal.store).wrong
    assert f"entry {line.sequence}" in said and "filed under another" in said


def test_the_farthest_witness_counts_and_not_the_last_one(tmp_path: Path) -> None:
    """Somebody who has less speaks last; what another had seen before is still missed."""
    journal, _ = new_journal(tmp_path)
    visit_in(journal)
    far = journal.anchors()[0]
    with journal.store.reading() as connection:
        row = connection.exec_driver_sql("SELECT hash FROM entry WHERE sequence = 2").one()
        near = (far.device, 2, row[0])
    told = "INSERT INTO anchor (device, sequence, hash, at, by) VALUES ('{}', {}, '{}', '', '{}')"
    bent(journal, told.format(far.device, far.sequence, far.hash, "shop"), told.format(*near, "stick"))
    bent(journal, "DROP TRIGGER entry_DELETE", f"DELETE FROM entry WHERE sequence = {far.sequence}")
    journal.store.close()
    journal.store.side_file().unlink()
    assert any("short of the anchor" in sentence for sentence in opened(journal.store.settings).wrong)
