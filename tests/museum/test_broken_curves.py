"""Broken tables of curves and broken tables about adjusting: each mistake with its four parts and its line."""

from pathlib import Path
from typing import Any

import pytest

from fluewright.cli.main import main
from fluewright.errors import FluewrightError, PhysicsRefused, Problems
from fluewright.tune import curve_set
from fluewright.visit import of_options
from fluewright.visit.parts import permit, tune

HEAD = "fuel,rate_percent,way,oxygen_dry_percent,position_air_percent\n"

BROKEN: list[tuple[str, str, list[str], str]] = [
    ("nothing", "", ["FW-U-336"], "0 points"),
    ("a header alone", HEAD, ["FW-U-336"], "0 points"),
    ("no fuel", "rate_percent,oxygen_dry_percent\n50,4\n", ["FW-U-332"], "line 1"),
    ("no rate", "fuel,oxygen_dry_percent\ngas,4\n", ["FW-U-332"], "rate_percent"),
    ("a column twice", "fuel,rate_percent,mode,mode\ngas,50,a,b\n", ["FW-U-333"], "mode twice"),
    ("a cell short", HEAD + "gas,50,up,4\n", ["FW-U-334"], "line 2"),
    ("a decimal comma", HEAD + "gas,50,up,4,2,30\n", ["FW-U-334"], "6 cells"),
    ("a unit in the cell", HEAD + "gas,50,up,4 %,30\n", ["FW-U-331"], "oxygen_dry_percent = '4 %'"),
    ("a word for a number", HEAD + "gas,50,up,four,30\n", ["FW-U-331"], "line 2"),
    ("not a number", HEAD + "gas,50,up,nan,30\n", ["FW-U-331"], "'nan'"),
    ("endless", HEAD + "gas,inf,up,4,30\n", ["FW-U-331"], "'inf'"),
    ("oxygen above all there is", HEAD + "gas,50,up,140,30\n", ["FW-U-331"], "'140'"),
    ("an actuator past its stop", HEAD + "gas,50,up,4,130\n", ["FW-U-331"], "position_air_percent"),
    ("a rate below nothing", HEAD + "gas,-5,up,4,30\n", ["FW-U-331"], "'-5'"),
    ("an unknown way", HEAD + "gas,50,sideways,4,30\n", ["FW-U-335"], "sideways"),
    ("an empty fuel", HEAD + " ,50,up,4,30\n", ["FW-U-335"], "fuel ' '"),
    ("an empty rate", HEAD + "gas,,up,4,30\n", ["FW-U-335"], "rate ''"),
    ("several at once", HEAD + "gas,50,up,x,30\n\ngas,60,up,4\n", ["FW-U-331", "FW-U-334"], "line 4"),
    ("a cell beyond all bounds", HEAD + f"gas,50,up,4,{'9' * 200_000}\n", ["FW-U-337"], "line"),
]


def errors_of(caught: FluewrightError) -> list[FluewrightError]:
    return list(caught.errors) if isinstance(caught, Problems) else [caught]


@pytest.mark.parametrize(("text", "codes", "said"), [row[1:] for row in BROKEN], ids=[row[0] for row in BROKEN])
def test_a_broken_table_is_refused_with_its_line(text: str, codes: list[str], said: str) -> None:
    with pytest.raises(FluewrightError) as caught:
        curve_set.curve_set_of(text=text, file="curves.csv")
    found = errors_of(caught.value)
    assert [error.code for error in found] == codes
    assert said in caught.value.sentence()
    for error in found:
        assert all(error.parts()[part] for part in ("read", "expected", "matters", "do"))
        assert "curves.csv" in error.where


def test_more_rows_than_any_burner_has() -> None:
    with pytest.raises(FluewrightError) as caught:
        curve_set.curve_set_of(text=HEAD + "gas,50,up,4,30\n" * 5001)
    assert caught.value.code == "FW-U-336"


