"""Parquet in: the same rows of text as a CSV gives, so that one reader judges both. Needs the package pyarrow."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Any

from fluewright.errors import UseError
from fluewright.evidence.trace.problems import Ledger
from fluewright.evidence.trace.rows import Tick

BATCH = 8192


@dataclass(frozen=True, slots=True)
class Opened:
    """Names, units and first rows of a Parquet file. units: from each field's metadata key "unit", else ""."""

    header: tuple[str, ...]
    units: tuple[str, ...]
    sample: tuple[tuple[int, tuple[str, ...]], ...]


def _library() -> Any:
    try:
        import pyarrow.parquet as library
    except ImportError as error:
        raise UseError(
            code="FW-U-210",
            read="a Parquet file, but pyarrow is not installed",
            expected="the optional package pyarrow",
            matters="Parquet cannot be read without it",
            do="install fluewright[parquet], or export the trace as CSV",
        ) from error
    return library


def _file(path: Path, ledger: Ledger) -> Any:
    library = _library()
    try:
        return library.ParquetFile(path)
    except (OSError, ValueError) as error:
        ledger.note("unreadable", 0, "", str(error).splitlines()[0][:80])
        return None


def opened(path: Path, ledger: Ledger, count: int) -> Opened | None:
    """The names, units and first rows; None when the file is damaged, with the reason in the ledger."""
    file = _file(path, ledger)
    if file is None:
        return None
    fields = [file.schema_arrow.field(i) for i in range(len(file.schema_arrow.names))]
    units = tuple((field.metadata or {}).get(b"unit", b"").decode("utf-8", "replace") for field in fields)
    return Opened(
        tuple(field.name for field in fields),
        units,
        tuple((number, tuple(row)) for number, row in islice(rows(path, ledger), count)),
    )


def rows(path: Path, ledger: Ledger, tick: Tick | None = None) -> Iterator[tuple[int, Sequence[str]]]:
    """Every row as text with its number, batch by batch in constant memory."""
    file = _file(path, ledger)
    if file is None:
        return
    total, number = file.metadata.num_rows, 0
    for batch in file.iter_batches(batch_size=BATCH):
        for cells in zip(*(column.to_pylist() for column in batch.columns), strict=True):
            number += 1
            yield number, [_text(cell) for cell in cells]
        if tick is not None:
            tick(number, total)


def _text(cell: Any) -> str:
    """A value as a CSV would write it: times in ISO form, nothing for null."""
    if cell is None:
        return ""
    return str(cell.isoformat(" ")) if hasattr(cell, "hour") else str(cell)
