"""Manners of the command line: streams, exit codes, JSON, plain letters, completions, folders, whole files."""

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from fluewright.cli.main import VERBS, main, parser_of

ROOT = Path(__file__).resolve().parents[2]
FLUE = ["flue", "--fuel", "natural-gas", "--o2", "5%", "--co", "50ppm", "--flue", "400F", "--air", "70F"]
START = [sys.executable, "-c", "from fluewright.cli.main import run; run()"]


def started(*words: str, cwd: Path | None = None, **environment: str) -> subprocess.CompletedProcess[str]:
    """One command in a process of its own."""
    return subprocess.run(
        [*START, *words],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src"), **environment},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )


@pytest.mark.parametrize("verb", sorted(VERBS))
def test_every_verb_helps_itself(verb: str) -> None:
    help_ = parser_of(verb).format_help()
    assert VERBS[verb].split(",")[0] in " ".join(help_.split())
    for word in ("--json", "--plain", "--no-input"):
        assert word in help_


def test_without_a_verb_the_overview_and_code_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    assert main(["--help"]) == 0
    out = capsys.readouterr().out
    assert all(verb in out for verb in VERBS)
    assert "exit codes" in out


@pytest.mark.parametrize(
    "words",
    [FLUE, ["fuel", "show", "g20"], ["fuel", "list"], ["where"], ["checks"]],
    ids=lambda words: " ".join(words[:2]),
)
def test_json_is_data_and_nothing_else(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*words, "--json"]) in (0, 1)
    said = capsys.readouterr()
    json.loads(said.out, parse_constant=lambda word: pytest.fail(f"{word} is not JSON"))


def test_checks_promise_total_missed_and_sources(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["checks", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["total"] >= 629
    assert data["missed"] == []
    assert {"source", "count", "worst", "known"} <= set(data["sources"][0])


def test_plain_is_ascii_but_for_what_was_typed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*FLUE, "--plain", "--working"]) == 0
    out = capsys.readouterr().out
    assert "\x1b" not in out
    assert out.isascii(), sorted({letter for letter in out if not letter.isascii()})


@pytest.mark.parametrize("name", ["NO_COLOR", "TERM"])
def test_no_colour_where_none_is_wanted(name: str) -> None:
    done = started(*FLUE, **{name: "dumb"})
    assert done.returncode == 0
    assert "\x1b" not in done.stdout


def test_a_strange_value_is_asked_about_and_kept() -> None:
    done = started("flue", "--fuel", "natural-gas", "--o2", "5%", "--co", "30000ppm", "--flue", "400F", "--air", "70F")
    assert done.returncode == 1
    assert "question" in done.stderr
    assert "30" in done.stdout


def test_a_negative_value_needs_no_equals_sign(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["flue", "--fuel", "propane", "--o2", "4%", "--co", "9 ppm", "--flue", "160C", "--air", "-10C"]) == 0
    assert "−10" in capsys.readouterr().out


def test_a_reader_that_goes_away_is_no_fault() -> None:
    pipe = subprocess.Popen([*START, "checks"], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                            env={**os.environ, "PYTHONPATH": str(ROOT / "src")})  # fmt: skip
    assert pipe.stdout is not None
    pipe.stdout.close()
    _, said = pipe.communicate(timeout=30)
    assert b"Traceback" not in said


def test_folders_follow_the_xdg_specification(tmp_path: Path) -> None:
    made = {"HOME": str(tmp_path), "XDG_DATA_HOME": str(tmp_path / "d"), "XDG_CONFIG_HOME": "relative/ignored"}
    data = json.loads(started("where", "--json", **made).stdout)
    assert data["data"] == str(tmp_path / "d" / "fluewright")
    assert data["config"] == str(tmp_path / ".config" / "fluewright")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completions_load_without_a_complaint(shell: str, tmp_path: Path) -> None:
    script = tmp_path / "completion"
    script.write_text(started("completion", shell).stdout)
    assert "flue" in script.read_text()
    program = shutil.which(shell)
    if program is None:
        pytest.skip(f"no {shell} here to load it")
    done = subprocess.run([program, "-c", f"source {script}"], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert not done.stderr


def test_the_demonstration_hands_over_in_ten_seconds(tmp_path: Path) -> None:
    begun = time.monotonic()
    done = started("demo", "--folder", "shop", cwd=tmp_path)
    assert time.monotonic() - begun < 10.0
    assert done.returncode == 0, done.stderr
    for name in ("visit.toml", "as-found.csv", "as-left.csv", "sheet.html", "report.pdf"):
        assert (tmp_path / "shop" / name).stat().st_size > 500
        assert name in done.stdout
    assert "invented" in done.stdout.lower()
    assert (tmp_path / "shop" / "report.pdf").read_bytes().startswith(b"%PDF")


def test_the_demonstration_is_the_same_every_time(tmp_path: Path) -> None:
    for name in ("one", "two"):
        assert started("demo", "--folder", name, cwd=tmp_path).returncode == 0
    for file in ("as-found.csv", "as-left.csv", "report.pdf"):
        assert (tmp_path / "one" / file).read_bytes() == (tmp_path / "two" / file).read_bytes()


def test_a_report_from_a_visit_file(tmp_path: Path) -> None:
    started("demo", "--folder", ".", cwd=tmp_path)
    words = ("report", "visit.toml", "--pdf", "a.pdf", "--html", "a.html", "--paper", "a4", "--json")
    done = started(*words, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    data = json.loads(done.stdout)
    assert data["invented"] is True
    assert set(data["written"]) == {"html", "pdf"}
    assert data["stretches"][1]["readings"]["oxygen_dry"]["source"] == "from the trace"


def test_a_dry_run_writes_nothing(tmp_path: Path) -> None:
    started("demo", "--folder", ".", cwd=tmp_path)
    assert started("report", "visit.toml", "--pdf", "a.pdf", "-n", cwd=tmp_path).returncode == 0
    assert not (tmp_path / "a.pdf").exists()


def test_a_folder_that_may_not_be_written_is_said_and_leaves_nothing(tmp_path: Path) -> None:
    started("demo", "--folder", ".", cwd=tmp_path)
    done = started("report", "visit.toml", "--pdf", "nowhere/a.pdf", cwd=tmp_path)
    assert done.returncode == 2
    assert "folder" in done.stderr
    assert "because" in done.stderr


def test_ctrl_c_leaves_nothing_half_written(tmp_path: Path) -> None:
    code = (
        "import os, signal\n"
        "from pathlib import Path\n"
        "from fluewright.visit import keep\n"
        "Path.replace = lambda self, other: os.kill(os.getpid(), signal.SIGINT)\n"
        "keep.write_all([(Path('a.pdf'), b'x' * 100), (Path('b.html'), b'y')])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
        capture_output=True,
        check=False,
    )
    assert done.returncode in (1, -signal.SIGINT, 130)
    assert not list(tmp_path.iterdir())
