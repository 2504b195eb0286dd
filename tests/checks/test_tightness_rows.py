"""Tests of tightness as data: whole, strict, with every problem at its line."""

import datetime

import pytest

from fluewright.errors import Problems, RuleError
from fluewright.rules import pipe_tables, tightness_tests

ROW = """title = "t"
[[tests]]
id = "x"
layer = "law"
jurisdiction = "US"
purpose = "tightness"
words = "w"
medium = "air"
gases = []
pipes = "new"
appliances = "off"
dwellings = []
meters = []
dial_to = "none"
volume_over = "none"
volume_to = "10 L"
pressure_from = "3 psi"
pressure_to = "none"
times_working = 1.5
working_over = "none"
working_to = "none"
settle = "0 min"
duration = "30 min"
duration_volume = "500 ft3"
duration_most = "1 d"
fall = "0 mbar"
perceptible = "0.1 psi"
gauge_step = "none"
citation = { document = "d", clause = "c", edition = "e" }
known = "read"
times_known = "from memory"
current = 2026-01-31
valid_from = "unknown"
valid_until = "open"
only = ""
text = "words"
severity = "act"
"""


def test_the_shipped_ones_are_whole_and_their_ids_their_own() -> None:
    found = [test.id for test in tightness_tests.tests()]
    assert len(found) >= 20
    assert len(set(found)) == len(found)


def test_a_row_is_read_as_it_stands() -> None:
    (test,) = tightness_tests.tests_of(text=ROW, file="x.toml")
    assert test.pressure_least(20_000.0) == pytest.approx(30_000.0)
    assert test.pressure_least(1_000.0) == pytest.approx(20_684.3, abs=0.1)
    assert test.duration_for(14.0) == pytest.approx(1800.0)
    assert test.duration_for(28.316846592) == pytest.approx(3600.0)
    assert test.duration_for(5000.0) == pytest.approx(86_400.0)
    assert not test.clears(datetime.date(2026, 2, 1)), "its times are from memory"


BROKEN = {
    "missing": ('perceptible = "0.1 psi"\n', "", "perceptible"),
    "unknown": ('text = "words"', 'text = "words"\ncolour = "red"', "colour"),
    "no unit known": ('fall = "0 mbar"', 'fall = "0 spoons"', "spoons"),
    "a range": ('fall = "0 mbar"', 'fall = "0..4 mbar"', "fall"),
    "none where it must be": ('perceptible = "0.1 psi"', 'perceptible = "none"', "perceptible"),
    "purpose": ('purpose = "tightness"', 'purpose = "beauty"', "beauty"),
    "date": ('valid_from = "unknown"', 'valid_from = "soon"', "soon"),
    "citation": ('clause = "c", ', "", "citation"),
    "list": ("gases = []", 'gases = "air"', "gases"),
    "factor": ("times_working = 1.5", 'times_working = "twice"', "twice"),
    "not TOML": ("[[tests]]", "[[tests", "x.toml"),
    "table": ("[[tests]]", "[other]\na = 1\n[[tests]]", "other"),
}


@pytest.mark.parametrize(("old", "new", "said"), BROKEN.values(), ids=BROKEN)
def test_a_broken_row_is_refused(old: str, new: str, said: str) -> None:
    assert old in ROW
    with pytest.raises(RuleError) as caught:
        tightness_tests.tests_of(text=ROW.replace(old, new), file="x.toml")
    assert said in caught.value.sentence()
    assert caught.value.where.startswith("x.toml")


def test_several_problems_come_together_and_an_id_only_once() -> None:
    with pytest.raises(Problems) as caught:
        tightness_tests.tests_of(
            text=ROW.replace('only = ""\n', "").replace('known = "read"', 'known = "heard"'), file="x.toml"
        )
    assert len(caught.value.errors) >= 2
    with pytest.raises(RuleError, match="a second time"):
        tightness_tests.tests_of(text=ROW + ROW.partition("\n")[2], file="x.toml")


def test_an_unknown_test_names_what_there_is() -> None:
    with pytest.raises(RuleError, match="de-load"):
        tightness_tests.test_named("nowhere")


def test_the_table_of_the_law_takes_the_next_longer_row() -> None:
    table = pipe_tables.manufactured_homes()
    assert table.load(size="3/4", length=41 * 0.3048) == table.load(size="3/4", length=50 * 0.3048)
    assert table.load(size="1/2", length=101 * 0.3048) is None
    assert table.load(size="6", length=3.0) is None
    with pytest.raises(RuleError, match="FW-B-022"):
        pipe_tables.table_of(text='document = "d"', file="x.toml")
