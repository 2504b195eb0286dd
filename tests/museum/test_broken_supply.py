"""Mistakes with the questions about gas: four parts, an exit code, no traceback."""

import re

import pytest

from fluewright.cli.main import main

CLOCK = ["supply", "clock", "--fuel", "natural-gas", "--time", "66s", "--dial", "2ft3"]

BROKEN: list[tuple[str, list[str], int]] = [
    ("no question", ["supply"], 2),
    ("unknown question", ["supply", "gauge"], 2),
    ("no fuel", ["supply", "clock", "--time", "66s", "--dial", "2ft3"], 3),
    ("no volume", CLOCK[:6], 3),
    ("two volumes", [*CLOCK, "--volume", "1m3"], 3),
    ("no time", [*CLOCK[:4], *CLOCK[6:]], 2),
    ("time of nothing", [*CLOCK[:5], "0s", *CLOCK[6:]], 3),
    ("dial of a weight", [*CLOCK[:7], "2lb"], 3),
    ("others without state", [*CLOCK, "--others", "stove"], 2),
    ("height without unit", [*CLOCK, "--altitude", "1600"], 3),
    ("absolute pressure in the meter", [*CLOCK, "--meter-pressure", "1013 mbar"], 3),
    ("table of one row", [*CLOCK, "--altitude-table", "0ft=100%"], 3),
    ("table without units", [*CLOCK, "--altitude-table", "0=100%; 2000=93%"], 3),
    ("unknown rule of heights", [*CLOCK, "--altitude-rule", "by feeling"], 3),
    ("two faults at once", [*CLOCK, "--turns", "no", "--factor", "-1"], 3),
    ("orifice without pressure", ["supply", "orifice", "--fuel", "propane", "--orifice", "#54"], 2),
    ("no orifice and no input", ["supply", "orifice", "--fuel", "propane", "--manifold", "10inwc"], 2),
    ("drill nobody has", ["supply", "orifice", "--fuel", "propane", "--manifold", "10inwc", "--orifice", "#0"], 3),
    ("pressure of nothing", ["supply", "orifice", "--fuel", "propane", "--manifold", "0 inwc", "--orifice", "#54"], 2),
    ("pressure in a word", ["supply", "orifice", "--fuel", "propane", "--manifold", "rising", "--orifice", "#54"], 3),
    (
        "oil through a gas orifice",
        ["supply", "orifice", "--fuel", "oil-no-2", "--manifold", "3.5inwc", "--orifice", "#42"],
        5,
    ),
    ("a flow without its fuel", ["supply", "derate", "--plate", "97cfh", "--altitude", "5000ft"], 3),
    ("a set point of nothing", ["supply", "pressure", "--set=0inwc", "--everything-on=6inwc"], 2),
    ("a hole at the speed of sound", ["supply", "orifice", "--fuel=propane", "--manifold=400psig", "--orifice=#54"], 5),
    ("a test begun at nothing", ["supply", "tightness", "--start=0mbar", "--end=0mbar", "--after=2min"], 2),
    (
        "a plate that states no manifold pressure",
        [
            "supply",
            "clock",
            "--fuel=propane",
            "--volume=1ft3",
            "--time=60s",
            "--manifold=10inwc",
            "--manifold-plate=0inwc",
        ],
        3,
    ),
    ("no height", ["supply", "derate", "--plate", "100kBtu/h"], 2),
    ("another gas that is none", ["supply", "newgas", "--fuel", "g20"], 3),
    ("oil for gas", ["supply", "newgas", "--fuel", "g20", "--to", "oil-no-2"], 3),
    ("swing of a gas without one", ["supply", "newgas", "--fuel", "hydrogen", "--swing", "published"], 3),
]


@pytest.mark.parametrize(("what", "words", "code"), BROKEN, ids=[row[0] for row in BROKEN])
def test_a_broken_question_says_what_to_do(
    what: str, words: list[str], code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == code, what
    said = capsys.readouterr()
    for part in ("expected", "because", "do  "):
        assert part in said.err, said.err
    assert re.search(r"\(FW-[A-Z]-\d{3}\)", said.err)
    assert "Traceback" not in said.err + said.out
    assert not said.out
