"""Oil supply: what is found, what is refused, what stays open."""

import json
from pathlib import Path
from typing import Any

import pytest
from oil_visits import codes, part, value

from fluewright.cli.main import main
from fluewright.errors import FluewrightError
from fluewright.evidence.part import Part
from fluewright.evidence.reading import Appliance
from fluewright.fuels import load
from fluewright.visit import file

KBTU = 1.05505585262e6 / 3600.0


def fitted(stamp: str, **more: Any) -> dict[str, Any]:
    """A table with one nozzle put in."""
    return {"nozzle": [{"word": "as fitted", "stamp": stamp}], **more}


# ------------------------------------------------------------------------------------------------ nozzle and input


def test_the_input_of_a_nozzle_at_its_pump_pressure() -> None:
    # 0.85 gal/h at 140 psi passes 1.006 gal/h (burner guide, read); 138,800 Btu/h with 138,000 Btu/gal of 40 CFR 98
    found = part("oil supply", fitted("0.85 60B", pump_pressure="140 psi", oil_temperature="60 F"))
    assert value(found, "oil_flow") == pytest.approx(1.006 * 1.0515033e-6, rel=1e-3)
    assert value(found, "fuel_input") == pytest.approx(138.8 * KBTU, rel=0.015)
    assert found.results["fuel_input"].name == "fuel_input"
    assert value(found, "fuel_input_net") < value(found, "fuel_input")
    assert found.results["fuel_input"].spread / value(found, "fuel_input") == pytest.approx(0.033, abs=0.01)


def test_litres_and_kilograms_count_at_ten_bar() -> None:
    # 2.1 L/h x 0.845 kg/L x 11.86 kWh/kg net = 21.05 kW (reference arithmetic)
    litres = part("oil supply", fitted("2.1 L/h 60 S 10 bar", oil_temperature="15 C"), fuel="heating-oil-light")
    assert value(litres, "fuel_input_net") == pytest.approx(21.05e3, rel=0.01)
    mass = part("oil supply", fitted("1.7745 kg/h 60 S 10 bar", oil_temperature="15 C"), fuel="heating-oil-light")
    assert value(mass, "fuel_input_net") == pytest.approx(value(litres, "fuel_input_net"), rel=1e-4)


def test_cold_oil_in_the_cellar_holds_more_heat_a_gallon() -> None:
    cold, warm = (
        value(part("oil supply", fitted("0.85 60B", pump_pressure="140 psi", oil_temperature=t)), "fuel_input")
        for t in ("40 F", "80 F")
    )
    assert cold > warm


@pytest.mark.parametrize(
    ("table", "why"),
    [
        (fitted("0.85 60B"), "the pump pressure was not read"),
        (fitted("0.85 60B", pump_pressure="rising"), "the pump pressure was not read"),
    ],
)
def test_an_input_without_a_pressure_is_refused(table: dict[str, Any], why: str) -> None:
    assert part("oil supply", table).results["fuel_input"].refused == why


def test_a_gas_is_no_oil() -> None:
    found = part("oil supply", fitted("0.85 60B", pump_pressure="140 psi"), fuel="natural-gas")
    assert "is no oil" in found.results["fuel_input"].refused


def test_a_floor_of_the_pressure_is_a_floor_of_the_input() -> None:
    found = part("oil supply", fitted("0.85 60B", pump_pressure=">140 psi"))
    assert found.results["fuel_input"].bound == "at least"


def test_a_nozzle_ten_times_the_plate_is_a_question_and_no_verdict() -> None:
    plate = Appliance("boiler", plate_input=140.0 * KBTU)
    found = part("oil supply", fitted("8.5 60B", pump_pressure="140 psi"), appliance=plate)
    assert codes(found)["nozzle-decimal"].grade == "open"
    assert "was 0.85 gph meant?" in codes(found)["nozzle-decimal"].body
    assert "firing_rate" not in found.results
    small = part(
        "oil supply", fitted("0.85 60B", pump_pressure="140 psi"), appliance=Appliance("b", plate_input=1.4e3 * KBTU)
    )
    assert "was 8.5 gph meant?" in codes(small)["nozzle-decimal"].body
    assert "nozzle-decimal" in codes(part("oil supply", fitted("8.5 60B", pump_pressure="140 psi")))


@pytest.mark.parametrize(("stamp", "grade"), [("0.85 60B", "open"), ("1.10 60B", "advise")])
def test_input_against_the_plate(stamp: str, grade: str) -> None:
    plate = Appliance("boiler", plate_input=140.0 * KBTU)
    found = part("oil supply", fitted(stamp, pump_pressure="140 psi"), appliance=plate)
    assert codes(found)["practice-oil-input-over"].grade == grade
    assert "us-ca-oil-input-over" not in codes(found)
    there = part("oil supply", fitted(stamp, pump_pressure="140 psi"), appliance=plate, jurisdiction="US-CA")
    assert "us-ca-oil-input-over" in codes(there)