@pytest.mark.parametrize(
    ("table", "code"),
    [
        ({"point": [{"o2": "4 %"}]}, "FW-V-320"),
        ({"point": [{"o2": "4 %", "co": "5 ppm", "papers": "1"}]}, "FW-V-320"),
        ({"point": [{"o2": "4 %", "co": "5 ppm"}, {"o2": "3 %", "papers": "1"}]}, "FW-V-321"),
        ({"point": [{"o2": "4 %", "co": "5 ppm", "way": "left"}]}, "FW-V-009"),
        ({"step": [{"lever": "air shutter", "o2": "5 %", "moved": "a bit"}]}, "FW-V-323"),
        ({"step": [{"lever": "air shutter", "o2": "5 %", "moved": 0}]}, "FW-V-323"),
        ({"lever": "the big screw"}, "FW-V-009"),
        ({"lever": "air shutter", "spills": "yes"}, "FW-V-012"),
    ],
)
def test_a_broken_table_about_adjusting(table: dict[str, Any], code: str) -> None:
    with pytest.raises(FluewrightError) as caught:
        of_options.of_tree({"tune": table}, tune.read)
    assert code in [error.code for error in errors_of(caught.value)]


def test_a_network_without_a_band_is_refused() -> None:
    year = {"mechanism": "fan", "air": "60 F", "network": "published"}
    with pytest.raises(FluewrightError) as caught:
        of_options.of_tree({"tune": {"year": year}, "fuel": {"name": "hydrogen"}}, tune.read)
    assert caught.value.code == "FW-V-322"


@pytest.mark.parametrize(
    ("table", "code"),
    [
        ({"gas": "nox", "limit": ">9 ppm"}, "FW-V-325"),
        ({"gas": "nox", "limit": "0 ppm"}, "FW-V-325"),
        ({"gas": "nox", "limit": "9 ppm", "runs": 0}, "FW-V-324"),
        ({"gas": "nox", "limit": "9 ppm", "runs": "three"}, "FW-V-324"),
        ({"gas": "steam", "limit": "9 ppm"}, "FW-V-009"),
        ({"gas": "nox", "limit": "9 ppm", "check": [{"when": "between", "gas": "9 ppm", "read": "9 ppm"}]}, "FW-V-009"),
        ({"gas": "nox", "limit": "9 ppm", "run": [{"mean": "9 ppm", "start": "25:00"}]}, "FW-V-018"),
    ],
)
def test_a_broken_table_about_a_permit(table: dict[str, Any], code: str) -> None:
    with pytest.raises(FluewrightError) as caught:
        of_options.of_tree({"permit": table}, permit.read)
    assert code in [error.code for error in errors_of(caught.value)]


@pytest.mark.parametrize(
    ("words", "code", "exit_code"),
    [
        (["curve", "4%"], "FW-U-330", 2),
        (["curve", "4%="], "FW-U-330", 2),
        (["set", "nowhere.csv"], "FW-U-338", 2),
        (["permit", "nowhere.toml"], "FW-V-006", 3),
        (["margin", "--mechanism", "fan", "--fuel", "methane", "--air", "-200F"], "FW-K-120", 5),
    ],
)
def test_a_broken_command(words: list[str], code: str, exit_code: int, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tune", *words]) == exit_code
    assert code in capsys.readouterr().err


def test_files_that_are_no_tables(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    binary, other = tmp_path / "binary.csv", tmp_path / "other.toml"
    binary.write_bytes(b"\xff\xfe\x00\x01")
    other.write_text('[visit]\ntitle = "x"\n')
    assert main(["tune", "set", str(binary)]) == 2
    assert "FW-U-338" in capsys.readouterr().err
    assert main(["tune", "permit", str(other)]) == 2
    assert "FW-U-339" in capsys.readouterr().err


def test_a_cell_that_does_not_answer_is_not_divided_by() -> None:
    from fluewright.tune.permit import GasCheck, corrected

    dead = [GasCheck(50e-6, 2e-6), GasCheck(0.0, 1e-6)]
    with pytest.raises(PhysicsRefused) as caught:
        corrected(20e-6, before=dead, after=dead)
    assert caught.value.code == "FW-K-124"
