"""A visit file about a gas line, and the questions of the command line: one construction, one answer."""

import argparse
from pathlib import Path

import pytest

from fluewright.cli import asks, supply_pipe, supply_pressure, supply_tightness
from fluewright.cli.main import Parser, main
from fluewright.errors import FluewrightError
from fluewright.report.words.supply import WORDS
from fluewright.rules import load, tightness_tests
from fluewright.visit import file, work
from fluewright.visit.work import Verdict

VISIT = Path(__file__).parent / "gas-line.toml"
QUESTIONS = {"pressure": supply_pressure, "tightness": supply_tightness, "pipe": supply_pipe}


def answered(question: str, *words: str) -> Verdict:
    """A question as the command line asks it."""
    parser = Parser(prog="supply", allow_abbrev=False)
    asks.add_questions(parser, QUESTIONS)  # type: ignore[arg-type]
    args: argparse.Namespace = parser.parse_args([question, "--fuel", "natural-gas", *words])
    return asks.verdict_of(args, QUESTIONS[question].asked(args))  # type: ignore[attr-defined]


@pytest.fixture(scope="module")
def verdict() -> Verdict:
    """The invented visit worked out."""
    return work.judged(file.read(VISIT))


def test_the_three_parts_come_in_the_order_of_the_job(verdict: Verdict) -> None:
    assert [part.word for part in verdict.parts] == ["gas supply", "tightness", "gas survey"]
    titles = [section.title for section in verdict.sheet().sections]
    assert titles[1:] == ["Gas supply", "Tightness of the gas pipes", "Gas lines looked over"]


def test_flow_splits_by_the_inputs_behind_each_piece(verdict: Verdict) -> None:
    results = verdict.parts[0].results
    alone, together = (results[f"worked-out drop, {state}"].value for state in ("this appliance", "everything on"))
    assert alone is not None
    assert together is not None
    assert alone < together
    assert results["worked-out drop to water heater"].value is not None


def test_the_room_in_the_pipes_is_worked_out(verdict: Verdict) -> None:
    # 9.144 m of 26.64 mm, 4.572 m of 20.93 mm, 3.658 m of 15.80 mm, 10 % for fittings
    reading = verdict.parts[1].readings()["volume"]
    assert reading.figure == pytest.approx(8.13e-3, rel=0.005)
    assert reading.source == "worked out from the pipes"


def test_the_sheet_prints_whole_in_every_form(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = [str(tmp_path / name) for name in ("a.html", "a.pdf")]
    assert main(["report", str(VISIT), "--html", out[0], "--pdf", out[1]]) in (0, 1)
    said = capsys.readouterr().out
    assert "not reachable, because the closet wall" in " ".join(said.replace("│", " ").split())
    assert "w.c..\n" not in said.split("Findings")[0]


def test_file_and_command_line_answer_alike(verdict: Verdict) -> None:
    asked = answered("pressure", "--meter-shut-off", "7.8 in w.c.", "--set", "7.0 in w.c.")
    one, two = (each.parts[0].results["regulator_lock_up"] for each in (asked, verdict))
    assert one.value == two.value
    assert one.spread == two.spread


def test_the_pipe_of_a_question(capsys: pytest.CaptureFixture[str]) -> None:
    # IFGC 2018 table 402.4(3), 1/2 in, 3.0 in w.c. in 60 ft: 172 ft3/h (check PIPE-T-0.622-3-60); 1,000 Btu/ft3 or so
    words = ("--pipe", 'steel 1/2"', "--length", "60 ft", "--input", "180 kBtu/h", "--pressure", "14 in w.c.")
    drop = answered("pipe", *words).parts[0].results["by the code, everything on"].value
    assert drop is not None
    assert drop / 249.08891 == pytest.approx(3.0, rel=0.12)


def test_a_test_of_tightness_as_a_question() -> None:
    words = ("--start", "20.5 mbar", "--end", "19 mbar", "--after", "2 min", "--volume", "9 L", "--pipes", "in use",
             "--appliances", "on", "--meter", "G4", "--jurisdiction", "GB", "--settled", "1 min")  # fmt: skip
    codes = {finding.code for finding in answered("tightness", *words).judged.findings}
    assert "uk-ed4-010" in codes


@pytest.mark.parametrize(
    ("question", "words", "code", "exit_code"),
    [
        ("pressure", ("--standing", "7"), "FW-U-250", 2),
        ("pressure", ("--standing", "14.7 psi"), "FW-K-052", 5),
        ("pressure", ("--standing", "1013 mbar"), "FW-K-052", 5),
        ("pressure", ("--standing=-7 in w.c.",), "FW-K-053", 5),
        ("pressure", ("--standing", "29.9 psia"), "FW-Q-", 3),
        ("pipe", ("--pipe", "steel 3/4", "--length", "60 ft"), "FW-U-251", 2),
        ("pipe", ("--pipe", "steel 7/9", "--length", "6 ft", "--input", "9 kW"), "FW-U-252", 2),
        ("pipe", ("--pipe", "steel 3/4", "--inside", "20 mm", "--length", "6 ft", "--input", "9 kW"), "FW-U-252", 2),
        ("pipe", ("--pipe", "steel 1", "--length", "6 ft", "--input", "9 kW", "--fittings", "bends=2"), "FW-U-253", 2),
        ("tightness", ("--start", "20 mbar", "--end", "19 mbar"), "FW-U-251", 2),
        ("tightness", ("--start", "20 mbar", "--after", "2 min"), "FW-U-255", 2),
        ("tightness", ("--start", "20 mbar", "--end", "19 mbar", "--after", "2 min", "--barometer-end", "1 bar"),
         "FW-U-254", 2),
        ("tightness", (), "FW-U-256", 2),
    ],
)  # fmt: skip
def test_what_cannot_be_is_answered_in_four_parts(
    question: str, words: tuple[str, ...], code: str, exit_code: int
) -> None:
    with pytest.raises(FluewrightError) as caught:
        answered(question, *words)
    assert caught.value.code.startswith(code)
    assert caught.value.exit_code == exit_code
    assert all(caught.value.parts()[name] for name in ("read", "expected", "matters", "do"))


def test_a_load_test_at_one_bar_is_not_taken_for_the_air() -> None:
    words = ("--purpose", "load", "--start", "1.0 bar", "--end", "1.0 bar", "--after", "10 min", "--pipes", "new",
             "--appliances", "off", "--jurisdiction", "DE")  # fmt: skip
    assert {finding.code for finding in answered("tightness", *words).judged.findings} == {"de-load"}


def test_every_grave_finding_has_words_for_the_house() -> None:
    ids = {test.id for test in tightness_tests.tests() if test.purpose != "bubbles"}
    ids |= {limit.id for limit in load.book("gas-supply").limits}
    assert not ids - set(WORDS)
