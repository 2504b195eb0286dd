"""The air of a room: people first, what clears and what cannot, floors, means, source, ovens, exposure."""

from dataclasses import replace
from datetime import date

import pytest

from fluewright.errors import FluewrightError, PhysicsRefused
from fluewright.evidence.breathed import ExposureGiven, SampleGiven
from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Measured, Part
from fluewright.evidence.reading import Instrument
from fluewright.evidence.room import RoomGiven
from fluewright.evidence.room_balance import DecayGiven, RiseGiven
from fluewright.evidence.room_people import Alarm
from fluewright.evidence.unvented import UnventedGiven
from fluewright.visit import one_part, room_typed
from fluewright.visit.room_typed import ROOM, reading

ROOM_WELL = RoomGiven(symptoms="no", entry=reading("2 ppm", ROOM), zero="outdoors")


def part(given: Measured, place: str = "US", accuracy: str = "portable") -> Part:
    """One part worked out at a place."""
    verdict = one_part.answered([given], jurisdiction=place, instrument=Instrument(accuracy=accuracy))
    return verdict.parts[0]


def by_code(done: Part) -> dict[str, Finding]:
    return {finding.code: finding for finding in done.findings}


def grades(done: Part) -> set[str]:
    return {finding.grade for finding in done.findings}


def test_where_no_text_was_read_nothing_is_fine() -> None:
    assert grades(part(ROOM_WELL, place="")) == {"open"}


@pytest.mark.parametrize("entry", ["0 ppm", "3 ppm", "90 ppm"])
def test_people_come_first_whatever_was_read(entry: str) -> None:
    done = part(replace(ROOM_WELL, symptoms="yes", entry=reading(entry, ROOM)))
    first = done.findings[0]
    assert (first.code, first.grade) == ("people-first", "stop")
    assert "out into fresh air" in first.do_now[0]
    assert any("medical" in words for words in first.do_now)
    assert "fine" not in grades(done)


def test_people_come_first_on_the_sheet() -> None:
    verdict = one_part.answered([replace(ROOM_WELL, symptoms="yes")])
    (stop,) = verdict.sheet(brief=True).stops
    assert stop.order == "Stop. Get everybody out."
    assert stop.do[0].startswith("Everybody out into fresh air")
    assert not any("go" in words.split() and "turn" in words.split() for words in stop.do[:3])


def test_nobody_asked_stays_open() -> None:
    assert by_code(part(replace(ROOM_WELL, symptoms="not asked")))["people-not-asked"].grade == "open"


@pytest.mark.parametrize("zero", ["inside", ""])
def test_a_zero_indoors_or_unnamed_clears_nothing(zero: str) -> None:
    done = part(replace(ROOM_WELL, zero=zero))
    assert "fine" not in grades(done)
    if zero == "inside":
        assert done.results["carbon_monoxide_highest"].bound == "at least"
        assert by_code(done)["room-zero-inside"].grade == "open"


def test_a_zero_indoors_still_alarms() -> None:
    done = part(replace(ROOM_WELL, zero="inside", entry=reading("60 ppm", ROOM)))
    assert by_code(done)["us-test-stop-co"].grade == "stop"


def test_a_worn_meter_zeroed_outdoors_clears_what_an_inside_zero_cannot() -> None:
    worn = reading("1 ppm", "carbon_monoxide_personal")
    inside = replace(ROOM_WELL, zero="inside", personal=worn)
    first = by_code(part(inside))["practice-room-co-advise"]
    second = by_code(part(replace(inside, personal_zero="outdoors")))["practice-room-co-advise"]
    assert first.lead.endswith("may be over 9\u202fppm.")
    assert second.lead.endswith("is below 9\u202fppm, but this cannot clear it.")


def test_two_meters_that_differ_clear_nothing_and_the_higher_alarms() -> None:
    worn = reading("70 ppm", "carbon_monoxide_personal")
    done = part(replace(ROOM_WELL, personal=worn, personal_zero="outdoors"))
    assert by_code(done)["us-test-stop-co"].grade == "stop"
    assert "fine" not in grades(done)


