"""Tightness of gas pipes: whose test it was, what it shows, what temperature hides, what stays open."""

from dataclasses import replace
from datetime import date

import gas_lines_made as made
import pytest

from fluewright.cli.main import main
from fluewright.evidence.tightness_given import Creep
from fluewright.kernel import odds
from fluewright.rules import tightness_tests as texts

GERMAN = {"pipes": "new", "appliances": "off", "volume": "40 L"}


def warm(first: str, second: str) -> tuple[object, object]:
    """Temperatures of the pipe at both readings."""
    return made.typed(first, "pipe_temperature"), made.typed(second, "pipe_temperature")


def test_the_printed_leak_comes_out() -> None:
    # q = V dp/p 60/t: 20 L, 1 mbar in 2 min is 0.592 L/h (check LEAK-CALC)
    (part,) = made.parts(made.tightness(made.shut("21.0 mbar", "20.0 mbar", "2 min"), volume="20 L"))
    found = part.results["leak_rate"]
    assert found.value is not None
    assert found.value * 3.6e6 == pytest.approx(0.592, abs=0.002)
    assert found.spread > 0.0


def test_drift_nobody_read_makes_a_fine_test_undecided() -> None:
    (part,) = made.parts(made.tightness(made.shut("150.0 mbar", "150.0 mbar", settled=600.0), **GERMAN), country="DE")
    found = made.codes(part)["de-tightness-small"]
    assert found.grade == "open"
    left = part.results["tightness fall left"]
    assert left.value == pytest.approx(0.0, abs=1e-6)
    assert found.odds == pytest.approx(float(odds.beyond(value=0.0, spread=left.above, limit=10.0)))


def test_temperature_read_at_both_ends_narrows_it() -> None:
    plain = made.shut("150.0 mbar", "150.0 mbar")
    read = replace(plain, temperatures=warm("18.0 C", "18.0 C"))
    one, two = (
        made.parts(made.tightness(each, **GERMAN))[0].results["tightness fall left"].spread for each in (plain, read)
    )
    assert two < 0.5 * one


def test_a_warming_pipe_hides_a_leak_and_is_found_out() -> None:
    shut = replace(made.shut("150.0 mbar", "150.0 mbar", settled=600.0), temperatures=warm("18.0 C", "19.0 C"))
    (part,) = made.parts(made.tightness(shut, **GERMAN), country="DE")
    assert part.results["tightness fall"].value == 0.0
    found = made.codes(part)["de-tightness-small"]
    assert found.grade == "act"
    assert found.cautions


def test_a_cooling_pipe_fakes_a_leak_and_is_no_pass_either() -> None:
    shut = replace(made.shut("150.0 mbar", "146.0 mbar", settled=600.0), temperatures=warm("19.0 C", "18.0 C"))
    (part,) = made.parts(made.tightness(shut, **GERMAN), country="DE")
    found = made.codes(part)["de-tightness-small"]
    assert found.grade == "open"
    assert "not passed" in found.body


def test_the_barometer_counts_as_much_as_the_gauge() -> None:
    air = tuple(made.typed(text, "barometer") for text in ("1013.0 hPa", "1012.0 hPa"))
    (part,) = made.parts(made.tightness(replace(made.shut("20.0 mbar", "21.0 mbar"), barometers=air)))
    assert part.results["tightness fall left"].value == pytest.approx(0.0, abs=1.0)


def test_only_text_that_was_read_clears_and_only_its_own_test() -> None:
    home = {"pipes": "new", "appliances": "off", "dwelling": "manufactured home"}
    good = made.shut("3.00 psi", "3.00 psi", step=100.0, medium="air")
    (fine,) = made.parts(made.tightness(good, **home))
    assert made.codes(fine)["us-mh-pipes"].grade == "fine"
    for wrong in (
        made.shut("2.00 psi", "2.00 psi", step=100.0, medium="air"),
        made.shut("3.00 psi", "3.00 psi", "5 min", step=100.0, medium="air"),
        made.shut("3.00 psi", "3.00 psi", step=100.0, medium="gas"),
        made.shut("3.00 psi", "3.00 psi", step=100.0),
    ):
        (part,) = made.parts(made.tightness(wrong, **home))
        found = made.codes(part)["us-mh-pipes"]
        assert found.grade == "open"
        assert "not quite the test" in found.body
    (fallen,) = made.parts(made.tightness(made.shut("3.0 psi", "2.5 psi"), **home))
    assert made.codes(fallen)["us-mh-pipes"].grade == "act"


