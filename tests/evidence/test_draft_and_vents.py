"""Draft and venting as evidence: odds of small pressures, baselines, signs, spillage, the vent, what cannot be told."""

from typing import Any

import pytest

from fluewright.errors import PhysicsRefused
from fluewright.evidence.draft.baseline import Baseline
from fluewright.evidence.draft.chimney import Chimney
from fluewright.evidence.draft.hood import Hood
from fluewright.evidence.draft.house import Fan, HousePressure, Leaks, Warmth
from fluewright.evidence.draft.readings import Draft, DraftReading
from fluewright.evidence.draft.spillage import Spillage, Spillages
from fluewright.evidence.draft.vent import Vent
from fluewright.evidence.finding import Finding
from fluewright.evidence.reading import Reading
from fluewright.fuels import load
from fluewright.quantity import parse
from fluewright.visit import one_part
from fluewright.visit.work import Verdict


def read(quantity: str, text: str) -> Reading:
    """A typed reading."""
    return Reading(quantity, parse.parse(text, quantity=quantity))


def pulled(text: str, spot: Any = "above hood", **more: Any) -> DraftReading:
    """A draft at a place."""
    return DraftReading(spot, read("draft", text), **more)


def values(quantity: str, *texts: str, hose: Any = "open at the same place") -> Baseline:
    """A baseline of single values."""
    return Baseline(tuple(read(quantity, text) for text in texts), hose=hose)


def judged(measured: Any, place: str = "US", fuel: str = "natural-gas") -> Verdict:
    """One part alone."""
    return one_part.answered((measured,), jurisdiction=place, fuel=load.load(fuel))


def grades(verdict: Verdict) -> dict[str, str]:
    """Grade of each finding by its code."""
    return {finding.code: finding.grade for finding in verdict.judged.findings}


def found(verdict: Verdict, code: str) -> Finding:
    """The finding of a code."""
    return next(finding for finding in verdict.judged.findings if finding.code == code)


def result(verdict: Verdict, key: str) -> float:
    """A result that there is."""
    value = verdict.parts[0].results[key].value
    assert value is not None
    return value


STILL = values("draft", "0 Pa", "-1 Pa", "0 Pa", "1 Pa", "-1 Pa")
TWO = Baseline(doubt=read("house_pressure", "2 Pa"), values=(read("house_pressure", "0 Pa"),))


@pytest.mark.parametrize(("on", "odds"), [("0 Pa", 0.16), ("-1 Pa", 0.31), ("-3 Pa", 0.69), ("-4 Pa", 0.84)])
def test_two_pascals_of_doubt_decide_nothing_about_two_pascals(on: str, odds: float) -> None:
    given = HousePressure(read("house_pressure", on), TWO, "natural-draft water heater alone")
    finding = found(judged(given), "us-zone-water-heater")
    assert finding.odds == pytest.approx(odds, abs=0.005)
    assert finding.grade == "open"
    assert "cannot tell" in finding.lead
    assert not finding.do_now


def test_far_beyond_the_limit_of_the_zone_is_mended_first() -> None:
    given = HousePressure(read("house_pressure", "-12 Pa"), TWO, "natural-draft water heater alone")
    finding = found(judged(given), "us-zone-water-heater")
    assert finding.grade == "advise", "a limit from memory may warn"
    assert finding.cautions
    assert "look for spillage" in finding.do_next[0]
    assert finding.clause.known == "from memory"
    assert finding.clause.text_of == "before 2013, superseded"


def test_a_limit_from_memory_never_clears() -> None:
    given = HousePressure(read("house_pressure", "0 Pa"), TWO, "power or direct vent")
    assert set(grades(judged(given)).values()) == {"open"}


def test_without_fans_off_nobody_knows_the_change() -> None:
    verdict = judged(HousePressure(read("house_pressure", "-4 Pa"), zone="fan-assisted alone"))
    change = verdict.parts[0].results["change"]
    assert change.value is None
    assert "fans off" in change.refused


