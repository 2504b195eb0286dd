"""What a limit may say: which texts clear, which only alarm, and how current each of them is."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

import fluewright
from fluewright.errors import Problems, RuleError
from fluewright.evidence import limits
from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Measured, Part
from fluewright.evidence.reading import Appliance, Instrument
from fluewright.evidence.room import RoomGiven
from fluewright.evidence.safety import Proof, SafetyProofs
from fluewright.evidence.unvented import UnventedGiven
from fluewright.rules import bans, currency, duties, load
from fluewright.visit import one_part
from fluewright.visit.room_typed import ROOM, reading

WELL = RoomGiven(symptoms="no", entry=reading("2 ppm", ROOM), zero="outdoors")
TODAY = date(2026, 11, 25)


def part(given: Measured, place: str = "US") -> Part:
    """One part worked out at a place."""
    return one_part.answered([given], jurisdiction=place, instrument=Instrument(accuracy="portable")).parts[0]


def by_code(done: Part) -> dict[str, Finding]:
    return {finding.code: finding for finding in done.findings}


def grades(done: Part) -> set[str]:
    return {finding.grade for finding in done.findings}


def test_what_breaks_off_a_test_or_guards_workers_clears_no_home() -> None:
    done = part(WELL)
    assert {"us-test-stop-co", "us-niosh-ceiling"}.isdisjoint(by_code(done))
    assert grades(done) == {"open"}
    assert done.answers == {"room air"}
    high = by_code(part(replace(WELL, entry=reading("70 ppm", ROOM))))
    assert high["us-test-stop-co"].grade == "stop"


def test_nine_ppm_is_kept_only_with_the_doubt_added() -> None:
    close = by_code(part(replace(WELL, entry=reading("8 ppm", ROOM))))["practice-room-co-advise"]
    assert "too close to 9" in close.lead


def losses(output: float, stack: str, fuel: str = "natural-gas") -> dict[str, Finding]:
    """Findings on flue loss of a plant in Germany."""
    given = fluewright.answered(
        fuel=fluewright.load_fuel(fuel),
        readings=fluewright.readings_of({"o2": "5 %", "co": "10 ppm", "stack": stack, "air": "18 C"}),
        appliance=Appliance("boiler", output=output),
        instrument=Instrument(accuracy="statutory"),
        steady="90 s",
        jurisdiction="DE",
    )
    return {one.code: one for one in given.verdict.judged.findings if "bimschv-loss" in one.code}


def test_every_law_of_flue_loss_is_asked_and_each_counts_doubt_its_own_way() -> None:
    both = losses(950e3, "200 C")
    assert set(both) == {"de-1bimschv-loss-above", "de-44bimschv-loss"}
    assert both["de-1bimschv-loss-above"].grade == "fine", "the first deducts the uncertainty"
    assert "once its doubt is deducted" in both["de-1bimschv-loss-above"].lead
    assert both["de-44bimschv-loss"].grade == "advise", "the second compares the bare result"
    assert "heat input" in both["de-44bimschv-loss"].body
    assert set(losses(2e6, "200 C")) == {"de-44bimschv-loss"}
    assert set(losses(60e3, "200 C")) == {"de-1bimschv-loss-above"}


def test_a_bare_result_near_its_limit_is_inside_and_not_fine() -> None:
    near = losses(2e6, "195 C")["de-44bimschv-loss"]
    assert near.grade == "open"
    assert "inside 9" in near.lead
    assert "by the bare result" in near.lead
    assert losses(2e6, "120 C")["de-44bimschv-loss"].grade == "fine"


def test_a_text_that_a_later_edition_replaced_clears_nothing() -> None:
    read = [one for one in load.limits() if one.known == "read" and one.layer in ("law", "programme")]
    replaced = [one for one in read if one.id.startswith(("us-ca-", "us-mn-"))]
    assert {one.current for one in replaced} == {"superseded"}
    assert not [one.id for one in replaced if limits.clears(one)]
    assert {one.id for one in read if one.current != "superseded" and not one.only_alarms} == {
        one.id for one in load.limits() if limits.clears(one)
    }


def test_common_practice_has_no_text_and_every_text_has_its_currency() -> None:
    for one in load.limits():
        assert (one.current == "no text") == (one.known == "common practice, no source"), one.id


def test_currency_stands_behind_the_edition_wherever_a_clause_is_shown() -> None:
    clause = losses(60e3, "260 C")["de-1bimschv-loss-above"].clause
    assert clause.text_of.endswith("13 October 2021, in force on 1 March 2022")


HEATER = UnventedGiven(kind="unvented heater")


@pytest.mark.parametrize(
    ("place", "building", "code", "grade"),
    [
        ("US-CA", "dwelling", "us-ca-unvented-ban", "act"),
        ("US-CA", "manufactured home", "us-ca-unvented-ban", "act"),
        ("US-CA", "", "us-ca-unvented-ban", "open"),
        ("US-MN", "voucher housing", "us-voucher-unvented-ban", "act"),
        ("US", "manufactured home", "us-mh-vented-only", "act"),
    ],
)
def test_a_heater_the_law_forbids_is_told_before_any_reading(place: str, building: Any, code: str, grade: str) -> None:
    found = by_code(part(replace(HEATER, building=building), place))[code]
    assert found.grade == grade
    assert "ask the authority" in found.do_next[0]
    replaced = not currency.stands(bans_of_code(code).current)
    assert ("superseded" in found.body) == replaced


def bans_of_code(code: str) -> bans.Ban:
    return next(one for one in bans.bans() if one.id == code)


def test_no_ban_speaks_elsewhere_or_of_an_oven() -> None:
    ids = {one.id for one in bans.bans()}
    assert not ids & set(by_code(part(replace(HEATER, building="dwelling"), "DE")))
    assert not ids & set(by_code(part(replace(HEATER, building="dwelling"), "US")))
    assert not ids & set(by_code(part(replace(HEATER, building="other"), "US-CA")))
    assert not ids & set(by_code(part(replace(HEATER, kind="oven", building="dwelling"), "US-CA")))


def test_a_room_must_be_large_enough_for_what_burns_into_it() -> None:
    """California 802.2.1: 20 Btu/h for each ft3, that is 50 ft3 for each 1,000 Btu/h."""
    small = replace(HEATER, inputs=reading("30 kBtu/h", "fuel_input"), room_volume=reading("1000 ft3", "room_volume"))
    done = part(small, "US-CA")
    assert by_code(done)["us-ca-unvented-loading"].grade == "act"
    assert done.results["room_volume_per_input"].value == pytest.approx(1000 * 0.3048**3 / (30e3 * 1055.056 / 3600))
    large = replace(small, room_volume=reading("3000 ft3", "room_volume"))
    assert by_code(part(large, "US-CA"))["us-ca-unvented-loading"].grade == "open", "superseded: it clears nothing"


@pytest.mark.parametrize(
    ("old", "new"), [('kinds = ["a"]', 'kinds = "a"'), ('severity = "act"', 'severity = "dire"'), ("only", "lonely")]
)
def test_a_ban_is_read_strictly(old: str, new: str) -> None:
    text = """[[bans]]
