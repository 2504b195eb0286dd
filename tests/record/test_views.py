"""Views: they show what stands now, in whatever order and portions the entries came, and never what was erased."""

import random
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import delete, insert, select
from views_kit import change, copied, new_journal, rows

from fluewright import clock
from fluewright.errors import NotAllowed
from fluewright.record.entry import Entry
from fluewright.record.journal import Draft, Journal, keep
from fluewright.record.opening import opened
from fluewright.record.personal import ERASED, Private
from fluewright.record.reading import last_of
from fluewright.record.settings import Settings
from fluewright.record.tables import SECRET
from fluewright.record.views import catching_up, due, notices, readings, shop, states, visits
from fluewright.record.views.catching_up import catch_up, forget, forget_erased, looked_at, rebuild, unread
from fluewright.record.views.frame import ERASING, STATE
from fluewright.record.views.looking_up import found
from fluewright.simulate.shop import Invented


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return new_journal(tmp_path)


def visit(journal: Journal, **fields: Any) -> Entry:
    return journal.add(Draft("visit", {"title": "no heat", "day": "2026-11-25", **fields}))


OTHER: dict[str, dict[str, Any]] = {
    "visit": {"title": "other words"},
    "customer": {"name": Private("Wug Bexnix")},
    "reading": {"point": "cell 3"},
    "appliance": {"serial": "NEW-1"},
}


def filled(journal: Journal) -> int:
    """An invented shop with amendments and strike-outs of many of its entries, of some by way of each other."""
    chance = random.Random(7)
    entries = [entry for portion in Invented().portions() for entry in journal.add_all(portion)]
    changes: list[Entry] = []
    for entry in chance.sample(entries, 60):
        changes.append(journal.add(change(entry.id, **OTHER.get(entry.kind, {}))))
    for entry in chance.sample(changes, 20):
        changes.append(journal.add(change(entry.id)))
    return journal.add(change(changes[-1].id)).sequence


def test_views_show_what_stands_now(journal: Journal) -> None:
    customer = journal.add(Draft("customer", {"name": "Zubba Quomoor", "street": "7 Wugtock Lane"}))
    gone = journal.add(Draft("customer", {"name": "Ogrolli Vexnix"}))
    journal.add_all([change(customer.id, name=Private("Zubba Quomoor-Vant")), change(gone.id)])
    with looked_at(journal.store) as connection:
        names = connection.scalars(select(shop.CUSTOMER.c.name)).all()
    assert names == ["Zubba Quomoor-Vant"]


