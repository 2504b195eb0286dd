"""fluewright fuel, as a person runs it."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from fluewright.cli.main import main
from fluewright.fuels.load import names

KEYS = (
    "molar_mass", "relative_density", "density", "heating_value_gross", "heating_value_net", "wobbe_gross", "wobbe_net",
    "air_need", "carbon_dioxide_dry_max", "carbon_factor",
)  # fmt: skip


def asked(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    """The JSON of a command that succeeds."""
    assert main(["fuel", *arguments, "--json"]) == 0
    return dict(json.loads(capsys.readouterr().out))


def test_json_has_value_unit_uncertainty_and_working(capsys: pytest.CaptureFixture[str]) -> None:
    data = asked(capsys, "show", "natural-gas")
    for key in KEYS:
        figure = data[key]
        assert isinstance(figure["value"], float)
        assert figure["unit"]
        assert figure["uncertainty"] > 0.0
        assert figure["working"]["formula"]
    assert data["heating_value_gross"]["unit"] == "MJ/m3"
    assert data["heating_value_gross"]["value"] == pytest.approx(38.67, abs=0.05)
    assert data["molar_mass"]["unit"] == "g/mol"
    assert data["carbon_dioxide_dry_max"]["unit"] == "%"
    assert data["carbon_factor"]["unit"] == "g/MJ"
    assert data["reference"]["text"] == "15/15"
    assert data["fuel"]["known"] == "read"


@pytest.mark.parametrize(
    ("reference", "expected"), [("15/15", 37.779), ("25/0", 39.83), ("15/0", 39.87), ("60F", 37.70)]
)
def test_references_change_the_heat(capsys: pytest.CaptureFixture[str], reference: str, expected: float) -> None:
    """Methane, MJ/m3 (reference tables 1.2; 1011.9 Btu/ft3 at 60 F)."""
    data = asked(capsys, "show", "methane", "--reference", reference)
    assert data["heating_value_gross"]["value"] == pytest.approx(expected, rel=1e-3)
    assert data["reference"]["pressure"] == "101.325 kPa"


def test_us_units(capsys: pytest.CaptureFixture[str]) -> None:
    data = asked(capsys, "show", "methane", "--units", "us")
    assert data["heating_value_gross"]["unit"] == "Btu/ft3"
    assert data["heating_value_gross"]["value"] == pytest.approx(1011.9, rel=1e-3)
    assert data["reference"]["text"] == "60F/60F"


def test_a_typed_composition(capsys: pytest.CaptureFixture[str]) -> None:
    """G25 by volume: 32.49 MJ/m3 and Wobbe 41.52 (EN 437, from memory)."""
    data = asked(capsys, "show", "--composition", "CH4=86,N2=14", "--by", "volume")
    assert data["heating_value_gross"]["value"] == pytest.approx(32.49, rel=1e-3)
    assert data["wobbe_gross"]["value"] == pytest.approx(41.52, rel=1e-3)
    assert "percent" in data["fuel"]["understood"]


def test_a_liquid_is_counted_by_mass(capsys: pytest.CaptureFixture[str]) -> None:
    data = asked(capsys, "show", "oil-no-2")
    assert data["heating_value_gross"]["unit"] == "MJ/kg"
    assert data["air_need"]["unit"] == "kg/kg"
    assert data["wobbe_gross"]["value"] is None
    assert data["wobbe_gross"]["refused"]
    assert data["published"][0]["document"]


def test_wood_with_its_moisture(capsys: pytest.CaptureFixture[str]) -> None:
    for said in ("20", "20%"):
        data = asked(capsys, "show", "wood-logs", "--moisture", said)
        assert data["fuel"]["composition"]["water"] == pytest.approx(0.20)


def test_a_fuel_file(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "ours.txt"
    file.write_text("CH4 = 95\nN2 = 5\n", encoding="utf-8")
    assert asked(capsys, "show", "--fuel-file", str(file))["fuel"]["name"] == "ours"


def test_the_library_file_is_a_file_to_begin_from(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Written out and read back, it is the same fuel."""
    assert main(["fuel", "show", "natural-gas", "--toml"]) == 0
    file = tmp_path / "mine.toml"
    file.write_text(capsys.readouterr().out, encoding="utf-8")
    mine = asked(capsys, "show", "--fuel-file", str(file))
    theirs = asked(capsys, "show", "natural-gas")
    assert mine["heating_value_gross"]["value"] == theirs["heating_value_gross"]["value"]


@pytest.mark.parametrize("name", names())
@pytest.mark.parametrize("system", ["si", "us"])
def test_no_figure_has_more_digits_than_anybody_knows(
    capsys: pytest.CaptureFixture[str], name: str, system: str
) -> None:
    assert main(["fuel", "show", name, "--units", system]) == 0
    assert not re.findall(r"\d\.\d{7,}", capsys.readouterr().out)


@pytest.mark.parametrize("name", names())
@pytest.mark.parametrize("options", [(), ("--units", "us", "--working", "--plain")])
def test_every_fuel_reads_well(capsys: pytest.CaptureFixture[str], name: str, options: tuple[str, ...]) -> None:
    assert main(["fuel", "show", name, *options]) == 0
    out = capsys.readouterr().out
    assert "Made of" in out
    assert "How known" in " ".join(out.split())
    assert max(map(len, out.splitlines())) <= 100
    assert "nan" not in out.lower().split()
    if "--plain" in options:
        assert out.isascii(), [letter for letter in out if not letter.isascii()]


def test_the_list(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fuel", "list"]) == 0
    out = capsys.readouterr().out
    assert all(name in out for name in names())
    assert main(["fuel", "list", "--json"]) == 0
    assert {row["name"] for row in json.loads(capsys.readouterr().out)} == set(names())


def test_published_defaults(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fuel", "defaults"]) == 0
    assert "138000 Btu/gal" in capsys.readouterr().out
    assert len(asked(capsys, "defaults")["emissions"]) == 6


@pytest.mark.parametrize(
    ("arguments", "code", "exit_code"),
    [
        (("show", "natual-gas"), "FW-F-001", 3),
        (("show",), "FW-F-090", 3),
        (("show", "propane", "--composition", "CH4=100"), "FW-F-090", 3),
        (("show", "--composition", "CH4=95,N2=4"), "FW-F-002", 3),
        (("show", "methane", "--reference", "30/30"), "FW-F-028", 3),
        (("show", "methane", "--moisture", "20"), "FW-F-016", 3),
        (("show", "wood-logs", "--moisture", "0.2"), "FW-Q-019", 3),
        (("show", "wood-logs", "--moisture", "20..30"), "FW-Q-018", 3),
        (("show", "wood-logs", "--moisture", "rising"), "FW-Q-018", 3),
        (("list", "gas"), "FW-U-040", 2),
        (("tell",), "FW-U-001", 2),
        (("show", "nothing", "--toml"), "FW-F-001", 3),
    ],
)
def test_mistakes_are_told_in_four_parts(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], code: str, exit_code: int
) -> None:
    assert main(["fuel", *arguments]) == exit_code
    told = capsys.readouterr()
    assert told.out == ""
    assert code in told.err
    assert "expected" in told.err
    assert "Traceback" not in told.err
