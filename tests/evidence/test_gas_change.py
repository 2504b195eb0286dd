"""Another gas, orifices and heights as parts of the job."""

import json
from typing import Any

import pytest

from fluewright.cli.main import main


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    """A question of the supply verb, as data."""
    main(["supply", *words, "--json"])
    answer: dict[str, Any] = json.loads(capsys.readouterr().out)
    return answer


def test_twenty_per_cent_hydrogen_is_leaner_and_faster(capsys: pytest.CaptureFixture[str]) -> None:
    # practice P9 and RED-H2-20: air ratio 1.20 becomes 1.282; WEAV-006 to WEAV-009
    answer = asked(capsys, "newgas", "--fuel", "methane", "--to", "methane 80 + hydrogen 20", "--air-ratio", "1.2")
    found = {key: one["value"] for key, one in answer["parts"][0]["results"].items()}
    assert found["air_ratio_later"] == pytest.approx(1.282, abs=0.001)
    assert found["heat_rate_ratio"] == pytest.approx(0.951, abs=0.001)
    assert found["flash_back_index"] == pytest.approx(0.545, abs=0.003)
    assert {finding["code"]: finding["grade"] for finding in answer["findings"]}["gas-change-flash-back"] == "advise"


@pytest.mark.parametrize(
    ("ratio", "code", "grade"), [("1.02", "gas-change-rich", "act"), ("1.15", "gas-change-little-air", "advise")]
)
def test_the_rich_end_is_the_dangerous_one(
    ratio: str, code: str, grade: str, capsys: pytest.CaptureFixture[str]
) -> None:
    answer = asked(capsys, "newgas", "--fuel", "g20", "--swing", "2h", "--air-ratio", ratio)
    found = {finding["code"]: finding for finding in answer["findings"]}
    assert found[code]["grade"] == grade
    assert found[code]["evidence"] == [["another gas", "air_ratio_later, richest"]]


def test_without_an_air_ratio_only_the_change_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(capsys, "newgas", "--fuel", "g20", "--swing", "2h")
    assert not [key for key in answer["parts"][0]["results"] if key.startswith("air_ratio")]
    assert any("no air ratio was read" in words for words in answer["cannot_tell"])


def test_the_sentences_say_which_way_is_dangerous(capsys: pytest.CaptureFixture[str]) -> None:
    main(["supply", "newgas", "--fuel", "g20", "--to", "g21", "--air-ratio", "1.3", "--plain"])
    said = " ".join(capsys.readouterr().out.replace("|", " ").split())
    assert "richer, which is the dangerous way: towards carbon monoxide and soot" in said


@pytest.mark.parametrize("height", ["0ft", "6000ft"])
@pytest.mark.parametrize(
    ("fuel", "manifold"), [("natural-gas", "3.5inwc"), ("propane", "11inwc"), ("butane", "50mbar")]
)
def test_the_hole_for_an_input_passes_that_input(
    fuel: str, manifold: str, height: str, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["orifice", "--fuel", fuel, "--manifold", manifold, "--altitude", height, "--units", "si"]
    there = asked(capsys, *words, "--input", "20kW")["parts"][0]["results"]["orifice_diameter"]
    back = asked(capsys, *words, "--orifice", f"{there['value']!r}{there['unit']}")
    assert back["parts"][0]["results"]["fuel_input_by_orifice"]["value"] == pytest.approx(20.0, rel=1e-9)


def test_an_orifice_and_the_drills_around_an_input(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["orifice", "--fuel", "propane", "--manifold", "10inwc", "--orifice", "#54", "--input", "25kBtu/h"]
    answer = asked(capsys, *words)
    found = answer["parts"][0]["results"]
    # 1658.5 x 0.85 x A x root(10/1.52) = 8.59 ft3/h of 2500 Btu/ft3, by hand within 2 %
    assert found["fuel_input_by_orifice"]["value"] == pytest.approx(21.5, rel=0.02)
    diameter = found["orifice_diameter"]["value"]
    assert diameter == pytest.approx(0.055 * (25 / found["fuel_input_by_orifice"]["value"]) ** 0.5, rel=0.01)


def test_a_height_shows_every_rule_or_the_one_named(capsys: pytest.CaptureFixture[str]) -> None:
    every = asked(capsys, "derate", "--altitude", "4000ft", "--plate", "100kBtu/h")["parts"][0]["results"]
    values = {key.partition(", ")[2]: one["value"] for key, one in every.items() if "," in key}
    assert values == pytest.approx(
        {"us-4-percent": 84.0, "fan-2-percent": 92.0, "canada-10-percent": 90.0, "canada-5-percent": 95.0}
    )
    one = asked(capsys, "derate", "--altitude", "4000ft", "--plate", "100kBtu/h", "--altitude-rule", "us-4-percent")
    assert [key for key in one["parts"][0]["results"] if "," in key] == ["derated_input, stated"]
    assert not one["findings"]


def test_above_its_band_a_rule_of_one_step_says_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    found = asked(capsys, "derate", "--altitude", "5280ft")["parts"][0]["results"]["altitude_share, canada-10-percent"]
    assert found["value"] is None
    assert "nothing for this height" in found["refused"]
