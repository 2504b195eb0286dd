"""Air for burning: which form speaks where, what clears, what only warns, and what cannot be told."""

from typing import Any

import pytest

from fluewright.evidence.combustion_air import AirAppliance, AirForBurning, AirOpening, Exhaust
from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Part
from fluewright.evidence.reading import Reading
from fluewright.fuels import load
from fluewright.quantity import parse
from fluewright.visit import one_part
from fluewright.visit.work import Verdict


def read(quantity: str, text: str) -> Reading:
    """A typed reading."""
    return Reading(quantity, parse.parse(text, quantity=quantity))


def flame(heat: str, draws: Any = "natural", output: str = "", **more: Any) -> AirAppliance:
    """An appliance by the input of its plate."""
    return AirAppliance(
        "the heater", draws, read("fuel_input", heat), read("heat_output", output) if output else None, **more
    )


def hole(area: str, kind: Any = "outdoors", **more: Any) -> AirOpening:
    """An opening by its area."""
    return AirOpening("the grille", kind, read("opening_area", area), **more)


def judged(given: AirForBurning, place: str = "US", fuel: str = "natural-gas") -> Verdict:
    """The part alone."""
    return one_part.answered((given,), jurisdiction=place, fuel=load.load(fuel))


def part_of(verdict: Verdict) -> Part:
    (part,) = verdict.parts
    return part


def found(verdict: Verdict, code: str) -> Finding:
    """The finding of a code."""
    return next(finding for finding in verdict.judged.findings if finding.code == code)


def stands(verdict: Verdict) -> dict[str, str]:
    """How each rule stands."""
    forms: Any = part_of(verdict).data["forms"]
    return {one["rule"]: one["stands"] for one in forms}


BIG = {"volume": read("room_volume", "12000 ft3")}
SMALL = {"volume": read("room_volume", "4800 ft3")}


def test_the_worked_example_of_the_standard_rule_is_short() -> None:
    # Hawaii Gas guide: 150,000 Btu/h asks for 7,500 ft3, a room of 4,800 ft3 is too small
    verdict = judged(AirForBurning((flame("150 kBtu/h"),), **SMALL))
    assert stands(verdict)["us-room"] == "short"
    asked = part_of(verdict).results["us-room asks"].value
    assert asked == pytest.approx(7500 * 0.3048**3)


def test_a_model_code_met_warns_and_never_clears() -> None:
    verdict = judged(AirForBurning((flame("100 kBtu/h"),), no_exhausts=True, **BIG))
    finding = found(verdict, "air-for-burning")
    assert finding.grade == "open"
    assert "cannot clear" in finding.lead
    assert not [one for one in verdict.judged.findings if one.grade == "fine"]


def test_a_text_that_nobody_compared_with_todays_says_so_behind_its_clause() -> None:
    given = AirForBurning((flame("26 kW", output="24 kW"),), volume=read("room_volume", "110 m3"), window=True)
    finding = found(judged(given, "DE-NI"), "air-for-burning")
    assert finding.grade == "open"
    assert finding.clause.text_of == "undated copy, not compared with the text of today"


def test_the_law_of_a_state_met_is_fine_and_its_neighbour_has_no_such_clause() -> None:
    given = AirForBurning(
        (flame("26 kW", output="24 kW"),), volume=read("room_volume", "110 m3"), window=True, no_exhausts=True
    )
    assert found(judged(given, "DE-NI"), "air-for-burning").grade == "fine"
    neighbour = judged(given, "DE-BW")
    assert found(neighbour, "air-for-burning-short").grade == "act"
    assert stands(neighbour)["de-ni-room"] == "met"


def test_germany_without_a_state_cannot_be_judged() -> None:
    verdict = judged(AirForBurning((flame("26 kW"),), volume=read("room_volume", "110 m3"), window=True), "DE")
    assert not verdict.judged.findings
    assert any("states differ" in words for words in verdict.judged.cannot_tell)


