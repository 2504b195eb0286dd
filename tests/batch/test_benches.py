"""Each bench compares like with like: our result and every peer's agree on a small size. Nothing is timed here."""

from pathlib import Path

import pytest

pytest.importorskip("cantera")
pytest.importorskip("pandas")
pytest.importorskip("uncertainties")


@pytest.fixture(autouse=True)
def _benches_in_reach(monkeypatch: pytest.MonkeyPatch, root: Path) -> None:
    monkeypatch.syspath_prepend(str(root))


def test_one_reading_agrees_with_the_cantera_script() -> None:
    from benchmarks import b01_one_visit

    # fractions of the gross heat; the command prints what the library works out
    assert max(b01_one_visit.differences().values()) < 1e-9


def test_columns_agree_with_pandas_and_with_cantera() -> None:
    from benchmarks import b02_million_arrays

    found = b02_million_arrays.differences(300)
    assert found["kernel row by row"] < 1e-12
    assert found["pandas"] < 1e-12
    assert found["cantera"] < 1e-9  # its gas constant has one digit more


def test_columns_agree_with_pandas_row_by_row() -> None:
    from benchmarks import b03_row_loop

    assert b03_row_loop.differences(50)["pandas, row by row"] < 1e-12


def test_one_doubtful_reading_agrees_with_uncertainties() -> None:
    from benchmarks import b05_uncertain_scalar

    assert max(b05_uncertain_scalar.differences().values()) < 1e-9


def test_doubtful_columns_agree_with_uncertainties_and_with_random_draws() -> None:
    from benchmarks import b06_uncertain_columns

    assert b06_uncertain_columns.difference(30) < 1e-9
    typical, largest = b06_uncertain_columns.in_draw_errors(10)
    # 80 spreads from 10,000 seeded draws each, in standard errors: typically 1, hardly one beyond 4
    assert 0.7 < typical < 1.3
    assert largest < 4.5


def test_readings_made_to_agree_are_those_of_least_squares() -> None:
    from benchmarks import b14_reconcile

    assert max(b14_reconcile.differences().values()) < 1e-8
    found = b14_reconcile.ours()
    assert found.freedom == 5
    assert not found.not_observable


def test_help_loads_nothing_heavy() -> None:
    from benchmarks import b18_start

    assert "fluewright.cli.main" in b18_start.imported("--help")
    assert b18_start.heavy("--help") == []


def test_a_report_knows_its_ratios() -> None:
    from benchmarks.__main__ import data, shown, text
    from benchmarks.measure import Aim, Report, Times, Work, alternate

    ours, peer = Times((2e-6, 1e-6, 3e-6)), Times((5e-6, 4e-6, 9e-6))
    assert (ours.best, ours.median) == (1e-6, 2e-6)
    report = Report("B0", "work", "row", ours, {"peer": peer}, 0.5, "limit", "-", (Aim("2 x", True),))
    assert report.ratio("peer") == pytest.approx(4.0)
    assert data(report)["ratio"] == {"peer": pytest.approx(4.0)}
    assert any("4 x" in line for line in text(report))
    assert [shown(each) for each in (1.5, 2e-3, 3e-6, 4e-9)] == ["1.5 s", "2 ms", "3 us", "4 ns"]
    turns: list[str] = []
    alternate({"a": Work(lambda: turns.append("a")), "b": Work(lambda: turns.append("b"), calls=2)}, rounds=2)
    assert turns == ["a", "b", "a", "b", "b", "a", "b", "b"]