def test_flows_and_leaks_reckon_and_never_order_a_shut_down() -> None:
    given = HousePressure(
        zone="natural-draft water heater alone",
        fans=(Fan("hood", read("exhaust_flow", "500 cfm")),),
        leaks=Leaks(read("leak_flow", "1500 cfm")),
    )
    verdict = judged(given)
    assert result(verdict, "by fans") == pytest.approx(-50.0 * (500 / 1500) ** (1 / 0.65))
    assert found(verdict, "us-zone-water-heater").grade == "advise"


def test_an_unknown_fan_leaves_the_house_unknown() -> None:
    verdict = judged(HousePressure(fans=(Fan("hood"),), leaks=Leaks(read("leak_flow", "1500 cfm"))))
    assert "by fans" not in verdict.parts[0].results
    assert any("flow or the leakage is not known" in words for words in verdict.judged.cannot_tell)


def test_a_house_without_leaks_is_refused() -> None:
    given = HousePressure(fans=(Fan("hood", read("exhaust_flow", "50 cfm")),), leaks=Leaks(read("leak_flow", "0 cfm")))
    with pytest.raises(PhysicsRefused, match="FW-K-072"):
        judged(given)


def test_a_warm_house_draws_its_cellar_down() -> None:
    warmth = Warmth(
        read("chimney_height", "10 m"), read("outdoor_temperature", "-10 C"), read("room_temperature", "20 C")
    )
    assert result(judged(HousePressure(warmth=warmth)), "by warmth") == pytest.approx(-6.73, abs=0.02)


def test_a_baseline_narrows_the_doubt_and_its_mean_comes_off() -> None:
    bare = judged(Draft((pulled("-4 Pa"),)))
    taken = judged(Draft((pulled("-4 Pa"),), STILL))
    assert taken.parts[0].results["above hood"].spread < bare.parts[0].results["above hood"].spread
    assert result(taken, "above hood") == pytest.approx(-3.8)
    assert any("baseline" in words for words in bare.judged.cannot_tell)
    assert not any("baseline" in words for words in taken.judged.cannot_tell)


def test_four_values_are_no_baseline_and_sixty_seconds_are() -> None:
    assert not values("draft", "0 Pa", "0 Pa", "0 Pa", "-1 Pa").zero().taken
    span = read("draft", "-1..1 Pa")
    assert not Baseline(span=span, seconds=read("duration", "30 s")).zero().taken
    assert Baseline(span=span, seconds=read("duration", "60 s")).zero().taken


def test_a_zero_taken_elsewhere_widens() -> None:
    texts = ("0 Pa", "-1 Pa", "0 Pa", "1 Pa", "-1 Pa")
    assert values("draft", *texts, hose="open elsewhere").zero().spread > values("draft", *texts).zero().spread


def test_a_flue_that_pushes_is_a_stop_with_its_cautions_first() -> None:
    finding = found(judged(Draft((pulled("4 Pa"),), STILL)), "draft-pushes")
    assert finding.grade == "stop"
    assert finding.cautions
    assert finding.do_now


def test_a_flue_near_nothing_cannot_be_told() -> None:
    assert grades(judged(Draft((pulled("-1 Pa"),))))["draft-pull-open"] == "open"


def test_the_pilot_alone_is_judged_by_its_sign_only() -> None:
    quiet = judged(Draft((pulled("-3 Pa", state="pilot only"),), STILL))
    assert not quiet.judged.findings
    assert grades(judged(Draft((pulled("4 Pa", state="pilot only"),), STILL))) == {"draft-pushes": "stop"}
    assert grades(judged(Draft((pulled("4 Pa", state="burner off"),), STILL))) == {"draft-pushes-cold": "act"}


def test_a_standing_pilot_asks_for_a_reading_of_its_own() -> None:
    alone = Draft((pulled("-4 Pa"),), STILL, standing_pilot=True)
    assert any("pilot" in words for words in judged(alone).judged.cannot_tell)
    both = Draft((pulled("-4 Pa"), pulled("-3 Pa", state="pilot only")), STILL, standing_pilot=True)
    assert not any("pilot" in words for words in judged(both).judged.cannot_tell)