@pytest.mark.parametrize("entry", ["rising", "hunting"])
def test_a_word_alone_answers_nothing(entry: str) -> None:
    done = part(replace(ROOM_WELL, entry=reading(entry, ROOM)))
    assert not done.answers
    assert any("absence of a reading is never safe" in words for words in done.cannot_tell)


def test_without_any_reading_the_topic_stays_open() -> None:
    done = part(RoomGiven(symptoms="no"))
    assert not done.answers
    assert done.statements[-1].mark == "unknown"


@pytest.mark.parametrize(
    ("alarm", "said"),
    [
        (Alarm("here", "UL 2034", sounded="no"), "70 ppm"),
        (Alarm("here", "EN 50291-1", sounded="no"), "50 ppm"),
        (Alarm("here", sounded="no"), "70 ppm"),
    ],
)
def test_a_silent_alarm_proves_nothing_below_its_first_point(alarm: Alarm, said: str) -> None:
    finding = by_code(part(replace(ROOM_WELL, alarms=(alarm,))))["alarm-silent"]
    assert finding.grade == "open"
    assert said in finding.lead.replace("\u202f", " ")


def test_alarms_that_sounded_are_mute_old_or_missing() -> None:
    bad = Alarm("here", tested="no", sounded="yes", made=date(2010, 1, 1))
    found = by_code(part(replace(ROOM_WELL, alarms=(bad,))))
    assert found["alarm-sounded"].grade == "act"
    assert found["alarm-mute"].grade == found["alarm-old"].grade == "advise"
    assert by_code(part(replace(ROOM_WELL, without_alarm=True)))["alarm-missing"].grade == "advise"


def test_a_rise_over_outdoors_is_told_only_beyond_its_doubt() -> None:
    outdoor = reading("1 ppm", "carbon_monoxide_outdoor")
    high = part(replace(ROOM_WELL, entry=reading("25 ppm", ROOM), outdoor=outdoor))
    assert by_code(high)["room-rise"].grade == "advise"
    low = part(replace(ROOM_WELL, outdoor=outdoor))
    assert "room-rise" not in by_code(low)
    assert any("within what the cell can tell" in words for words in low.cannot_tell)


def test_outdoor_air_is_not_taken_off_the_reading() -> None:
    outdoor = reading("30 ppm", "carbon_monoxide_outdoor")
    done = part(replace(ROOM_WELL, entry=reading("60 ppm", ROOM), outdoor=outdoor))
    assert by_code(done)["us-test-stop-co"].grade == "stop"


def test_means_and_exposure_of_a_short_watch() -> None:
    watch = room_typed.readings_of("10:00 0; 10:10 30; 10:15 30")
    done = part(RoomGiven(symptoms="no", zero="outdoors", readings=watch))
    assert done.results["carbon_monoxide_mean_15_min"].value == pytest.approx(20e-6)
    assert done.results["carbon_monoxide_exposure"].value == pytest.approx(300 * 6e-5)
    assert "carbon_monoxide_mean_8_h" not in done.results
    assert any("8 hours" in words for words in done.cannot_tell)


def test_one_cell_errs_alike_so_a_mean_has_the_doubt_of_a_reading() -> None:
    texts = "; ".join(f"{minute} min 20" for minute in range(16))
    many = part(RoomGiven(readings=room_typed.readings_of(texts)))
    few = part(RoomGiven(readings=room_typed.readings_of("0 min 20; 15 min 20")))
    name = "carbon_monoxide_mean_15_min"
    assert many.results[name].above == pytest.approx(few.results[name].above, rel=1e-9)


def test_a_bound_makes_the_mean_a_floor_and_never_a_value() -> None:
    done = part(RoomGiven(readings=room_typed.readings_of("0 min 10; 10 min >200; 20 min <1")))
    for name in ("carbon_monoxide_mean_15_min", "carbon_monoxide_exposure", "carbon_monoxide_highest"):
        assert done.results[name].bound == "at least", name


