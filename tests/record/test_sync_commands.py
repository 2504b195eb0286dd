"""`fluewright journal sync` and `serve`, as people use them."""

import json
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.record.journal import Draft
from fluewright.record.opening import opened
from fluewright.record.settings import Settings


def said(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, object]:
    """What a command says as data."""
    assert main([*words, "--json"]) == 0
    found: dict[str, object] = json.loads(capsys.readouterr().out)
    return found


@pytest.fixture
def two(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[str, str]:
    """Two journals' files."""
    files = str(tmp_path / "van.db"), str(tmp_path / "office.db")
    for each in files:
        said(capsys, "journal", "new", "--journal", each)
    opened(Settings(files[0])).journal.add(Draft("customer", {"name": "Invented Person"}))
    return files


def test_through_a_folder(two: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    stick = str(tmp_path / "stick")
    assert said(capsys, "journal", "sync", stick, "--journal", two[0])["went"] == 2
    assert said(capsys, "journal", "sync", stick, "--journal", two[1])["came"] == 2
    assert main(["journal", "sync", stick, "--journal", two[0]]) == 0
    assert capsys.readouterr().out == "1 entry came in, 0 went out, 0 files moved\n"


def test_a_fork_ends_with_4(two: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    stick, copy = str(tmp_path / "stick"), str(tmp_path / "copy.db")
    with sqlite3.connect(two[0]) as source, sqlite3.connect(copy) as target:
        source.backup(target)
    for each in (two[0], copy):
        journal = opened(Settings(each)).journal
        journal.add(Draft("note", {"visit": journal.device, "word": each}))
        journal.store.close()
    main(["journal", "sync", stick, "--journal", two[0]])
    assert main(["journal", "sync", stick, "--journal", copy]) == 4
    assert "two histories from its entry 3 on" in capsys.readouterr().out


def test_a_lost_end_comes_back_from_the_stick(
    two: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    stick = str(tmp_path / "stick")
    for each in (*two, two[0]):
        main(["journal", "sync", stick, "--journal", each])
    with sqlite3.connect(two[0]) as raw:
        guard = raw.execute("SELECT sql FROM sqlite_master WHERE name = 'entry_DELETE'").fetchone()[0]
        raw.execute("DROP TRIGGER entry_DELETE")
        raw.execute("DELETE FROM entry WHERE kind = 'customer'")
        raw.execute(guard)
    assert opened(Settings(two[0])).wrong
    capsys.readouterr()
    assert main(["journal", "sync", stick, "--journal", two[0]]) == 0
    assert "1 of them this device had written and lost" in capsys.readouterr().out
    again = opened(Settings(two[0]))
    assert not again.wrong and next(again.journal.of_kind("customer")).body["name"] == "Invented Person"


@pytest.fixture
def serving(two: tuple[str, str]) -> Iterator[dict[str, str]]:
    """What a serving process said of itself."""
    command = [
        "-c",
        "from fluewright.cli.main import run; run()",
        "journal",
        "serve",
        "--port",
        "0",
        "--pair",
        "--json",
    ]
    source = str(Path(__file__).resolve().parents[2] / "src")
    process = subprocess.Popen([sys.executable, *command, "--journal", two[1]], stdout=subprocess.PIPE,
                               env={"PYTHONPATH": source, "PATH": "/usr/bin:/bin"})  # fmt: skip
    assert process.stdout is not None
    yield json.loads(process.stdout.readline())
    process.terminate()
    process.wait(10)
    process.stdout.close()


def test_with_a_shop_that_serves(
    two: tuple[str, str], serving: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    here = ("--journal", two[0])
    assert main(["journal", "sync", serving["address"], *here]) == 5
    assert "--pair" in capsys.readouterr().err
    paired = said(capsys, "journal", "sync", serving["address"], *here, "--code", serving["code"])
    assert (paired["came"], paired["went"]) == (1, 2)
    opened(Settings(two[0])).journal.add(Draft("customer", {"name": "Another Invented"}))
    assert said(capsys, "journal", "sync", serving["address"], *here)["went"] == 1
    assert main(["journal", "sync", serving["address"], *here, "--code", serving["code"]]) == 5
    office = opened(Settings(two[1])).journal
    assert {read.body["name"] for read in office.of_kind("customer")} == {"Invented Person", "Another Invented"}
