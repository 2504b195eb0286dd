"""Heat delivered through a visit file and through the command line: both doors lead to the same parts."""

import json
from pathlib import Path

import pytest

from fluewright.cli.main import main

VISIT = Path(__file__).parent / "heat-delivered.toml"
FULL = VISIT.read_text(encoding="utf-8")


def report(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str, str]:
    """The sheet of a visit file with this text."""
    path = tmp_path / "visit.toml"
    path.write_text(text, encoding="utf-8")
    code = main(["report", str(path), "--plain"])
    said = capsys.readouterr()
    return code, " ".join(said.out.replace("|", " ").split()), said.err


def test_every_table_reaches_the_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = report(FULL, tmp_path, capsys)
    assert code == 0
    for words in (
        "Heat delivered to the air",
        "Heat delivered to the water",
        "Burner cycling",
        "Does it add up",
        "A traverse of 8 points",
        "By the blower table, medium-high, invented",
        "The odd one out is heat delivered, water",
        "the return is cold enough to sweat",
        "Only a hose test and a second sampling point",
    ):
        assert words in out, words


def test_a_balance_needs_no_table_of_its_own(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bare = FULL.partition("[adds_up]")[0]
    _, out, _ = report(bare, tmp_path, capsys)
    assert "Does it add up" in out
    _, out, _ = report(bare.partition("[air_side]")[0], tmp_path, capsys)
    assert "Does it add up" not in out


@pytest.mark.parametrize(
    ("was", "becomes", "said"),
    [
        ('return_air = "68 F"', 'return_air = "68 gallons"', "air_side, return_air"),
        ('motor = "fixed speed"', 'motor = "steam"', "air_side, motor"),
        ('plate_static = "0.50 inwc"', 'plate_static = "0.4..0.5 inwc"', "air_side, plate_static"),
        ('static = "0.6 inwc"', 'static = "0.4 inwc"', "air_side, blower_table"),
        ('other_side = "12 in"', 'diameter = "12 in"', "air_side, traverse"),
        ('points = ["22 Pa", "25 Pa", "24 Pa", "20 Pa",', "points = [ # ", "air_side, traverse"),
        ('liquid = "propylene glycol"', 'liquid = "brine"', "water_side, liquid"),
        ("compared = true", 'compared = "yes"', "air_side, compared"),
        ('on = "12 min"', 'on = "often"', "cycling, on"),
        ('second_input = "102 kBtu/h"', 'second = "102 kBtu/h"', "adds_up"),
        ('return = "118 F"\n', "", "water_side"),
    ],
)
def test_a_fault_in_a_table_is_told_with_its_place(
    was: str, becomes: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = FULL.replace(was, becomes)
    if becomes.endswith("# "):
        text = text.replace('"23 Pa", "21 Pa", "19 Pa", "18 Pa"]\n', '\n"23 Pa"]\n')
    assert text != FULL
    code, out, err = report(text, tmp_path, capsys)
    assert code == 3
    assert not out
    assert said in err
    for part in ("expected", "because", "do  "):
        assert part in err


AIR = ["delivered", "air", "--return-air", "68F", "--supply-air", "128F"]


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["delivered"], 2, ""),
        (["delivered", "air"], 2, "FW-U-280"),
        ([*AIR, "--row", "0.5inwc=1200cfm"], 3, "FW-V-080"),
        ([*AIR, "--row", "1200cfm"], 3, "FW-V-081"),
        ([*AIR, "--output", "80 furlongs"], 3, "FW-Q-"),
        (["delivered", "traverse", "--point", "20Pa", "21Pa", "22Pa", "23Pa", *AIR[2:]], 3, "FW-V-082"),
        (["delivered", "traverse", "--point", "20Pa", "--area", "2ft2", *AIR[2:]], 3, "FW-V-083"),
        (["delivered", "traverse", "--point", "20Pa", "--side", "1ft", *AIR[2:]], 3, "FW-V-082"),
        (["delivered", "water", "--return", "warm"], 3, "FW-Q-"),
        (["delivered", "adds-up", "--o2", "5%", "--co2", "9%"], 3, "FW-F-"),
    ],
)
def test_a_broken_command_says_what_to_do(
    words: list[str], code: int, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == code
    err = capsys.readouterr().err
    assert said in err
    for part in ("expected", "because", "do  "):
        assert part in err


def answer(words: list[str], capsys: pytest.CaptureFixture[str]) -> dict[str, object]:
    """The only part of a JSON answer."""
    assert main(["delivered", *words, "--json"]) in (0, 1)
    (part,) = json.loads(capsys.readouterr().out)["parts"]
    assert isinstance(part, dict)
    return part


def test_each_question_answers_as_data(capsys: pytest.CaptureFixture[str]) -> None:
    static = answer(["static", "--supply-static", "0.32inwc", "--return-static", "-0.28inwc"], capsys)
    assert "external_static" in static["results"]  # type: ignore[operator]
    points = [f"{20 + i} Pa" for i in range(6)]
    traverse = answer(["traverse", "--point", *points, "--diameter", "14in", *AIR[2:]], capsys)
    assert "air_flow_by_traverse" in traverse["results"]  # type: ignore[operator]
    water = answer(["water", "--return", "140F", "--supply", "160F", "--flow", "6gpm", "--liquid", "water"], capsys)
    assert "heat_output" in water["results"]  # type: ignore[operator]
    cycling = answer(["cycling", "--on", "12min", "--off", "28min", "--input", "30kW"], capsys)
    assert "fuel_input_mean" in cycling["results"]  # type: ignore[operator]
    both = answer(["adds-up", "--fuel", "g20", "--o2", "5%", "--co2", "8.9%"], capsys)
    assert both["reconciled"]["freedom"] == 1  # type: ignore[index]


def test_the_door_exits_1_where_the_exchanger_runs_hot(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*AIR[:-1], "160F", "--plate-rise", "40..70 F"]) == 1
    assert main([*AIR, "--plate-rise", "40..70 F"]) == 0
    assert "plate 40" in capsys.readouterr().out
