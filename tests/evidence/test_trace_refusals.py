"""What fluewright trace cannot do it refuses in its own words: nothing ends in our own fault."""

import json
from pathlib import Path

import pytest

from fluewright.cli import main
from fluewright.errors import FluewrightError
from fluewright.evidence.trace import mapping, times
from fluewright.evidence.trace.problems import Ledger
from fluewright.evidence.trace.read import read

MUSEUM = Path(__file__).parent.parent / "museum" / "traces"
GOOD = MUSEUM / "good-plain.csv"


def run(*arguments: str | Path) -> int:
    return main.main(["trace", *map(str, arguments)])


def written(path: Path, *rows: str, head: str = "Time,O2 (%),CO (ppm),Flue temperature (°C)") -> Path:
    path.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    return path


def strict(text: str) -> dict[str, object]:
    """JSON as the standard has it: Infinity and NaN are no words of it."""

    def refuse(word: str) -> None:
        raise AssertionError(f"{word} is not JSON")

    data = json.loads(text, parse_constant=refuse)
    assert isinstance(data, dict)
    return data


@pytest.mark.parametrize("more", [(), ("--preview",), ("--dry-run",), ("--fuel", "natural-gas", "--compare")])
def test_json_is_json_whatever_the_cells_say(
    more: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [f"{i},5.0,{'1e999' if i == 3 else 50},180,{'1e999' if i % 2 else '-1e999'}" for i in range(300)]
    path = written(tmp_path / "far.csv", *rows, head="Time (s),O2 (%),CO (ppm),Flue temperature (°C),Whatever")
    assert run(path, "--json", *more) == 0
    data = strict(capsys.readouterr().out)
    if "understood" in data:
        columns = {column["header"]: column for column in data["understood"]["columns"]}  # type: ignore[index]
        assert (columns["CO (ppm)"]["low"], columns["CO (ppm)"]["high"]) == (50.0, 50.0)


@pytest.mark.parametrize("name", ["undefined", "idna", "\0", "base64", "rot13", "no-such"])
def test_an_encoding_that_reads_no_text_is_refused_with_the_mapping(name: str) -> None:
    with pytest.raises(FluewrightError, match="FW-T-012"):
        mapping.from_data({"file": {"encoding": name}})


@pytest.mark.parametrize("name", ["utf-8", "utf-16", "latin-1", "cp1252", "utf-16-le", "utf-8-sig", "shift_jis"])
def test_an_encoding_of_text_is_taken(name: str) -> None:
    assert mapping.from_data({"file": {"encoding": name}}).encoding == name


@pytest.mark.parametrize("name", ["utf-16", "utf-32"])
def test_an_encoding_that_the_file_does_not_have_is_refused(name: str) -> None:
    ledger = Ledger()
    with pytest.raises(FluewrightError):
        read(GOOD, mapping=mapping.from_data({"file": {"encoding": name}}), ledger=ledger)


@pytest.mark.parametrize("line", [-1, 10**30, True])
def test_a_header_line_that_no_file_has_is_refused(line: int) -> None:
    with pytest.raises(FluewrightError, match="FW-T-012"):
        mapping.from_data({"file": {"header_line": line}})


def test_a_header_line_beyond_this_file_is_refused() -> None:
    with pytest.raises(FluewrightError, match="header_line = 1999"):
        read(GOOD, mapping=mapping.from_data({"file": {"header_line": 1999}}))


@pytest.mark.parametrize(
    ("option", "length"),
    [("--step", "1e300 s"), ("--step", "1e12 s"), ("--step", "1e18 s"), ("--step", "1e-300 s"), ("--step", "3 min"),
     ("--response", "1e308 s"), ("--response", "2 days"), ("--response", "0 s")],
)  # fmt: skip
def test_a_time_that_does_not_fit_the_trace_is_refused(
    option: str, length: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(GOOD, option, length) in {2, 3}
    assert "FW-" in capsys.readouterr().err


def test_a_step_as_long_as_the_trace_is_taken() -> None:
    """Twelve rows of ten seconds: two minutes."""
    assert run(GOOD, "--step", "2 min") == 0


@pytest.mark.parametrize("text", ["9999-12-31T23:00:00-14:00", "0001-01-01", "0001-01-01T00:00:00+14:00", "9999-12-31"])
@pytest.mark.parametrize("zone", ["", "UTC", "-14:00", "+14:00", "Europe/Berlin"])
def test_a_time_at_the_edge_of_the_calendar_cannot_be_read(text: str, zone: str) -> None:
    with pytest.raises((ValueError, OverflowError)):
        times.Reader(times.Form("iso", zone)).seconds(text)


@pytest.mark.parametrize("order", ["epoch seconds", "epoch milliseconds", "elapsed seconds"])
def test_a_count_of_seconds_beyond_all_calendars_cannot_be_read(order: str) -> None:
    with pytest.raises(ValueError, match="1e300"):
        times.Reader(times.Form(order)).seconds("1e300")


@pytest.mark.parametrize("edge", ["9999-12-31T23:00:00-14:00", "0001-01-01T00:00:00", "0002-01-01T00:00:00"])
@pytest.mark.parametrize("more", [(), ("--zone", "Europe/Berlin"), ("--step", "1 s"), ("--zone", "+14:00")])
def test_a_row_at_the_edge_of_the_calendar_does_not_end_the_run(
    edge: str, more: tuple[str, ...], tmp_path: Path
) -> None:
    rows = [f"2026-01-15T10:00:{i:02d},5.0,50,180" for i in range(40)]
    assert run(written(tmp_path / "edge.csv", *rows, f"{edge},5.0,50,180"), *more) == 0


def test_a_burner_that_does_not_exist_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(GOOD, "--burner", "x") == 2
    assert "--burner" in capsys.readouterr().err


@pytest.mark.parametrize("option", ["--csv", "--svg"])
def test_a_preview_writes_nothing_and_says_so(option: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(GOOD, "--preview", option, tmp_path / "out") == 2
    assert "FW-U-215" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_a_zone_without_a_name_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(GOOD, "--zone", "") == 2
    assert "FW-U-212" in capsys.readouterr().err


@pytest.mark.parametrize("option", ["--csv", "--svg", "--write-mapping"])
def test_the_fuel_file_is_never_written_over(option: str, tmp_path: Path) -> None:
    fuel = tmp_path / "fuel.toml"
    fuel.write_text("kept")
    assert run(GOOD, "--fuel-file", fuel, option, fuel, "--force") == 2
    assert fuel.read_text() == "kept"
