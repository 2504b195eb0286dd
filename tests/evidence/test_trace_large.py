"""Traces larger than memory: the peak does not grow with the file, and an interruption leaves nothing behind."""

import gc
import tracemalloc
from pathlib import Path

import pytest

from fluewright.evidence.trace import spool
from fluewright.evidence.trace.problems import Ledger
from fluewright.evidence.trace.read import take
from fluewright.evidence.trace.source import understand
from fluewright.evidence.trace.stretch import each
from fluewright.evidence.trace.survey import survey
from fluewright.visit import keep

BLOCK = "".join(
    f"{{day}} 10:{i // 60 % 60:02d}:{i % 60:02d},{4.0 + (i * 7 % 5) / 10:.1f},{10 + i * 3 % 4},{450 + i % 3}\n"
    for i in range(2000)
)
"""Half an hour of one-second rows for any day."""


def written(path: Path, days: int) -> Path:
    with path.open("w") as file:
        file.write("Time,O2 (%),CO (ppm),Flue temp (K)\n")
        for day in range(days):
            file.write(BLOCK.replace("{day}", f"2026-{1 + day // 28:02d}-{1 + day % 28:02d}"))
    return path


def stretches_of(path: Path) -> int:
    """Everything that is done with a trace; the number of its stretches."""
    ledger = Ledger()
    source = understand(path, ledger)
    assert source is not None
    with take(source, ledger) as trace:
        return sum(1 for _ in each(trace, response_seconds=30.0, seen=survey(trace)))


def peak_of(path: Path) -> tuple[int, int]:
    """Peak of memory in bytes above what was held before, and the number of stretches."""
    gc.collect()
    tracemalloc.start()
    try:
        found = stretches_of(path)
        return tracemalloc.get_traced_memory()[1], found
    finally:
        tracemalloc.stop()


def test_memory_does_not_grow_with_the_trace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Everything that is bounded by a constant is filled by the smaller trace already.

    Keeping the further rows would take at least their packed size (four numbers beside three values, 8 bytes each), and
    ten times that as Python floats; half of the packed size is allowed for what caches and the collector do in between.
    What was imported and cached on first use is warmed by a run that does not count.
    """
    monkeypatch.setattr(spool, "IN_MEMORY", 64 * 1024)
    monkeypatch.setattr("fluewright.evidence.trace.source.HEAD_BYTES", 64 * 1024)
    monkeypatch.setattr("fluewright.evidence.trace.trace.STEPS", 2000)
    stretches_of(written(tmp_path / "warm.csv", 1))
    small, few = peak_of(written(tmp_path / "small.csv", 3))
    large, many = peak_of(written(tmp_path / "large.csv", 8))
    assert (few, many) == (3, 8)
    further = 5 * BLOCK.count("\n") * (4 + 3) * 8
    assert large - small < further / 2
    assert large < 12_000_000


def test_a_spool_moves_to_disk_and_reads_back() -> None:
    kept = spool.Spool(2)
    for i in range(200_000):
        kept.append(float(i), i, (i * 2.0, 1.0))
    assert kept._file._rolled  # type: ignore[attr-defined]
    first = kept.packed()
    assert next(first) == (0.0, 0.0, 0.0, 0.0, 0.0, 1.0)
    assert sum(1 for _ in kept.packed()) == 200_000
    assert next(first)[0] == 1.0
    kept.close()


def test_an_interruption_while_reading_leaves_no_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    (tmp_path / "temporary").mkdir()
    ledger = Ledger()
    source = understand(written(tmp_path / "trace.csv", 3), ledger)
    assert source is not None

    def stop(done: int, total: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        take(source, ledger, tick=stop)
    assert list((tmp_path / "temporary").iterdir()) == []


def test_an_interruption_while_writing_keeps_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "out.csv"
    path.write_text("old")

    def interrupted(self: Path, target: Path) -> Path:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        keep.write_all([(path, b"new")])
    assert [one.name for one in tmp_path.iterdir()] == ["out.csv"]
    assert path.read_text() == "old"