@pytest.mark.parametrize(
    ("day", "volume", "codes"),
    [
        (date(2026, 2, 1), "9 L", {"uk-ed3-g4"}),
        (date(2026, 5, 1), "9 L", {"uk-ed3-g4", "uk-ed4-010"}),
        (date(2026, 9, 30), "12 L", {"uk-ed3-g4", "uk-ed4-015"}),
        (date(2026, 10, 1), "5 L", {"uk-ed4-005"}),
        (date(2026, 10, 1), "5.01 L", {"uk-ed4-010"}),
        (date(2026, 10, 1), "35 L", {"uk-ed4-035"}),
    ],
)
def test_edition_and_volume_decide_in_the_uk(day: date, volume: str, codes: set[str]) -> None:
    shut = made.shut("20.5 mbar", "20.5 mbar", "2 min", settled=60.0)
    section = {"volume": volume, "pipes": "in use", "appliances": "on", "meter": "G4"}
    (part,) = made.parts(made.tightness(shut, **section), country="GB", day=day)
    assert {code for code in made.codes(part) if code.startswith("uk-")} == codes


def test_above_the_table_nothing_is_guessed() -> None:
    shut = made.shut("20.5 mbar", "20.5 mbar", "2 min", settled=60.0)
    section = {"volume": "40 L", "pipes": "in use", "appliances": "on", "meter": "G4"}
    (part,) = made.parts(made.tightness(shut, **section), country="GB")
    assert not any(code.startswith("uk-") for code in made.codes(part))
    assert any("none on file fits" in words for words in part.cannot_tell)


def test_let_by_is_a_rise() -> None:
    shut = made.shut("8.0 mbar", "9.5 mbar", "1 min", purpose="let-by")
    (part,) = made.parts(made.tightness(shut, pipes="in use", appliances="on"), country="GB")
    assert made.codes(part)["uk-let-by"].grade == "act"


@pytest.mark.parametrize(("end", "codes"), [("19.9 mbar", {"de-fit-unrestricted", "de-unfit"})])
def test_classes_of_fitness_go_by_the_leak(end: str, codes: set[str]) -> None:
    section = {"volume": "20 L", "pipes": "in use", "appliances": "on", "working": made.typed("20 mbar")}
    (small,) = made.parts(made.tightness(made.shut("20.0 mbar", end), **section), country="DE")
    assert {made.codes(small)[code].grade for code in codes} == {"open"}
    (large,) = made.parts(made.tightness(made.shut("20.0 mbar", "10.0 mbar", "2 min"), **section), country="DE")
    assert made.codes(large)["de-unfit"].grade == "stop"
    assert "switch" in made.codes(large)["de-unfit"].cautions[0]


def test_without_a_country_physics_still_speaks() -> None:
    (lost,) = made.parts(made.tightness(made.shut("20.0 mbar", "15.0 mbar", "2 min")), country="")
    assert made.codes(lost)["pressure-lost"].grade == "act"
    (unsure,) = made.parts(made.tightness(made.shut("20.0 mbar", "20.0 mbar", "30 min")), country="")
    assert made.codes(unsure)["pressure-lost"].grade == "open"


def creep(counted: str, watched: str = "5 min") -> Creep:
    """A meter watched."""
    return Creep(made.typed(counted, "meter_creep"), made.typed("0.5 ft3", "meter_dial"),
                 made.typed(watched, "minutes_since_lit"))  # fmt: skip


def test_a_meter_that_counts_is_grave_and_one_that_stands_clears_nothing() -> None:
    (moved,) = made.parts(made.tightness(creep=creep("0.1 ft3")))
    assert made.codes(moved)["us-leak-dial-05"].grade == "act"
    (still,) = made.parts(made.tightness(creep=creep("0 ft3")))
    assert made.codes(still)["us-leak-dial-05"].grade == "open"


def test_gauge_and_meter_that_disagree_are_named() -> None:
    given = made.tightness(made.shut("20.0 mbar", "20.0 mbar"), volume="10 L", creep=creep("0.2 ft3"))
    (part,) = made.parts(given)
    assert "leaks-disagree" in made.codes(part)