def test_fans_that_nobody_listed_keep_a_room_from_being_fine() -> None:
    room = {"volume": read("room_volume", "110 m3"), "window": True}
    unlisted = found(judged(AirForBurning((flame("26 kW", output="24 kW"),), **room), "DE-NI"), "air-for-burning")
    assert unlisted.grade == "open"
    assert "nobody said that there are none" in unlisted.body
    assert any("list every fan" in words for words in unlisted.do_next)


def test_a_louvre_counts_by_the_text_of_its_own_country() -> None:
    """The 75 % of metal louvres is US text; the German states that were read say nothing of louvres."""
    flames = (flame("26 kW", output="24 kW"),)
    plain, louvre = hole("160 cm2"), hole("160 cm2", grille="metal")
    assert stands(judged(AirForBurning(flames, (plain,)), "DE-BW"))["de-bw-opening"] == "met"
    verdict = judged(AirForBurning(flames, (louvre,)), "DE-BW")
    assert stands(verdict)["de-bw-opening"] == "open"
    assert any("louvre" in words for words in verdict.judged.cannot_tell)
    stated = hole("200 cm2", grille="metal", free_share=read("free_share", "90 %"))
    assert stands(judged(AirForBurning(flames, (stated,)), "DE-BW"))["de-bw-opening"] == "met"
    small = hole("100 cm2", grille="metal")
    assert stands(judged(AirForBurning(flames, (small,)), "DE-BW"))["de-bw-opening"] == "short"
    beside = (louvre, hole("170 cm2"))
    assert stands(judged(AirForBurning(flames, beside), "DE-BW"))["de-bw-opening"] == "met"


def test_few_known_air_changes_take_room_and_opening_away() -> None:
    holes = (hole("22 in2", height="high"),)
    known = {"air_changes": read("air_changes", "0.1 1/h"), "air_changes_known": "measured"}
    verdict = judged(AirForBurning((flame("150 kBtu/h"),), holes, **known, **SMALL))  # type: ignore[arg-type]
    assert stands(verdict)["us-mixed"] == "off"
    perhaps = {"air_changes": read("air_changes", "0.3..0.6 1/h"), "air_changes_known": "measured"}
    assert stands(judged(AirForBurning((flame("100 kBtu/h"),), **perhaps, **BIG)))["us-room"] == "off"  # type: ignore[arg-type]


def test_germany_is_short_where_every_state_says_so() -> None:
    tiny = AirForBurning((flame("26 kW", output="24 kW"),), volume=read("room_volume", "20 m3"), window=True)
    for place in ("DE", "DE-BY"):
        short = found(judged(tiny, place), "air-for-burning-short")
        assert short.grade == "act"
        assert "every text of a state of DE" in short.lead
    unsaid = judged(AirForBurning((flame("26 kW", output="24 kW"),)), "DE")
    assert not unsaid.judged.findings


def test_masses_of_air_are_compared_and_not_volumes() -> None:
    """Air at 10 C that comes in takes 293/283 of its volume in the room where flames and fans draw it."""
    given = AirForBurning((flame("26 kW"),), (hole("300 cm2"),), no_exhausts=True)
    results = part_of(judged(given, "DE-BW")).results
    density = 101325.0 * 0.0289652 / (8.314462618 * 283.15)
    outdoors = 0.6 * 0.03 * (2.0 * 4.0 / density) ** 0.5
    assert results["comes in"].value == pytest.approx(outdoors * 293.15 / 283.15, rel=1e-3)
    need, drop = results["flames take"].value, results["drawn down"].value
    assert need is not None
    assert drop == pytest.approx(density * (need * 283.15 / 293.15 / (0.6 * 0.03)) ** 2 / 2.0, rel=1e-3)


@pytest.mark.parametrize(("window", "expected"), [(True, "met"), (False, "off"), (None, "open")])
def test_the_window_belongs_to_the_rule(window: bool | None, expected: str) -> None:
    given = AirForBurning((flame("26 kW", output="24 kW"),), volume=read("room_volume", "110 m3"), window=window)
    assert stands(judged(given, "DE-NI"))["de-ni-room"] == expected


