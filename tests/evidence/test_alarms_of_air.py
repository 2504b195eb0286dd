"""Air that people breathe alarms whatever was asked: a rise, a decay, an unvented flame, and words without a figure."""

from dataclasses import replace

import pytest

from fluewright.errors import PhysicsRefused
from fluewright.evidence.breathed import ExposureGiven, SampleGiven
from fluewright.evidence.draft.readings import Draft, DraftReading
from fluewright.evidence.draft.worst_case import WorstCase
from fluewright.evidence.part import Measured, Part
from fluewright.evidence.reading import Instrument
from fluewright.evidence.room import RoomGiven
from fluewright.evidence.room_balance import DecayGiven, RiseGiven
from fluewright.evidence.unvented import UnventedGiven
from fluewright.visit import one_part
from fluewright.visit.room_typed import ROOM, reading

OVEN = UnventedGiven("oven", moment="at temperature", monoxide=reading("900 ppm", "carbon_monoxide_dry"))


def part(given: Measured) -> Part:
    """One part worked out in the United States with a portable instrument."""
    return one_part.answered([given], jurisdiction="US", instrument=Instrument(accuracy="portable")).parts[0]


def grades(given: Measured) -> dict[str, str]:
    """Grade of each finding by its code."""
    return {finding.code: finding.grade for finding in part(given).findings}


def rise(first: str, later: str) -> RiseGiven:
    """A room of 68 m3 that changed in half an hour."""
    return RiseGiven(
        reading(first, ROOM), reading(later, ROOM), reading("30 min", "time_between"), reading("68 m3", "room_volume")
    )


def decay(first: str, later: str) -> DecayGiven:
    """A room that cleared in half an hour."""
    return DecayGiven(reading(first, ROOM), reading(later, ROOM), reading("30 min", "time_between"))


@pytest.mark.parametrize("given", [rise("1 ppm", "200 ppm"), rise("200 ppm", "190 ppm"), decay("200 ppm", "20 ppm")])
def test_the_highest_reading_of_a_balance_is_air_somebody_breathed(given: Measured) -> None:
    assert grades(given)["us-test-stop-co"] == "stop"


def test_the_clearing_room_behind_a_rise_is_judged_too() -> None:
    given = replace(rise("1 ppm", "3 ppm"), decay=decay("300 ppm", "20 ppm"))
    assert grades(given)["us-test-stop-co"] == "stop"


def test_a_low_reading_of_a_balance_clears_nothing() -> None:
    for given in (rise("1 ppm", "3 ppm"), decay("8 ppm", "3 ppm")):
        assert "fine" not in grades(given).values()


@pytest.mark.parametrize("oxygen", [None, "20.9 %", "20.5 %", "falling"])
def test_an_unvented_flame_without_oxygen_beside_it_still_alarms(oxygen: str | None) -> None:
    beside = None if oxygen is None else reading(oxygen, "oxygen_dry")
    assert grades(replace(OVEN, oxygen=beside))["us-z21-oven-co"] == "act"


@pytest.mark.parametrize("oxygen", [None, "20.9 %", "20.5 %", "falling"])
def test_and_never_clears(oxygen: str | None) -> None:
    beside = None if oxygen is None else reading(oxygen, "oxygen_dry")
    low = replace(OVEN, oxygen=beside, monoxide=reading("40 ppm", "carbon_monoxide_dry"))
    (open_still,) = part(low).findings
    assert (open_still.code, open_still.grade) == ("unvented-not-judged", "open")
    assert "oxygen and carbon monoxide together" in open_still.do_next[0]


def test_an_unvented_flame_without_carbon_monoxide_is_named() -> None:
    alone = replace(OVEN, monoxide=None, oxygen=reading("18 %", "oxygen_dry"))
    assert any("carbon monoxide in its gas was not read" in said for said in part(alone).cannot_tell)


def test_the_higher_of_two_rooms_is_judged_wherever_it_was_written() -> None:
    given = replace(OVEN, room_before=reading("90 ppm", ROOM), room_after=reading("3 ppm", ROOM))
    assert grades(given)["us-test-stop-co"] == "stop"


@pytest.mark.parametrize("word", ["rising", "hunting", "3 ppm rising"])
def test_what_climbs_where_people_breathe_is_acted_on(word: str) -> None:
    assert grades(RoomGiven(symptoms="no", zero="outdoors", entry=reading(word, ROOM)))["room-rising"] == "act"
    worn = reading(word, "carbon_monoxide_personal")
    assert grades(RoomGiven(symptoms="no", zero="outdoors", personal=worn))["room-rising"] == "act"
    assert grades(replace(OVEN, room_after=reading(word, ROOM)))["unvented-rising"] == "act"
    delivered = UnventedGiven("direct-fired air heater", delivered=reading(word, "carbon_monoxide_delivered"))
    assert grades(delivered)["unvented-rising"] == "act"
    assert grades(WorstCase((), room=reading(word, ROOM)))["worst-case-rising"] == "stop"


def test_a_word_alone_leaves_the_worst_case_unread() -> None:
    done = part(WorstCase((), room=reading("falling", ROOM)))
    assert any("was not read" in said for said in done.cannot_tell)


@pytest.mark.parametrize("word", ["rising", "falling", "hunting", "-5 Pa falling"])
def test_a_draft_that_moves_stays_open(word: str) -> None:
    given = Draft((DraftReading("breech", reading(word, "draft"), fans="every fan on"),))
    assert grades(given)["draft-moving"] == "open"
    assert ("venting" in part(given).answers) == ("Pa" in word)


def test_a_draft_that_stands_still_has_nothing_to_say_of_it() -> None:
    assert "draft-moving" not in grades(Draft((DraftReading("breech", reading("-5 Pa steady", "draft")),)))


@pytest.mark.parametrize("co", ["100 %", "2 %", ">2000 ppm"])
def test_no_share_is_printed_beyond_what_was_ever_measured(co: str) -> None:
    results = part(ExposureGiven(reading(co, ROOM), reading("60 min", "time_between"))).results
    for key in ("carboxyhaemoglobin", "carboxyhaemoglobin_steady"):
        assert "more than 60 %" in results[key].refused
    assert "leaves its range" in results["carboxyhaemoglobin short form"].refused


def test_the_short_form_turned_round_is_a_floor_for_much_and_bounded() -> None:
    def back(share: str, since: str = "0 min") -> Measured:
        texts = ((share, "carboxyhaemoglobin"), (since, "time_between"), ("4 h", "time_between"))
        return SampleGiven(*(reading(*one) for one in texts))

    assert part(back("9 %")).results["carbon_monoxide_breathed"].bound == ""
    assert part(back("40 %")).results["carbon_monoxide_breathed"].bound == "at least"
    assert "more than all of it" in part(back("90 %", "3 h")).results["carbon_monoxide_breathed"].refused
    assert "bounds nothing" in part(back("<40 %")).results["carbon_monoxide_breathed"].refused
    for share in ("100 %", "20..100 %"):
        with pytest.raises(PhysicsRefused):
            back(share)
