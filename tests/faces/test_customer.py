"""The customer's page: it contradicts no finding, speaks no trade, says who acts, and compares only what can be."""

from dataclasses import replace
from itertools import combinations_with_replacement
from typing import get_args

import pytest
import visits

from fluewright.evidence.finding import PRACTICE, Grade
from fluewright.evidence.reading import Step
from fluewright.report.html import page
from fluewright.report.text import text

ALL_IS_WELL = ("Nobody has to act today", "Nothing that was measured there has to be put right")
GRAVE = {"stop", "act", "advise"}
FOUND = visits.stretch("as found", o2="5 %", co="200 ppm", stack="150 C", air="20 C")
LEFT = visits.stretch("as left", o2="5 %", co="20 ppm", stack="140 C", air="20 C")


@pytest.mark.parametrize("grades", list(combinations_with_replacement(get_args(Grade), 2)))
def test_all_is_well_only_where_nothing_is_grave_or_open(grades: tuple[Grade, Grade]) -> None:
    """Whichever stretch a finding belongs to: an earlier rate that was not mended counts as much as the last."""
    account = visits.visit(FOUND, LEFT)
    findings = [visits.finding(grade, word) for grade, word in zip(grades, ("as found", "as left"), strict=True)]
    said = visits.customer(visits.sheet(account, *findings))
    well = bool(set(grades) & {"fine"}) and not set(grades) & {*GRAVE, "open"}
    assert any(words in said for words in ALL_IS_WELL) == well
    if set(grades) & GRAVE:
        assert "We: " in said


def test_without_carbon_monoxide_nothing_is_well_and_the_page_says_what_was_not_tested() -> None:
    account = visits.visit(visits.stretch("as found", o2="5 %", stack="150 C", air="20 C"))
    said = visits.customer(visits.sheet(account, visits.finding("fine", "as found", "efficiency_gross")))
    assert not any(words in said for words in ALL_IS_WELL)
    assert "Not tested: the carbon monoxide that the flame makes" in said


def test_a_cure_is_said_plainly_with_both_figures() -> None:
    account = visits.visit(FOUND, LEFT)
    lead = "As found: carbon monoxide free of air is over 100 ppm. Cured."
    said = visits.customer(visits.sheet(account, visits.finding("cured", "as found", lead=lead)))
    # 200 ppm at 5 % oxygen is 200 x 20.95 / 15.95 = 263 free of air, 20 ppm is 26; a tenth of that is the rounding
    assert "the flame was making more carbon monoxide than it should: about 26" in said
    assert "parts in a million, where 100 is the most. It was cured today: now about 26." in said


def test_a_cure_by_a_limit_of_practice_claims_no_safety() -> None:
    account = visits.visit(FOUND, LEFT)
    plain = replace(visits.finding("cured", "as found"), clause=PRACTICE)
    said = visits.customer(visits.sheet(account, plain))
    assert "It was cured" not in said
    assert "When we left it was better: now about 26. That alone does not show that all is well." in said


@pytest.mark.parametrize(("code", "part", "key", "words"), [
    ("practice-smoke-advise", "smoke", "papers", "The flame makes soot"),
    ("practice-room-co-stop", "source in the room", "later", "There is carbon monoxide in the air of the room"),
    ("practice-room-co-stop", "oven, at temperature", "room_after", "There is carbon monoxide in the air of the room"),
    ("us-breech-weak", "draft", "breech", "The chimney pulls less than it should"),
])  # fmt: skip
def test_a_limit_put_to_a_part_of_the_job_is_told_in_words_of_the_house(
    code: str, part: str, key: str, words: str
) -> None:
    lead = "Smoke: smoke spot number is over 1; draft at the breech."
    said = visits.customer(visits.sheet(visits.visit(FOUND), visits.finding("act", part, key, code=code, lead=lead)))
    assert words in said
    for trade in ("spot number", "breech", "draft"):
        assert trade not in said