def test_assumed_air_changes_settle_nothing() -> None:
    changes = read("air_changes", "0.5 1/h")
    assumed = judged(AirForBurning((flame("30 kBtu/h"),), air_changes=changes, **SMALL))
    assert stands(assumed)["us-room-by-air-changes"] == "open"
    known = judged(AirForBurning((flame("30 kBtu/h"),), air_changes=changes, air_changes_known="measured", **SMALL))
    assert stands(known)["us-room-by-air-changes"] == "met"
    assert 0.0 < found(known, "air-for-burning").odds < 0.025  # type: ignore[operator]


def test_few_known_air_changes_take_the_standard_rule_away() -> None:
    changes = read("air_changes", "0.1 1/h")
    verdict = judged(AirForBurning((flame("100 kBtu/h"),), air_changes=changes, air_changes_known="measured", **BIG))
    assert stands(verdict)["us-room"] == "off"
    assert found(verdict, "air-for-burning-short").grade == "act"


def test_a_room_at_the_edge_is_too_close_to_call() -> None:
    verdict = judged(AirForBurning((flame("96 kBtu/h"),), **SMALL))
    finding = found(verdict, "air-for-burning")
    assert finding.grade == "open"
    assert "too close" in finding.lead
    assert finding.odds == pytest.approx(0.5)


@pytest.mark.parametrize("fault", [{"blocked": True}, {"can_be_shut": True}])
def test_an_opening_that_is_shut_counts_for_nothing(fault: dict[str, bool]) -> None:
    good = (hole("200 in2", height="high"),)
    assert stands(judged(AirForBurning((flame("100 kBtu/h"),), good)))["us-outdoor-single"] == "met"
    verdict = judged(AirForBurning((flame("100 kBtu/h"),), (hole("200 in2", **fault),)))
    assert stands(verdict)["us-outdoor-single"] == "off"
    assert ("air-opening-blocked" in {one.code for one in verdict.judged.findings}) == ("blocked" in fault)


def test_louvres_slots_and_heights() -> None:
    flames = (flame("100 kBtu/h"),)
    wood = AirForBurning(flames, (hole("100 in2", grille="wood"),))
    metal = AirForBurning(flames, (hole("100 in2", grille="metal"),))
    stated = AirForBurning(flames, (hole("100 in2", grille="wood", free_share=read("free_share", "60 %")),))
    slot = AirForBurning(flames, (hole("100 in2", side=read("opening_side", "2 in")),))
    low = AirForBurning(flames, (hole("100 in2", height="low"), hole("100 in2", height="low")))
    assert stands(judged(wood))["us-outdoor-single"] == "short"
    assert stands(judged(metal))["us-outdoor-single"] == "met"
    assert stands(judged(stated))["us-outdoor-single"] == "met"
    assert stands(judged(slot))["us-outdoor-single"] == "off"
    assert stands(judged(low))["us-outdoor-single"] == "off"
    assert stands(judged(low))["us-outdoor"] == "off"


def test_indoor_openings_join_the_rooms() -> None:
    pair = tuple(hole("150 in2", "indoors", height=height) for height in ("low", "high"))
    more = {"joined_volume": read("room_volume", "6000 ft3")}
    alone = judged(AirForBurning((flame("150 kBtu/h"),), **more, **SMALL))
    joined = judged(AirForBurning((flame("130 kBtu/h"),), pair, **more, **SMALL))
    assert stands(alone)["us-room"] == "short"
    assert stands(joined)["us-room"] == "met"


def test_room_and_opening_share() -> None:
    given = AirForBurning((flame("150 kBtu/h"),), (hole("22 in2", height="high"),), **SMALL)
    verdict = judged(given)
    assert stands(verdict)["us-outdoor-single"] == "short"
    asked = part_of(verdict).results["us-mixed asks"].value
    assert asked == pytest.approx(0.36 * 50.0 * 0.0254**2)
    assert stands(verdict)["us-mixed"] == "met"


