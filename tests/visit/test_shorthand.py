"""One typed line: every word of it understood, or nothing kept."""

import pytest

from fluewright.errors import FluewrightError
from fluewright.visit.shorthand import understood

TABLES = ["gas_supply.pressure"]

LINES = {
    "o2 4.3 co 38 stack 385F at cell 3": [
        ("oxygen_dry", "4.3", "cell 3"),
        ("carbon_monoxide_dry", "38", "cell 3"),
        ("flue_temperature", "385F", "cell 3"),
    ],
    "co 40..120 rising": [("carbon_monoxide_dry", "40..120 rising", "")],
    "co >2000": [("carbon_monoxide_dry", ">2000", "")],
    "co rising": [("carbon_monoxide_dry", "rising", "")],
    "o2=5 co2: 9.1 stack temperature 402 F": [
        ("oxygen_dry", "5", ""),
        ("carbon_dioxide_dry", "9.1", ""),
        ("flue_temperature", "402 F", ""),
    ],
    "room co 3 at hall": [("carbon_monoxide_room", "3", "hall")],
    "manifold 3.5 in w.c. at burner co 12 ppm": [
        ("gas_pressure", "3.5 in w.c.", "burner"),
        ("carbon_monoxide_dry", "12 ppm", ""),
    ],
    "lambda 1.2 at stack co 5": [("air_ratio", "1.2", "stack"), ("carbon_monoxide_dry", "5", "")],
    "smoke 1, 1, 2": [("smoke_spot", "1, 1, 2", "")],
    'draft -.02" at "above the co alarm"': [("draft", '-.02"', "above the co alarm")],
    "o2 4,3": [("oxygen_dry", "4,3", "")],
}


@pytest.mark.parametrize("line", LINES)
def test_readings_are_understood_word_by_word(line: str) -> None:
    said = understood(line)
    assert [(each.typed.quantity, each.text, each.point) for each in said.readings] == LINES[line]


def test_a_reason_counts_for_the_readings_before_it() -> None:
    said = understood("draft -.02 at breech because the wind blew")
    assert [each.because for each in said.readings] == ["the wind blew"]


def test_how_it_was_steady_is_no_trend() -> None:
    assert understood("o2 5 co 20 steady for 90 s").steady == "steady for 90 s"
    assert understood("o2 5 co 20 steady 90 s at flue").readings[0].point == "flue"
    assert understood("co 20 steady").readings[0].typed.trend == "steady"


@pytest.mark.parametrize(
    ("line", "kind", "fields"),
    [
        ("lit 09:41", "event", {"word": "lit", "time": "09:41"}),
        ("blower on at 10:02", "event", {"word": "blower on", "time": "10:02"}),
        ("note: owner smells gas", "note", {"word": "owner smells gas"}),
        ("step air band closed a quarter turn", "step", {"word": "air band closed a quarter turn"}),
        ("gas_supply.pressure: at=meter; with=standing; pressure=7.9 in w.c.", "line",
         {"at": "meter", "with": "standing", "pressure": "7.9 in w.c."}),
    ],
)  # fmt: skip
def test_other_lines(line: str, kind: str, fields: dict[str, str]) -> None:
    said = understood(line, tables=TABLES)
    assert said.kind == kind
    assert {key: value for key, value in said.fields if value} == fields


@pytest.mark.parametrize(
    "line",
    ["", "blah", "o2", "4.3", "o2 4.3 stakc 400F", "o2 4.3 at", "o2 4.3 because", "smoke 1 1 2", "o2 -5 %", "at cell 3",
     "gas_supply.pressure: at meter", "o2 4.3 and some words", "because of rain"],
)  # fmt: skip
def test_what_is_not_understood_is_refused_whole(line: str) -> None:
    with pytest.raises(FluewrightError) as told:
        understood(line, tables=TABLES)
    assert all(told.value.parts()[part] for part in ("code", "read", "expected", "matters", "do"))
