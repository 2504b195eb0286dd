"""Tests of tightness as data: whole, strict, with every problem at its line."""

import pytest

from fluewright.errors import Problems, RuleError
from fluewright.rules import apply, load, pipe_tables, tightness_tests

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
volume_edge = "to"
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


@pytest.mark.parametrize(
    ("litres", "id"),
    [(99.9, "de-tightness-small"), (100.0, "de-tightness-middle"), (199.9, "de-tightness-middle"),
     (200.0, "de-tightness-large")],
)  # fmt: skip
def test_german_bands_hold_their_lower_end(litres: float, id: str) -> None:
    # below 100 L, 100 to below 200 L, from 200 L
    rows = [one for one in tightness_tests.tests() if one.id.startswith("de-tightness")]
    assert [one.id for one in rows if one.of_volume(litres / 1e3)] == [id]


@pytest.mark.parametrize(("litres", "fall"), [(5.0, 800.0), (5.1, 400.0), (10.0, 400.0), (15.0, 250.0), (35.0, 100.0)])
def test_british_bands_hold_their_upper_end(litres: float, fall: float) -> None:
    rows = [one for one in tightness_tests.tests() if one.id.startswith("uk-ed4") and "lpg" not in one.id]
    banded = [one for one in rows if one.volume_to is not None and one.of_volume(litres / 1e3)]
    assert [one.fall for one in banded] == pytest.approx([fall])


def test_a_row_is_read_as_it_stands() -> None:
    (test,) = tightness_tests.tests_of(text=ROW, file="x.toml")
    assert test.pressure_least(20_000.0) == pytest.approx(30_000.0)
    assert test.pressure_least(1_000.0) == pytest.approx(20_684.3, abs=0.1)
    assert test.duration_for(14.0) == pytest.approx(1800.0)
    assert test.duration_for(28.316846592) == pytest.approx(3600.0)
    assert test.duration_for(5000.0) == pytest.approx(86_400.0)
    assert not test.clears(), "its times are from memory"


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


def test_a_leak_class_begins_at_its_figure() -> None:
    # below 1 L/h fit, 1 to below 5 L/h to be mended, from 5 L/h shut off
    for id, limit in (("de-fit-unrestricted", 1.0), ("de-unfit", 5.0)):
        rule = load.limit(id)
        assert apply.judged(rule, value=limit, spread=0.0).passes == "beyond"
        assert apply.judged(rule, value=0.999 * limit, spread=0.0).passes == "inside"
    most = load.limit("practice-oil-input-over")
    assert apply.judged(most, value=most.limit, spread=0.0).passes == "inside"
