"""What the air and water side conclude, refuse and leave open."""

from dataclasses import replace

import pytest

from fluewright.evidence.air_ways import BlowerTable, Traverse
from fluewright.evidence.delivered import AIR, WATER
from fluewright.evidence.delivered_air import AirPlate, AirSide
from fluewright.evidence.delivered_cycling import CYCLING, Cycling
from fluewright.evidence.delivered_water import WaterSide
from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Measured, Part
from fluewright.evidence.reading import Appliance, Reading, Surroundings
from fluewright.quantity import parse
from fluewright.visit import delivered_typed as typed
from fluewright.visit import one_part, place

WARMTH = {"return_air": "68 F", "supply_air": "128 F"}
PASCAL = 249.08891
CFM = 0.3048**3 / 60.0
TABLE = BlowerTable("tap", ((0.4 * PASCAL, 1300 * CFM), (0.6 * PASCAL, 1180 * CFM), (0.8 * PASCAL, 1010 * CFM)))


def worked(
    measured: Measured, word: str, *, appliance: Appliance | None = None, where: Surroundings | None = None
) -> Part:
    """One part worked out alone."""
    verdict = one_part.answered((measured,), appliance=appliance, surroundings=where)
    (part,) = verdict.parts
    assert part.word == word
    return part


def air(given: dict[str, str], **more: object) -> Part:
    """An air side worked out."""
    where = more.pop("where", None)
    return worked(AirSide(typed.readings_of(given, typed.AIR_READINGS), **more), AIR, where=where)  # type: ignore[arg-type]


def water(given: dict[str, str], **more: object) -> Part:
    """A water side worked out."""
    return worked(WaterSide(typed.readings_of(given, typed.WATER_READINGS), **more), WATER)  # type: ignore[arg-type]


def codes(part: Part) -> dict[str, Finding]:
    """Findings by code."""
    return {finding.code: finding for finding in part.findings}


def value(part: Part, key: str) -> float:
    """A result's figure."""
    found = part.results[key].value
    assert found is not None, part.results[key].refused
    return found


def test_the_rise_is_put_to_the_plate_on_both_sides() -> None:
    plate = AirPlate(rise_least=40 / 1.8, rise_most=70 / 1.8)
    assert codes(air({**WARMTH, "supply_air": "150 F"}, plate=plate))["air-rise-high"].grade == "act"
    assert codes(air({**WARMTH, "supply_air": "95 F"}, plate=plate))["air-rise-low"].grade == "advise"
    assert not codes(air(WARMTH, plate=plate))
    near = codes(air({**WARMTH, "supply_air": "137 F"}, plate=plate))["air-rise-high"]
    assert near.grade == "open"
    assert near.odds is not None
    assert 0.025 <= near.odds <= 0.5


def test_nothing_on_the_air_side_is_ever_called_fine() -> None:
    plate = AirPlate(40 / 1.8, 70 / 1.8, 0.9 * PASCAL, 900 * CFM, 0.5 * PASCAL, 0.5 * PASCAL)
    given = {**WARMTH, "supply_static": "0.2 inwc", "return_static": "-0.2 inwc", "filter": "0.1 inwc"}
    for each in (plate, AirPlate()):
        assert "fine" not in {finding.grade for finding in air(given, plate=each, table=TABLE).findings}


def test_static_pressures_keep_their_signs_and_answer_to_the_plate_first() -> None:
    given = {"supply_static": "0.32 inwc", "return_static": "-0.28 inwc"}
    part = air(given)
    assert value(part, "external_static") == pytest.approx(0.60 * PASCAL)
    assert codes(part)["static-common"].grade == "advise"
    assert codes(part)["static-common"].clause.known == "common practice, no source"
    by_plate = codes(air(given, plate=AirPlate(static=0.8 * PASCAL)))
    assert not by_plate
    assert codes(air({**given, "return_static": "0.28 inwc"}))["return-above-room"].grade == "open"


def test_drops_that_do_not_add_up_are_said() -> None:
    given = {"supply_static": "0.32 inwc", "return_static": "-0.28 inwc", "filter": "0.15 inwc", "coil": "0.25 inwc",
             "supply_ducts": "0.1 inwc", "return_ducts": "0.1 inwc"}  # fmt: skip
    assert "static-left-over" not in codes(air(given))
    assert codes(air({**given, "coil": "0.05 inwc"}))["static-left-over"].grade == "open"


def test_air_flow_needs_a_heat_and_thins_with_height() -> None:
    part = air({**WARMTH, "output": "80 kBtu/h"})
    low = value(part, "air_flow")
    assert low == pytest.approx(value(part, "air_flow_handbook"), rel=0.02)
    high = air({**WARMTH, "output": "80 kBtu/h"}, where=place.surroundings_of(altitude="5280 ft"))
    assert value(high, "air_flow") / low == pytest.approx(1.0 / 0.8234, rel=2e-3)
    assert value(high, "air_flow_handbook") == pytest.approx(value(part, "air_flow_handbook"))
    bare = air(WARMTH)
    assert "air_flow" not in bare.results
    assert bare.results["heat_output"].refused
    assert any("neither air flow nor heat" in line for line in bare.cannot_tell)