def test_a_ceiling_that_does_not_matter_leaves_the_mean_a_value() -> None:
    done = part(RoomGiven(readings=room_typed.readings_of("0 min <1; 15 min 40; 30 min 40")))
    assert done.results["carbon_monoxide_mean_30_min"].bound == ""


def test_gaps_are_named_and_make_the_exposure_a_floor() -> None:
    done = part(RoomGiven(readings=room_typed.readings_of("9:00 10; 9:30 10; 12:00 10; 12:30 10")))
    assert any("150 min" in words for words in done.cannot_tell)
    assert done.results["carbon_monoxide_exposure"].bound == "at least"
    assert done.results["carbon_monoxide_exposure"].value == pytest.approx(600 * 6e-5)


def test_what_was_highest_is_at_least_that() -> None:
    moved = part(RoomGiven(readings=room_typed.readings_of("0 min 10; 15 min 12")))
    assert moved.results["carbon_monoxide_highest"].bound == "at least"
    assert part(ROOM_WELL).results["carbon_monoxide_highest"].bound == ""


def eight_hours(ppm: float) -> RoomGiven:
    texts = "; ".join(f"{hour} h {ppm:g}" for hour in range(9))
    return RoomGiven(symptoms="no", zero="outdoors", readings=room_typed.readings_of(texts))


@pytest.mark.parametrize(("ppm", "beyond"), [(9.4, False), (9.45, True), (9.49, True), (9.6, True)])
def test_the_outdoor_law_rounds_twice(ppm: float, beyond: bool) -> None:
    """40 CFR 50.8(c), (d), read: to one decimal, then whole numbers, half up."""
    found = by_code(part(eight_hours(ppm)))
    assert ("us-naaqs-co-8h" in found and found["us-naaqs-co-8h"].grade == "advise") == beyond


def test_an_outdoor_law_clears_nothing_indoors() -> None:
    indoors, outdoors = eight_hours(1.0), replace(eight_hours(1.0), where="outdoors")
    of_mean = {"us-naaqs-co-8h", "us-naaqs-co-1h"}
    assert not [f for f in part(indoors).findings if f.code in of_mean and f.grade == "fine"]
    assert [f for f in part(outdoors).findings if f.code in of_mean and f.grade == "fine"]


def test_limits_of_work_speak_at_work_only_and_superseded_ones_nowhere() -> None:
    at_work = replace(eight_hours(60.0), where="work space")
    codes = set(by_code(part(at_work, place="DE")))
    assert "de-agw-co-8h" in codes or "eu-oel-co-8h" in codes
    assert "de-agw-co-8h-2023" not in codes
    assert not {code for code in by_code(part(eight_hours(60.0), place="DE")) if "agw" in code or "oel" in code}


def test_a_ceiling_of_work_is_asked_at_work() -> None:
    high = replace(ROOM_WELL, entry=reading("250 ppm", ROOM), where="work space")
    assert {f.grade for f in part(high, place="US-CA").findings if f.code == "us-ca-ceiling-co"} <= {"stop"}


RISE = RiseGiven(
    reading("1 ppm", ROOM),
    reading("41 ppm", ROOM),
    reading("1 h", "time_between"),
    reading("50 m3", "room_volume"),
    reading("0 1/h", "air_changes"),
)


def test_a_sealed_room_gives_volume_times_rise() -> None:
    done = part(RISE)
    assert done.results["carbon_monoxide_source"].value == pytest.approx(50.0 * 40e-6 / 3600.0)
    assert done.results["carbon_monoxide_steady"].refused


def test_unknown_air_changes_make_the_source_a_floor() -> None:
    done = part(replace(RISE, air_changes=None))
    assert done.results["carbon_monoxide_source"].bound == "at least"
    assert any("more is let in" in words for words in done.cannot_tell)


