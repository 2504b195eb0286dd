"""What was tried on an instrument during a visit: what it takes from its readings, and what the sheet and plan say."""

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from doubted_shop import tree

from fluewright.errors import Problems, VisitError
from fluewright.evidence.checked import zero_place
from fluewright.evidence.checked_doubts import doubts
from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.origins import spread_of
from fluewright.evidence.reading import Account
from fluewright.record.fold import current
from fluewright.record.today import not_kept
from fluewright.report.text import text
from fluewright.visit import as_entries, file, from_entries, work
from fluewright.visit.plan import plan_of
from fluewright.visit.shorthand import understood
from fluewright.visit.source import Source

OUT = {"what": "zero", "time": "09:40", "place": "outdoors", "oxygen": "20.9 %", "monoxide": "0 ppm", "on": "12 min"}


def account(*checks: dict[str, str], monoxide: int = 20, **instrument: str) -> Account:
    """One visit with what was tried on its instrument."""
    found: dict[str, Any] = tree(1, date(2026, 3, 3), monoxide, "5.0")
    del found["instrument"]["zero"]
    found["instrument"] |= {"check": list(checks), **instrument}
    return file.taken(Source(Path("visit"), found))


def codes(found: Account) -> set[str]:
    """What speaks against the instrument."""
    return {one.code for one in doubts(found)} | (
        {"inside-zero"} if any(f.code == "inside-zero" for f in work.judged(found).judged.findings) else set()
    )


def sheet(found: Account) -> str:
    """The sheet in one line of words."""
    return " ".join(text(work.judged(found).sheet(), plain=True).replace("|", " ").split())


def test_a_zero_outdoors_speaks_against_nothing_and_the_sheet_says_which_where_and_when() -> None:
    found = account(OUT)
    assert codes(found) == set()
    assert found.instrument.zero == "outdoors"
    said = sheet(found)
    assert "09:40 Zero taken outdoors, 12 min after switching on: oxygen 20.9" in said
    assert "no closing zero was taken outdoors" in said


@pytest.mark.parametrize(
    ("check", "code"),
    [
        (OUT | {"place": "inside"}, "inside-zero"),
        (OUT | {"oxygen": "20.1 %"}, "zero-air"),
        (OUT | {"on": "2 min"}, "cold-zero"),
        (OUT | {"monoxide": "25 ppm"}, "zero-moved"),
        ({"what": "closing zero", "place": "outdoors", "monoxide": "24 ppm"}, "zero-moved"),
        ({"what": "closing zero", "place": "outdoors", "monoxide": "-24 ppm"}, "zero-moved"),
        ({"what": "leak", "result": "leaks"}, "hose-leaks"),
        ({"what": "response", "response": "120 s"}, "slow-cell"),
        ({"what": "cross-check", "here": "30 ppm", "there": "90 ppm", "other": "the second meter"}, "two-apart"),
    ],
)
def test_what_was_found_wrong_with_the_instrument_lets_nothing_be_cleared(check: dict[str, str], code: str) -> None:
    """A law of the place that was read clears 20 ppm from a sound instrument, and nothing from this one."""
    sound, doubted = account(OUT), account(check)
    assert code in codes(doubted)
    german = [replace(each, jurisdiction="DE") for each in (sound, doubted)]
    fine = [[f for f in work.judged(each).judged.findings if f.grade == "fine"] for each in german]
    assert fine[0], "the sound one must clear something, or this test shows nothing"
    assert not fine[1]


def test_a_small_drift_adds_doubt_on_the_side_where_the_truth_may_lie_and_is_printed() -> None:
    plain = account(OUT)
    high = account(OUT, {"what": "closing zero", "place": "outdoors", "monoxide": "12 ppm"})
    low = account(OUT, {"what": "closing zero", "place": "outdoors", "monoxide": "-12 ppm"})
    spreads = [
        spread_of(each.stretches[0].readings["carbon_monoxide_dry"], each.instrument) for each in (plain, high, low)
    ]
    extra = (12e-6) ** 2 / 3.0
    assert spreads[1][0] == pytest.approx((spreads[0][0] ** 2 + extra) ** 0.5)
    assert spreads[1][1] == pytest.approx(spreads[0][1])
    assert spreads[2][1] == pytest.approx((spreads[0][1] ** 2 + extra) ** 0.5)
    assert spreads[2][0] == pytest.approx(spreads[0][0])
    assert "12 ppm too high: readings may be up to that much too high, and their doubt counts it" in sheet(high)
    assert codes(high) == set()


def test_a_closing_zero_indoors_proves_nothing() -> None:
    found = account(OUT, {"what": "closing zero", "place": "inside", "monoxide": "30 ppm"})
    assert codes(found) == set()
    assert "closing zero was taken indoors, where nobody knows the air" in sheet(found)


@pytest.mark.parametrize(("cell", "asks"), [("partial pressure", True), ("unknown", True), ("capillary", False)])
def test_a_barometer_that_changed_by_more_than_one_percent_asks_for_a_new_zero(cell: str, asks: bool) -> None:
    found: dict[str, Any] = tree(1, date(2026, 3, 3), 20, "5.0")
    found["instrument"] |= {"check": [OUT | {"altitude": "300 m"}], "oxygen_cell": cell}
    found["place"] = {"altitude": "1500 m"}
    said = doubts(file.taken(Source(Path("visit"), found)))
    assert [one.code for one in said] == (["zero-elsewhere"] if asks else [])
    if asks:
        assert "shows 4.3 % where 5.0 % is" in said[0].body  # practice P6