def test_suction_over_an_oil_fire() -> None:
    strong = judged(Draft((pulled("-0.08 in w.c.", "over fire"),), STILL), fuel="oil-no-2")
    assert grades(strong) == {"us-ufc-over-fire": "open"}
    weak = judged(Draft((pulled("0 Pa", "over fire"),), STILL), fuel="oil-no-2")
    assert found(weak, "us-ufc-over-fire").grade == "act"


def test_the_drop_through_the_passages_is_free_of_the_zero() -> None:
    pair = (pulled("-0.02 in w.c.", "over fire"), pulled("-0.05 in w.c.", "breech"))
    drop = judged(Draft(pair, STILL), fuel="oil-no-2")
    other = judged(Draft(pair), fuel="oil-no-2")
    key = "lost from over fire to breech"
    assert result(drop, key) == pytest.approx(0.03 * 249.08891, rel=1e-4) == result(other, key)


def test_readings_in_two_states_give_no_drop() -> None:
    pair = (pulled("-5 Pa", "over fire"), pulled("-12 Pa", "breech", state="burner off"))
    assert len(judged(Draft(pair, STILL)).parts[0].results) == 2


def test_a_reading_before_five_minutes_clears_nothing() -> None:
    early = pulled("-0.08 in w.c.", "over fire", lit=read("minutes_since_lit", "2 min"))
    assert "5 minutes" in found(judged(Draft((early,), STILL), fuel="oil-no-2"), "us-ufc-over-fire").body


def test_the_older_table_asks_by_the_weather() -> None:
    given = Draft((pulled("-1.2 Pa"),), STILL, outdoors=read("outdoor_temperature", "10 F"))
    finding = found(judged(given), "us-draft-by-weather")
    assert "-2.5" in finding.body.replace("−", "-")
    assert "us-draft-by-weather" not in grades(judged(given, "DE"))


def test_only_every_fan_on_with_the_burner_lit_answers_venting() -> None:
    assert not judged(Draft((pulled("-4 Pa"),))).parts[0].answers
    assert judged(Draft((pulled("-4 Pa", fans="every fan on"),))).parts[0].answers == {"venting"}
    off = pulled("-4 Pa", fans="every fan on", state="burner off")
    assert not judged(Draft((off,))).parts[0].answers


def test_a_word_alone_gives_no_draft() -> None:
    verdict = judged(Draft((pulled("falling"),)))
    assert verdict.parts[0].results["above hood"].value is None


def test_a_vent_made_to_push_is_left_to_its_plate() -> None:
    verdict = judged(Draft((pulled("60 Pa", "vent"),), pushes_by_design=True))
    assert not verdict.judged.findings
    assert any("plate" in words for words in verdict.judged.cannot_tell)


@pytest.mark.parametrize("text", ["-20 in w.c.", "300 Pa", "-5 in"])
def test_no_flue_stands_so_far_from_the_room(text: str) -> None:
    with pytest.raises(PhysicsRefused, match="FW-K-070"):
        judged(Draft((pulled(text),)))


def chimney(**more: Any) -> Chimney:
    """A chimney of 25 ft on a frosty day."""
    column = (read("chimney_height", "25 ft"), read("mean_flue_temperature", "300 F"))
    return Chimney(*column, read("outdoor_temperature", "30 F"), **more)


def test_the_forms_of_a_chimney_stand_beside_each_other() -> None:
    verdict = judged(chimney())
    assert result(verdict, "handbook form") / 249.08891 == pytest.approx(0.1387, abs=0.001)
    assert result(verdict, "steam form") == pytest.approx(result(verdict, "handbook form"), rel=1e-3)
    assert result(verdict, "by density") > result(verdict, "handbook form")


def test_oxygen_and_fuel_give_the_gas_its_weight() -> None:
    known = judged(chimney(oxygen=read("oxygen_dry", "9 %"))).parts[0].results["by density"].working
    assert known is not None
    assert "natural gas" in known.source