def test_fans_take_away_and_are_never_left_out() -> None:
    given = AirForBurning(
        (flame("26 kW", output="24 kW"),),
        exhausts=(Exhaust("the hood", read("exhaust_flow", "400 m3/h")),),
        volume=read("room_volume", "110 m3"),
        window=True,
        air_changes=read("air_changes", "0.4 1/h"),
        air_changes_known="measured",
    )
    verdict = judged(given, "DE-NI")
    fans = found(verdict, "air-taken-by-fans")
    assert fans.grade == "act"
    assert fans.do_now
    assert found(verdict, "air-for-burning").grade == "open"
    left = part_of(verdict).results["left"].value
    supply = part_of(verdict).results["comes in"].value
    assert left == pytest.approx((supply or 0.0) - 400.0 / 3600.0)


def test_a_fan_nobody_knows_keeps_the_question_open() -> None:
    given = AirForBurning(
        (flame("26 kW", output="24 kW"),),
        exhausts=(Exhaust("the dryer"),),
        volume=read("room_volume", "110 m3"),
        window=True,
    )
    verdict = judged(given, "DE-NI")
    assert found(verdict, "air-fan-not-known").grade == "open"
    assert "left" not in part_of(verdict).results
    assert not [one for one in verdict.judged.findings if one.grade == "fine"]


def test_sealed_appliances_need_no_room_air() -> None:
    verdict = judged(AirForBurning((flame("24 kW", "sealed"),)), "DE-NI")
    assert not verdict.judged.findings
    assert not part_of(verdict).results
    assert any("sealed" in words for words in verdict.judged.cannot_tell)
    words = " ".join(str(piece) for line in part_of(verdict).statements for piece in line.pieces)
    assert "needs none of the room's" in words


def test_a_manufactured_home_takes_sealed_fires_only() -> None:
    verdict = judged(AirForBurning((flame("40 kBtu/h"),), manufactured_home=True, **BIG))
    assert found(verdict, "air-sealed-only").grade == "act"


def test_an_unread_plate_leaves_every_form_open() -> None:
    verdict = judged(AirForBurning((AirAppliance("the heater"),), **BIG))
    assert set(stands(verdict).values()) <= {"open", "off"}
    assert any("plate" in words for words in verdict.judged.cannot_tell)


@pytest.mark.parametrize(
    ("fuel", "heat", "output", "asked"),
    [("natural-gas", "22.2 kW", "", 6500e-6), ("heating-oil-light", "22 kW", "20 kW", 8250e-6)],
)
def test_british_vents_count_net_gas_and_oil_output(fuel: str, heat: str, output: str, asked: float) -> None:
    # NHBC 6.8 tables 3 and 6: 20 kW net 6500 mm2, 20 kW output 8250 mm2; 22.2 kW gross is 20.0 net
    verdict = judged(AirForBurning((flame(heat, output=output),), (hole("200 cm2"),)), "GB", fuel)
    key = "gb-gas asks" if fuel == "natural-gas" else "gb-oil asks"
    assert part_of(verdict).results[key].value == pytest.approx(asked, rel=0.005)
    assert found(verdict, "air-for-burning").grade == "open"


def test_a_very_tight_british_house_has_no_figures() -> None:
    verdict = judged(AirForBurning((flame("20 kW"),), (hole("200 cm2"),), tight_house=True), "GB")
    assert stands(verdict)["gb-gas"] == "off"
    assert stands(verdict)["gb-tight"] == "open"
    assert any("figures were not seen" in words for words in verdict.judged.cannot_tell)


def test_a_bound_never_clears() -> None:
    verdict = judged(
        AirForBurning((flame(">20 kW", output=">20 kW"),), volume=read("room_volume", "110 m3"), window=True), "DE-NI"
    )
    assert stands(verdict)["de-ni-room"] == "open"


@pytest.mark.parametrize(("place", "speaks"), [("GB-WLS", True), ("GB-SCT", False), ("GB-NIR", False), ("FR", False)])
def test_a_text_speaks_only_where_it_is_in_force(place: str, speaks: bool) -> None:
    verdict = judged(AirForBurning((flame("20 kW"),), (hole("200 cm2"),)), place)
    assert any(one.code == "air-for-burning" for one in verdict.judged.findings) == speaks
    assert any("no verdict" in words for words in verdict.judged.cannot_tell) != speaks
