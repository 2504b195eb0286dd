"""A visit file with the tables of oil, from reading to printed sheet, and the same questions at the command line."""

import json
from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.visit import file, work

VISIT = Path(__file__).parent / "oil-cleaning.toml"


def test_an_oil_visit_is_read_judged_and_told_whole() -> None:
    verdict = work.judged(file.read(VISIT))
    parts = {part.word: part for part in verdict.parts}
    assert set(parts) == {"oil supply", "smoke"}
    assert parts["oil supply"].results["fuel_input"].value == pytest.approx(140_000.0 * 1055.05585 / 3600.0, rel=0.02)
    found = {finding.code for finding in verdict.judged.findings}
    assert {"seal-before-air", "draft-before-air", "outdoor-oil-rich-in-winter", "practice-oil-cutoff-fall"} <= found
    assert "nozzle-not-of-plate" not in found
    knee = parts["smoke"].results["knee"]
    assert knee.low is not None
    assert knee.high is not None
    assert knee.low < 0.05 < knee.high


def test_papers_of_a_stretch_are_one_reading() -> None:
    found, left = file.read(VISIT).stretches
    assert found.readings["smoke_spot"].figure == pytest.approx(13.0 / 3.0)
    assert left.readings["smoke_spot"].typed.kind == "range"
    assert left.readings["smoke_spot"].typed.text == "0, 0, trace"


def test_the_sheet_tells_of_oil_in_the_order_of_the_job(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["report", str(VISIT), "--plain", "--html", str(tmp_path / "oil.html")]) in (0, 1)
    said = " ".join(capsys.readouterr().out.replace("|", " ").split())
    for words in (
        "Oil supply",
        "By its stamp the nozzle passes 1.01 +/- 0.06 gph of oil",
        "It has lost 18 +/- 5 % of its pressure",
        "Locked out without a flame after 14",
        "The knee, where smoke begins to rise, lies at",
        "Cold oil flows more",
    ):
        assert words in said, words
    assert "in w.c.." not in said
    assert "Oil supply" in (tmp_path / "oil.html").read_text(encoding="utf-8")


QUESTIONS = {
    "nozzle": ["0.85", "60B", "--pressure", "140psi", "--plate", "140kBtu/h"],
    "line": ["--lift", "6ft", "--run", "20ft", "--pipes", "one", "--vacuum", "5inHg"],
    "smoke": ["1", "1", "2", "--head", "older"],
    "start": ["--lit-after", "2s", "--lock-out", "14s", "--lock-out-plate", "15s", "--over-fire-draft", "-0.03"],
    "tank": ["--oil-temperature", "75F", "--coldest", "10F", "--oxygen", "4.5%"],
}
GIVES = {
    "nozzle": {"oil_flow", "fuel_input", "fuel_input_net", "firing_rate"},
    "line": {"vacuum_worked_out", "vacuum_by_rule", "suction_vacuum"},
    "smoke": {"smoke_spot"},
    "start": {"ignition_time", "lock_out_time"},
    "tank": {"oil_flow_when_coldest", "oxygen_when_coldest"},
}


@pytest.mark.parametrize("question", QUESTIONS)
def test_a_question_is_answered_in_words_and_as_data(question: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["oil", question, *QUESTIONS[question], "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert GIVES[question] <= set(answer["parts"][0]["results"])
    assert main(["oil", question, *QUESTIONS[question], "--working", "--plain"]) == 0
    said = capsys.readouterr().out
    assert said.isascii()
    assert "nan" not in said.split()


def test_oil_on_a_paper_ends_with_1(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["oil", "smoke", "0", "--colour", "oily"]) == 1
    assert "stop the burner" in capsys.readouterr().out.lower()


def test_an_old_burner_in_germany_is_asked_by_its_own_row(capsys: pytest.CaptureFixture[str]) -> None:
    old = ["oil", "smoke", "2", "2", "2", "--jurisdiction", "DE", "--json"]
    assert main(old) == 0
    new = json.loads(capsys.readouterr().out)["findings"]
    assert main([*old, "--built", "1986", "--unchanged"]) == 0
    kept = json.loads(capsys.readouterr().out)["findings"]
    assert {f["code"]: f["grade"] for f in new}["de-1bimschv-soot-atomising"] == "advise"
    assert {f["code"]: f["grade"] for f in kept}["de-1bimschv-soot-atomising-old"] == "open"
