"""fluewright cost and the question about air for burning: answers, JSON, and errors in four parts."""

import argparse
import json
from pathlib import Path
from typing import Any

import pytest

from fluewright.cli import asks, room_combustion_air
from fluewright.cli.main import Parser, main
from fluewright.errors import FluewrightError

BEFORE = ["31 d, 150 therm, 1050 hdd", "30 d, 92 therm, 600 hdd", "31 d, 40 therm, 100 hdd", "28 d, 125 therm, 900 hdd"]
TABLE = """days,use,degree_days,when
31,150,1050,before
30,92,600,before
31,40,100,
28,125,900,before
"""


def answer(capsys: pytest.CaptureFixture[str], *words: str) -> Any:
    """The JSON answer of a command."""
    assert main([*words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def air(*words: str) -> argparse.Namespace:
    """The question about air, parsed as the room verb will parse it."""
    parser = Parser(prog="fluewright room air", allow_abbrev=False)
    room_combustion_air.add(parser)
    asks.add_every(parser)
    return parser.parse_args(words)


def test_heat(capsys: pytest.CaptureFixture[str]) -> None:
    data = answer(capsys, "cost", "heat", "--price", "1.50 USD/therm", "--efficiency", "90%")
    found = data["parts"][0]["results"]["delivered price"]
    assert found["value"] == pytest.approx(16.667, abs=0.01)
    assert found["unit"] == "1/MMBtu"


def test_a_bill_from_rows_and_from_a_table_is_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bills.csv"
    path.write_text(TABLE, encoding="utf-8")
    rows = answer(capsys, "cost", "bill", "--before", *BEFORE)["parts"][0]["results"]
    table = answer(capsys, "cost", "bill", "--table", str(path))["parts"][0]["results"]
    assert rows == table
    assert rows["year before"]["unit"] == "therm"


def test_factors_and_duties(capsys: pytest.CaptureFixture[str]) -> None:
    assert answer(capsys, "cost", "factors", "--fuel", "natural-gas")["parts"][0]["published_per_heat"]
    data = answer(capsys, "cost", "duty", "de-60b", "--day", "2012-05-25")
    assert data["parts"][0]["duties"][0]["last_day"] == "2028-05-24"
    assert main(["cost", "duty", "--jurisdiction", "DE", "--plain"]) == 0
    assert "de-60b" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["heat"], "FW-U-234"),
        (["heat", "--price", "1.50"], "FW-V-032"),
        (["bill"], "FW-U-235"),
        (["bill", "--before", "31 d, 150 therm"], "FW-V-034"),
        (["bill", "--table", "nowhere.csv"], "FW-V-035"),
        (["duty", "tea-time", "--day", "2026-01-01"], "FW-B-011"),
        (["duty", "de-60b"], "FW-U-232"),
        (["duty", "de-60b-units", "--day", "2026-01-01"], "FW-U-233"),
        (["factors"], "FW-F-090"),
    ],
)
def test_an_error_has_its_four_parts(words: list[str], code: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["cost", *words]) in (2, 3)
    said = capsys.readouterr()
    assert not said.out
    assert code in said.err
    assert all(part in said.err for part in ("expected", "because", "do "))


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [("degree_days", "cold", "FW-V-035"), ("1050,before", "1050,during", "FW-V-036"), ("92", "many", "FW-Q-002")],
)
def test_a_broken_table_names_the_line(
    old: str, new: str, code: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bills.csv"
    path.write_text(TABLE.replace(old, new, 1), encoding="utf-8")
    assert main(["cost", "bill", "--table", str(path)]) == 3
    said = capsys.readouterr().err
    assert code in said
    assert "bills.csv" in said


def test_air_in_short(capsys: pytest.CaptureFixture[str]) -> None:
    args = air(
        *(
            "--natural",
            "100kBtu/h",
            "--fan-assisted",
            "40kBtu/h",
            "--outdoors",
            "10x12in",
            "Ø150mm",
            "--volume",
            "9000ft3",
        ),
        *("--exhaust", "200cfm", "unknown", "--jurisdiction", "US", "--air-changes", "0.35/h", "--json"),
    )
    args.question = "air"
    asks.run(args, {"air": room_combustion_air})
    part = json.loads(capsys.readouterr().out)["parts"][0]
    areas = {form["rule"]: form["stands"] for form in part["forms"]}
    assert areas["us-outdoor-single"] == "met"
    assert part["results"]["us-outdoor-single finds"]["value"] == pytest.approx(120.0)


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["--volume", "9000ft3"], "FW-U-230"),
        (["--natural", "100kBtu/h", "--outdoors", "10..12inx9in"], "FW-U-231"),
        (["--natural", "warm"], "FW-Q"),
    ],
)
def test_air_that_cannot_be_understood(words: list[str], code: str) -> None:
    with pytest.raises(FluewrightError, match=code):
        room_combustion_air.asked(air(*words))
