"""What the README tells a person to type works as it is printed there."""

import re
import shlex
from pathlib import Path

import pytest

from fluewright.cli.main import VERBS, main

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMANDS = [line.split("   #")[0].split(" # ")[0].strip() for line in re.findall(r"^\$ fluewright (.+)$", README, re.M)]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The files that the README speaks of, taken from the demonstration."""
    made = tmp_path_factory.mktemp("readme")
    assert main(["demo", "--folder", str(made), "--json"]) == 0
    (made / "boiler.csv").write_bytes((made / "as-left.csv").read_bytes())
    (made / "report.pdf").unlink()
    return made


def test_there_are_commands() -> None:
    assert len(COMMANDS) >= 12


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_of_the_readme_works(
    command: str, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(folder)
    monkeypatch.setenv("XDG_DATA_HOME", str(folder / "records"))
    words = shlex.split(command)
    try:
        code = main(words)
    except SystemExit as left:  # --help leaves by itself
        code = int(left.code or 0)
    assert code in (0, 1), capsys.readouterr().err


def test_every_verb_is_named() -> None:
    assert {verb for verb in VERBS if not re.search(rf"\b{verb}\b", README)} == set()
