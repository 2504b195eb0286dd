"""A visit file with tables about air for burning and cost: read, judged, and refused where it does not hold."""

from pathlib import Path

import pytest

from fluewright.errors import Problems, VisitError
from fluewright.visit import file, work

HEAD = """
[visit]
title = "Made-up Street 1"
date = 2026-11-25
jurisdiction = "US"
[appliance]
words = "an invented furnace"
[fuel]
name = "natural-gas"
"""
AIR = """
[air_for_burning]
volume = "4800 ft3"
air_changes = "0.35 1/h"
air_changes_known = "measured"

[[air_for_burning.appliance]]
words = "furnace"
input = "100 kBtu/h"

[[air_for_burning.appliance]]
words = "heater in the cupboard"
draws = "sealed"
input = "40 kBtu/h"

[[air_for_burning.opening]]
words = "grille in the north wall"
width = "10 in"
height = "12 in"
grille = "metal"
place = "high"

[[air_for_burning.exhaust]]
words = "kitchen hood"
flow = "300 cfm"
"""
COST = """
[cost]
price = "1.50 USD/therm"
efficiency = "80 %"
pilot = "900 Btu/h"
normal_degree_days = "5500 hdd"

[[cost.period]]
from = 2025-01-01
to = 2025-02-01
use = "150 therm"
degree_days = "1050 hdd"

[[cost.period]]
days = "30 d"
use = "92 therm"
degree_days = "600 hdd"

[[cost.period]]
days = "31 d"
use = "40 therm"
degree_days = "100 hdd"

[[cost.period]]
days = "28 d"
use = "12500 kBtu"
degree_days = "500 K·d"

[[cost.duty]]
duty = "us-area-tune-up-biennial"
day = 2026-01-10
"""


def judged(tmp_path: Path, text: str) -> work.Verdict:
    """A visit file, judged."""
    path = tmp_path / "visit.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    return work.judged(file.read(path))


def problems(tmp_path: Path, text: str) -> dict[str, str]:
    """Codes and places of what is wrong with a visit file."""
    with pytest.raises((Problems, VisitError)) as caught:
        judged(tmp_path, text)
    return {error.code: error.where for error in getattr(caught.value, "errors", (caught.value,))}


def test_both_parts_are_read_and_judged(tmp_path: Path) -> None:
    verdict = judged(tmp_path, AIR + COST)
    parts = {part.word: part for part in verdict.parts}
    assert set(parts) == {"air for burning", "cost and emissions"}
    asked = parts["air for burning"].results["us-room-by-air-changes asks"].value
    assert asked == pytest.approx(21.0 * 100 / 0.35 * 0.3048**3)
    grille = parts["air for burning"].results["us-outdoor-single finds"].value
    assert grille == pytest.approx(90.0 * 0.0254**2)
    assert parts["cost and emissions"].results["base load before"].value is not None
    assert "Made-up Street 1" in verdict.account.title


def test_without_the_table_there_is_no_part(tmp_path: Path) -> None:
    assert [part.word for part in judged(tmp_path, COST).parts] == ["cost and emissions"]


def test_the_sheet_prints_them(tmp_path: Path) -> None:
    from fluewright.report.text import text

    said = " ".join(text(judged(tmp_path, AIR + COST).sheet(), plain=True).split())
    assert "Air for burning" in said
    assert "kitchen hood takes air out" in said.lower()
    assert "leaves out boilers that burn gas" in said


@pytest.mark.parametrize(
    ("old", "new", "code", "place"),
    [
        ('width = "10 in"', 'width = "10 in"\narea = "120 in2"', "FW-V-030", "opening 1"),
        ('volume = "4800 ft3"', 'volume = "4800 ft3"\nno_exhausts = true', "FW-V-039", "no_exhausts"),
        ('place = "high"', 'place = "middle"', "FW-V-009", "place"),
        ('flow = "300 cfm"', 'flow = "300 spoons"', "FW-Q-003", "exhaust 1, flow"),
        ('grille = "metal"', 'grile = "metal"', "FW-V-003", "opening 1"),
        ('words = "kitchen hood"\n', "", "FW-V-004", "exhaust 1"),
    ],
)
def test_a_broken_table_of_air_names_the_place(tmp_path: Path, old: str, new: str, code: str, place: str) -> None:
    assert place in problems(tmp_path, AIR.replace(old, new))[code]


def test_a_room_without_an_appliance_is_refused(tmp_path: Path) -> None:
    assert "air_for_burning" in problems(tmp_path, '[air_for_burning]\nvolume = "4800 ft3"\n')["FW-V-031"]


@pytest.mark.parametrize(
    ("old", "new", "code", "place"),
    [
        ("1.50 USD/therm", "1.50", "FW-V-032", "price"),
        ("1.50 USD/therm", "1.50 USD/spoon", "FW-V-032", "price"),
        ('pilot = "900 Btu/h"', 'heating_value = "1030 Btu/ft3"', "FW-V-038", "heating_value"),
        ("to = 2025-02-01", "to = 2024-02-01", "FW-V-033", "period 1"),
        ("to = 2025-02-01", "", "FW-V-037", "period 1"),
        ('use = "92 therm"\n', "", "FW-V-004", "period 2"),
        ("us-area-tune-up-biennial", "us-area-tuneup", "FW-B-011", "duty"),
        ("us-area-tune-up-biennial", "us-area-small-oil", "FW-U-233", "duty"),
        ("day = 2026-01-10", 'day = "soon"', "FW-V-010", "day"),
    ],
)
def test_a_broken_table_of_cost_names_the_place(tmp_path: Path, old: str, new: str, code: str, place: str) -> None:
    assert place in problems(tmp_path, COST.replace(old, new))[code]


def test_the_examples_of_the_method_pages_are_visits(tmp_path: Path) -> None:
    pages = Path(__file__).resolve().parents[2] / "docs" / "method"
    examples = [
        (pages / page).read_text(encoding="utf-8").partition("```toml")[2].partition("```")[0]
        for page in ("air-for-burning.md", "cost.md")
    ]
    assert len(judged(tmp_path, "".join(examples)).parts) == 2


def test_one_reading_of_a_flame_saves_nothing(tmp_path: Path) -> None:
    """practice P18: no saving from one spot test."""
    flame = """
[[stretch]]
word = "as found"
readings = { o2 = "6 %", co = "20 ppm", stack = "400 F", air = "70 F" }
[cost]
price = "1.50 USD/therm"
efficiency_after = "95 %"
"""
    (part,) = (one for one in judged(tmp_path, flame).parts if one.word == "cost and emissions")
    assert part.results["delivered price"].value
    assert "no season" in part.results["share saved"].refused
    assert any("one reading of a flame" in said for said in part.cannot_tell)
