"""Columns give what the kernel gives row by row; recording changes the order of the work and nothing else."""

import warnings
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.batch import columns
from fluewright.batch.tape import Tape, program
from fluewright.errors import UseError
from fluewright.kernel import air, analysis, dual, fuel

ROWS = 1000
GAS = fuel.gas(name="gas", mole_fractions={"CH4": 0.92, "C2H6": 0.04, "C3H8": 0.01, "CO2": 0.01, "N2": 0.02})
DAMP = air.humid(relative_humidity=0.5, temperature=293.15, pressure=101_325.0)
PREPARED = analysis.prepare(fuel=GAS, air=DAMP)
SPREADS = {
    "oxygen_dry_fraction": 0.002,
    "flue_temperature": 2.0,
    "air_temperature": 1.0,
    "carbon_monoxide_dry_fraction": 1e-5,
    "fuel_temperature": 5.0,
}


def readings(rows: int = ROWS) -> dict[str, Any]:
    """Invented readings of a gas boiler, the same each time."""
    draw = np.random.default_rng(20261125)
    return {
        "oxygen_dry_fraction": draw.uniform(0.0, 0.15, rows),
        "flue_temperature": draw.uniform(310.0, 700.0, rows),
        "air_temperature": draw.uniform(260.0, 310.0, rows),
        "carbon_monoxide_dry_fraction": draw.uniform(0.0, 2e-3, rows),
        "fuel_temperature": draw.uniform(270.0, 320.0, rows),
    }


def row_by_row(rows: dict[str, Any], name: str) -> np.ndarray:
    """One result of the kernel on plain floats."""
    found = []
    for values in zip(*rows.values(), strict=True):
        one = analysis.analyse(prepared=PREPARED, **dict(zip(rows, map(float, values), strict=True)))
        dew = name == "water_dew_point"
        found.append(analysis.water_dew_point(flue=one.flue, pressure=101_325.0) if dew else getattr(one, name))
    return np.array(found)


@pytest.mark.parametrize("threads", [1, 2, 3])
def test_columns_give_what_the_kernel_gives_row_by_row(threads: int) -> None:
    rows = readings()
    found = columns.analyse_columns(PREPARED, **rows, outputs=columns.OFFERED, block=64, threads=threads)
    assert list(found) == list(columns.OFFERED)
    for name, column in found.items():
        # 1e-12: a division by a constant is done as a product with its inverse, and losses are small differences
        np.testing.assert_allclose(column, row_by_row(rows, name), rtol=1e-12, atol=1e-15, err_msg=name)


def test_what_stays_the_same_may_be_one_number() -> None:
    rows = readings(10)
    one = columns.analyse_columns(PREPARED, **{**rows, "air_temperature": 293.0})
    many = columns.analyse_columns(PREPARED, **{**rows, "air_temperature": np.full(10, 293.0)})
    for name in columns.OUTPUTS:
        np.testing.assert_allclose(one[name], many[name], rtol=1e-13)


def test_the_fuel_arrives_at_25_c_unless_it_is_said() -> None:
    rows = readings(10)
    said = columns.analyse_columns(PREPARED, **{**rows, "fuel_temperature": np.full(10, 298.15)})
    unsaid = columns.analyse_columns(PREPARED, **{n: c for n, c in rows.items() if n != "fuel_temperature"})
    warm = columns.analyse_columns(PREPARED, **{**rows, "fuel_temperature": 308.15})
    for name in columns.OUTPUTS:
        np.testing.assert_allclose(said[name], unsaid[name], rtol=1e-13)
    brought = GAS.heat_capacity * 10.0 / GAS.heating_value_gross
    np.testing.assert_allclose(warm["efficiency_gross"] - unsaid["efficiency_gross"], brought, rtol=1e-9)


def test_a_result_that_is_the_same_for_all_rows_still_fills_a_column() -> None:
    rows = {**readings(7), "carbon_monoxide_dry_fraction": 0.0}
    names = ("loss_carbon_monoxide", "carbon_dioxide_dry_max", "oxygen_dry", "oxygen_dry")
    found = columns.analyse_columns(PREPARED, **rows, outputs=names)
    assert found["loss_carbon_monoxide"].tolist() == [0.0] * 7
    assert found["carbon_dioxide_dry_max"].tolist() == [PREPARED.need.carbon_dioxide_dry_max] * 7
    np.testing.assert_allclose(found["oxygen_dry"], rows["oxygen_dry_fraction"], rtol=1e-12)


def test_rows_that_no_flame_can_produce_stay_in_their_rows_and_warn_nobody() -> None:
    rows = {name: column.copy() for name, column in readings(5).items()}
    rows["oxygen_dry_fraction"][1] = np.nan
    rows["oxygen_dry_fraction"][3], rows["carbon_monoxide_dry_fraction"][3] = DAMP.oxygen, 0.0
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        air_ratio = columns.analyse_columns(PREPARED, **rows, outputs=("air_ratio",))["air_ratio"]
    assert np.isnan(air_ratio[1])
    assert not np.isfinite(air_ratio[3]) or abs(air_ratio[3]) > 1e6
    assert np.isfinite(air_ratio[[0, 2, 4]]).all()