def test_a_word_for_a_reading_is_no_figure() -> None:
    (part,) = made.parts(made.tightness(made.shut("20 mbar", "falling")))
    assert part.results == {}
    assert any("a word and no figure" in words for words in part.cannot_tell)


def test_no_text_of_the_uk_or_germany_is_said_to_have_been_read() -> None:
    assert {test.known for test in texts.tests() if test.jurisdiction in ("GB", "DE")} <= {"second-hand", "from memory"}
    read = [test for test in texts.tests() if test.known == "read" == test.times_known and test.layer == "law"]
    assert [test.id for test in texts.tests() if test.clears()] == [
        one.id for one in read if one.current != "superseded"
    ]


IN_USE = {"volume": "20 L", "pipes": "in use", "appliances": "on"}


def test_a_leak_of_air_is_put_to_the_classes_as_one_of_gas() -> None:
    # methane leaks a third faster than air through a hole, two thirds through a crack
    (gas,), (air,), (unsaid,) = (
        made.parts(made.tightness(made.shut("20.0 mbar", "19.0 mbar", "2 min", medium=medium), **IN_USE), country="DE")
        for medium in ("gas", "air", "")
    )
    leak = gas.results["leak_rate"]
    assert leak.value is not None
    as_gas, perhaps = (one.results["leak_rate at working pressure"] for one in (air, unsaid))
    assert as_gas.value is not None
    assert 1.29 < as_gas.value / leak.value < 1.65
    assert "leak_rate at working pressure" not in gas.results
    assert perhaps.value == pytest.approx(leak.value)
    assert perhaps.above > 1.3 * perhaps.below
    assert perhaps.value + 2.0 * perhaps.above > as_gas.value


def test_propane_leaks_slower_than_air_through_a_hole_and_faster_through_a_crack() -> None:
    (found,) = made.parts(
        made.tightness(made.shut("20.0 mbar", "19.0 mbar", "2 min"), **IN_USE), fuel="propane", country="DE"
    )
    leak = found.results["leak_rate at working pressure"]
    assert min(leak.above, leak.below) > found.results["leak_rate"].spread


@pytest.mark.parametrize(
    ("end", "purpose", "grade"),
    [
        ("falling", "tightness", "act"),
        ("150.0 mbar falling", "tightness", "act"),
        ("3.0 bar falling", "load", "act"),
        ("rising", "let-by", "act"),
        ("rising", "tightness", "open"),
        ("hunting", "tightness", "open"),
    ],
)
def test_a_gauge_seen_to_move_is_told_whatever_it_shows(end: str, purpose: str, grade: str) -> None:
    start = "3.0 bar" if purpose == "load" else "150.0 mbar" if purpose == "tightness" else "8.0 mbar"
    (part,) = made.parts(made.tightness(made.shut(start, end, purpose=purpose), **GERMAN), country="DE")
    found = made.codes(part)["gauge-still-moving"]
    assert found.grade == grade
    assert bool(found.cautions) == (grade == "act")


def test_a_step_without_its_unit_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["supply", "tightness", "--start", "150.0mbar", "--end", "150.0mbar", "--after", "10min"]
    assert main([*words, "--step", "7"]) == 2
    assert "FW-U-250" in capsys.readouterr().err
    assert main([*words, "--step", "0mbar"]) != 0
    assert "FW-Q-008" in capsys.readouterr().err


def test_california_asks_more_of_lines_above_low_pressure() -> None:
    """California Mechanical Code 1316.9 (2013, superseded): 10 psi 15 min to 14 in w.c., 60 psi 30 min above."""
    house = {"pipes": "new", "appliances": "off"}
    shut = made.shut("12 psi", "12 psi", "20 min", step=100.0)
    for working, code in ((None, "us-ca-1316-9"), ("7 inH2O", "us-ca-1316-9"), ("2 psi", "us-ca-1316-9-high")):
        more = {} if working is None else {"working": made.typed(working)}
        (part,) = made.parts(made.tightness(shut, **house, **more), country="US-CA")
        found = {key: one for key, one in made.codes(part).items() if key.startswith("us-ca")}
        assert set(found) == {code}
    assert "was not quite the test" in found["us-ca-1316-9-high"].body
    assert "30.0\u202fmin" in found["us-ca-1316-9-high"].body