@pytest.mark.parametrize("code", ["made-up", "air-short", "air-generous", "condensing", "inside-zero", "out-of-date"])
def test_no_word_of_the_trade(code: str) -> None:
    account = visits.visit(FOUND, LEFT)
    said = visits.customer(visits.sheet(account, visits.finding("act", "as found", code=code, lead="Trade words.")))
    for word in ("free of air", "air-free", "ppm", "excess air", "stack", "Cured.", "Trade words", "calibration"):
        assert word not in said


def test_we_and_you_each_have_their_part() -> None:
    made = visits.sheet(visits.visit(FOUND), visits.finding("act", "as found"))
    left = made.customer["What is left, and who must act"]
    assert [words[:4] for words in left] == ["You:", "We: "]
    assert "leave the appliance off" in left[0]
    assert "mend it and test again" in left[1]


def test_two_rates_are_not_before_and_after() -> None:
    full = visits.stretch("full rate", o2="5 %", co="20 ppm", stack="150 C", air="20 C")
    low = visits.stretch("low rate", o2="5 %", co="20 ppm", stack="35 C", air="20 C")
    said = visits.customer(visits.sheet(visits.visit(full, low)))
    assert "not before and after" in said
    assert " before, and " not in said
    assert "at low rate" in said


def test_a_band_is_said_as_a_band() -> None:
    """Flue gas at 35 C can have condensed or not, so its efficiency is known between two ends only."""
    account = visits.visit(visits.stretch("as found", o2="5 %", co="20 ppm", stack="35 C", air="20 C"))
    worked = visits.told(account)[0][1]
    assert worked is not None
    result = worked.results["efficiency_gross"]
    assert result.low is not None
    assert result.high is not None
    wanted = f"between {round(result.low * 100)} and {round(result.high * 100)} of each 100 parts"
    assert wanted in visits.customer(visits.sheet(account))


def test_a_day_of_danger_is_short_and_silent_about_efficiency() -> None:
    calm, danger = (
        visits.sheet(visits.visit(FOUND), visits.finding(grade, "as found")) for grade in ("advise", "stop")
    )
    assert len(visits.customer(danger)) < len(visits.customer(calm))
    assert "of each 100 parts" not in visits.customer(danger)
    assert "What this did not buy" not in danger.customer


def test_the_customers_page_begins_with_the_stop_in_every_printing() -> None:
    made = visits.sheet(visits.visit(FOUND), visits.finding("stop", "as found"))
    for printed in (text(made), page(made)):
        page_for = printed[printed.index("The page for the customer") :]
        assert 0 < page_for.index("Stop. Shut it down") < page_for.index("What was found")
    assert page(made).count('role="alert"') == 1


def test_what_is_breathed_stands_before_the_flame() -> None:
    account = visits.visit(visits.stretch("as found", o2="5 %", co="2000 ppm", room_co="85 ppm"))
    flame = visits.finding("stop", "as found", limit="at most 1000 ppm")
    room = visits.finding("stop", "as found", "carbon_monoxide_room", limit="at most 35 ppm")
    made = visits.sheet(account, flame, room)
    assert len(made.stops) == 1
    assert made.stops[0].what.startswith("There is carbon monoxide in the air of the room: about 85 parts in a million")
    assert "The flame makes more carbon monoxide" in made.stops[0].what


def test_air_that_nobody_cleared_is_bad_still() -> None:
    """Read in the room first and never again: it is told as it is now, not as it was."""
    first = visits.stretch("room", o2="5 %", room_co="120 ppm")
    room = visits.finding("stop", "room", "carbon_monoxide_room", limit="at most 35 ppm")
    made = visits.sheet(visits.visit(first, LEFT), room)
    assert made.stops[0].what.startswith("There is carbon monoxide in the air")


def test_steps_are_told_and_a_change_within_the_doubt_is_not() -> None:
    same = visits.stretch("as left", o2="5 %", co="195 ppm", stack="150 C", air="20 C")
    account = visits.visit(FOUND, same, steps=(Step("10:05", "air shutter opened"),))
    changed = visits.sheet(account).customer["What changed"]
    assert changed == ["Air shutter opened."]
    assert "fell from about 26" in visits.customer(visits.sheet(visits.visit(FOUND, LEFT)))