def test_a_room_that_goes_past_the_limit_is_told() -> None:
    done = part(replace(RISE, air_changes=reading("0.5 1/h", "air_changes")))
    assert by_code(done)["room-heads-for"].grade == "act"
    assert 0.0 < (done.results["time_to_level stop"].value or 0.0) < 3600.0


def test_air_changes_read_from_the_clearing_room_go_into_the_source() -> None:
    decay = DecayGiven(reading("40 ppm", ROOM), reading("20 ppm", ROOM), reading("1 h", "time_between"))
    done = part(replace(RISE, air_changes=None, decay=decay))
    assert done.results["air_changes"].value == pytest.approx(0.6931472 / 3600.0)
    assert done.results["carbon_monoxide_source"].bound == ""


def test_a_room_that_fell_shows_no_source() -> None:
    fell = replace(RISE, first=reading("40 ppm", ROOM), later=reading("5 ppm", ROOM))
    assert "no source shows" in part(fell).results["carbon_monoxide_source"].refused


@pytest.mark.parametrize(
    ("first", "later", "over", "outdoor"),
    [("40", "40", "1 h", "0"), ("20", "40", "1 h", "0"), ("40", "5", "1 h", "6"), ("40", "20", "0 min", "0")],
)
def test_no_room_clears_like_that(first: str, later: str, over: str, outdoor: str) -> None:
    with pytest.raises(PhysicsRefused):
        DecayGiven(
            reading(first, ROOM),
            reading(later, ROOM),
            reading(over, "time_between"),
            reading(outdoor, "carbon_monoxide_outdoor"),
        )


OVEN = UnventedGiven(
    "oven", "", "at temperature", reading("90 ppm", "carbon_monoxide_dry"), reading("15 %", "oxygen_dry")
)


def test_an_oven_has_a_limit_of_its_own_and_a_heater_another() -> None:
    assert set(by_code(part(OVEN))) == {"us-z21-oven-co"}
    assert grades(part(OVEN)) == {"open"}
    heater = part(replace(OVEN, kind="unvented heater"))
    assert by_code(heater)["us-z21-unvented-co"].grade == "act"


def test_above_nineteen_per_cent_oxygen_free_of_air_means_nothing() -> None:
    done = part(
        replace(OVEN, oxygen=reading("19.5 %", "oxygen_dry"), monoxide=reading("20 ppm", "carbon_monoxide_dry"))
    )
    assert "means nothing" in done.results["carbon_monoxide_air_free"].refused
    assert {code: one.grade for code, one in by_code(done).items()} == {"unvented-not-judged": "open"}


def test_little_monoxide_free_of_air_means_nothing() -> None:
    done = part(replace(OVEN, monoxide=reading("4 ppm", "carbon_monoxide_dry")))
    assert "below 9 ppm" in done.results["carbon_monoxide_air_free"].refused


def test_where_it_means_nothing_much_of_it_still_alarms() -> None:
    much = replace(OVEN, oxygen=reading("19.2 %", "oxygen_dry"), monoxide=reading("900 ppm", "carbon_monoxide_dry"))
    assert by_code(part(much))["us-z21-oven-co"].grade == "act"


def test_a_cold_start_is_told_apart() -> None:
    cold = replace(OVEN, moment="cold start", monoxide=reading("400 ppm", "carbon_monoxide_dry"))
    done = part(cold)
    assert by_code(done)["us-z21-oven-co-cold"].grade == "advise"
    assert any("at temperature" in words for words in done.cannot_tell)


def test_the_room_after_it_ran_is_judged_and_clears_nothing() -> None:
    rooms = {"room_before": reading("1 ppm", ROOM), "room_after": reading("30 ppm", ROOM)}
    done = part(replace(OVEN, **rooms))
    assert done.answers == {"room air"}
    assert by_code(done)["unvented-rise"].grade == "advise"
    low = part(replace(OVEN, room_before=reading("1 ppm", ROOM), room_after=reading("2 ppm", ROOM)))
    assert "fine" not in grades(low)