def test_wind_and_house_can_turn_a_chimney_round() -> None:
    verdict = judged(chimney(wind=read("wind_speed", "10 m/s"), drawn_down=read("depressurisation", "5 Pa")))
    finding = found(verdict, "chimney-may-turn")
    assert finding.grade == "advise"
    assert finding.cautions


def hood(mixed: str) -> Verdict:
    """7 to 10 % oxygen, 230 °C before."""
    gases = [read("oxygen_dry", "7 %"), read("oxygen_dry", "10 %"), None, None]
    heats = [read("flue_temperature", "230 C"), read("diluted_temperature", mixed), read("room_temperature", "20 C")]
    return judged(Hood(*gases, *heats))


def test_two_ways_of_the_hood_agree_or_say_that_they_do_not() -> None:
    assert not hood("191.8 C").judged.findings
    assert grades(hood("120 C")) == {"hood-two-ways": "open"}


def test_carbon_dioxide_serves_where_no_oxygen_was_read() -> None:
    gases = (None, None, read("carbon_dioxide_dry", "8 %"), read("carbon_dioxide_dry", "6 %"))
    assert result(judged(Hood(*gases)), "by gas") == pytest.approx(2.0 / 6.0)


def test_mixing_never_heats() -> None:
    with pytest.raises(PhysicsRefused, match="FW-K-073"):
        hood("240 C")
    with pytest.raises(PhysicsRefused, match="FW-K-074"):
        judged(Hood(read("oxygen_dry", "10 %"), read("oxygen_dry", "7 %")))


def spilled(text: str, **more: Any) -> Spillage:
    """A water heater watched at its hood."""
    return Spillage("water heater", read("spill_time", text), **more)


@pytest.mark.parametrize(
    ("text", "warm", "code", "grade"),
    [
        ("130 s", "warm", "us-spill-warm", "stop"),
        ("130 s", "cold", "us-spill-cold", "open"),
        ("310 s", "cold", "us-spill-cold", "stop"),
        ("> 300 s", "cold", "spillage-goes-on", "stop"),
        ("> 120 s", "warm", "spillage-goes-on", "stop"),
        ("> 60 s", "warm", "us-spill-warm", "open"),
        ("24 s", "warm", "us-spill-warm", "open"),
        ("90 s", "warm", "us-spill-older", "advise"),
    ],
)
def test_the_time_of_spillage(text: str, warm: Any, code: str, grade: str) -> None:
    assert grades(judged(Spillages((spilled(text, warm=warm),))))[code] == grade


def test_california_has_its_own_limit_of_a_superseded_text_which_clears_nothing() -> None:
    verdict = judged(Spillages((spilled("24 s", warm="warm"),)), "US-CA")
    assert grades(verdict)["us-ca-spill"] == "open"
    assert found(verdict, "us-ca-spill").clause.text_of == "2013, superseded"
    assert "superseded by a later edition" in found(verdict, "us-ca-spill").body


def test_spilling_on_stops_even_where_no_limit_is_known() -> None:
    assert grades(judged(Spillages((spilled("> 30 s"),)), "DE")) == {"spillage-goes-on": "stop"}


def test_a_fan_that_starts_it_is_a_stop_told_or_seen() -> None:
    told = judged(Spillages((spilled("10 s", warm="warm", started_by="the hood"),)))
    assert found(told, "spillage-by-fan").cautions
    pair = (spilled("10 s", warm="warm"), spilled("> 200 s", warm="warm", fans="every fan on"))
    assert grades(judged(Spillages(pair)))["spillage-by-fan"] == "stop"
    calm = (spilled("10 s", warm="warm"), spilled("12 s", warm="warm", fans="every fan on"))
    assert "spillage-by-fan" not in grades(judged(Spillages(calm)))
    assert judged(Spillages(calm)).parts[0].answers == {"venting"}


def vent(**more: Any) -> dict[str, str]:
    """Findings of a vent that is else in order."""
    sound: dict[str, Any] = {
        "category": "IV", "material": "plastic", "pressure": "positive", "condensing": True, "trap": "seen flowing",
        "port": "closed and checked", "joints": "tight", "end": "free", "drilled": False,
    }  # fmt: skip
    return grades(judged(Vent(**{**sound, **more})))


