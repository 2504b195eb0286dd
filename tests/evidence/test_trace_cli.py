"""fluewright trace as a new user meets it."""

import csv
import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from fluewright.cli import main, progress, trace_files
from fluewright.cli.progress import Progress
from fluewright.cli.trace_files import head, safe

MUSEUM = Path(__file__).parent.parent / "museum" / "traces"


@pytest.fixture
def trace(tmp_path: Path) -> Path:
    """Twenty minutes of an invented flame: lit after one, a screw turned at ten, a word among the numbers."""
    rows = ["Time,O2 (%),CO2 (%),CO (ppm),Stack temp [°F],Supply air temp (°F)"]
    for i in range(240):
        on, later = i >= 12, i >= 120
        oxygen = (4.0 if later else 6.0) if on else 20.9
        dioxide = "---" if i == 50 else f"{(9.5 if later else 8.4) if on else 0.0:.1f}"
        rows.append(
            f"2026-01-15 10:{i // 12:02d}:{i * 5 % 60:02d},"
            f"{oxygen + (i % 2) / 10:.1f},{dioxide},{40 + i % 5 if on else 0},"
            f"{(380 if later else 402) + i % 2 if on else 70},70"
        )
    path = tmp_path / "invented.csv"
    path.write_text("\n".join(rows) + "\n")
    return path


def run(*arguments: str | Path) -> int:
    return main.main(["trace", *map(str, arguments)])


