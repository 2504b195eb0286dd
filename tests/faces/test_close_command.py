"""A visit with a danger, from the command line: refused at the seal until each danger is closed, then sealed."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.diagnose.table import looks

DOOR = ["--appliance", "water heater that does not exist", "--class", "natural-draft-water-heater",
        "--fuel", "natural-gas", "--jurisdiction", "US", "--technician", "T. Placeholder (invented)"]  # fmt: skip


@pytest.fixture
def told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """A command over one journal: exit code, what it printed, what it complained of."""
    place = ["--journal", str(tmp_path / "journal.db")]

    def run(*words: str) -> tuple[int, str, str]:
        code = main([*words, *place])
        said = capsys.readouterr()
        return code, said.out, said.err

    assert run("journal", "new", "--device", "test")[0] == 0
    return run


def test_a_danger_holds_the_seal_until_it_is_closed(told: Callable[..., tuple[int, str, str]]) -> None:
    assert told("visit", "new", *DOOR)[0] == 0
    visit = json.loads(told("visit", "list", "--json")[1])
    visit = (visit if isinstance(visit, list) else visit["visits"])[0]["id"]
    assert told("visit", "close", visit)[:2] == (0, "No danger stands.\n")
    told("visit", "add", visit, "o2 6 co 150 stack 400F air 68F draft +1Pa")
    code, said, _ = told("visit", "close", visit)
    assert code == 1
    assert "flue-blocked  open  flue or vent blocked" in said
    assert f"its test: {looks()['flue-seen'].words}" in said
    code, _, error = told("visit", "seal", visit)
    assert code == 5
    assert "FW-N-107" in error
    assert "expected" in error and "because" in error
    code, _, error = told("visit", "close", visit, "flue-blocked")
    assert (code, "FW-U-345" in error) == (2, True)
    code, _, error = told("visit", "close", visit, "flue-blocked", "--tested-out", "x", "--made-safe", "y")
    assert (code, "FW-U-345" in error) == (2, True)
    names = [each["name"] for each in json.loads(told("visit", "close", visit, "--json")[1]) if each["open"]]
    closing = ["--escalated", "needs a cap", "--to", "Made-up Chimneys", "--when", "10:40"]
    code, said, _ = told("visit", "close", visit, *names, *closing)
    assert code == 0
    assert len(said.split()) == len(names)
    assert told("visit", "seal", visit)[0] == 0
    sheet = " ".join(told("visit", "show", visit)[1].replace("│", " ").split())
    assert "Closed, escalated to Made-up Chimneys; 10:40: needs a cap." in sheet
    entries = told("visit", "show", visit, "--entries")[1]
    line = next(each for each in entries.splitlines() if "danger closed" in each and "flue-blocked" in each)
    assert "escalated" in line
    assert "Made-up Chimneys" in line
    assert "knows" not in line
    code, _, error = told("visit", "close", visit, names[0], "--made-safe", "later")
    assert code == 5, "a sealed visit takes no closing"


def test_a_notice_prints_what_its_answer_asks_for(told: Callable[..., tuple[int, str, str]]) -> None:
    told("visit", "new", *[word.replace("US", "GB") for word in DOOR])
    visit = json.loads(told("visit", "list", "--json")[1])
    visit = (visit if isinstance(visit, list) else visit["visits"])[0]["id"]
    code, said, beside = told("visit", "notice", visit, "spills", "--consent", "refused")
    assert code == 0
    assert len(said.split()) == 1
    assert "26(9), read" in beside
    assert "common practice, no source" in beside
    made = json.loads(told("visit", "notice", visit, "spills again", "--consent", "yes", "--json")[1])
    assert all(step["authority"] for step in made["steps"])
