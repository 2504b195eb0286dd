"""The visit worked from the terminal: what is printed is kept, and a kill on the way loses nothing of it."""

import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

import fluewright
from fluewright.cli.main import main
from fluewright.record.opening import opened
from fluewright.record.settings import Settings
from trust import told

NEW = ["visit", "new", "--appliance", "boiler that does not exist", "--fuel", "natural-gas", "--jurisdiction", "US"]
KILLS, SECONDS = 25, 20.0


@pytest.fixture
def journal(tmp_path: Path) -> list[str]:
    return ["--journal", str(tmp_path / "journal.db")]


def said(capsys: pytest.CaptureFixture[str], *words: str, ends: int = 0) -> str:
    assert main(list(words)) == ends, capsys.readouterr().err
    return capsys.readouterr().out.strip()


def test_a_visit_from_the_door_to_the_seal(journal: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    visit = said(capsys, *NEW, "--zero", "outdoors", *journal)
    short = visit[-8:]
    echo = said(capsys, "visit", "add", short, "o2 4.3 co 38 stack 385F air 66F", *journal)
    assert "oxygen in dry flue gas 4.3 %, as found" in echo
    added = json.loads(said(capsys, "visit", "add", short, "co2 20", "--json", *journal))
    assert said(capsys, "visit", "strike", short, added[-1]["id"], "--because", "misread", *journal)
    said(capsys, "visit", "step", short, "air band closed a quarter turn", "--meant", "less air", *journal)
    second = said(capsys, "visit", "add", short, "o2 5.1 co 20 stack 380F air 66F steady 90 s", *journal)
    assert "new stretch: as left" in second
    reading = next(line.split()[0] for line in second.splitlines() if "oxygen" in line)
    said(capsys, "visit", "amend", short, reading, "value=5.2 %", "--because", "misread by one", *journal)
    notice = said(capsys, "visit", "notice", short, "spills", "--consent", "refused", "--told", "the owner", *journal)
    assert said(capsys, "journal", "notices", *journal, ends=1)
    said(capsys, "visit", "notice", short, "flue cleared", "--close", notice, *journal)
    said(capsys, "journal", "notices", *journal)
    entries = said(capsys, "visit", "show", short, "--entries", *journal)
    assert "struck out: misread" in entries
    assert "amended, was value 5.1: misread by one" in entries
    assert "anchor" in said(capsys, "visit", "seal", short, "--name", "T. Placeholder", *journal)
    assert "holds over" in said(capsys, "visit", "seal", short, "--check", *journal)
    main(["visit", "show", short, *journal])
    sheet = " ".join(capsys.readouterr().out.split())
    assert "Sealed by T. Placeholder" in sheet
    assert "Anchor: " in sheet
    assert said(capsys, "visit", "list", *journal).endswith("sealed")


def test_lines_from_standard_input_give_an_id_each_and_an_error_for_what_is_not_understood(
    journal: list[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    import io

    visit = said(capsys, *NEW, *journal)
    monkeypatch.setattr("sys.stdin", io.StringIO("o2 4.3 co 38\n\nblah\nnote owner was out\n"))
    assert main(["visit", "add", visit, "-", *journal]) == 3
    out = capsys.readouterr()
    ids = out.out.split()
    assert len(ids) == 4  # a stretch, two readings, a note
    assert "FW-V-120" in out.err
    kept = json.loads(said(capsys, "visit", "show", visit, "--entries", "--json", *journal))
    assert set(ids) <= {each["id"] for each in kept}


@pytest.mark.parametrize(
    "words",
    [
        ["visit", "add", "00000000", "o2 4"],
        ["visit", "show", "xx"],
        ["visit", "new", "--appliance", "boiler"],
        ["visit", "new", "--from", "not-there.toml"],
        ["visit", "seal", "zzzz"],
        ["visit", "amend", "00000000", "00000000", "value", "--because", "x"],
        ["journal", "find", ""],
        ["journal", "check", "--anchor", "nonsense"],
    ],
)
def test_mistakes_end_in_four_parts(words: list[str], journal: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, *NEW, *journal)
    ended = main([*words, *journal])
    err = capsys.readouterr().err
    assert ended in (0, 2, 3, 4, 5)
    if ended:
        assert all(part in err for part in ("expected", "because", "do ", "(FW-")), err
    assert "Traceback" not in err


def test_a_command_without_a_journal_begins_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    where = tmp_path / "nowhere.db"
    for words in (["visit", "list"], ["journal", "check"], ["visit", "show", "00000000"]):
        assert main([*words, "--journal", str(where)]) in (3, 4)
        assert "FW-" in capsys.readouterr().err
    assert not where.exists()


@pytest.mark.skipif(os.name != "posix", reason="needs a kill that cannot be caught")
def test_a_visit_killed_while_it_is_written_lacks_nothing_acknowledged(
    journal: list[str], capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    visit = said(capsys, *NEW, *journal)
    surroundings = {**os.environ, "PYTHONPATH": str(Path(fluewright.__file__).parents[1])}
    run = "from fluewright.cli.main import run; run()"
    command = [sys.executable, "-c", run, "visit", "add", visit, "-", *journal]
    draw, acknowledged, killed, begun = random.Random(20261125), set[str](), 0, time.monotonic()
    lines = "".join(f"note made-up remark {n}\n" for n in range(4000))
    feed = tmp_path / "lines"
    feed.write_text(lines, encoding="ascii")
    for _ in range(KILLS):
        if time.monotonic() - begun > SECONDS and killed >= 5:
            break
        with feed.open() as source:
            child = subprocess.Popen(command, stdin=source, stdout=subprocess.PIPE, text=True, env=surroundings)
            assert child.stdout is not None
            acknowledged.add(child.stdout.readline().strip())
            time.sleep(draw.uniform(0.0, 0.2))
            child.send_signal(signal.SIGKILL)
            rest = child.stdout.read()
            child.wait()
        whole = rest if rest.endswith("\n") else rest[: rest.rfind("\n") + 1]
        acknowledged.update(whole.split())
        killed += 1
    found = opened(Settings(journal[1]))
    kept = {read.entry.id for read in found.journal.of_subject(visit)}
    told(1, "kill -9 while a visit is written", acknowledged=len(acknowledged), killed=killed,
         lost=len(acknowledged - kept))  # fmt: skip
    assert not found.wrong
    assert acknowledged <= kept
    assert len(acknowledged) > killed


def test_words_set_apart_on_two_devices_are_both_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    stick = str(tmp_path / "stick")
    one, other = (["--journal", str(tmp_path / name / "journal.db")] for name in ("one", "other"))
    for place in (one, other):
        said(capsys, "journal", "new", *place)
    visit = said(capsys, *NEW, *one)
    note = said(capsys, "visit", "add", visit, "note made-up remark", *one).split()[0]
    for place in (one, other):
        said(capsys, "journal", "sync", stick, *place)
    for place, word in ((one, "the left door"), (other, "the right door")):
        said(capsys, "visit", "amend", visit, note, f"word={word}", "--because", "heard so", *place)
    for place in (one, other, one):
        said(capsys, "journal", "sync", stick, *place)
    shown = [said(capsys, "visit", "show", visit, "--entries", *place) for place in (one, other)]
    assert all("edited apart" in each and "the left door" in each and "the right door" in each for each in shown)