def heats(flue: str, water: str = "80 C", hottest: str = "80 C") -> dict[str, Reading]:
    """A pipe marked for 65 °C and what flows in it."""
    return {
        "marked_limit": read("vent_limit_temperature", "65 C"),
        "flue": read("flue_temperature", flue),
        "water": read("water_temperature", water),
        "hottest_water": read("hottest_water_temperature", hottest),
    }


def test_a_vent_in_order_says_nothing() -> None:
    assert vent() == {}


def test_the_marking_is_held_against_the_hottest_water() -> None:
    assert vent(**heats("50 C")) == {"vent-heat": "open"}
    assert vent(**heats("50 C", "55 C", "80 C")) == {"vent-too-hot": "stop"}
    assert vent(**heats("80 C")) == {"vent-too-hot": "stop"}


def test_an_unknown_hottest_water_clears_nothing() -> None:
    known = heats("50 C")
    assert vent(marked_limit=known["marked_limit"], flue=known["flue"]) == {"vent-heat-open": "open"}


@pytest.mark.parametrize(
    ("more", "code", "grade"),
    [
        ({"trap": "dry"}, "vent-trap-dry", "stop"),
        ({"trap": "dry", "category": "II", "pressure": "non-positive"}, "vent-trap-empty", "act"),
        ({"trap": "dry", "category": "", "pressure": "not said"}, "vent-trap-dry", "stop"),
        ({"trap": "not looked at"}, "vent-trap-open", "open"),
        ({"joints": "leaking in the house"}, "vent-joint-pushes", "stop"),
        ({"joints": "leaking in the house", "category": "I", "pressure": "non-positive", "condensing": False},
         "vent-joint", "act"),
        ({"joints": "not looked at"}, "vent-joints-open", "open"),
        ({"port": "closed"}, "vent-port-open", "open"),
        ({"port": "not said"}, "vent-port-open", "open"),
        ({"port": "open"}, "vent-port-pushes", "stop"),
        ({"drilled": True}, "vent-drilled-pushes", "stop"),
        ({"end": "blocked"}, "vent-end-blocked", "stop"),
        ({"end": "too near"}, "vent-end-near", "act"),
        ({"freezing": True}, "vent-drain-frost", "advise"),
        ({"category": "I"}, "vent-category", "stop"),
        ({"category": "III"}, "vent-category", "act"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_vent(more: dict[str, Any], code: str, grade: str) -> None:
    assert vent(**more)[code] == grade


def test_a_house_without_a_place_says_which_question_is_open() -> None:
    off = values("house_pressure", "0 Pa", "-1 Pa", "0 Pa", "0 Pa", "-1 Pa")
    given = HousePressure(read("house_pressure", "-8 Pa"), off, zone="natural-draft furnace or boiler alone")
    unsaid = judged(given, place="")
    assert not unsaid.judged.findings
    assert any("country or state" in said for said in unsaid.judged.cannot_tell)
    assert any("known here for NZ" in said for said in judged(given, place="NZ").judged.cannot_tell)
    nowhere = judged(HousePressure(read("house_pressure", "-8 Pa"), off), place="")
    assert sum("too far" in said for said in nowhere.judged.cannot_tell) == 2


@pytest.mark.parametrize(("on", "off"), [("falling", ("0 Pa",) * 5), ("-8 Pa", ())])
def test_a_change_that_cannot_be_had_is_left_open(on: str, off: tuple[str, ...]) -> None:
    given = HousePressure(read("house_pressure", on), values("house_pressure", *off), zone="fan-assisted alone")
    assert any(said.startswith("How far the fans draw") for said in judged(given).judged.cannot_tell)


def test_the_table_by_weather_prints_no_finer_than_the_weather_is_known() -> None:
    mild = Draft((pulled("-3 Pa"),), STILL, outdoors=read("outdoor_temperature", "37 F"))
    assert "(−1.8 Pa)" in found(judged(mild), "us-draft-by-weather").lead