def test_a_flow_told_from_the_heat_cannot_tell_the_heat() -> None:
    assert "cannot tell it" in air({**WARMTH, "output": "80 kBtu/h"}).results["heat_output"].refused


def test_the_blowers_heat_counts_only_where_somebody_said_so() -> None:
    given = {**WARMTH, "output": "80 kBtu/h", "blower": "600 W"}
    plain, between = air(given), air(given, blower_between="yes")
    more = 600.0 / (80.0 * 293.07107)
    assert value(between, "air_flow") / value(plain, "air_flow") == pytest.approx(1.0 + more, rel=1e-6)
    assert any("nobody said" in line for line in plain.cannot_tell)
    assert not any("nobody said" in line for line in between.cannot_tell)


def test_a_blower_table_is_never_left() -> None:
    given = {**WARMTH, "supply_static": "0.35 inwc", "return_static": "-0.35 inwc"}
    part = air(given, table=TABLE)
    assert value(part, "air_flow_by_table") == pytest.approx(1095 * CFM, rel=1e-6)
    assert value(part, "heat_output") > 0.0
    beyond = air({**given, "supply_static": "0.75 inwc"}, table=TABLE)
    assert "outside the table" in beyond.results["air_flow_by_table"].refused
    assert beyond.results["heat_output"].refused


def test_a_traverse_refuses_standing_air_and_doubts_few_points() -> None:
    area = Reading("duct_area", parse.parse("1.0 ft2", quantity="duct_area"))
    many = typed.traverse_of(["22 Pa", "25 Pa", "24 Pa", "20 Pa"] * 5, area=area, method="equal area")
    few = typed.traverse_of(["22 Pa", "25 Pa", "24 Pa", "20 Pa"], area=area, method="equal area")
    wide, narrow = (air(WARMTH, traverse=one).results["air_flow_by_traverse"] for one in (few, many))
    assert wide.value == pytest.approx(narrow.value)
    assert wide.spread > 1.1 * narrow.spread
    back = Traverse((*few.readings[:3], typed.reading("0 Pa", "velocity_pressure")), area)
    assert "above zero at every point" in air(WARMTH, traverse=back).results["air_flow_by_traverse"].refused


def test_the_gauge_of_a_traverse_errs_alike_and_moves_weak_points_most() -> None:
    """The mean of roots moves by the mean of u / (2 x root), over the mean root (first order, by hand)."""
    area = Reading("duct_area", parse.parse("1.0 ft2", quantity="duct_area"))

    def gauge(*points: str) -> tuple[float, float]:
        made = air(WARMTH, traverse=typed.traverse_of(points, area=area, method="equal area"))
        working = made.results["duct_velocity"].working
        assert working is not None
        inputs = {one.words: one.spread for one in working.inputs}
        return inputs["gauge of the traverse"], inputs.get("velocity pressures", 0.0)

    alike, _ = gauge("25 Pa", "25 Pa", "25 Pa", "25 Pa")
    uneven, _ = gauge("1 Pa", "25 Pa", "25 Pa", "25 Pa")
    # one u for both: (0.5/1 + 3 x 0.5/5) / (1 + 3 x 5) over (4 x 0.5/5) / (4 x 5)
    assert uneven / alike == pytest.approx((0.8 / 16.0) / (0.4 / 20.0), rel=1e-6)


def test_a_swapped_pair_of_thermometers_gives_no_heat() -> None:
    part = air({"return_air": "128 F", "supply_air": "68 F", "output": "80 kBtu/h"}, table=TABLE)
    assert codes(part)["no-air-rise"].grade == "open"
    assert "air_flow" not in part.results
    assert codes(water({"return": "60 C", "supply": "50 C", "flow": "10 L/min"}))["no-water-rise"].grade == "open"


def test_a_motor_of_its_own_mind_is_not_held_to_the_fan_laws() -> None:
    part = air({"supply_static": "0.2 inwc", "return_static": "-0.2 inwc"}, motor="constant airflow")
    assert any("fan laws say nothing" in line for line in part.cannot_tell)


def test_heat_of_water_and_the_handbook_form_beside() -> None:
    part = water({"return": "130 F", "supply": "150 F", "flow": "6 gpm"}, liquid="water", compared=True)
    assert value(part, "heat_output_handbook") == pytest.approx(60_000 * 0.29307107, rel=1e-6)
    assert value(part, "heat_output") == pytest.approx(493.3 / 500.0 * 60_000 * 0.29307107, rel=2e-3)
    assert not part.findings