def test_a_measured_flow_outranks_the_stamp_and_tells_on_the_nozzle() -> None:
    found = part("oil supply", fitted("0.85 60B", pump_pressure="140 psi", measured_flow="0.80 gph"))
    assert value(found, "oil_flow") == pytest.approx(0.80 * 1.0515033e-6, rel=1e-5)
    assert "20 % less" in codes(found)["nozzle-passes-other"].lead
    fine = part("oil supply", fitted("0.85 60B", pump_pressure="140 psi", measured_flow="1.00 gph"))
    assert "nozzle-passes-other" not in codes(fine)


def test_another_nozzle_than_that_of_the_plate_is_told() -> None:
    rows = [{"word": "plate", "stamp": "0.85 60B"}, {"word": "as fitted", "stamp": "0.85 80B"}]
    found = part("oil supply", {"nozzle": rows, "pump_pressure": "140 psi"})
    assert codes(found)["nozzle-not-of-plate"].grade == "advise"
    assert "angle 80 where the plate asks for 60" in codes(found)["nozzle-not-of-plate"].body
    rows[1]["stamp"] = "0.85 60B"
    assert "nozzle-not-of-plate" not in codes(part("oil supply", {"nozzle": rows, "pump_pressure": "140 psi"}))


# ------------------------------------------------------------------------------------------------ line, cut-off


def test_a_line_that_draws_hard_and_one_that_is_not_full() -> None:
    line = {"lift": "6 ft", "run": "20 ft", "pipes": "one"}
    hard = part("oil supply", {**line, "vacuum": "14 inHg"})
    assert {"oil-line-draws-hard", "practice-oil-vacuum-one-pipe"} <= set(codes(hard))
    assert value(hard, "vacuum_by_rule") == pytest.approx(8.0 * 3386.39, rel=1e-4)
    assert "oil-line-not-full" in codes(part("oil supply", {**line, "vacuum": "0.5 inHg"}))
    calm = part("oil supply", {**line, "vacuum": "5 inHg"})
    assert not {finding.code for finding in calm.findings if finding.grade in ("stop", "act", "advise")}


def test_a_figure_far_inside_a_limit_of_practice_is_a_sentence_and_no_finding() -> None:
    calm = part("oil supply", {"vacuum": "2 inHg", "pipes": "one", "lit_after": "1 s"})
    assert not calm.findings
    assert len(calm.statements) == 2
    close = part("oil supply", {"vacuum": "5.8 inHg", "pipes": "one", "lit_after": "4.5 s"})
    assert {finding.grade for finding in close.findings} == {"open"}
    assert len(close.findings) == 2


def test_a_vacuum_of_weight_alone_accuses_no_line() -> None:
    found = part("oil supply", {"lift": "2 ft", "vacuum": "9 inHg", "pipes": "two"})
    assert "oil-line-draws-hard" not in codes(found)
    assert "friction left out" in found.results["vacuum_worked_out"].working.holds  # type: ignore[union-attr]


def test_turbulent_oil_leaves_friction_out() -> None:
    wild = {"lift": "2 ft", "run": "20 ft", "bore": "0.25 in", "pump_flow": "100 gph", "oil_temperature": "100 F"}
    found = part("oil supply", wild)
    assert "2300" in found.results["vacuum_worked_out"].working.holds  # type: ignore[union-attr]


@pytest.mark.parametrize(("held", "grade"), [("115 psi", "open"), ("80 psi", "advise")])
def test_the_fall_after_cut_off(held: str, grade: str) -> None:
    found = part("oil supply", {"pump_pressure": "140 psi", "pressure_held": held})
    assert codes(found)["practice-oil-cutoff-fall"].grade == grade
    assert codes(found)["practice-oil-cutoff-fall"].clause.known == "second-hand"
    unwatched = part("oil supply", {"pump_pressure": "140 psi"})
    assert any("not watched after shut-down" in words for words in unwatched.cannot_tell)


# ------------------------------------------------------------------------------------------------ start, order


@pytest.mark.parametrize(
    ("seen", "found"), [("14 s", False), ("40 s", True), (">60 s", True), (">10 s", False), ("20..30 s", True)]
)
def test_lock_out_against_its_plate(seen: str, found: bool) -> None:
    told = part("oil supply", {"lock_out": seen, "lock_out_plate": "15 s"})
    assert ("lock-out-late" in codes(told)) is found
    if found:
        assert codes(told)["lock-out-late"].grade == "act"
        assert codes(told)["lock-out-late"].cautions