def test_the_limit_of_a_direct_fired_heater_lies_in_the_delivered_air() -> None:
    heater = UnventedGiven("direct-fired air heater", delivered=reading("30 ppm", "carbon_monoxide_delivered"))
    assert by_code(part(heater))["us-z83-direct-fired-co"].grade == "act"
    unread = part(UnventedGiven("direct-fired air heater"))
    assert any("its limit lies there" in words for words in unread.cannot_tell)


def breathed(co: str, over: str, **more: object) -> Part:
    return part(ExposureGiven(reading(co, ROOM), reading(over, "time_between"), **more))  # type: ignore[arg-type]


def test_exposure_sends_to_medical_care_first_and_says_which_figures_it_used() -> None:
    done = breathed("100 ppm", "60 min")
    assert done.findings[0].lead.startswith("If this is about a person: medical care first")
    assert "medical care first" in str(done.statements[0].pieces[0])
    said = " ".join(str(piece) for statement in done.statements for piece in statement.pieces)
    assert "NIOSH criteria document" in said
    assert done.results["carboxyhaemoglobin"].value == pytest.approx(0.0532, abs=0.001)
    assert done.results["carboxyhaemoglobin"].above > 0.005
    other = breathed("100 ppm", "60 min", activity="light", set_name="calculation sheet")
    assert other.results["carboxyhaemoglobin"].value != done.results["carboxyhaemoglobin"].value


def test_smokers_begin_higher() -> None:
    def at_once(**more: object) -> float:
        return breathed("0 ppm", "0 min", **more).results["carboxyhaemoglobin"].value or 0.0

    assert at_once() == pytest.approx(0.005)
    assert at_once(cigarettes=20) == pytest.approx(0.05)
    assert at_once(cigarettes=13) == pytest.approx(0.035)
    assert at_once(cigarettes=500) == pytest.approx(0.20)
    assert at_once(start=reading("8 %", "carboxyhaemoglobin")) == pytest.approx(0.08)


def test_back_from_a_sample() -> None:
    sample = SampleGiven(
        reading("12 %", "carboxyhaemoglobin"), reading("0 min", "time_between"), reading("4 h", "time_between"),
        activity="sedentary",
    )  # fmt: skip
    assert part(sample).results["carbon_monoxide_breathed"].value == pytest.approx(144e-6, abs=1e-6)
    nothing = replace(sample, share=reading("0.3 %", "carboxyhaemoglobin"))
    assert "no more than the body makes" in part(nothing).results["carbon_monoxide_breathed"].refused


def test_no_part_of_a_visit_estimates_blood() -> None:
    """practice, decision 8: carboxyhaemoglobin is an expert command, not a line of a visit."""
    from fluewright.visit.parts import room

    assert not [key for keys in room.FORM.tables.values() for key in keys if "cohb" in key or "haemo" in key]
    done = part(replace(ROOM_WELL, readings=room_typed.readings_of("0 min 100; 60 min 100")))
    assert not [name for name in done.results if "haemoglobin" in name]
    assert "medical care" in done.note


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("10:00", "FW-U-220"),
        ("", "FW-U-220"),
        ("10:00 5; 9:50 5", "FW-K-028"),
        ("10:00 5; 20 min 5", "FW-K-028"),
        ("10:00 5; 10:00 6", "FW-K-027"),
        ("10:00 5 spoons", "FW-Q-003"),
    ],
)
def test_readings_that_make_no_series(text: str, code: str) -> None:
    with pytest.raises(FluewrightError) as caught:
        room_typed.readings_of(text)
    assert caught.value.code.startswith(code[:4])
    if not code.startswith("FW-Q"):
        assert caught.value.code == code


def test_a_watch_over_midnight_goes_on() -> None:
    first, last = room_typed.readings_of("23:50 5; 00:10 7")
    assert last.seconds - first.seconds == 1200.0
