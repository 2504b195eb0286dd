"""The tables of gas input and another gas in a visit file."""

import json
from pathlib import Path
from typing import Any

import pytest

from fluewright.cli.main import main
from fluewright.visit import file as visit_file
from fluewright.visit import work

HERE = Path(__file__).parent
VISIT = HERE / "gas-input.toml"


@pytest.fixture(scope="module")
def verdict() -> work.Verdict:
    """The invented visit, judged."""
    return work.judged(visit_file.read(VISIT))


def test_each_appliance_is_a_part_of_its_own(verdict: work.Verdict) -> None:
    words = [part.word for part in verdict.parts]
    assert set(words) == {"gas input", "gas input, water heater", "another gas"}
    for part in verdict.parts[:2]:
        assert part.results["fuel_input"].name == "fuel_input"
        assert part.results["fuel_input"].basis == "gross"


def test_the_index_and_the_plate_by_volume_are_understood(verdict: work.Verdict) -> None:
    part = next(part for part in verdict.parts if part.word == "gas input, water heater")
    flow = part.results["gas_flow"].value or 0.0
    assert flow == pytest.approx(2.0 * 0.3048**3 / 180.0)
    assert part.results["input_of_plate"].value == pytest.approx(1.0, abs=0.05), "40 cfh on both sides"


def test_the_air_ratio_of_the_flame_goes_into_another_gas(verdict: work.Verdict) -> None:
    part = next(part for part in verdict.parts if part.word == "another gas")
    burnt = verdict.told[0][1]
    assert burnt is not None
    now = burnt.results["air_ratio"].value
    later = part.results["air_ratio_later"].value
    assert now is not None
    assert later is not None
    assert later > now, "hydrogen leaves more air"
    rich = part.results["air_ratio_later, richest"].value
    assert rich is not None
    assert rich < now


def test_the_sheet_prints_it(capsys: pytest.CaptureFixture[str]) -> None:
    main(["report", str(VISIT), "--plain"])
    said = " ".join(capsys.readouterr().out.split())
    assert "Gas input: water heater" in said
    assert "the plate's" in said


def faults(tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str) -> list[dict[str, Any]]:
    """Errors of the invented visit with one text changed."""
    text = VISIT.read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / "visit.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    assert main(["report", str(path), "--json"]) == 3
    found: list[dict[str, Any]] = json.loads(capsys.readouterr().err)["errors"]
    return found


@pytest.mark.parametrize(
    ("old", "new", "code", "place"),
    [
        ("turns = 2", "turns = -2", "FW-V-040", "gas_input 1, turns"),
        ("turns = 2", 'turns = "two"', "FW-V-040", "gas_input 1, turns"),
        ('meter_pressure = "7 inwc"', 'meter_pressure = "14.9 psi"', "FW-V-041", "gas_input 1, meter_pressure"),
        ('meter_pressure = "7 inwc"', 'meter_pressure = "14.9 psia"', "FW-Q-004", "gas_input 1, meter_pressure"),
        ('altitude = "300 ft"', 'altitude = "1600"', "FW-V-042", "place, altitude"),
        ('altitude = "300 ft"', "altitude = 1600", "FW-V-042", "place, altitude"),
        ('dial = "2 ft3"', 'dial = "2 ft3"\nvolume = "4 ft3"', "FW-V-043", "gas_input 1"),
        ('dial = "2 ft3"\nturns = 2\n', "", "FW-V-043", "gas_input 1"),
        ('to = "1236.00 ft3"', 'to = "1230.00 ft3"', "FW-V-044", "gas_input 2, from and to"),
        ('to = "1236.00 ft3"\n', "", "FW-V-044", "gas_input 2, from and to"),
        ('time = "140 s"', 'time = "0 s"', "FW-V-045", "gas_input 1, time"),
        ('orifice = "#42"', 'orifice = "#99"', "FW-B-041", "gas_input 1, orifice"),
        ('orifice = "#42"', 'orifice = "42 bananas"', "FW-Q-003", "gas_input 1, orifice"),
        ('manifold = "3.5 inwc"', 'manifold = "hunting"', "FW-V-048", "gas_input 1, manifold"),
        ('meter_temperature = "55 F"', 'meter_temperature = "rising"', "FW-V-048", "gas_input 1, meter_temperature"),
        ("alone = true", 'alone = "yes"', "FW-V-012", "gas_input 2, alone"),
        ('compensated = "no"', 'compensated = "maybe"', "FW-V-009", "gas_input 1, compensated"),
        ("alone = true", 'altitude_table = [["0 ft", "100 %"]]', "FW-V-046", "gas_input 2, altitude_table"),
        ("alone = true", 'altitude_table = "0 ft"', "FW-V-046", "gas_input 2, altitude_table"),
        ('swing = "published"', 'swing = "wide"', "FW-V-009", "gas_change, swing"),
        ('to = "natural-gas 90 + hydrogen 10"', 'to = "oil-no-2"', "FW-V-047", "gas_change"),
    ],
)
def test_what_cannot_be_taken_is_told_with_its_place(
    old: str, new: str, code: str, place: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = faults(tmp_path, capsys, old, new)
    errors = {error["code"]: error for error in found}
    assert code in errors, found
    assert errors[code]["where"].endswith(place), errors[code]["where"]


def test_a_gauge_that_really_shows_an_atmosphere_may_say_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "visit.toml"
    text = VISIT.read_text(encoding="utf-8").replace('"7 inwc"', '"14.9 psig"', 1)
    path.write_text(text, encoding="utf-8")
    assert main(["report", str(path), "--json"]) in (0, 1)
    capsys.readouterr()