def test_lock_out_that_nobody_tried_stays_open() -> None:
    for table, words in (
        ({"lit_after": "2 s"}, "nobody tried it"),
        ({"lock_out": "14 s"}, "plate of the control was not read"),
        ({"lock_out": ">10 s", "lock_out_plate": "15 s"}, "not waited for"),
    ):
        assert any(words in line for line in part("oil supply", table).cannot_tell)


def test_seal_before_air_where_oxygen_rises_to_the_breech() -> None:
    leaky = {"over_fire_oxygen": "6 %", "breech_oxygen": "8 %"}
    assert codes(part("oil supply", leaky))["seal-before-air"].grade == "advise"
    for tight in (("6 %", "6 %"), ("8 %", "6 %"), ("6 %", "6.1 %")):
        table = dict(zip(leaky, tight, strict=True))
        assert "seal-before-air" not in codes(part("oil supply", table))


def test_draft_before_air() -> None:
    weak = part("oil supply", {"over_fire_draft": "+0.01 in", "breech_draft": "-0.04 in"})
    assert "draft-before-air" in codes(weak)
    assert value(weak, "draft_through_passes") == pytest.approx(0.05 * 249.08891, rel=1e-4)
    assert "draft-before-air" not in codes(part("oil supply", {"over_fire_draft": "-0.03 in"}))


# ------------------------------------------------------------------------------------------------ tank


def outdoors(**more: str) -> Part:
    """A tank in the weather."""
    return part("oil supply", {"tank": "outdoors", **more})


def test_cold_oil_makes_a_warm_day_s_flame_rich() -> None:
    found = outdoors(oil_temperature="75 F", coldest_oil="10 F", warmest_oil="90 F", tuned_oxygen="4.5 %")
    assert value(found, "oil_flow_when_coldest") > 0.0 > value(found, "oil_flow_when_warmest")
    assert value(found, "oxygen_when_coldest") < 0.045 < value(found, "oxygen_when_warmest")
    warning = codes(found)["outdoor-oil-rich-in-winter"]
    assert warning.grade == "advise"
    assert "the dangerous end of the year for this flame is the cold one" in warning.lead
    assert found.results["oil_flow_when_coldest"].spread > 0.3 * value(found, "oil_flow_when_coldest")


def test_a_flame_short_of_air_in_the_cold_is_said_to_be() -> None:
    found = outdoors(oil_temperature="90 F", coldest_oil="-10 F", tuned_oxygen="2 %")
    assert "not enough air" in found.results["oxygen_when_coldest"].refused
    assert "not enough air" in codes(found)["outdoor-oil-rich-in-winter"].body


def test_the_direction_is_said_without_figures_and_nothing_is_made_up() -> None:
    found = outdoors()
    assert codes(found)["outdoor-oil-rich-in-winter"].grade == "open"
    assert "Cold oil flows more" in codes(found)["outdoor-oil-rich-in-winter"].body
    assert not found.results
    assert any("How rich" in words for words in found.cannot_tell)
    assert "outdoor-oil-rich-in-winter" not in codes(part("oil supply", {"tank": "indoors"}))
    heavy = part("oil supply", {"tank": "outdoors", "oil_temperature": "75 F", "coldest_oil": "10 F"}, fuel="oil-no-6")
    assert "not in our list" in heavy.results["oil_flow_when_coldest"].refused


def test_oxygen_of_the_last_stretch_counts_where_none_is_typed() -> None:
    table = {"tank": "outdoors", "oil_temperature": "75 F", "coldest_oil": "40 F"}
    assert "oxygen_when_coldest" not in part("oil supply", table).results
    assert value(part("oil supply", table, o2="6 %", stack="400 F", air="70 F"), "oxygen_when_coldest") < 0.06


def test_a_plate_of_unsaid_basis_clears_nothing_and_doubts_towards_net() -> None:
    table = fitted("0.85 60B", pump_pressure="140 psi")
    unsaid = part("oil supply", table, appliance=Appliance("b", plate_input=41e3), jurisdiction="DE")
    assert codes(unsaid)["plate-basis-unsaid"].grade == "open"
    share = unsaid.results["firing_rate"]
    assert share.below > 1.2 * share.above
    for appliance, place in (
        (Appliance("b", plate_input=41e3, plate_basis="net"), "DE"),
        (Appliance("b", plate_input=41e3, plate_basis="gross"), ""),
        (Appliance("b", plate_input=41e3), "US-CA"),
    ):
        said = part("oil supply", table, appliance=appliance, jurisdiction=place)
        assert "plate-basis-unsaid" not in codes(said)
        assert said.results["firing_rate"].below == pytest.approx(said.results["firing_rate"].above)


