"""Two appliances on one flue: predicted and measured side by side, and a fan that makes one of them spill."""

from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.errors import FluewrightError, Problems
from fluewright.evidence.finding import Finding
from fluewright.evidence.flue_section import FlueSection
from fluewright.report.drawing import PressureSection
from fluewright.visit import file, work
from fluewright.visit.work import Verdict

VISIT = Path(__file__).parent / "common-flue.toml"
TEXT = VISIT.read_text(encoding="utf-8")
ONE = (
    "words=boiler; input=120 kBtu/h; oxygen=7.5 %; outlet=400 F; height=4.1 ft; joins=6 ft; diameter=6 in; length=5 ft"
)


def judged(folder: Path, text: str = TEXT) -> Verdict:
    path = folder / "visit.toml"
    path.write_text(text, encoding="utf-8")
    return work.judged(file.read(path))


def refused(folder: Path, text: str) -> list[FluewrightError]:
    path = folder / "visit.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Problems) as caught:
        file.read(path)
    return list(caught.value.errors)


def found(verdict: Verdict) -> dict[str, Finding]:
    return {finding.code: finding for finding in reversed(verdict.judged.findings)}


def test_a_fan_that_makes_one_spill_stops_the_visit(tmp_path: Path) -> None:
    verdict = judged(tmp_path)
    spill = found(verdict)["spills-with-fans"]
    assert spill.grade == "stop"
    assert spill.evidence == (("flue", "draft water heater, every fan on"), ("flue", "spills at water heater"))
    assert spill.odds is not None
    assert spill.odds > 0.9
    sheet = verdict.sheet()
    assert sheet.stops[0].order.startswith("Stop.")
    assert any("every fan" in step for step in sheet.stops[0].do)
    assert "When fans run, flue gas comes back into the room." in " ".join(sheet.customer["What was found"])


def test_without_the_fans_nothing_spills_and_nothing_is_cleared(tmp_path: Path) -> None:
    calm = TEXT.replace('fans_pressure = "-19 Pa"\n', "").rpartition("[[flue.measured]]")[0]
    verdict = judged(tmp_path, calm)
    assert "stop" not in {finding.grade for finding in verdict.judged.findings}
    assert "fine" not in {finding.grade for finding in verdict.judged.findings}
    assert any("clears nothing" in words for words in verdict.judged.cannot_tell)
    assert any("with every fan running" in words for words in verdict.judged.cannot_tell)


def test_the_drawing_holds_prediction_and_measured_points(tmp_path: Path) -> None:
    sheet = judged(tmp_path).sheet()
    (figure,) = [one for one in sheet.figures if one.kind == "section"]
    drawn = figure.data
    assert isinstance(drawn, PressureSection)
    assert [case.words for case in drawn.cases] == ["predicted", "every fan on"]
    assert [branch.spills for branch in drawn.cases[0].branches] == [False, False]
    assert [branch.spills for branch in drawn.cases[1].branches] == [False, True]
    assert [(pin.words, pin.case) for pin in drawn.pins] == [
        ("above the boiler's hood", 0),
        ("above the heater's hood", 0),
        ("above the heater's hood, every fan on", 1),
    ]
    # a draft is read against the room, the drawing counts from outdoors: the room's own pressure lies between
    room_low, room_high = drawn.cases[0].room
    at = room_low[1] + (room_high[1] - room_low[1]) * drawn.pins[0].height / room_high[0]
    assert drawn.pins[0].pressure == pytest.approx(at - 0.020 * 249.08891, abs=0.01)
    (section,) = [one for one in sheet.sections if one.title == "The flue and what hangs on it"]
    assert figure.section == section.number


def test_the_smaller_one_spills_first_and_says_at_what_pressure(tmp_path: Path) -> None:
    (part,) = judged(tmp_path).parts
    heater, boiler = (part.results[f"spills at {words}"] for words in ("water heater", "boiler"))
    assert heater.value is not None
    assert boiler.value is not None
    assert boiler.value < heater.value < -10.0
    assert 1.0 < heater.spread < 6.0
    assert isinstance(part.picture, FlueSection)


