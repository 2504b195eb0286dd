"""B2: a million readings as columns, eight results, against the same formulas in pandas and a loop in Cantera."""

from typing import Any

from benchmarks.by_cantera import Losses
from benchmarks.flue import OUTPUTS, by_hand, given, largest_difference, prepared, readings
from benchmarks.measure import COPY, Aim, Report, Work, alternate, copying, cores, share_of_copying
from fluewright.batch.columns import analyse_columns
from fluewright.kernel.analysis import analyse

ROWS = 1_000_000
LOOPED = 2_000
BYTES = 8 * (4 + len(OUTPUTS))


def ours(columns: dict[str, Any], threads: int) -> list[Any]:
    """Our eight columns."""
    return list(analyse_columns(prepared(), **columns, outputs=OUTPUTS, threads=threads).values())


def whole(columns: dict[str, Any]) -> list[Any]:
    """The kernel on whole arrays, without blocks."""
    found = analyse(prepared=prepared(), **columns)
    return [getattr(found, name) for name in OUTPUTS]


def pandas_columns(columns: dict[str, Any]) -> Any:
    """A frame of readings, as the peer holds it before the clock starts."""
    import pandas

    return pandas.DataFrame(columns)


def by_pandas(frame: Any) -> list[Any]:
    """The formulas written on the columns of a frame."""
    return list(by_hand(*(frame[name] for name in frame.columns)))


def script() -> Losses:
    """The Cantera script, its gas data read."""
    g = given()
    return Losses(gross=g.gross, net=g.net, water_ratio=g.water_ratio)


def by_cantera(losses: Losses, columns: dict[str, Any]) -> list[tuple[float, ...]]:
    """One row after another through Cantera."""
    return [losses.of(*row) for row in zip(*(column.tolist() for column in columns.values()), strict=True)]


def differences(rows: int) -> dict[str, float]:
    """Largest relative difference to each peer on a few rows."""
    columns = readings(rows)
    found = ours(columns, 1)
    looped = zip(*by_cantera(script(), columns), strict=True)
    return {
        "kernel row by row": largest_difference(found, whole(columns)),
        "pandas": largest_difference(found, by_pandas(pandas_columns(columns))),
        "cantera": largest_difference(found, looped),
    }


def run() -> list[Report]:
    """Time it."""
    columns, sample, losses = readings(ROWS), readings(LOOPED), script()
    frame, many = pandas_columns(columns), cores()
    times = alternate(
        {
            COPY: copying(),
            "ours": Work(lambda: ours(columns, 1), ROWS),
            "ours, all cores": Work(lambda: ours(columns, many), ROWS),
            "pandas columns": Work(lambda: by_pandas(frame), ROWS),
            "kernel on whole arrays": Work(lambda: whole(columns), ROWS),
            "Cantera loop": Work(lambda: by_cantera(losses, sample), LOOPED),
        }
    )
    worst = differences(1000)
    agreement = ", ".join(f"{peer} {difference:.0e}" for peer, difference in worst.items())
    peers = {name: times[name] for name in ("pandas columns", "kernel on whole arrays", "Cantera loop")}
    found = []
    for name, threads in (("ours", 1), ("ours, all cores", many)):
        best = times[name].best
        share = share_of_copying(times, name=name, row_bytes=BYTES)
        rate = 1e-6 / best
        loop = times["Cantera loop"].best / best
        aims = (
            Aim(f"25 % of copy bandwidth or 50 M rows/s: {rate:.0f} M rows/s", share >= 0.25 or rate >= 50.0),
            Aim(f"300 x a Cantera loop: {loop:.0f} x", loop >= 300.0),
        )
        work = f"a million rows, 8 results, {threads} thread{'s' if threads > 1 else ''}"
        limit = f"copying {BYTES} bytes a row"
        found.append(
            Report("B2", work, "row", times[name], peers, share, limit, agreement, aims if threads == many else ())
        )
    return found