id = "x"
kinds = ["a"]
buildings = ["b"]
only = "o"
severity = "act"
jurisdiction = "US"
layer = "law"
citation = { document = "d", clause = "c", edition = "e" }
known = "read"
current = "not known"
valid_from = "unknown"
valid_until = "open"
text = "Words."
"""
    assert bans.bans_of(text=text, file="x.toml")[0].kinds == ("a",)
    with pytest.raises((RuleError, Problems)):
        bans.bans_of(text=text.replace(old, new), file="x.toml")


def windows(place: str, fuel: str, burner: str, **typed: str) -> dict[str, str]:
    """Grades of what a state's law says of a flue, by code."""
    given = fluewright.answered(
        fuel=fluewright.load_fuel(fuel),
        readings=fluewright.readings_of({"co": "10 ppm", "air": "70 F", **typed}),
        appliance=Appliance("boiler", burner=burner, output=30e3),
        instrument=Instrument(accuracy="statutory"),
        steady="90 s",
        jurisdiction=place,
    )
    return {one.code: one.grade for one in given.verdict.judged.findings if one.code in WINDOW_ROWS}


WINDOW_ROWS = {one.id for one in load.book("us-flue-windows").limits}


def test_the_windows_of_minnesota_and_california_warn_and_clear_nothing() -> None:
    gas, oil = ("US-MN", "natural-gas", "natural draft"), ("US-CA", "oil-no-2", "oil pressure jet")
    assert windows(*gas, o2="7 %", stack="350 F") == {}
    assert windows(*gas, o2="11 %", stack="350 F") == {"us-mn-o2-high": "advise"}
    assert windows(*gas, co2="5 %", stack="350 F")["us-mn-co2-low"] == "advise"
    assert windows(*gas, o2="7 %", stack="600 F")["us-mn-stack"] == "advise"
    assert windows(*gas, o2="9 %", stack="800 F")["us-mn-efficiency"] == "advise"
    assert windows(*oil, o2="2 %", stack="450 F") == {"us-ca-oil-o2-low": "advise", "us-ca-oil-o2-least": "act"}
    assert windows(*oil, co2="14.5 %", stack="450 F")["us-ca-oil-co2-high"] == "advise"
    assert windows("US", "oil-no-2", "oil pressure jet", o2="2 %", stack="450 F") == {}


@pytest.mark.usefixtures("standing")
def test_a_window_that_stands_may_clear() -> None:
    found = windows("US-MN", "natural-gas", "natural draft", o2="7 %", stack="350 F")
    assert set(found.values()) == {"fine"}
    assert {"us-mn-o2-low", "us-mn-o2-high", "us-mn-stack", "us-mn-efficiency"} == set(found)


def test_a_pilot_guard_slower_than_the_law_is_told_whatever_its_plate_says() -> None:
    slow = SafetyProofs((Proof("pilot-flame-guard", True, figure=reading("120 s", "trip_time")),))
    assert by_code(part(slow, "US-CA"))["us-ca-pilot-shutoff"].grade == "advise"
    assert "us-ca-pilot-shutoff" not in by_code(part(slow, "US-MN"))
    quick = SafetyProofs((Proof("pilot-flame-guard", True, figure=reading("40 s", "trip_time")),))
    assert "us-ca-pilot-shutoff" not in by_code(part(quick, "US-CA")), "superseded: it clears nothing"


def test_britain_asks_for_an_examination_on_the_day_of_the_work() -> None:
    duty = duties.duty("gb-after-work")
    assert duties.last_day(duty, TODAY) == TODAY
    assert duty in duties.of_place("GB")
