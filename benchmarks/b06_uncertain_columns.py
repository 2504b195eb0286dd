"""B6: a hundred thousand doubtful readings as columns: value, spread and derivatives of eight results."""

from typing import Any

from benchmarks.flue import OUTPUTS, READINGS, SEED, SPREADS, by_hand, largest_difference, prepared, readings
from benchmarks.measure import COPY, Aim, Report, Work, alternate, copying, cores, share_of_copying
from fluewright.batch.columns import UncertainColumn, analyse_uncertain_columns

ROWS = 100_000
LOOPED = 300
DRAWN_ROWS = 25
DRAWS = 10_000
BYTES = 8 * (4 + len(OUTPUTS) * (2 + len(READINGS)))


def ours(columns: dict[str, Any], threads: int) -> dict[str, UncertainColumn]:
    """Our eight columns with spread and four slopes each."""
    return analyse_uncertain_columns(prepared(), **columns, spreads=SPREADS, outputs=OUTPUTS, threads=threads)


def by_uncertainties(columns: dict[str, Any]) -> list[list[tuple[float, float, dict[Any, float]]]]:
    """Row after row with the package: value, spread, derivatives."""
    from uncertainties import ufloat

    rows = zip(*(column.tolist() for column in columns.values()), strict=True)
    found = []
    for row in rows:
        doubtful = [ufloat(value, SPREADS[name]) for name, value in zip(columns, row, strict=True)]
        found.append([(n.nominal_value, n.std_dev, n.derivatives) for n in by_hand(*doubtful)])
    return found


def by_draws(columns: dict[str, Any]) -> Any:
    """Spread of each result of each row from random draws, rows one after another, draws as arrays."""
    import numpy

    draw = numpy.random.default_rng(SEED)
    rows = zip(*(column.tolist() for column in columns.values()), strict=True)
    found = []
    for row in rows:
        drawn = [draw.normal(value, SPREADS[name], DRAWS) for name, value in zip(columns, row, strict=True)]
        found.append([result.std(ddof=1) for result in by_hand(*drawn)])
    return numpy.array(found).T


def difference(rows: int) -> float:
    """Largest relative difference of values and spreads to the package."""
    columns = readings(rows)
    found = ours(columns, 1)
    theirs = by_uncertainties(columns)
    worst = 0.0
    for number, column in enumerate(found.values()):
        values, spreads = zip(*((row[number][0], row[number][1]) for row in theirs), strict=True)
        worst = max(worst, largest_difference([column.value, column.spread], [values, spreads]))
    return worst


def in_draw_errors(rows: int) -> tuple[float, float]:
    """How far our spreads and those of the draws lie apart, in standard errors of the draws: typical, largest."""
    import numpy

    columns = readings(rows)
    spreads = numpy.array([column.spread for column in ours(columns, 1).values()])
    drawn = by_draws(columns)
    errors = (drawn / spreads - 1.0) * (2.0 * (DRAWS - 1)) ** 0.5
    return float((errors**2).mean() ** 0.5), float(abs(errors).max())


def run() -> list[Report]:
    """Time it."""
    columns, sample, few = readings(ROWS), readings(LOOPED), readings(DRAWN_ROWS)
    many = cores()
    times = alternate(
        {
            COPY: copying(),
            "ours": Work(lambda: ours(columns, 1), ROWS, calls=3),
            "ours, all cores": Work(lambda: ours(columns, many), ROWS, calls=3),
            "uncertainties loop": Work(lambda: by_uncertainties(sample), LOOPED),
            "10,000 draws in numpy": Work(lambda: by_draws(few), DRAWN_ROWS),
        }
    )
    mean, largest = in_draw_errors(DRAWN_ROWS)
    agreement = f"uncertainties {difference(100):.0e}; draws {mean:.1f} of their own error (largest {largest:.1f})"
    peers = {name: times[name] for name in ("uncertainties loop", "10,000 draws in numpy")}
    found = []
    for name, threads in (("ours", 1), ("ours, all cores", many)):
        best = times[name].best
        ratio = peers["uncertainties loop"].best / best
        aims = (Aim(f"500 x: {ratio:.0f} x", ratio >= 500.0), Aim("draws agree within their own error", largest < 4.5))
        share = share_of_copying(times, name=name, row_bytes=BYTES)
        work = f"100,000 doubtful rows, {threads} thread{'s' if threads > 1 else ''}"
        limit = f"copying {BYTES} bytes a row"
        found.append(Report("B6", work, "row", times[name], peers, share, limit, agreement, aims))
    return found
