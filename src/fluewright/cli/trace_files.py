"""What fluewright trace reads from a pipe and writes to files: whole or not at all; and how far it is, on stderr."""

import csv
import io
import shutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from fluewright.evidence.trace import measure
from fluewright.evidence.trace.trace import Trace
from fluewright.evidence.trace.worked import Worked

SLUGS = {"%": "percent", "°C": "degC", "°F": "degF", "K": "K", "ppm": "ppm", "1": "", "in w.c.": "inwc"}


@contextmanager
def from_pipe() -> Iterator[Path]:
    """Standard input kept in a temporary file, so that it can be read twice; gone afterwards whatever happens."""
    folder = Path(tempfile.mkdtemp(prefix="fluewright-"))
    try:
        path = folder / "standard input"
        with path.open("wb") as file:
            shutil.copyfileobj(sys.stdin.buffer, file)
        yield path
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def safe(cell: str) -> str:
    """A text cell that no spreadsheet takes for a formula; numbers, also negative ones, stay numbers."""
    try:
        float(cell)
    except ValueError:
        return f"'{cell}" if cell[:1] in {"=", "+", "-", "@", "\t", "\r"} else cell
    return cell


def head(name: str, system: str = "si", *, suffix: str = "") -> str:
    """The heading of a CSV column: registry name with unit, such as oxygen_dry_percent."""
    unit = measure.display(name, system)[0] if measure.known(name) else ""
    slug = SLUGS.get(unit, "".join(letter if letter.isalnum() else "_" for letter in unit))
    return "_".join(part for part in (name, suffix, slug) if part)


def table(trace: Trace, rows: Sequence[Worked], system: str = "si") -> str:
    """The stretches as CSV: start, end, rows, then mean and standard uncertainty of each channel and result."""
    channels = [channel.name for channel in trace.channels if channel.quantity]
    results = list(dict.fromkeys(name for row in rows for name in row.values if name not in channels))
    heads = ["number", "start", "end", "rows", "kind"]
    for name in (*channels, *results):
        heads += [head(name, system), head(name, system, suffix="uncertainty")]
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow([*heads, "reason"])
    for row in rows:
        stretch = row.stretch
        cells = [
            str(stretch.number),
            trace.shown(stretch.start),
            trace.shown(stretch.end),
            str(stretch.count),
            stretch.kind,
        ]
        pairs = {name: (mean, stretch.spreads[name]) for name, mean in stretch.means.items()}
        computed = {name: pair for name, pair in row.values.items() if name not in channels}
        for name in (*channels, *results):
            cells += _pair({**computed, **pairs}.get(name), name, system)
        writer.writerow([safe(cell) for cell in (*cells, stretch.reason)])
    return out.getvalue()


def _pair(pair: tuple[float, float] | None, name: str, system: str) -> list[str]:
    if pair is None:
        return ["", ""]
    _, scale, offset = measure.display(name, system)
    return [f"{pair[0] * scale + offset:.6g}", f"{pair[1] * scale:.3g}"]
