"""The same five hundred cases through float, numpy array and uncertain number, and blocks of uncertain arrays.

1e-12 relative: numpy's exp and log may differ from the C library's in the last bit, and a result may be a small
difference of large ones. Results that a case makes zero or nearly so are compared to 1e-15 absolutely.
"""

from typing import Any

import doorways
import numpy as np
import pytest

from fluewright.kernel import air as airs
from fluewright.kernel import analysis, dual, ops, saturation
from fluewright.kernel.dual import Dual, uncertain

CASES = doorways.cases(510)
NUMBERS = ("humidity", "room", "pressure", "oxygen", "monoxide", "hydrogen", "flue", "cold")
SPREADS = {
    "humidity": 0.03, "room": 0.5, "pressure": 150.0, "oxygen": 0.002, "monoxide": 3e-6, "hydrogen": 1e-4, "flue": 1.5,
    "cold": 0.5,
}  # fmt: skip
AGREE, FLOOR = 1e-12, 1e-14


def by_fuel() -> list[tuple[str, list[doorways.Case]]]:
    """Cases of one fuel together, as a block of rows would come."""
    return [(fuel, [case for case in CASES if case["fuel"] == fuel]) for fuel in doorways.FUELS]


def as_block(cases: list[doorways.Case]) -> doorways.Case:
    """One case whose numbers are columns."""
    return {"fuel": cases[0]["fuel"]} | {name: np.array([case[name] for case in cases]) for name in NUMBERS}


def as_doubtful(case: doorways.Case) -> doorways.Case:
    """The same case with a spread on every number."""
    numbers = {name: uncertain(case[name], spread=SPREADS[name], name=name) for name in NUMBERS}
    return {"fuel": case["fuel"]} | numbers


def agree(found: Any, expected: Any) -> bool:
    """Equal to the stated tolerance, element by element."""
    return bool(np.all(np.abs(np.asarray(found) - np.asarray(expected)) <= FLOOR + AGREE * np.abs(expected)))


def test_there_are_five_hundred() -> None:
    assert len(CASES) >= 500
    assert all(len(cases) > 30 for _, cases in by_fuel())


@pytest.mark.parametrize(("fuel", "cases"), by_fuel(), ids=list(doorways.FUELS))
def test_a_block_answers_as_its_rows(fuel: str, cases: list[doorways.Case]) -> None:
    block = doorways.answers(as_block(cases))
    rows = np.array([doorways.answers(case) for case in cases]).T
    for name, found, expected in zip(doorways.NAMES, block, rows, strict=True):
        assert agree(found, expected), (fuel, name)


@pytest.mark.parametrize(("fuel", "cases"), by_fuel(), ids=list(doorways.FUELS))
def test_an_uncertain_number_has_the_same_value(fuel: str, cases: list[doorways.Case]) -> None:
    for case in cases:
        doubtful = [ops.value_of(answer) for answer in doorways.answers(as_doubtful(case))]
        for name, found, expected in zip(doorways.NAMES, doubtful, doorways.answers(case), strict=True):
            assert agree(found, expected), (fuel, name)


@pytest.mark.parametrize(("fuel", "cases"), by_fuel(), ids=list(doorways.FUELS))
def test_a_block_of_uncertain_numbers_answers_as_its_rows(fuel: str, cases: list[doorways.Case]) -> None:
    block = doorways.answers(as_doubtful(as_block(cases)))
    rows = [doorways.answers(as_doubtful(case)) for case in cases]
    for index, name in enumerate(doorways.NAMES):
        answers = [row[index] for row in rows]
        assert agree(ops.value_of(block[index]), [ops.value_of(answer) for answer in answers]), (fuel, name)
        spreads = np.array([dual.spread(answer) for answer in answers])
        found = np.broadcast_to(dual.spread(block[index]), spreads.shape)
        assert np.all(np.abs(found - spreads) <= 1e-14 + 1e-9 * spreads), (fuel, name)


