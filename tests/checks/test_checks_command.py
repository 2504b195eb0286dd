"""fluewright checks as a person and as a program meets it."""

import json

import pytest

from fluewright.checks import run as published
from fluewright.checks.run import Outcome
from fluewright.cli import main as door


def test_as_data(capsys: pytest.CaptureFixture[str]) -> None:
    assert door.main(["checks", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["total"] == len(published.rows())
    assert told["missed"] == []
    assert sum(source["count"] for source in told["sources"]) == told["total"]
    assert {"source", "count", "worst", "known"} <= set(told["sources"][0])
    assert all(source["worst"] <= 1.0 for source in told["sources"])


def test_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert door.main(["checks", "--source", "DOE Steam", "--worst", "2"]) == 0
    told = capsys.readouterr().out
    assert "doe-tip-sheet-4" in told
    assert "30 of 30 published values met, 0 missed." in told
    assert told.count("US DOE Steam Tip Sheet 4, table") == 2


def test_an_unknown_source_names_the_sources(capsys: pytest.CaptureFixture[str]) -> None:
    assert door.main(["checks", "--source", "nobody"]) == 2
    assert "iso-6976" in capsys.readouterr().err


def test_a_miss_without_a_reason_is_something_found(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    row = published.rows()[0]
    missed = Outcome(row, (0.0,), -row.expected[0], 99.0, True)
    monkeypatch.setattr(published, "outcomes", lambda chosen: (missed,))
    assert door.main(["checks"]) == 1
    told = capsys.readouterr()
    assert f"missed {row.id}: not explained" in told.out
    assert "without a written reason" in told.err
    monkeypatch.setattr(published, "not_met", lambda: {row.id: "a reason with figures"})
    assert door.main(["checks"]) == 0
    assert "a reason with figures" in capsys.readouterr().out
