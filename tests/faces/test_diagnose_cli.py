"""The verb that weighs causes: what a person types, and what a person and a machine get."""

import json

import pytest

from fluewright.cli.main import main

OVER = [
    "diagnose",
    "--class",
    "natural-draft-boiler",
    "--read",
    "o2=3.0%",
    "co=300ppm",
    "flue=440F",
    "air=68F",
    "gas_pressure=5.4inwc",
]


def test_a_person_reads_what_cannot_be_known_before_what_is_inferred(capsys: pytest.CaptureFixture[str]) -> None:
    main([*OVER, "--plate", "gas_pressure=3.5inwc", "--plain"])
    out = capsys.readouterr().out
    assert out.index("What cannot be known") < out.index("What moved") < out.index("Causes left") < out.index("Next: ")
    assert "1. gas pressure set too high, because" in out


def test_a_machine_gets_the_same_and_the_shares_inside(capsys: pytest.CaptureFixture[str]) -> None:
    main([*OVER, "--plate", "gas_pressure=3.5inwc", "--json"])
    answer = json.loads(capsys.readouterr().out)
    assert answer["causes"][0]["name"] == "gas-pressure-high"
    assert answer["inside"]["gas-pressure-high"] > 0.5
    assert answer["next"]


def test_an_answered_look_counts(capsys: pytest.CaptureFixture[str]) -> None:
    main(
        [
            "diagnose",
            "--class",
            "oil-burner",
            "--read",
            "o2=10%",
            "flue=430F",
            "air=68F",
            "--seen",
            "hose=yes",
            "--json",
        ]
    )
    assert json.loads(capsys.readouterr().out)["causes"][0]["name"] == "hose-leaks"


def test_what_can_be_asked_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", "--looks"]) == 0
    out = capsys.readouterr().out
    assert "oil-burner" in out
    assert "the pump runs on" in out


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["--read", "o2=3%"], "FW-U-310"),
        (["--class", "oil-burner", "--read", "o2"], "FW-U-312"),
        (["--class", "oil-burner", "--read", "o2=3%", "--seen", "hose=perhaps"], "FW-U-313"),
        (["--class", "oil-burner", "--read", "o2=3%", "--seen", "ball=yes"], "FW-U-311"),
        (["--class", "oil-burner"], "FW-K-100"),
    ],
)
def test_what_cannot_be_weighed_is_refused(words: list[str], code: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", *words]) in (2, 5)
    assert code in capsys.readouterr().err