@pytest.mark.parametrize("kind", [np.float64, np.float32, int])
def test_scalars_of_other_kinds(kind: type) -> None:
    """What a file or a column hands over one at a time is taken too, to its own precision."""
    case = CASES[0]
    whole = {"flue": 450, "cold": 300, "room": 290, "pressure": 100_000}
    numbers = whole if kind is int else {name: case[name] for name in NUMBERS}
    given = case | {name: kind(value) for name, value in numbers.items()}
    plain = case | {name: float(kind(value)) for name, value in numbers.items()}
    precise = 1e-12 if kind is not np.float32 else 2e-4
    for name, found, expected in zip(doorways.NAMES, doorways.answers(given), doorways.answers(plain), strict=True):
        assert float(found) == pytest.approx(float(expected), rel=precise, abs=1e-7 if precise > 1e-6 else 1e-14), name


def test_shapes_are_broadcast() -> None:
    """A column of oxygen against a row of flue temperatures gives a table."""
    oxygen, flue = np.linspace(0.01, 0.15, 8)[:, None], np.linspace(320.0, 700.0, 5)[None, :]
    prepared = analysis.prepare(fuel=doorways.fuel_of("natural"), air=airs.DRY_AIR)
    table = analysis.analyse(
        prepared=prepared, oxygen_dry_fraction=oxygen, flue_temperature=flue, air_temperature=293.15
    )
    assert table.efficiency_gross.shape == (8, 5)
    assert table.air_ratio.shape == (8, 1)
    one = analysis.analyse(
        prepared=prepared,
        oxygen_dry_fraction=float(oxygen[3, 0]),
        flue_temperature=float(flue[0, 4]),
        air_temperature=293.15,
    )
    assert agree(table.efficiency_gross[3, 4], one.efficiency_gross)
    condensed = analysis.saturated_condensate(flue=table.flue, flue_temperature=flue, pressure=101_325.0)
    assert condensed.shape == (8, 5)


def test_ice_and_water_in_one_array() -> None:
    kelvin = np.array([250.0, 273.15, 273.16, 273.17, 300.0, 400.0])
    block = saturation.pressure(temperature=kelvin)
    assert agree(block, [saturation.pressure(temperature=float(t)) for t in kelvin])
    assert np.all(np.diff(block) > 0)


def test_an_empty_block_is_an_empty_answer() -> None:
    nothing = np.array([])
    case = {"fuel": "natural"} | dict.fromkeys(NUMBERS, nothing)
    assert all(np.shape(answer) == (0,) for answer in doorways.answers(case))


def test_a_gap_in_a_column_stays_a_gap_and_spoils_nothing_else() -> None:
    _, cases = by_fuel()[1]
    block = as_block(cases)
    expected = doorways.answers(block)
    block["oxygen"] = block["oxygen"].copy()
    block["oxygen"][5] = np.nan
    for name, found, whole in zip(doorways.NAMES, doorways.answers(block), expected, strict=True):
        if np.shape(found) == np.shape(whole) == (len(cases),):
            others = np.arange(len(cases)) != 5
            assert agree(found[others], whole[others]), name
    efficiency = doorways.answers(block)[doorways.NAMES.index("efficiency_gross")]
    assert np.isnan(efficiency[5])


def test_one_array_and_one_uncertain_number() -> None:
    """Every row hangs on the one thermometer: full correlation from row to row."""
    prepared = analysis.prepare(fuel=doorways.fuel_of("oil"), air=airs.DRY_AIR)
    room = uncertain(293.15, spread=0.5, name="room")
    oxygen = np.array([0.03, 0.05, 0.07])
    done = analysis.analyse(
        prepared=prepared, oxygen_dry_fraction=oxygen, flue_temperature=np.full(3, 450.0), air_temperature=room
    )
    assert isinstance(done.efficiency_gross, Dual)
    assert np.shape(dual.spread(done.efficiency_gross)) == (3,)
    for index, fraction in enumerate(oxygen):
        row = analysis.analyse(
            prepared=prepared, oxygen_dry_fraction=float(fraction), flue_temperature=450.0, air_temperature=room
        )
        assert dual.spread(done.efficiency_gross)[index] == pytest.approx(dual.spread(row.efficiency_gross), rel=1e-12)
        assert dual.correlation(row.efficiency_gross, room) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("question", [dual.shares, lambda number: dual.correlation(number, number)])
def test_shares_and_correlation_of_a_block(question: Any) -> None:
    column = uncertain(np.array([0.03, 0.05]), spread=np.array([0.002, 0.0]), name="oxygen")
    answer = question(column * 2.0)
    parts = next(iter(answer.values())) if isinstance(answer, dict) else answer
    assert parts == pytest.approx([1.0, 0.0])