def test_compared_thermometers_are_doubted_less() -> None:
    given = {"return": "130 F", "supply": "150 F", "flow": "6 gpm"}
    alone, compared = (water(given, liquid="water", compared=each) for each in (False, True))
    assert compared.results["heat_output"].spread < 0.5 * alone.results["heat_output"].spread
    assert any("hardly larger" in line for line in water({**given, "supply": "133 F"}, liquid="water").cannot_tell)


def test_glycol_that_nobody_named_doubts_one_way() -> None:
    given = {"return": "50 C", "supply": "60 C", "flow": "20 L/min"}
    unsaid = water(given, compared=True)
    assert codes(unsaid)["glycol-not-said"].grade == "open"
    factor = unsaid.results["water_factor"]
    assert factor.below > 5.0 * factor.above
    unread = water(given, liquid="ethylene glycol")
    assert codes(unread)["glycol-not-said"].grade == "open"
    read = water({**given, "glycol": "30 %"}, liquid="ethylene glycol")
    assert not codes(read)
    assert value(read, "water_factor") / value(unsaid, "water_factor") == pytest.approx(465.9 / 492.1, rel=0.01)


def test_a_share_of_glycol_is_never_dropped() -> None:
    given = {"return": "50 C", "supply": "60 C", "flow": "20 L/min", "glycol": "30 %"}
    for liquid in ("not said", "water"):
        part = water(given, liquid=liquid)
        assert "the kind of glycol" in part.results["heat_output"].refused
        assert "water_factor" not in part.results
    assert water({**given, "glycol": "0 %"}, liquid="water").results["heat_output"].value
    thick = water({**given, "glycol": "100 %"}, liquid="propylene glycol")
    assert "at most 60 %" in thick.results["heat_output"].refused
    word = water({**given, "glycol": "falling"}, liquid="ethylene glycol")
    assert codes(word)["glycol-not-said"].grade == "open"


def test_more_heat_out_than_in_is_told_and_not_averaged() -> None:
    def cycled(**more: str) -> Part:
        given = {"on": "12 min", "off": "28 min", "input": "20 kW", "output": "30 kW", **more}
        return worked(Cycling(typed.readings_of(given, typed.CYCLING_READINGS)), CYCLING)

    part = cycled()
    assert codes(part)["cycling-more-out"].lead == "Cycling: more heat came out than went in."
    assert "more heat came out than went in" in part.results["heat_output_mean"].refused
    close = cycled(output="20 kW")
    assert codes(close)["cycling-more-out"].lead == "Cycling: perhaps more heat came out than went in."
    assert close.results["heat_output_mean"].value
    assert not codes(cycled(output="15 kW"))
    assert "cycling-loses" in codes(cycled(output="1 kW", idle_loss="2 kW"))


def test_ice_and_steam_are_refused() -> None:
    part = water({"return": "-5 C", "supply": "60 C", "flow": "20 L/min"}, liquid="propylene glycol")
    assert "liquid between 0 and 120" in part.results["heat_output"].refused


def test_flow_for_a_known_heat() -> None:
    part = water({"return": "42.5 C", "supply": "57.5 C", "output": "20 kW"}, liquid="water")
    assert value(part, "water_flow") * 3.6e6 == pytest.approx(1161.0, abs=6.0)
    plate = worked(
        WaterSide(typed.readings_of({"return": "42.5 C", "supply": "57.5 C"}, typed.WATER_READINGS), "water"),
        WATER,
        appliance=Appliance("boiler", output=20e3),
    )
    assert plate.results["water_flow"].value == pytest.approx(part.results["water_flow"].value)
    assert any("not measured here" in str(piece) for line in plate.statements for piece in line.pieces)


def test_a_bound_stays_a_bound() -> None:
    part = water({"return": "50 C", "supply": "60 C", "flow": ">20 L/min"}, liquid="water")
    assert part.results["heat_output"].bound == "at least"


def test_cycling_says_no_more_than_was_watched() -> None:
    given = {"on": "12 min", "off": "28 min", "input": "30 kW", "pilot": "900 Btu/h", "output": "25 kW",
             "idle_loss": "300 W"}  # fmt: skip
    part = worked(Cycling(typed.readings_of(given, typed.CYCLING_READINGS)), CYCLING)
    assert value(part, "run_fraction") == pytest.approx(0.3)
    assert value(part, "fuel_input_mean") == pytest.approx(9000.0 + 900 * 0.29307107)
    assert value(part, "heat_output_mean") == pytest.approx(7500.0 - 210.0)
    assert any("nothing of a season" in line for line in part.cannot_tell)
    bare = replace(Cycling(typed.readings_of({"on": "12 min"}, typed.CYCLING_READINGS)))
    assert not worked(bare, CYCLING).results