def test_a_net_plate_is_brought_to_gross_once(capsys: pytest.CaptureFixture[str]) -> None:
    shares = []
    for plate in (["--plate", "40kW"], ["--plate-net", "40kW"]):
        main(["oil", "nozzle", "0.85", "60B", "140psi", *plate, "--json"])
        shares.append(json.loads(capsys.readouterr().out)["parts"][0]["results"]["firing_rate"]["value"])
    fuel = load.load("oil-no-2").fuel
    assert shares[0] / shares[1] == pytest.approx(float(fuel.heating_value_gross / fuel.heating_value_net), rel=1e-3)
    assert main(["oil", "nozzle", "0.85", "60B", "140psi", "--plate", "40kW", "--plate-net", "38kW"]) != 0
    assert "FW-U-262" in capsys.readouterr().err


def test_a_visit_takes_the_plate_as_it_states_it(tmp_path: Path) -> None:
    text = Path("tests/visit/oil-cleaning.toml").read_text(encoding="utf-8")
    assert 'input = "140 kBtu/h"' in text
    said = {}
    for line in ('input = "140 kBtu/h"', 'input_net = "38.5 kW"', 'input = "41 kW"'):
        (tmp_path / "visit.toml").write_text(text.replace('input = "140 kBtu/h"', line), encoding="utf-8")
        said[line] = file.read(tmp_path / "visit.toml").appliance
    assert [one.plate_basis for one in said.values()] == ["gross", "net", ""]
    assert said['input_net = "38.5 kW"'].plate_input == pytest.approx(41.0e3, rel=0.02)
    both = text.replace('input = "140 kBtu/h"', 'input = "140 kBtu/h"\ninput_net = "38 kW"')
    (tmp_path / "visit.toml").write_text(both, encoding="utf-8")
    with pytest.raises(FluewrightError) as refused:
        file.read(tmp_path / "visit.toml")
    assert "FW-V-049" in str(refused.value)


# ------------------------------------------------------------------------------------------------ line and tank


def test_a_line_too_deep_is_told_whether_read_or_only_expected() -> None:
    deep = part("oil supply", {"lift": "12 ft", "run": "60 ft"})
    assert codes(deep)["oil-line-degasses"].grade == "advise"
    assert codes(part("oil supply", {"vacuum": "14 inHg"}))["oil-line-degasses"].grade == "advise"
    assert codes(part("oil supply", {"vacuum": "9 inHg"}))["oil-line-degasses"].grade == "open"
    assert codes(part("oil supply", {"lift": "6 ft", "run": "20 ft", "pipes": "one"}))["oil-line-degasses"]
    for calm in ({"vacuum": "3 inHg"}, {"lift": "2 ft", "run": "10 ft"}, {"vacuum": "9 inHg", "pipes": "two"}):
        assert "oil-line-degasses" not in codes(part("oil supply", calm))


def test_a_tank_above_the_pump_pushes_and_makes_no_vacuum() -> None:
    line = {"lift": "-5 ft", "run": "20 ft", "pipes": "one"}
    found = part("oil supply", line)
    assert not {"vacuum_worked_out", "vacuum_by_rule"} & set(found.results)
    assert value(found, "pressure_worked_out") == pytest.approx(9.80665 * 846.0 * 1.524, rel=0.02)
    assert "oil-pushes-too-hard" not in codes(found)
    assert any("siphoning" in words for words in found.cannot_tell)
    assert codes(part("oil supply", {**line, "lift": "-12 ft"}))["oil-pushes-too-hard"].grade == "advise"
    assert codes(part("oil supply", {**line, "vacuum": "4 inHg"}))["oil-line-draws-hard"].grade == "advise"
    assert "oil-line-draws-hard" not in codes(part("oil supply", {**line, "vacuum": "0 inHg"}))


def test_a_flame_without_air_in_the_cold_must_be_set_before_leaving() -> None:
    winter = {"tank": "outdoors", "oil_temperature": "80 F", "coldest_oil": "0 F", "tuned_oxygen": "0.5 %"}
    found = codes(part("oil supply", winter))["outdoor-oil-rich-in-winter"]
    assert found.grade == "act"
    assert found.do_now
    assert "not have the air" in found.lead
    mild = codes(part("oil supply", {**winter, "tuned_oxygen": "6 %"}))["outdoor-oil-rich-in-winter"]
    assert mild.grade == "open"
