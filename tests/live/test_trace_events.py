"""Events of a recorded trace from the command line: the same sentences as live, held against marks."""

import contextlib
import io
import json
from pathlib import Path

import pytest
from live_cells import cell, samples, step, still

from fluewright.cli import main
from fluewright.cli.trace_events import marked
from fluewright.errors import UseError
from fluewright.evidence.trace.times import Form
from fluewright.evidence.trace.trace import Channel, from_rows


def said(*arguments: str) -> tuple[int, str]:
    """What the command says, and its exit code."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        code = main.main(["trace", *arguments])
    return code, out.getvalue()


@pytest.fixture
def blower(tmp_path: Path) -> Path:
    """A trace in which oxygen goes up eight seconds after a blower starts, at 10:06:40."""
    cells = [cell("oxygen_dry", step(400.0, 0.055, 0.063)), cell("flue_temperature", still(450.0))]
    path = tmp_path / "run.csv"
    rows: dict[int, list[str]] = {}
    for sample in samples(cells, 900, 5):
        value = sample.value * 100.0 if sample.quantity == "oxygen_dry" else sample.value - 273.15
        rows.setdefault(int(sample.at), []).append(f"{value:.1f}")
    lines = ["time,O2 (%),flue temperature (°C)"]
    for second, cells_of in rows.items():
        minute, rest = divmod(second, 60)
        lines.append(f"2026-11-25 10:{minute:02d}:{rest:02d},{','.join(cells_of)}")
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def test_what_moved_is_held_against_what_was_marked(blower: Path) -> None:
    code, text = said(str(blower), "--events", "--mark", "10:06:32 blower on")
    assert code == 1
    words = " ".join(text.split())
    assert "act Oxygen +0.8" in words
    assert "inspect the heat exchanger" in words
    assert "instrument settled: 2 times" in words


def test_without_a_mark_the_sentence_blames_nobody(blower: Path) -> None:
    code, text = said(str(blower), "--events")
    assert code == 0
    assert "nobody marked why" in text
    assert "inspect the heat exchanger" not in text


def test_a_program_gets_the_same_and_nothing_is_said_unasked(blower: Path) -> None:
    _, text = said(str(blower), "--events", "--json")
    (event,) = json.loads(text)["events"]
    assert (event["key"], event["grade"]) == ("air-changed", "advise")
    (moved,) = event["moved"]
    assert moved["amount"] == pytest.approx(0.008, abs=0.0006)
    assert 0.0 < moved["doubt"] < 0.0006
    assert abs(moved["start"] % 3600.0 - 400.0) <= 5.0
    _, plain = said(str(blower), "--json")
    assert "events" not in json.loads(plain)


def test_a_mark_can_be_read_on_every_clock() -> None:
    channels = [Channel("oxygen_dry", "1", "O2")]
    counted = from_rows(channels=channels, rows=[(0.0, (0.05,))])
    assert [(mark.at, mark.word) for mark in marked(["125 s lit", "90 blower on"], counted, 0.0)] == [
        (125.0, "lit"),
        (90.0, "blower on"),
    ]
    of_day = from_rows(channels=channels, rows=[(36_000.0, (0.05,))], form=Form("clock"))
    assert marked(["10:00:30 door shut"], of_day, 36_000.0)[0].at == 36_030.0
    dated = from_rows(channels=channels, rows=[(0.0, (0.05,))], form=Form("iso", "+01:00"))
    start = 1_795_600_000.0
    first, second = marked(["2026-11-25 12:00:00 step", "00:10 lit"], dated, start)
    assert first.at == 1_795_604_400.0
    assert second.at > start
    for wrong in ("blower on", "25:00 lit", "10:00"):
        with pytest.raises(UseError, match="FW-U-216"):
            marked([wrong], dated, start)


def test_a_stop_stands_before_everything_else(tmp_path: Path) -> None:
    cells = [cell("oxygen_dry", still(0.055)), cell("draft", step(400.0, -6.0, 3.0, within=2.0))]
    path = tmp_path / "draft.csv"
    rows: dict[int, list[str]] = {}
    for sample in samples(cells, 600, 5):
        value = sample.value * 100.0 if sample.quantity == "oxygen_dry" else sample.value
        rows.setdefault(int(sample.at), []).append(f"{value:.1f}")
    lines = ["seconds,O2 (%),draft (Pa)", *(f"{second},{','.join(row)}" for second, row in rows.items())]
    path.write_text("\n".join(lines), encoding="utf-8")
    code, text = said(str(path), "--events", "--mark", "400 fan on")
    assert code == 1
    assert text.startswith("Carbon monoxide has no smell.")
    assert text.index("STOP: The draft is gone") < text.index("columns")
