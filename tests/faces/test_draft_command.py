"""fluewright draft: answers, JSON, and what it asks back before it takes a sign or a unit."""

import json
from typing import Any

import pytest

from fluewright.cli.main import main


def answer(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> Any:
    """The JSON answer of a command."""
    assert main(["draft", *words, "--json"]) == code
    return json.loads(capsys.readouterr().out)


def refusal(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """What a refused command says."""
    assert main(["draft", *words]) in (2, 3, 5)
    said = capsys.readouterr().err
    for part in ("expected", "because", "do  "):
        assert part in said
    return said


READING = ("reading", "--place", "above hood", "--jurisdiction", "US")


def test_the_chimney_shows_every_form(capsys: pytest.CaptureFixture[str]) -> None:
    (part,) = answer(capsys, "chimney", "--height", "25ft", "--flue", "300F", "--outdoors", "30F")["parts"]
    assert part["results"]["handbook form"]["value"] == pytest.approx(0.1387, abs=0.001)
    assert set(part["results"]) == {"by density", "handbook form", "steam form"}


def test_one_reading_comes_with_its_odds(capsys: pytest.CaptureFixture[str]) -> None:
    data = answer(capsys, *READING, "--draft", "-1Pa", "--doubt", "2Pa")
    odds = {finding["code"]: finding["odds"] for finding in data["findings"]}
    assert odds["us-hood-weak"] == pytest.approx(0.773, abs=0.002)
    assert odds["draft-pull-open"] == pytest.approx(0.309, abs=0.002)


def test_a_bare_value_of_a_baseline_takes_the_unit_of_the_last(capsys: pytest.CaptureFixture[str]) -> None:
    (part,) = answer(capsys, *READING, "--draft", "-4Pa", "--baseline", "0; -1; 0; 1; -5 Pa")["parts"]
    assert part["offset_pascal"] == pytest.approx(-1.0)
    assert part["baseline_taken"]


def test_a_flue_that_pushes_ends_with_one(capsys: pytest.CaptureFixture[str]) -> None:
    data = answer(capsys, *READING, "--draft", "8Pa", "--pushes", code=1)
    assert data["findings"][0]["grade"] == "stop"


def test_the_house_by_reading_and_by_reckoning(capsys: pytest.CaptureFixture[str]) -> None:
    read = ("house", "--fans-on", "-1Pa", "--fans-off", "0Pa", "--doubt", "2Pa")
    data = answer(capsys, *read, "--zone", "water-heater", "--jurisdiction", "US")
    assert data["findings"][0]["odds"] == pytest.approx(0.309, abs=0.002)
    reckoned = ("house", "--fan", "200cfm", "300cfm", "--leakage", "1500cfm")
    (part,) = answer(capsys, *reckoned)["parts"]
    assert part["results"]["by fans"]["value"] == pytest.approx(-9.22, abs=0.02)


def test_the_hood_two_ways(capsys: pytest.CaptureFixture[str]) -> None:
    gases = ("hood", "--fuel", "natural-gas", "--oxygen-before", "7%", "--oxygen-after", "10%")
    heats = ("--flue", "446F", "--mixed", "377F", "--room", "68F")
    (part,) = answer(capsys, *gases, *heats)["parts"]
    assert part["results"]["by gas"]["value"] == pytest.approx(0.274, abs=0.001)
    assert part["results"]["by temperature"]["value"] == pytest.approx(0.274, abs=0.01)


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ((*READING, "--draft", "0.02"), "FW-U-270"),
        ((*READING, "--draft", "-0.02Pa"), "FW-U-270"),
        ((*READING, "--draft", "-20"), "FW-K-070"),
        ((*READING, "--draft", "20"), "FW-K-070"),
        ((*READING, "--draft", "-4Pa", "--baseline", "0;;-1 Pa"), "FW-U-271"),
        (("house", "--zone", "power"), "FW-U-272"),
        (("house", "--fan", "50cfm", "--leakage", "0cfm"), "FW-K-072"),
        (("chimney", "--height", "25ft", "--flue", "-300F", "--outdoors", "30F"), "FW-K-071"),
        (("chimney", "--height", "1..2 m", "--flue", "300F", "--outdoors", "30F"), "FW-Q-018"),
        (("hood", "--oxygen-before", "7%"), "FW-F"),
    ],
)
def test_what_it_asks_back(capsys: pytest.CaptureFixture[str], words: tuple[str, ...], code: str) -> None:
    assert code in refusal(capsys, *words)


def test_suction_is_suggested_and_never_assumed(capsys: pytest.CaptureFixture[str]) -> None:
    said = refusal(capsys, *READING, "--draft", "0.02 in")
    assert "-0.02 in" in said
    assert "pushes" in said
