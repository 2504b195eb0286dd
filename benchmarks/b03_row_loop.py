"""B3: the same million readings against pandas row by row, as most people write it first."""

from typing import Any

from benchmarks.b02_million_arrays import BYTES, ROWS, ours, pandas_columns
from benchmarks.flue import by_hand, largest_difference, readings
from benchmarks.measure import COPY, Aim, Report, Work, alternate, copying, cores, share_of_copying

APPLIED = 4_000


def by_rows(frame: Any) -> Any:
    """A frame of results, one call for each row."""
    return frame.apply(lambda row: by_hand(*row), axis=1, result_type="expand")


def differences(rows: int) -> dict[str, float]:
    """Largest relative difference to the peer on a few rows."""
    columns = readings(rows)
    applied = by_rows(pandas_columns(columns))
    theirs = [applied[number] for number in applied.columns]
    return {"pandas, row by row": largest_difference(ours(columns, 1), theirs)}


def run() -> list[Report]:
    """Time it."""
    columns, sample = readings(ROWS), pandas_columns(readings(APPLIED))
    times = alternate(
        {
            COPY: copying(),
            "ours": Work(lambda: ours(columns, cores()), ROWS),
            "apply": Work(lambda: by_rows(sample), APPLIED),
        }
    )
    best = times["ours"].best
    ratio = times["apply"].best / best
    return [
        Report(
            "B3",
            "a million rows against a row loop",
            "row",
            times["ours"],
            {"pandas apply": times["apply"]},
            share_of_copying(times, name="ours", row_bytes=BYTES),
            f"copying {BYTES} bytes a row",
            f"{differences(200)['pandas, row by row']:.0e}",
            (Aim(f"500 x: {ratio:.0f} x", ratio >= 500.0),),
        )
    ]