def test_within_one_percent_the_zero_stands() -> None:
    found: dict[str, Any] = tree(1, date(2026, 3, 3), 20, "5.0")
    found["instrument"] |= {"check": [OUT | {"altitude": "300 m"}]}
    found["place"] = {"altitude": "370 m"}
    assert doubts(file.taken(Source(Path("visit"), found))) == ()


def test_the_least_believable_zero_counts_unless_it_was_replaced_before_the_first_reading() -> None:
    inside, outdoors = (account(OUT | {"place": place, "time": time}).instrument.checks[0]
                        for place, time in (("inside", "09:00"), ("outdoors", "09:30")))  # fmt: skip
    assert zero_place("", (inside, outdoors), "10:00") == "outdoors"
    assert zero_place("", (inside, outdoors), "09:10") == "inside"
    assert zero_place("", (inside, outdoors), "") == "inside"
    assert zero_place("inside", (), "10:00") == "inside"
    assert zero_place("", (), "10:00") == ""


def test_the_plan_asks_for_zero_leak_check_and_closing_zero_and_ticks_what_was_entered() -> None:
    def done(*checks: dict[str, str]) -> dict[str, bool]:
        lines = {line.key: line.done for line in plan_of(replace(account(*checks), route="annual")).lines}
        return {key: lines[key] for key in ("opening-zero", "leak-check", "closing-zero")}

    assert done() == {"opening-zero": False, "leak-check": False, "closing-zero": False}
    assert done(OUT | {"place": "inside"})["opening-zero"] is False
    assert done({"what": "leak", "result": "leaks"})["leak-check"] is False
    closing = {"what": "closing zero", "place": "outdoors", "monoxide": "1 ppm"}
    assert set(done(OUT, {"what": "leak", "result": "tight"}, closing).values()) == {True}


def test_checks_come_back_from_their_entries_as_they_were_typed() -> None:
    found: dict[str, Any] = tree(1, date(2026, 3, 3), 20, "5.0")
    rows = [OUT | {"altitude": "520 m"}, {"what": "leak", "result": "tight", "how": "bulb held 30 s"},
            {"what": "cross-check", "gas": "o2", "here": "5.0", "there": "5.3", "other": "the other"}]  # fmt: skip
    found["instrument"]["check"] = rows
    read = Source(Path("visit"), found)
    file.taken(read)
    entries = current(not_kept(as_entries.drafts_of(read, file.FORM)))
    assert from_entries.tree_of(entries, file.FORM)["instrument"]["check"] == rows


@pytest.mark.parametrize(
    ("typed", "fields"),
    [
        ("zero outdoors o2 20.9 co 0 on 12 min altitude 520 m",
         {"what": "zero", "place": "outdoors", "oxygen": "20.9", "monoxide": "0", "on": "12 min", "altitude": "520 m"}),
        ("closing zero outdoors co -2 ppm at 10:40",
         {"what": "closing zero", "place": "outdoors", "monoxide": "-2 ppm", "time": "10:40"}),
        ("zero doorway", {"what": "zero", "place": "doorway"}),
        ("leak check tight, bulb held 30 s", {"what": "leak", "result": "tight", "how": "bulb held 30 s"}),
        ("leak check leaks", {"what": "leak", "result": "leaks"}),
        ("response 43 s", {"what": "response", "response": "43 s"}),
        ("beside the second meter: 38 ppm here, 45 ppm there",
         {"what": "cross-check", "other": "the second meter", "here": "38 ppm", "there": "45 ppm"}),
    ],
)  # fmt: skip
def test_a_try_is_one_typed_line(typed: str, fields: dict[str, str]) -> None:
    found = understood(typed)
    assert (found.table, dict(found.fields)) == ("instrument.check", fields)


@pytest.mark.parametrize("typed", ["zero outdoors and then some", "zero outdoors co", "zero upstairs co 0"])
def test_a_line_understood_in_part_is_refused(typed: str) -> None:
    with pytest.raises(VisitError):
        understood(typed)


@pytest.mark.parametrize("check", [{"what": "zero"}, {"what": "leak"}, {"what": "closing zero", "place": "outdoors"}])
def test_a_check_that_does_not_say_what_it_found_is_refused(check: dict[str, str]) -> None:
    with pytest.raises(Problems) as caught:
        account(check)
    assert {one.code for one in caught.value.errors} == {"FW-V-098"}


def test_a_worn_meter_clears_although_the_analyser_was_zeroed_in_that_air() -> None:
    """Practice P5: what was tried on the analyser says nothing of a second, independent meter."""
    found = account(OUT | {"place": "inside", "monoxide": "9 ppm"}, OUT | {"oxygen": "20.1 %"})
    assert doubts(found)
    clears = Finding("law-room", "fine", "The air is within its limit.", "", (("room air", "personal"),), PHYSICS)
    own = replace(clears, evidence=(("room air", "entry"),))
    assert work._believed(clears, found, of_air=True).grade == "fine"
    assert work._believed(own, found, of_air=True).grade == "open"
    assert work._believed(replace(clears, evidence=()), found, of_air=True).grade == "open"
    late = replace(found, instrument=replace(found.instrument, due=date(2020, 1, 1)))
    assert work._believed(clears, late, of_air=True).grade == "open"