def test_a_trace_is_read_judged_and_printed(trace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(trace, "--fuel", "natural-gas", "--plain") == 0
    out = capsys.readouterr().out
    assert "oxygen dry" in out
    assert "row 52, CO2 (%): text where a number belongs (---) [FW-T-020]" in out
    assert "228 rows burn, in 1 runs" in out
    assert "2 steady stretches" in out
    assert "highest carbon monoxide: at least 44 ppm" in out
    assert not set(out) & set("█±−")


def test_the_json_has_values_units_and_uncertainties(trace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(trace, "--fuel", "natural-gas", "--json", "--air-column", "Supply air temp (°F)") == 0
    data = json.loads(capsys.readouterr().out)
    assert (data["rows"], data["burning"]) == (240, 228)
    first, second = data["stretches"]
    assert first["means"]["oxygen_dry"]["value"] == pytest.approx(6.05, abs=0.01)
    assert first["means"]["oxygen_dry"]["unit"] == "%"
    assert first["means"]["oxygen_dry"]["uncertainty"] > 0.0
    assert second["results"]["efficiency_gross"]["value"] > first["results"]["efficiency_gross"]["value"]
    assert [problem["code"] for problem in data["problems"]] == ["FW-T-020"]


def test_a_dry_run_lists_and_takes_nothing(trace: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out.csv"
    assert run(trace, "-n", "--csv", out) == 0
    assert "row 52" in capsys.readouterr().out
    assert not out.exists()
    assert run(MUSEUM / "refused-wrong-unit.csv", "-n") == 3
    printed = capsys.readouterr()
    assert "2 that refuse the file" in printed.out
    assert "(FW-T-013)" in printed.err


def test_a_preview_shows_rows_and_guesses(trace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(trace, "--preview") == 0
    out = capsys.readouterr().out
    assert "first rows" in out
    assert "flue temperature" in out
    assert "unit °F from the header" in out
    assert "steady" not in out


def test_a_mapping_can_be_written_corrected_and_used(
    trace: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "columns.toml"
    assert run(trace, "--preview", "--write-mapping", path) == 0
    text = path.read_text()
    assert '"O2 (%)" = {quantity = "oxygen_dry", unit = "%"}' in text
    path.write_text(text.replace('"oxygen_dry"', '"oxygen_wet"'))
    capsys.readouterr()
    assert run(trace, "--mapping", path, "--json") == 0
    data = json.loads(capsys.readouterr().out)
    assert "oxygen_wet" in data["stretches"][0]["means"]
    assert "oxygen_dry" not in data["stretches"][0]["means"]


def test_stretches_leave_as_csv_with_registry_names(trace: Path, tmp_path: Path) -> None:
    out = tmp_path / "out.csv"
    assert run(trace, "--fuel", "natural-gas", "--csv", out) == 0
    rows = list(csv.DictReader(out.open(newline="")))
    assert len(rows) == 2
    assert float(rows[0]["oxygen_dry_percent"]) == pytest.approx(6.05, abs=0.01)
    assert float(rows[0]["flue_temperature_degC"]) == pytest.approx(205.8, abs=0.3)
    assert float(rows[0]["oxygen_dry_uncertainty_percent"]) > 0
    assert rows[0]["kind"] == "steady"


def test_a_strip_is_drawn(trace: Path, tmp_path: Path) -> None:
    from xml.etree import ElementTree

    out = tmp_path / "strip.svg"
    assert run(trace, "--fuel", "natural-gas", "--svg", out) == 0
    assert ElementTree.parse(out).getroot().tag.endswith("svg")


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        ("=1+1", "'=1+1"),
        ("+cmd", "'+cmd"),
        ("@x", "'@x"),
        ("-x", "'-x"),
        ("-0.02", "-0.02"),
        ("-1e-5", "-1e-5"),
        ("gas", "gas"),
        ("", ""),
    ],
)
def test_no_cell_becomes_a_formula(cell: str, text: str) -> None:
    assert safe(cell) == text


def test_headings_are_registry_names_with_units() -> None:
    assert head("oxygen_dry") == "oxygen_dry_percent"
    assert head("flue_temperature", "us") == "flue_temperature_degF"
    assert head("air_ratio") == "air_ratio"


def test_a_pipe_is_read(trace: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(trace.read_bytes())))
    assert run("-", "--json") == 0
    assert json.loads(capsys.readouterr().out)["rows"] == 240


def test_rows_can_be_averaged_first(trace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(trace, "--json", "--step", "30 s") == 0
    data = json.loads(capsys.readouterr().out)
    assert (data["rows"], data["step_seconds"]) == (40, 30.0)


@pytest.mark.parametrize(
    ("arguments", "code", "exit_code"),
    [
        (["--zone", "Nowhere"], "FW-U-212", 2),
        (["--air-column", "CO (ppm)"], "FW-U-213", 2),
        (["--air", "cold"], "FW-Q", 3),
        (["--csv", "/nowhere/out.csv"], "FW-U-005", 2),
        (["--mapping", "absent.toml"], "FW-T-012", 3),
        (["--compare"], "FW-F", 3),
        (["--instrument", "guess"], "FW-Q", 3),
        (["--dates", "sideways"], "FW-U-001", 2),
    ],
)
def test_wrong_use_is_said_in_four_parts(
    trace: Path, arguments: list[str], code: str, exit_code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(trace, *arguments) == exit_code
    said = capsys.readouterr().err
    assert code in said
    assert "because" in said


FOUL = ("doubt-bounds.csv", "good-grouped-thousands.csv")
"""Files of the museum whose carbon monoxide passes 1000 ppm: read without fault, and something is found."""


@pytest.mark.parametrize(
    "path", sorted(MUSEUM.glob("*.csv")) + sorted(MUSEUM.glob("*.parquet")), ids=lambda path: path.name
)
def test_no_file_of_the_museum_ends_in_a_traceback_or_half_a_file(
    path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = run(path, "--fuel", "natural-gas", "--compare", "--csv", tmp_path / "out.csv", "--svg", tmp_path / "out.svg")
    said = capsys.readouterr()
    refused = path.name.startswith("refused")
    assert code == (3 if refused else 1 if path.name in FOUL else 0), said.err
    assert "Traceback" not in said.err
    assert "FW-Z" not in said.err
    assert {one.name for one in tmp_path.iterdir()} == (set() if refused else {"out.csv", "out.svg"})


def test_control_c_ends_with_130_and_leaves_nothing(
    trace: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr(trace_files, "table", interrupted)
    assert run(trace, "--csv", tmp_path / "out.csv") == 130
    assert "nothing was left half-written" in capsys.readouterr().err
    assert [one.name for one in tmp_path.iterdir()] == ["invented.csv"]


def test_a_bar_appears_after_a_second_when_asked(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    now = [0.0]
    monkeypatch.setattr(progress.time, "monotonic", lambda: now[0])
    bar = Progress(show=True, plain=True)
    tick = bar.watch("reading")
    tick(1, 4)
    assert capsys.readouterr().err == ""
    now[0] = 1.5
    tick(2, 4)
    assert "reading" in (said := capsys.readouterr().err)
    assert "############............  50 %" in said
    bar.done()
    quiet = Progress(show=False)
    now[0] = 9.0
    quiet.watch("reading")(1, 2)
    quiet.done()
    assert "█" not in capsys.readouterr().err


def test_the_reader_needs_neither_numpy_nor_pyarrow(trace: Path) -> None:
    code = (
        "import sys; sys.modules['numpy'] = None; sys.modules['pyarrow'] = None; "
        "from fluewright.cli.main import main; raise SystemExit(main(sys.argv[1:]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, "trace", str(trace), "--fuel", "natural-gas"],
        capture_output=True,
        text=True,
        env=os.environ,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "2 steady stretches" in done.stdout


def test_parquet_gives_the_same_as_csv(trace: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pa = pytest.importorskip("pyarrow")
    parquet = pytest.importorskip("pyarrow.parquet")
    rows = list(csv.reader(trace.open(newline="")))
    units = ["", "%", "%", "ppm", "°F", "°F"]
    names = ["Time", "O2", "CO2", "CO", "Stack temp", "Supply air temp"]
    columns = [[row[i] for row in rows[1:]] for i in range(6)]
    from datetime import datetime

    arrays = [pa.array([datetime.fromisoformat(cell) for cell in columns[0]])]
    arrays += [pa.array([None if cell == "---" else float(cell) for cell in column]) for column in columns[1:]]
    fields = [
        pa.field(name, array.type, metadata={"unit": unit})
        for name, array, unit in zip(names, arrays, units, strict=True)
    ]
    path = tmp_path / "invented.parquet"
    parquet.write_table(pa.Table.from_arrays(arrays, schema=pa.schema(fields)), path)
    assert run(trace, "--fuel", "natural-gas", "--json") == 0
    text = json.loads(capsys.readouterr().out)
    assert run(path, "--fuel", "natural-gas", "--json") == 0
    assert json.loads(capsys.readouterr().out)["stretches"] == text["stretches"]