def test_any_order_and_any_portions_give_the_same_rows(
    journal: Journal, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    count = filled(journal)
    whole = rows(journal)
    assert len(whole["view_reading"]) > 200 and whole["view_change"]
    rebuild(journal.store)
    assert rows(journal) == whole
    chance = random.Random(8)
    for attempt in range(4):
        order = list(range(1, count))
        chance.shuffle(order)
        other = new_journal(tmp_path, f"other {attempt}")
        monkeypatch.setattr(catching_up, "PORTION", chance.choice([7, 50, 333]))
        monkeypatch.setattr(catching_up, "REST", 0)
        for start in range(0, count, 200):
            copied_part = order[start : start + 200]
            copied(journal, other, copied_part) if start == 0 else _more(journal, other, copied_part)
            catch_up(other.store)
        assert rows(other) == whole


def _more(journal: Journal, other: Journal, order: list[int]) -> None:
    with other.store.writing() as connection:
        connection.execute(delete(SECRET))
    copied(journal, other, order)


def test_a_changed_version_folds_that_view_again(journal: Journal, monkeypatch: pytest.MonkeyPatch) -> None:
    filled(journal)
    whole = rows(journal)
    for name in ("search", "visits", states.FRAME_NAME):
        monkeypatch.setitem(states.VERSIONS, name, "newer")
        assert rows(journal) == whole
        with journal.store.reading() as connection:
            assert connection.scalar(select(STATE.c.version).where(STATE.c.name == name)) == "newer"


def test_the_state_of_a_visit(journal: Journal) -> None:
    one, two, three, four = (visit(journal) for _ in range(4))
    note = journal.add(Draft("note", {"visit": two.id, "word": "soot"}))
    journal.add_all([change(four.id), change(note.id, word=Private("much soot"))])
    seal = {"content": "0" * 64, "signature": "00", "key": "00", "meaning": "done"}
    journal.add_all([Draft("seal", {"visit": each.id, **seal}) for each in (two, three)])
    journal.add(change(note.id, word=Private("little soot")))
    with looked_at(journal.store) as connection:
        states = dict(connection.execute(select(visits.VISIT.c.id, visits.VISIT.c.state)).all())
        assert [row.id for row in visits.newest(connection)] == [three.id, two.id, one.id]
    expected = {one.id: "open", two.id: "sealed, with amendments", three.id: "sealed", four.id: "struck out"}
    assert states == expected


def test_a_notice_leaves_the_list_only_by_being_closed(journal: Journal) -> None:
    where = visit(journal).id
    body = {"visit": where, "words": "flue is open", "consent": "yes"}
    first, second = journal.add_all([Draft("notice", body), Draft("notice", body)])
    journal.add(change(first.id))
    with looked_at(journal.store) as connection:
        assert [(row.id, row.struck) for row in notices.still_open(connection)] == [
            (first.id, True),
            (second.id, False),
        ]
    closed = journal.add(Draft("notice closed", {"of": first.id, "because": "flue renewed"}))
    with looked_at(journal.store) as connection:
        assert [row.id for row in notices.still_open(connection)] == [second.id]
    journal.add(change(closed.id))
    with looked_at(journal.store) as connection:
        assert len(notices.still_open(connection)) == 2


def test_what_is_due(journal: Journal) -> None:
    instrument = journal.add(Draft("instrument", {"words": "analyser"}))
    for day, again in (("2025-06-01", "2026-06-01"), ("2026-05-20", "2027-05-20")):
        journal.add(Draft("calibration", {"instrument": instrument.id, "day": day, "due": again}))
    journal.add(Draft("next", {"visit": visit(journal).id, "word": "sweep the flue", "due": "2026-12-01"}))
    journal.add(Draft("due", {"what": "ask about the alarm", "due": "2026-11-30"}))
    with looked_at(journal.store) as connection:
        assert [(row.day, row.what) for row in due.until(connection)] == [
            ("2026-11-30", "ask about the alarm"), ("2026-12-01", "sweep the flue"), ("2027-05-20", "calibrate again"),
        ]  # fmt: skip
        assert len(due.until(connection, "2026-12-01")) == 2
        (told,) = shop.instruments(connection)
    assert (told.calibrated, told.due) == ("2026-05-20", "2027-05-20")


def test_readings_know_their_appliance_by_the_stretch_or_the_visit(journal: Journal) -> None:
    one, two = journal.add_all([Draft("appliance", {"words": word}) for word in ("boiler", "furnace")])
    where = visit(journal, appliances=[one.id])
    stretch = journal.add(Draft("stretch", {"visit": where.id, "word": "as left", "appliance": two.id}))
    value = {"typed": "4.30 %", "quantity": "oxygen_dry"}
    body = {"visit": where.id, "name": "oxygen_dry", "value": value}
    journal.add_all([Draft("reading", body), Draft("reading", {**body, "stretch": stretch.id})])
    with looked_at(journal.store) as connection:
        assert [row.typed for row in readings.last(connection, one.id)] == ["4.30 %"]
        assert len(readings.last(connection, two.id, name="oxygen_dry")) == 1
        assert not readings.last(connection, two.id, name="draft")


def test_the_last_forty_are_the_newest_by_when_they_were_seen(journal: Journal) -> None:
    appliance = journal.add(Draft("appliance", {"words": "boiler"}))
    where = visit(journal, appliances=[appliance.id])
    order = list(range(60))
    random.Random(2).shuffle(order)
    body = {"visit": where.id, "name": "draft"}
    drafts = [
        Draft(
            "reading", {**body, "value": {"typed": str(at), "quantity": "draft"}}, clock.now().replace(year=1970 + at)
        )
        for at in order
    ]
    journal.add_all(drafts)
    with looked_at(journal.store) as connection:
        assert [row.typed for row in readings.last(connection, appliance.id)] == [str(at) for at in range(59, 19, -1)]


def newer(journal: Journal, kind: str, version: int) -> None:
    """An entry as a newer version of the program would write it."""
    with journal.store.writing() as connection:
        last = last_of(connection, journal.device)
        assert last is not None
        now = journal.now().isoformat()
        body = {"visit": clock.new_id(), "word": "of things to come"}
        keep(connection, Entry(clock.new_id(), kind, version, journal.device, last.sequence + 1, last.hash, now, "",
                               journal.device, "typed", body))  # fmt: skip


def test_kinds_of_a_newer_program_are_kept_and_counted(journal: Journal) -> None:
    newer(journal, "scent", 1)
    newer(journal, "scent", 1)
    newer(journal, "note", 9)
    for _ in range(2):
        with looked_at(journal.store) as connection:
            told = [(row.kind, row.version, row.entries) for row in unread(connection)]
        assert told == [("note", 9, 1), ("scent", 1, 2)]
        rebuild(journal.store)


def test_a_journal_for_reading_only_has_its_views_in_memory(journal: Journal) -> None:
    filled(journal)
    whole = rows(journal)
    rebuild(journal.store)
    settings = Settings(journal.store.settings.database, read_only=True)
    other = opened(settings).journal
    assert rows(other) == whole
    with pytest.raises(NotAllowed):
        rebuild(other.store)


def test_what_was_erased_is_in_no_view_and_in_no_byte_of_the_file(journal: Journal) -> None:
    customers = journal.add_all(
        [
            Draft("customer", {"name": f"Zubba{n:03} Quomoor{n:03}", "street": f"{n} Wugtock{n:03} Lane"})
            for n in range(200)
        ]
    )
    where = journal.add(
        Draft("visit", {"title": "no heat", "day": "2026-11-25", "customer_name": "Zubba077 Quomoor077"})
    )
    catch_up(journal.store)
    bodies = [customers[77].body, where.body]
    commitments = [value["commitment"] for body in bodies for value in body.values() if isinstance(value, dict)]
    assert len(commitments) == 4  # name, street; title and customer of the visit
    with journal.store.writing() as connection:
        connection.execute(delete(SECRET).where(SECRET.c.commitment.in_(commitments)))
        forget(connection, commitments)
    with looked_at(journal.store) as connection:
        assert not found(connection, "Quomoor077") and not found(connection, "Wugtock077")
        assert found(connection, "Quomoor078") and not found(connection, "heat")
        assert ERASED in connection.scalars(select(shop.CUSTOMER.c.name)).all()
    journal.store.close()
    path = journal.store.settings.path()
    held = b"".join(each.read_bytes() for each in path.parent.iterdir() if each.is_file())
    for word in (b"ubba077", b"uomoor077", b"ugtock077"):
        assert word not in held.lower()
    assert b"ubba078" in held.lower()


def test_an_erasure_that_came_from_another_device_is_heeded_when_the_value_goes(journal: Journal) -> None:
    """Whether the views are brought up before the value is taken away, or after."""
    first, second = journal.add_all([Draft("customer", {"name": name}) for name in ("Zubba Quomoor", "Ogrolli Vexnix")])
    catch_up(journal.store)
    for customer, early in ((first, True), (second, False)):
        word = {first.id: "Quomoor", second.id: "Vexnix"}[customer.id]
        commitments = [customer.body["name"]["commitment"]]
        journal.add(Draft("erasure", {"commitments": commitments, "because": "asked for"}))
        if early:
            with looked_at(journal.store) as connection:
                assert found(connection, word)
        with journal.store.writing() as connection:
            connection.execute(delete(SECRET).where(SECRET.c.commitment.in_(commitments)))
        forget_erased(journal.store)
        with journal.store.reading() as connection:
            assert not found(connection, word)
            assert not connection.scalars(select(ERASING.c.commitment)).all()


def test_a_damaged_entry_is_counted_and_hides_no_other(journal: Journal) -> None:
    from fluewright.record.tables import ENTRY

    with journal.store.writing() as connection:
        connection.execute(
            insert(ENTRY).values(device="d", sequence=1, id="x", kind="note", subject="y", hash="", text="{")
        )
    visit(journal)
    with looked_at(journal.store) as connection:
        assert [(row.kind, row.entries) for row in unread(connection)] == [("not an entry", 1)]
        assert len(visits.newest(connection)) == 1
