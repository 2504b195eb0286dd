"""What a limit may say: which texts clear, which only alarm, and how current each of them is."""

from dataclasses import replace
from datetime import date

import pytest

import fluewright
from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Measured, Part
from fluewright.evidence.reading import Appliance, Instrument
from fluewright.evidence.room import RoomGiven
from fluewright.rules import currency, load
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


@pytest.mark.usefixtures("compared")
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
    assert both["de-1bimschv-loss-above"].grade == "open", "the first deducts the uncertainty"
    assert "once its doubt is deducted" in both["de-1bimschv-loss-above"].lead
    assert both["de-44bimschv-loss"].grade == "advise", "the second compares the bare result"
    assert "heat input" in both["de-44bimschv-loss"].body
    assert set(losses(2e6, "200 C")) == {"de-44bimschv-loss"}
    assert set(losses(60e3, "200 C")) == {"de-1bimschv-loss-above"}


@pytest.mark.usefixtures("compared")
def test_a_bare_result_near_its_limit_is_inside_and_not_fine() -> None:
    near = losses(2e6, "195 C")["de-44bimschv-loss"]
    assert near.grade == "open"
    assert "inside 9" in near.lead
    assert "by the bare result" in near.lead
    assert losses(2e6, "120 C")["de-44bimschv-loss"].grade == "fine"


def test_no_text_read_here_was_compared_with_the_one_in_force_today() -> None:
    """The day a row of the books is compared, it may clear, and this list tells which."""
    read = [one for one in load.limits() if one.known == "read" and one.layer in ("law", "programme")]
    assert not [one.id for one in read if currency.stands(one.current, TODAY)]
    assert {one.current for one in read if one.id.startswith("us-ca-")} == {"superseded"}


def test_common_practice_has_no_text_and_every_text_has_its_currency() -> None:
    for one in load.limits():
        assert (one.current == "no text") == (one.known == "common practice, no source"), one.id


def test_currency_stands_behind_the_edition_wherever_a_clause_is_shown() -> None:
    clause = losses(60e3, "260 C")["de-1bimschv-loss-above"].clause
    assert clause.text_of.endswith("13 October 2021, in force on 1 March 2022")