def test_no_rows_give_no_rows() -> None:
    assert all(len(column) == 0 for column in columns.analyse_columns(PREPARED, **readings(0)).values())


def test_doubt_of_columns_is_that_of_the_kernel() -> None:
    rows = readings(200)
    names = tuple(name for name in columns.OFFERED if name != "carbon_dioxide_dry_max")
    found = columns.analyse_uncertain_columns(PREPARED, **rows, spreads=SPREADS, outputs=names, block=64)
    for row in range(0, 200, 20):
        doubtful = {n: dual.uncertain(float(rows[n][row]), spread=s, name=n) for n, s in SPREADS.items()}
        one = analysis.analyse(prepared=PREPARED, **doubtful)
        dew = analysis.water_dew_point(flue=one.flue, pressure=101_325.0)
        for name in names:
            expected = dew if name == "water_dew_point" else getattr(one, name)
            slopes = {source.name: slope for source, slope in expected.partials.items()}
            assert found[name].value[row] == pytest.approx(expected.value, rel=1e-12, abs=1e-15)
            assert found[name].spread[row] == pytest.approx(dual.spread(expected), rel=1e-11)
            for source in SPREADS:
                assert found[name].slopes[source][row] == pytest.approx(slopes.get(source, 0.0), rel=1e-10, abs=1e-13)


def test_slopes_are_those_of_small_steps() -> None:
    rows, step = (
        readings(50),
        {"oxygen_dry_fraction": 1e-6} | {f"{n}_temperature": 1e-2 for n in ("flue", "air", "fuel")},
    )
    found = columns.analyse_uncertain_columns(PREPARED, **rows, spreads=SPREADS, outputs=("efficiency_gross",))
    for name, size in step.items():
        above, below = (
            columns.analyse_columns(PREPARED, **{**rows, name: rows[name] + sign * size}, outputs=("efficiency_gross",))
            for sign in (1, -1)
        )
        slope = (above["efficiency_gross"] - below["efficiency_gross"]) / (2.0 * size)
        # 1e-6: what a central difference with these steps can resolve
        np.testing.assert_allclose(found["efficiency_gross"].slopes[name], slope, rtol=1e-6)


def test_a_spread_may_differ_from_row_to_row() -> None:
    rows = readings(3)
    doubt = {"flue_temperature": np.array([0.0, 1.0, 2.0])}
    found = columns.analyse_uncertain_columns(PREPARED, **rows, spreads=doubt, outputs=("loss_gross",))["loss_gross"]
    np.testing.assert_allclose(found.spread, abs(found.slopes["flue_temperature"]) * doubt["flue_temperature"])


@given(rows=st.integers(0, 500), block=st.integers(1, 60), parts=st.integers(1, 5))
def test_the_blocks_of_all_workers_cover_each_row_once(rows: int, block: int, parts: int) -> None:
    covered = [
        row
        for part in range(parts)
        for piece in columns.blocks(rows=rows, block=block, part=part, parts=parts)
        for row in range(piece.start, piece.stop)
    ]
    assert covered == list(range(rows))


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"flue_temperature": np.zeros(3)}, "FW-U-601"),
        ({"oxygen_dry_fraction": np.zeros((2, 2))}, "FW-U-601"),
        ({"outputs": ("efficiency",)}, "FW-U-602"),
        ({"block": 0}, "FW-U-604"),
        ({"threads": 0}, "FW-U-604"),
    ],
)
def test_what_cannot_be_done_is_said(change: dict[str, Any], code: str) -> None:
    with pytest.raises(UseError) as refused:
        columns.analyse_columns(PREPARED, **{**readings(4), **change})
    assert refused.value.code == code


def test_numbers_alone_make_no_column() -> None:
    with pytest.raises(UseError, match="none"):
        columns.analyse_columns(PREPARED, oxygen_dry_fraction=0.05, flue_temperature=450.0, air_temperature=293.0)


def test_a_spread_of_nothing_is_refused() -> None:
    with pytest.raises(UseError) as refused:
        columns.analyse_uncertain_columns(PREPARED, **readings(4), spreads={"flue": 1.0})
    assert refused.value.code == "FW-U-603"


def test_each_operation_is_written_down_once_and_arrays_in_between_are_used_again() -> None:
    tape = Tape()
    x = tape.reading()
    total = x * 2.0 + x * 2.0
    for _ in range(20):
        total = total * 3.0 + 1.0
    ready = program(tape=tape, readings=[x], results=[total])
    assert len(ready.steps) == 42
    assert ready.between == 1
    out = np.empty(3)
    ready.run([np.array([0.0, 1.0, 2.0])], [out], parts=iter([slice(0, 3)]), block=3)
    expected = np.array([0.0, 4.0, 8.0])
    for _ in range(20):
        expected = expected * 3.0 + 1.0
    assert out.tolist() == expected.tolist()


def test_nothing_can_be_decided_by_a_number_that_is_not_known_yet() -> None:
    x = Tape().reading()
    with pytest.raises(TypeError, match="no value yet"):
        bool(x)
    with pytest.raises(TypeError):
        assert x < 1.0
