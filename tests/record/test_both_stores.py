"""The record core on SQLite and on PostgreSQL alike: kept, read, guarded, never taken for whole when it is not."""

from dataclasses import replace

import pytest
from sqlalchemy import text

from fluewright.errors import EntryError, NotAllowed, UseError
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made, opened
from fluewright.record.reading import devices_of
from fluewright.record.settings import Settings
from fluewright.record.store import Store
from postgres import NewPlace, Server
from trust import told

CUSTOMER = {"name": "Invented Person", "street": "1 Nowhere Road", "reference": "K-7"}


def test_what_was_kept_is_read_again(new_place: NewPlace) -> None:
    settings = new_place()
    journal = made(settings, device_name="van")
    kept = journal.add(Draft("customer", CUSTOMER))
    again = opened(settings)
    assert again.wrong == ()
    found = again.journal.entry(kept.id)
    assert found is not None and found.entry == kept and found.body["name"] == "Invented Person"
    assert [each.printed() for each in again.journal.anchors()] == [each.printed() for each in journal.anchors()]
    with journal.store.reading() as connection:
        assert devices_of(connection) == [journal.device]
    with pytest.raises(NotAllowed):
        made(settings, device_name="other")


def test_the_same_draft_twice_is_kept_once(new_place: NewPlace) -> None:
    journal = made(new_place(), device_name="van")
    first = journal.add(Draft("customer", CUSTOMER))
    again = journal.add_all([Draft("customer", CUSTOMER, id=first.id), Draft("settings", {"name": "a", "value": "b"})])
    assert again[0] == first and again[1].sequence == first.sequence + 1


def test_all_of_a_batch_or_nothing(new_place: NewPlace) -> None:
    journal = made(new_place(), device_name="van")
    before = journal.anchors()
    with pytest.raises(EntryError):
        journal.add_all([Draft("customer", CUSTOMER), Draft("customer", {"name": "half\0sign"})])
    assert journal.anchors() == before


CHANGES = [
    "UPDATE entry SET text = '{}'",
    "UPDATE entry SET hash = hash",
    "DELETE FROM entry",
    "DELETE FROM entry WHERE sequence = 1",
    "UPDATE anchor SET hash = 'a'",
    "DELETE FROM anchor",
]
ON_SERVER = [
    "TRUNCATE entry",
    "TRUNCATE anchor",
    "TRUNCATE entry, anchor, secret",
    "TRUNCATE entry RESTART IDENTITY CASCADE",
    "WITH gone AS (DELETE FROM entry RETURNING *) SELECT * FROM gone",
    "MERGE INTO entry AS e USING mark AS m ON true WHEN MATCHED THEN DELETE",
]
UPSERT = (
    "INSERT INTO entry (device, sequence, id, kind, subject, hash, text) "
    "SELECT device, sequence, id, kind, subject, hash, '{}' FROM entry WHERE true "
    "ON CONFLICT (device, sequence) DO UPDATE SET text = excluded.text"
)


def kept_rows(journal: Journal) -> list[tuple[object, ...]]:
    """All that is in the two tables that never change."""
    with journal.store.reading() as connection:
        statements = [text(f"SELECT * FROM {name} ORDER BY 1") for name in ("entry", "anchor")]
        return [tuple(row) for each in statements for row in connection.execute(each)]


def test_nothing_kept_is_changed_or_taken_away(new_place: NewPlace) -> None:
    journal = made(new_place(), device_name="van")
    journal.add(Draft("customer", CUSTOMER))
    with journal.store.writing() as connection:
        row = {"d": journal.device, "h": "a" * 64}
        connection.execute(
            text("INSERT INTO anchor (device, sequence, hash, at, by) VALUES (:d, 1, :h, 'now', 'me')"), row
        )
    before = kept_rows(journal)
    statements = [*CHANGES, UPSERT, *([] if journal.store.settings.is_sqlite() else ON_SERVER)]
    for statement in statements:
        with pytest.raises(NotAllowed) as error, journal.store.writing() as connection:
            connection.execute(text(statement))
        assert error.value.code == "FW-N-001", statement
    assert kept_rows(journal) == before
    kind = "SQLite" if journal.store.settings.is_sqlite() else "PostgreSQL"
    told(7, f"statements that would change an entry, {kind}", tried=len(statements), lost=0)


def test_the_reading_side_cannot_write(new_place: NewPlace) -> None:
    journal = made(new_place(), device_name="van")
    with pytest.raises(EntryError), journal.store.reading() as connection:
        connection.execute(text("INSERT INTO mark (name, value) VALUES ('a', 'b')"))
    read_only = Store(replace(journal.store.settings, read_only=True))
    with pytest.raises(NotAllowed), read_only.writing():
        pass


def test_a_missing_row_opens_for_reading_only(new_place: NewPlace) -> None:
    settings = new_place()
    journal = made(settings, device_name="van")
    for number in range(5):
        journal.add(Draft("settings", {"name": "a", "value": str(number)}))
    with journal.store.writing() as connection:
        sqlite = settings.is_sqlite()
        off = "DROP TRIGGER entry_DELETE" if sqlite else "ALTER TABLE entry DISABLE TRIGGER ALL"
        connection.execute(text(off))
        connection.execute(text("DELETE FROM entry WHERE sequence = 3"))
    again = opened(settings)
    assert any("missing" in sentence for sentence in again.wrong)
    with pytest.raises(NotAllowed):
        again.journal.add(Draft("customer", CUSTOMER))


def test_an_empty_database_is_no_journal(on_postgres: NewPlace) -> None:
    settings = on_postgres()
    assert not Store(settings).is_there()
    with pytest.raises(EntryError) as error:
        opened(settings)
    assert error.value.code == "FW-J-010"


def test_a_server_that_is_not_there_is_told(postgres: Server, on_postgres: NewPlace) -> None:
    settings = on_postgres()
    for address in (
        settings.database.replace(postgres.password, "another"),
        settings.database.replace("/postgres?", "/nowhere?"),
        settings.database.replace(str(postgres.port), "1"),
    ):
        with pytest.raises(EntryError) as error:
            opened(replace(settings, database=address))
        assert error.value.code == "FW-J-060"
        assert postgres.password not in error.value.sentence()


def test_an_odd_address_is_told() -> None:
    with pytest.raises(UseError):
        opened(Settings("nosuchserver+driver://x/y"))


def test_a_writer_who_waits_too_long_is_told(on_postgres: NewPlace) -> None:
    settings = replace(on_postgres(), wait=0.2)
    journal = made(settings, device_name="van")
    other = Journal(Store(settings), journal.device)
    with journal.store.writing(), pytest.raises(EntryError) as error:
        other.add(Draft("settings", {"name": "a", "value": "b"}))
    assert error.value.code == "FW-J-005"