def test_shares_of_the_flue_are_the_whole(tmp_path: Path) -> None:
    (part,) = judged(tmp_path).parts
    shares = [part.results[f"share {words}"].value or 0.0 for words in ("water heater", "boiler")]
    assert sum(shares) == pytest.approx(1.0)
    assert shares[1] > shares[0]


def test_every_number_shows_what_its_doubt_comes_from(tmp_path: Path) -> None:
    (part,) = judged(tmp_path).parts
    working = part.results["draft boiler"].working
    assert working is not None
    words = [one.words for one in working.inputs]
    assert {"openings of the hoods", "outdoor temperature", "heat let through by the walls"} <= set(words)
    assert sum(one.share for one in working.inputs) == pytest.approx(1.0)


def test_a_flue_that_draws_less_than_it_should_is_told(tmp_path: Path) -> None:
    weak = judged(tmp_path, TEXT.replace('draft = "-0.020 in"', 'draft = "-0.001 in"'))
    assert found(weak)["draft-weaker-than-predicted"].grade == "advise"
    assert "draft-weaker-than-predicted" not in {
        f.code for f in judged(tmp_path).judged.findings if ("flue", "measured 1") in f.evidence
    }


def test_a_pressure_above_the_room_at_a_hood_stops_whatever_was_predicted(tmp_path: Path) -> None:
    text = TEXT.replace('fans_pressure = "-19 Pa"\n', "").rpartition("[[flue.measured]]")[0]
    blown = judged(tmp_path, text.replace('draft = "-0.014 in"', 'draft = "0.03 in"'))
    assert found(blown)["spills-measured"].grade == "stop"


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('joins = "6.0 ft"', 'joins = "31 ft"', "FW-V-075"),
        ('diameter = "3 in"', 'diameter = "0 in"', "FW-V-075"),
        ('words = "water heater"\nkind', 'words = "boiler"\nkind', "FW-V-075"),
        ('foot = "1 ft"', 'foot = "1 ft"\ncap = "wide"', "FW-V-076"),
        ('outlet = "420 F"\n', "", "FW-V-077"),
        ('at = "boiler"', 'at = "kettle"', "FW-V-078"),
        ('kind = "hood"', 'kind = "hat"', "FW-V-009"),
        ('height = "24 ft"', 'height = "24 Pa"', "FW-Q-004"),
        ('wall = "masonry, clay liner"\n', "", "FW-V-004"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_its_reason(tmp_path: Path, old: str, new: str, code: str) -> None:
    errors = refused(tmp_path, TEXT.replace(old, new, 1))
    assert code in {error.code for error in errors}
    for error in errors:
        assert all(error.parts().values())


def test_the_command_answers_and_refuses(capsys: pytest.CaptureFixture[str]) -> None:
    common = ["draft", "flue", "--fuel", "natural-gas", "--height", "24ft", "--diameter", "6in"]
    common += ["--wall", "masonry, clay liner", "--outdoors", "52F", "--room", "66F"]
    assert main([*common, "--appliance", ONE, "--json"]) == 0
    assert '"draft boiler"' in capsys.readouterr().out
    assert main([*common, "--appliance", ONE, "--fans-pressure", "-30Pa"]) == 1
    assert "spills" in capsys.readouterr().out
    assert main([*common, "--appliance", "boiler with a hood"]) == 2
    assert "FW-U-275" in capsys.readouterr().err
    assert main([*common, "--appliance", "words=boiler; input=120 kBtu/h"]) == 3
    assert "no 'height'" in capsys.readouterr().err


def test_odds_follow_the_edge_and_agree_with_what_is_said_of_it(tmp_path: Path) -> None:
    """Far above the edge nothing is said, a pascal above it much is, and at it the odds are even."""
    (part,) = judged(tmp_path).parts
    edge = part.results["spills at water heater"].value
    assert edge is not None

    def odds(room: float) -> float:
        text = TEXT.replace('fans_pressure = "-19 Pa"', f'fans_pressure = "{room:.3f} Pa"')
        codes = {f.code: f for f in judged(tmp_path, text).judged.findings if "Water heater" in f.lead}
        finding = codes.get("spills-with-fans")
        return finding.odds or 0.0 if finding else 0.0

    assert odds(edge) == pytest.approx(0.5, abs=0.02)
    assert odds(edge + 8.0) < 0.05
    assert 0.05 < odds(edge + 1.5) < 0.5 < odds(edge - 1.5) < 1.0


def test_gas_that_comes_out_of_an_appliance_that_is_off_stops_too(tmp_path: Path) -> None:
    text = TEXT.replace('kind = "hood"\nstate = "lit"\ninput = "36', 'kind = "hood"\nstate = "off"\ninput = "36')
    off = [f for f in judged(tmp_path, text.replace("-19 Pa", "-30 Pa")).judged.findings if f.lead.startswith("Water")]
    assert [f.grade for f in off if f.code == "spills-with-fans"] == ["stop"]
    assert "though it is off" in next(f.lead for f in off if f.code == "spills-with-fans")


def test_a_flue_that_draws_warm_may_not_start_cold(tmp_path: Path) -> None:
    text = TEXT.replace('fans_pressure = "-19 Pa"', 'fans_pressure = "-8 Pa"').rpartition("[[flue.measured]]")[0]
    verdict = judged(tmp_path, text.replace('opening = "14 in2"', 'opening = "28 in2"'))
    cold = [f for f in verdict.judged.findings if f.code == "lit-cold-spills" and "fan" in f.lead]
    assert [f.grade for f in cold] == ["act"]
    assert any("flue cold" in step for step in cold[0].do_now)
    assert "stop" not in {f.grade for f in verdict.judged.findings}
    assert any(
        f"{word} alone" in "".join(str(p) for s in verdict.parts[0].statements for p in s.pieces)
        for word in ("boiler",)
    )


def test_a_draft_measured_a_little_above_the_room_is_not_passed_over(tmp_path: Path) -> None:
    text = TEXT.replace('fans_pressure = "-19 Pa"\n', "").rpartition("[[flue.measured]]")[0]
    little = found(judged(tmp_path, text.replace('draft = "-0.014 in"', 'draft = "0.003 in"')))["spills-measured"]
    assert little.grade == "stop"
    near = found(judged(tmp_path, text.replace('draft = "-0.014 in"', 'draft = "-0.002 in"')))["spills-measured"]
    assert near.grade == "open"
    assert "spills-measured" not in found(judged(tmp_path, text))


def test_a_barometric_damper_holds_its_draft(tmp_path: Path) -> None:
    text = TEXT.replace(
        'kind = "hood"\nstate = "lit"\ninput = "120',
        'kind = "damper"\nset = "-0.02 in w.c."\nstate = "lit"\ninput = "120',
    )
    text = text.replace('outdoors = "52 F"', 'outdoors = "10 F"').replace('opening = "14 in2"', 'opening = "28 in2"')
    (part,) = judged(tmp_path, text).parts
    draft = part.results["draft boiler"].value
    assert draft == pytest.approx(-0.02 * 249.08891, abs=0.3)


def test_the_command_takes_several_appliances(capsys: pytest.CaptureFixture[str]) -> None:
    common = [
        "draft",
        "flue",
        "--fuel",
        "natural-gas",
        "--height",
        "24ft",
        "--diameter",
        "6in",
        "--wall",
        "masonry, clay liner",
    ]
    heater = ONE.replace("boiler", "water heater").replace("joins=6 ft", "joins=7 ft")
    assert main([*common, "--appliance", ONE, "--appliance", heater, "--json"]) in (0, 1)
    out = capsys.readouterr().out
    assert '"share boiler"' in out
    assert '"share water heater"' in out
    assert main([*common, "--height", "25ft", "--appliance", ONE]) == 2
    assert "given twice" in capsys.readouterr().err


def test_a_us_flue_is_told_in_units_of_the_trade() -> None:
    from fluewright.report.text import text

    said = " ".join(
        text(work.judged(file.read(VISIT)).sheet(), plain=False).replace("\u202f", " ").replace("│", " ").split()
    )
    assert "height, ft" in said
    assert "height, m" not in said
    assert "W/(m2 K)" not in said
    measured = said.split("Measured above the boiler's hood")[1][:90]
    assert measured.count("in w.c.") == 2
    assert "measured less predicted" in measured
