"""One zero in the morning for several visits of the day: entered once, taken over by each, said on its sheet."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fluewright.record.journal import Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.report.text import text
from fluewright.visit import adding, day_zero, kept, shelf, work

DAY = "2026-11-25"
ROW = {"what": "zero", "place": "outdoors", "time": "07:30", "on": "12 min", "oxygen": "20.9 %", "monoxide": "0 ppm"}


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    found = made(Settings(str(tmp_path / "journal.db")), device_name="test")
    yield found
    found.store.close()


def begun(journal: Journal, words: str = "the grey meter", day: str = DAY, **instrument: str) -> str:
    """A visit begun with an instrument."""
    tables = {"visit": {"title": "invented", "date": day}, "appliance": {"words": "invented boiler"},
              "fuel": {"name": "natural gas"}, "instrument": {"words": words, **instrument}}  # fmt: skip
    return kept.begun(journal, tables).id


def zeros(journal: Journal, visit: str) -> list[dict[str, str]]:
    """The zeros of a visit as its tables have them."""
    rows = kept.tables_of(journal, visit)["instrument"].get("check", [])
    return [dict(row) for row in rows if row["what"] == "zero"]


def test_each_visit_of_that_instrument_and_day_takes_it_over_and_says_so(journal: Journal) -> None:
    meter = shelf.entered(journal, "the grey meter").id
    shelf.entered(journal, "the other meter")
    shelf.tried(journal, meter, ROW, day=DAY)
    for _ in range(2):
        visit = begun(journal)
        (row,) = zeros(journal, visit)
        assert row["how"] == day_zero.ONCE
        assert row["time"] == "07:30"
        adding.added(journal, visit, "o2 5.0 co 20 stack 190 C air 20 C", time="10:05")
        account = kept.account_of(journal, visit)
        assert account.instrument.zero == "outdoors"
        said = " ".join(text(work.judged(account).sheet(), plain=True).replace("|", " ").split())
        assert day_zero.ONCE in said
    assert not zeros(journal, begun(journal, words="the other meter"))
    assert not zeros(journal, begun(journal, day="2026-11-26"))


def test_a_zero_of_its_own_comes_before_that_of_the_day(journal: Journal) -> None:
    meter = shelf.entered(journal, "the grey meter").id
    shelf.tried(journal, meter, ROW, day=DAY)
    visit = begun(journal, zero="inside")
    assert not zeros(journal, visit)


def test_of_two_zeros_of_a_day_the_last_counts(journal: Journal) -> None:
    meter = shelf.entered(journal, "the grey meter").id
    shelf.tried(journal, meter, {**ROW, "place": "inside"}, day=DAY)
    shelf.tried(journal, meter, {**ROW, "time": "08:10"}, day=DAY)
    assert [row["place"] for row in zeros(journal, begun(journal))] == ["outdoors"]


def test_a_visit_begun_before_takes_it_over_unless_something_was_read(journal: Journal) -> None:
    meter = shelf.entered(journal, "the grey meter").id
    waiting, worked = begun(journal), begun(journal)
    adding.added(journal, worked, "o2 5.0 co 20", time="10:05")
    shelf.tried(journal, meter, ROW, day=DAY)
    assert len(zeros(journal, waiting)) == 1
    assert not zeros(journal, worked)


def test_a_leak_check_is_no_zero_and_stays_where_it_is(journal: Journal) -> None:
    meter = shelf.entered(journal, "the grey meter").id
    visit = begun(journal)
    shelf.tried(journal, meter, {"what": "leak", "result": "tight"}, day=DAY)
    assert "check" not in kept.tables_of(journal, visit)["instrument"]
