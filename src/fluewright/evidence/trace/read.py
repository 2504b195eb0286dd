"""A trace file -> a trace: every row parsed once, every doubt written down, the whole refused or the whole taken."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from fluewright.evidence.trace import columns, measure
from fluewright.evidence.trace.cells import Cell, CellReader
from fluewright.evidence.trace.mapping import Mapping
from fluewright.evidence.trace.problems import Ledger
from fluewright.evidence.trace.rows import Tick
from fluewright.evidence.trace.rows import rows as text_rows
from fluewright.evidence.trace.source import Column, Source, understand
from fluewright.evidence.trace.spool import Sample, Spool, edges_of, in_order
from fluewright.evidence.trace.times import Form, Reader
from fluewright.evidence.trace.trace import Channel, Trace, step_of

HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class _Lane:
    """One channel while its cells are read: where, how, and the limits in the canonical unit."""

    index: int
    header: str
    reader: CellReader
    quiet: bool
    least: float
    most: float
    low: float
    high: float


def read(
    path: Path, *, mapping: Mapping | None = None, ledger: Ledger | None = None, tick: Tick | None = None
) -> Trace:
    """The trace in a CSV or Parquet file.

    Cells that are no number become gaps and are counted in the ledger; a file that cannot be taken as a whole is
    refused with all its problems in one error.

    path     the file
    mapping  what a person said about its columns
    ledger   where problems are written; a new one when not given
    tick     told how many bytes of how many are done
    -> Trace, to be closed after use; TraceError or Problems when refused
    """
    ledger = ledger or Ledger()
    source = understand(path, ledger, mapping=mapping)
    trace = take(source, ledger, tick=tick) if source else None
    try:
        ledger.refuse(subject=path.name)
    except BaseException:
        if trace is not None:
            trace.close()
        raise
    assert trace is not None  # without a source the ledger has refused
    return trace


def take(source: Source, ledger: Ledger, *, tick: Tick | None = None) -> Trace:
    """Parse all rows of an understood file, also of one that will be refused, so that all its problems are known.

    -> Trace in order of time; the caller asks ledger.refuse before using it
    """
    kept = [column for column in source.columns if column.role in {"channel", "extra"}]
    lanes = [_lane(column, source) for column in kept]
    when = [column.index for column in source.of("time") + source.of("clock")]
    spool = Spool(len(lanes))
    try:
        order = _parse(source, lanes, when, spool, ledger, tick) if when and lanes else True
        if not order:
            spool = in_order(spool)
        edges = _edges(spool, lanes, ledger)
        trace = Trace(channels=_named(kept), spool=spool, form=source.form, subject=source.subject, edges=edges)
        _look_over(trace, ledger, usable=[column.role == "channel" for column in kept])
    except BaseException:
        spool.close()
        raise
    return trace


def _edges(spool: Spool, lanes: Sequence[_Lane], ledger: Ledger) -> tuple[float, ...]:
    """What stands for the words of over-range of each channel; a column of words alone has no edge, which is said."""
    if not any(lane.reader.over for lane in lanes):
        return ()
    edges = edges_of(spool)
    for lane, edge in zip(lanes, edges, strict=True):
        if lane.reader.over and math.isnan(edge) and not lane.quiet:
            ledger.note("not a number", 0, lane.header, "over range, and no figure in the column to take as its edge")
    return edges


def _named(kept: Sequence[Column]) -> tuple[Channel, ...]:
    """Channels under registry names; the rest under their own header, made plain and told apart."""
    prefix = columns.shared_prefix([column.header for column in kept])
    found: list[Channel] = []
    seen: set[str] = {column.quantity for column in kept}
    for column in kept:
        if column.role == "channel":
            found.append(Channel(column.quantity, measure.canonical(column.quantity), column.header))
            continue
        name = columns.slug(column.header.removeprefix(prefix))
        while name in seen:
            name += "_again"
        seen.add(name)
        found.append(Channel(name, column.unit, column.header, quantity=False))
    return tuple(found)


def _lane(column: Column, source: Source) -> _Lane:
    decimal = source.layout.decimal if source.layout else "."
    if column.role == "extra":
        reader = CellReader(decimal=decimal, scale=1.0, offset=0.0, convert=lambda unit: (1.0, 0.0))
        return _Lane(column.index, column.header, reader, True, -math.inf, math.inf, -math.inf, math.inf)
    name = column.quantity
    scale, offset = measure.line(name, column.unit) or (1.0, 0.0)
    reader = CellReader(decimal=decimal, scale=scale, offset=offset, convert=lambda unit: measure.line(name, unit))
    return _Lane(column.index, column.header, reader, False, *measure.limits(name))


def _rows(source: Source, ledger: Ledger, tick: Tick | None) -> Iterator[tuple[int, Sequence[str]]]:
    if source.layout is not None:
        return text_rows(source.path, source.layout, ledger, tick)
    from fluewright.evidence.trace import parquet

    return parquet.rows(source.path, ledger, tick)


def _parse(
    source: Source, lanes: Sequence[_Lane], when: Sequence[int], spool: Spool, ledger: Ledger, tick: Tick | None
) -> bool:
    """Write every usable row to the spool; True when the rows came in order of time."""
    header = tuple(column.header for column in source.columns)
    clock = _Clock(source.form, source.columns[when[0]].header, when, ledger)
    last = -math.inf
    ordered = True
    for number, row in _rows(source, ledger, tick):
        if len(row) != len(header) and not _width_fits(row, len(header), number, ledger):
            continue
        if row[0].strip() == header[0] and tuple(cell.strip() for cell in row) == header:
            ledger.note("repeated header", number, "", "")
            continue
        time = clock.read(row, number)
        if time is None:
            continue
        if time < last:
            ordered = False
            ledger.note("out of order", number, "", f"{last - time:g} s back")
        last = max(last, time)
        _keep(number, time, row, lanes, spool, ledger)
    return ordered


def _width_fits(row: Sequence[str], width: int, number: int, ledger: Ledger) -> bool:
    """Whether a row of another width can be used; writes down what is odd about it."""
    if not any(cell.strip() for cell in row):
        return False
    if len(row) < width:
        ledger.note("short row", number, "", f"{len(row)} of {width} cells")
        return True
    if any(cell.strip() for cell in row[width:]):
        ledger.note("long row", number, "", f"{len(row)} cells for {width} columns")
        return False
    return True


class _Clock:
    """Reads the time of each row; notices a local clock that was set back one hour and goes on from there."""

    def __init__(self, form: Form, header: str, when: Sequence[int], ledger: Ledger) -> None:
        self._reader, self._header, self._when, self._ledger = Reader(form), header, when, ledger
        self._local = not form.zone and form.order not in {
            "epoch seconds",
            "epoch milliseconds",
            "elapsed seconds",
            "clock",
        }
        self._last, self._step, self._shift = -math.inf, math.inf, 0.0

    def read(self, row: Sequence[str], number: int) -> float | None:
        """Seconds, None when the row has no readable time."""
        text = " ".join(row[i].strip() for i in self._when if i < len(row))
        try:
            time = self._reader.seconds(text) + self._shift
        except (ValueError, OverflowError):
            self._ledger.note("bad time", number, self._header, text or "empty")
            return None
        back = self._last - time
        if (
            back > 0
            and self._local
            and text[-1:].isdigit()
            and abs(back - (HOUR - self._step)) <= 0.5 * self._step < HOUR / 2
        ):
            self._shift += HOUR
            time += HOUR
            self._ledger.note(
                "backwards clock", number, self._header, f"{text} is one hour back; taken as the end of summer time"
            )
        if time > self._last:
            self._step, self._last = time - self._last, time
        return time


def _keep(number: int, time: float, row: Sequence[str], lanes: Sequence[_Lane], spool: Spool, ledger: Ledger) -> None:
    """Read the cells of one row and write it to the spool; what is no number becomes nan and is written down."""
    values: list[float] = []
    above = below = 0
    width = len(row)
    for place, lane in enumerate(lanes):
        value = lane.reader.read(row[lane.index]) if lane.index < width else math.nan
        if isinstance(value, Cell):
            if value.kind == "bound":
                above |= (value.side == "above") << place
                below |= (value.side == "below") << place
            if value.kind != "empty" and not lane.quiet:
                ledger.note(value.kind, number, lane.header, row[lane.index].strip())
            value = value.value if value.kind == "bound" else math.nan
        elif not lane.least <= value <= lane.most:
            if value == value:
                ledger.note("impossible", number, lane.header, row[lane.index].strip())
            value = math.nan
        elif not lane.low <= value <= lane.high:
            ledger.note("unlikely", number, lane.header, row[lane.index].strip())
        values.append(value)
    spool.append(time, number, values, above, below)


def _look_over(trace: Trace, ledger: Ledger, *, usable: Sequence[bool]) -> None:
    """Repeated times and gaps, once the rows are in order; and whether there is any number at all."""
    step = step_of(trace)
    last: Sample | None = None
    numbers = False
    for sample in trace.rows():
        numbers = numbers or any(use and value == value for use, value in zip(usable, sample.values, strict=True))
        if last is not None and sample.time == last.time:
            same = all(a == b or (a != a and b != b) for a, b in zip(sample.values, last.values, strict=True))
            ledger.note("repeated row" if same else "conflicting row", sample.row, "", trace.shown(sample.time))
            continue
        if last is not None and sample.time - last.time > step.gap:
            ledger.note("gap", sample.row, "", f"{span(sample.time - last.time)} until {trace.shown(sample.time)}")
        last = sample
    if not numbers and not ledger.count(weight="refuse"):
        ledger.note("only rubbish", 0, "", f"{ledger.count(weight='gap')} cells or rows were left out")


def span(seconds: float) -> str:
    """A length of time as people say it: 90 s, 12 min, 5 h, 3 days."""
    for size, word in ((86_400.0, "days"), (3600.0, "h"), (60.0, "min")):
        if seconds >= 2.0 * size:
            return f"{seconds / size:.3g} {word}"
    return f"{seconds:.3g} s"
