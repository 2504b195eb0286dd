"""Which visits a thing has had: by appliance, instrument, site and customer, in pages, struck-out ones left out."""

from pathlib import Path

import pytest
from views_kit import change, new_journal

from fluewright.record import elsewhere
from fluewright.record.backup import backed_up
from fluewright.record.draft import Draft
from fluewright.record.journal import Journal
from fluewright.record.views import shop, visited, visits
from fluewright.record.views.catching_up import looked_at


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return new_journal(tmp_path)


def visit(journal: Journal, day: str, **body: object) -> str:
    return journal.add(Draft("visit", {"title": f"visit of {day}", "day": day, **body})).id


def found(journal: Journal, thing: str, **more: int) -> list[str]:
    with looked_at(journal.store) as connection:
        return [row["day"] for row in visited.of_these(connection, {"thing": [thing]}, **{"most": 10, **more})]


def test_an_appliance_finds_its_visits_however_they_name_it(journal: Journal) -> None:
    boiler = journal.add(Draft("appliance", {"words": "boiler"})).id
    visit(journal, "2024-11-01", appliances=[boiler])
    second = visit(journal, "2025-11-01")
    journal.add(Draft("stretch", {"visit": second, "word": "as found", "appliance": boiler}))
    visit(journal, "2026-11-01")
    assert found(journal, boiler) == ["2025-11-01", "2024-11-01"]


def test_an_instrument_finds_the_visits_it_read_on(journal: Journal) -> None:
    meter = journal.add(Draft("instrument", {"words": "analyser"})).id
    one = visit(journal, "2025-11-01")
    value = {"typed": "4 %", "quantity": "oxygen_dry"}
    reading = Draft("reading", {"visit": one, "name": "oxygen_dry", "value": value, "instrument": meter})
    kept = journal.add(reading).id
    assert found(journal, meter) == ["2025-11-01"]
    journal.add(change(kept))
    assert found(journal, meter) == [], "what is struck out ties nothing"


def test_the_list_comes_in_pages_and_without_struck_out_visits(journal: Journal) -> None:
    boiler = journal.add(Draft("appliance", {"words": "boiler"})).id
    ids = [visit(journal, f"2025-{month:02}-01", appliances=[boiler]) for month in range(1, 13)]
    journal.add(change(ids[-1]))
    assert found(journal, boiler, most=3) == ["2025-11-01", "2025-10-01", "2025-09-01"]
    assert found(journal, boiler, most=3, after=9) == ["2025-02-01", "2025-01-01"]
    with looked_at(journal.store) as connection:
        assert visited.count_of(connection, {"thing": [boiler]}) == 11
        assert visited.days_of(connection, {"thing": [boiler]}) == ("2025-01-01", "2025-11-01")


def test_open_dangers_of_a_thing_leave_with_their_closing(journal: Journal) -> None:
    site = journal.add(Draft("site", {"address": "Made-up Street 1"})).id
    one = visit(journal, "2025-11-01", site=site)
    notice = journal.add(Draft("notice", {"visit": one, "words": "spills", "consent": "yes"})).id
    with looked_at(journal.store) as connection:
        assert [row["id"] for row in visited.dangers_of(connection, {"site": [site]})] == [notice]
        assert visited.dangers_of(connection, {"site": ["another"]}) == []
    journal.add(Draft("notice closed", {"of": notice, "because": "mended", "visit": one}))
    with looked_at(journal.store) as connection:
        assert visited.dangers_of(connection, {"site": [site]}) == []


def test_planned_visits_come_nearest_first_and_are_not_begun(journal: Journal) -> None:
    for day in ("2026-12-09", "2026-11-20", "2026-12-01"):
        visit(journal, day)
    with looked_at(journal.store) as connection:
        assert [row["day"] for row in visits.planned(connection, "2026-11-25")] == ["2026-12-01", "2026-12-09"]
        assert [row["day"] for row in visits.begun(connection, "2026-11-25")] == ["2026-11-20"]


def test_the_last_setting_counts_and_a_struck_one_gives_way(journal: Journal) -> None:
    journal.add(Draft("settings", {"name": "shop name", "value": "first"}))
    last = journal.add(Draft("settings", {"name": "shop name", "value": "second"})).id
    with looked_at(journal.store) as connection:
        assert shop.settled(connection) == {"shop name": "second"}
    journal.add(change(last))
    with looked_at(journal.store) as connection:
        assert shop.settled(connection) == {"shop name": "first"}


def test_what_is_only_here_is_counted_until_a_copy_holds_it(journal: Journal, tmp_path: Path) -> None:
    visit(journal, "2026-11-25")
    before = elsewhere.of(journal)
    assert before.entries == 2, "the device itself and the visit"
    assert before.copied == ""
    backed_up(journal, tmp_path / "copies")
    assert elsewhere.of(journal).entries == 0
    assert len(elsewhere.copies(journal)) == 1
    visit(journal, "2026-11-26")
    after = elsewhere.of(journal)
    assert after.entries == 1
    assert after.since
