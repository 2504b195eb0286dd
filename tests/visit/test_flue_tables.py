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
    assert spill.evidence == (("flue", "draft water heater, every fan on"),)
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
