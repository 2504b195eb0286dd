"""What a trace file is understood to be, before anything of it is taken: layout, columns, form of time, first rows."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from fluewright.evidence.trace import columns, measure, sniff, times
from fluewright.evidence.trace.cells import Cell, CellReader
from fluewright.evidence.trace.mapping import ColumnSaid, Mapping
from fluewright.evidence.trace.problems import Ledger
from fluewright.evidence.trace.rows import rows as text_rows
from fluewright.evidence.trace.sniff import HEAD_BYTES, Layout
from fluewright.evidence.trace.times import Form

SAMPLE_ROWS = 2000
"""Rows looked at for the guesses."""
Role = Literal["time", "clock", "channel", "extra", "unused"]
"""time: the moment, or its date. clock: time of day beside a date. extra: numbers whose quantity is not known."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column as understood. unit: as the file writes it. low, high: range seen in the sample, as written."""

    index: int
    header: str
    role: Role
    quantity: str = ""
    unit: str = ""
    reason: str = ""
    sure: bool = True
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Source:
    """A file as understood. layout: None for Parquet. sample: the first rows as text, with their line numbers."""

    path: Path
    subject: str
    layout: Layout | None
    columns: tuple[Column, ...]
    form: Form
    sample: tuple[tuple[int, tuple[str, ...]], ...]
    reasons: tuple[str, ...]

    def of(self, role: Role) -> tuple[Column, ...]:
        """The columns in one role."""
        return tuple(column for column in self.columns if column.role == role)


def understand(path: Path, ledger: Ledger, *, mapping: Mapping | None = None, subject: str = "") -> Source | None:
    """Look at the first part of a file and say what it is; nothing is taken.

    path     the file
    ledger   where everything odd is written down
    mapping  what a person said; it wins over every guess
    subject  name of the file for people, the file's own name when not given
    -> Source, None when the file cannot be understood at all (the ledger then says why)
    """
    said, subject = mapping or Mapping(), subject or path.name
    try:
        with path.open("rb") as file:
            head = file.read(HEAD_BYTES)
    except OSError as error:
        ledger.note("missing file", 0, "", error.strerror or str(error))
        return None
    if not head.strip(b"\0 \r\n\t\xef\xbb\xbf"):
        ledger.note("empty", 0, "", f"{len(head)} bytes")
        return None
    kind = sniff.kind_of(head)
    if kind == "Parquet":
        return _from_parquet(path, ledger, said, subject)
    if kind:
        ledger.note("not text", 0, "", kind)
        return None
    return _from_text(path, head, ledger, said, subject)


def _from_text(path: Path, head: bytes, ledger: Ledger, said: Mapping, subject: str) -> Source | None:
    layout = _layout(path, head, ledger, said)
    if layout is None:
        return None
    if layout.ambiguous_decimal:
        ledger.note(
            "ambiguous decimal", 0, "", f"{layout.ambiguous_decimal}: {layout.reasons[-1]}; choices are , and ."
        )
    sample = _sample(path, layout)
    if not layout.header:
        width = max((len(cells) for _, cells in sample), default=0)
        layout = replace(layout, header=tuple(f"column {i + 1}" for i in range(width)))
        if not any(name in said.columns for name in layout.header):
            ledger.note("no header", 1, "", f"the first line is {', '.join(sample[0][1])[:60]}" if sample else "")
            return None
    if not sample:
        ledger.note("no rows", layout.header_line, "", f"{len(layout.header)} names")
        return None
    return _understood(path, subject, layout, layout.header, layout.units, sample, ledger, said, layout.reasons)


def _layout(path: Path, head: bytes, ledger: Ledger, said: Mapping) -> Layout | None:
    """The layout, None when what was said of it cannot be so for this file."""
    whole = path.stat().st_size <= len(head)
    try:
        layout = sniff.layout_of(
            head, whole=whole, encoding=said.encoding, delimiter=said.delimiter, decimal=said.decimal,
            header_line=said.header_line,
        )  # fmt: skip
    except UnicodeError as error:
        ledger.note("mapping", 0, "", f"encoding = {said.encoding}: {error}")
        return None
    if said.header_line and layout.header_line != said.header_line:
        ledger.note("mapping", 0, "", f"header_line = {said.header_line}: no row of the file ends on that line")
        return None
    return layout


def _sample(path: Path, layout: Layout) -> tuple[tuple[int, tuple[str, ...]], ...]:
    kept: list[tuple[int, tuple[str, ...]]] = []
    for number, cells in text_rows(path, layout, Ledger()):
        if any(cell.strip() for cell in cells) and tuple(cell.strip() for cell in cells) != layout.header:
            kept.append((number, tuple(cells)))
        if len(kept) == SAMPLE_ROWS:
            break
    return tuple(kept)


def _from_parquet(path: Path, ledger: Ledger, said: Mapping, subject: str) -> Source | None:
    from fluewright.evidence.trace import parquet

    opened = parquet.opened(path, ledger, SAMPLE_ROWS)
    if opened is None:
        return None
    if not opened.sample:
        ledger.note("no rows", 0, "", f"{len(opened.header)} columns")
        return None
    reasons = ("Parquet: names and types from the file, units from the fields' metadata or names",)
    return _understood(path, subject, None, opened.header, opened.units, opened.sample, ledger, said, reasons)


def _understood(
    path: Path, subject: str, layout: Layout | None, header: tuple[str, ...], unit_row: tuple[str, ...],
    sample: tuple[tuple[int, tuple[str, ...]], ...], ledger: Ledger, said: Mapping, reasons: tuple[str, ...],
) -> Source:  # fmt: skip
    by_column = [[cells[i] for _, cells in sample if i < len(cells)] for i in range(len(header))]
    _check_mapping(said, header, ledger)
    when = _time_columns(header, by_column, said, ledger)
    form = _form(header, by_column, when, said, ledger)
    decimal = layout.decimal if layout else "."
    found = _channels(header, unit_row, by_column, when, decimal, said, ledger)
    if not any(column.role == "channel" for column in found):
        ledger.note("no channel", layout.header_line if layout else 0, "", ", ".join(header)[:80])
    return Source(path, subject, layout, found, form, sample, reasons)


def _check_mapping(said: Mapping, header: Sequence[str], ledger: Ledger) -> None:
    for name in (*said.columns, said.time_column, said.clock_column):
        if name and name not in header:
            ledger.note("mapping", 0, name, f"no such column; the file has {', '.join(header)[:60]}")
    for name, column in said.columns.items():
        if column.quantity and not measure.known(column.quantity):
            ledger.note("mapping", 0, name, f"no quantity is called {column.quantity}")


def _time_columns(
    header: Sequence[str], cells: Sequence[Sequence[str]], said: Mapping, ledger: Ledger
) -> tuple[int, int]:
    """Index of the column of time (or date) and of the clock beside it; -1 for none."""
    if said.time_column in header:
        clock = header.index(said.clock_column) if said.clock_column in header else -1
        return header.index(said.time_column), clock
    forms = [
        times.guess(column, header=name) if not said.columns.get(name, ColumnSaid()).quantity else ()
        for name, column in zip(header, cells, strict=True)
    ]
    dated = [i for i, found in enumerate(forms) if found and found[0].order not in {"clock", "elapsed seconds"}]
    clocks = [i for i, found in enumerate(forms) if found and found[0].order == "clock"]
    elapsed = [i for i, found in enumerate(forms) if found and found[0].order == "elapsed seconds"]
    if dated:
        only_dates = not any(":" in cell for cell in cells[dated[0]][:50]) and not forms[dated[0]][0].order.startswith(
            "epoch"
        )
        return dated[0], clocks[0] if clocks and only_dates else -1
    if clocks or elapsed:
        return (clocks or elapsed)[0], -1
    ledger.note("no time", 0, "", f"columns are {', '.join(header)[:60]}")
    return -1, -1


def moments(cells: Sequence[Sequence[str]], when: tuple[int, int]) -> list[str]:
    """The texts of time: one column, or date and clock joined."""
    if when[1] < 0:
        return list(cells[when[0]])
    return [f"{date.strip()} {clock.strip()}" for date, clock in zip(cells[when[0]], cells[when[1]], strict=False)]


def _form(
    header: Sequence[str], cells: Sequence[Sequence[str]], when: tuple[int, int], said: Mapping, ledger: Ledger
) -> Form:
    if when[0] < 0:
        return Form("elapsed seconds", said.zone)
    if said.order:
        return Form(said.order, said.zone)
    texts = moments(cells, when)
    found = times.guess(texts, header=header[when[0]])
    if not found:
        ledger.note("no time", 0, header[when[0]], f"{texts[0]} is in no known form of time")
        return Form("iso", said.zone)
    if len(found) > 1:
        read = " or ".join(
            f"{times.shown(times.Reader(form).seconds(_first(texts, form)), form)} ({form.order})" for form in found
        )
        ledger.note("ambiguous date", 0, header[when[0]], f"{_first(texts, found[0])} is {read}")
    return replace(found[0], zone=said.zone)


def _first(texts: Sequence[str], form: Form) -> str:
    """The first text the form can read."""
    return next((text for text in texts if times.readable(text, form)), texts[0])


def _channels(
    header: Sequence[str], unit_row: Sequence[str], cells: Sequence[Sequence[str]], when: tuple[int, int],
    decimal: str, said: Mapping, ledger: Ledger,
) -> tuple[Column, ...]:  # fmt: skip
    numbers = [_numbers(column, decimal) for column in cells]
    units = [_cell_unit(column) for column in cells]
    peer = _peer_unit(header, unit_row, units)
    found: list[Column] = []
    taken: set[str] = set()
    for i, name in enumerate(header):
        column = Column(i, name, "unused", low=min(numbers[i], default=None), high=max(numbers[i], default=None))
        if i in when:
            role: Role = "time" if i == when[0] else "clock"
            found.append(
                replace(column, role=role, reason="times" if role == "time" else "time of day", low=None, high=None)
            )
            continue
        row_unit = unit_row[i] if i < len(unit_row) else ""
        column = _said(column, said.columns.get(name), ledger) or _guessed(
            column, row_unit, units[i], numbers[i], peer, ledger
        )
        if column.role == "channel" and column.quantity in taken:
            ledger.note("two alike", 0, name, measure.words(column.quantity))
            column = replace(
                column, role="extra", quantity="", reason=f"second column of {column.quantity}", sure=False
            )
        taken.add(column.quantity)
        found.append(column)
    return tuple(found)


def _said(column: Column, said: ColumnSaid | None, ledger: Ledger) -> Column | None:
    """The column as the mapping has it; None when the mapping leaves it to a guess."""
    if said is None or (said.use and not said.quantity and not said.unit):
        return None
    if not said.use:
        return replace(column, reason="left out by the mapping")
    quantity = said.quantity or columns.quantity_of(column.header)[0]
    if not measure.known(quantity):
        return None
    unit = said.unit or columns.unit_in(column.header, quantity) or measure.canonical(quantity)
    if measure.line(quantity, unit) is None:
        ledger.note(
            "wrong unit", 0, column.header, f"{unit} for {quantity}; it can be {', '.join(measure.choices(quantity))}"
        )
        return replace(column, reason="wrong unit")
    return replace(column, role="channel", quantity=quantity, unit=unit, reason="as the mapping says")


def _guessed(
    column: Column, row_unit: str, cell_unit: str, numbers: Sequence[float], peer: str, ledger: Ledger
) -> Column:
    guess = columns.guess(column.header, unit_row=row_unit, cell_unit=cell_unit, numbers=numbers, peer_unit=peer)
    column = replace(column, unit=guess.unit, reason=guess.reason, sure=guess.sure)
    if not guess.quantity:
        return replace(column, role="extra" if numbers and "setting" not in guess.reason else "unused")
    if guess.wrong_unit:
        ledger.note(
            "wrong unit",
            0,
            column.header,
            f"{guess.wrong_unit} for {guess.quantity}; it can be {', '.join(measure.choices(guess.quantity))}",
        )
        return column
    if guess.choices and numbers:
        ledger.note(
            "ambiguous unit",
            0,
            column.header,
            f"{min(numbers):g} to {max(numbers):g} can be {' or '.join(guess.choices)}",
        )
        return replace(column, quantity=guess.quantity)
    if not numbers:
        return replace(
            column, quantity=guess.quantity, unit=guess.unit or measure.canonical(guess.quantity), role="channel"
        )
    return replace(column, role="channel", quantity=guess.quantity)


def _numbers(cells: Sequence[str], decimal: str) -> list[float]:
    """The plain numbers of a column as written, cells with units included."""
    reader = CellReader(decimal=decimal, scale=1.0, offset=0.0, convert=lambda unit: (1.0, 0.0))
    read = (reader.read(cell) for cell in cells)
    return [value for value in read if not isinstance(value, Cell)]


def _cell_unit(cells: Sequence[str]) -> str:
    """The unit most cells of a column carry, when at least half of them carry one."""
    tails = Counter(tail for cell in cells[:200] if (tail := sniff.unit_behind(cell)))
    if not tails:
        return ""
    unit, _ = tails.most_common(1)[0]
    return unit if tails.total() >= 0.5 * len(cells[:200]) else ""


def _peer_unit(header: Sequence[str], unit_row: Sequence[str], cell_units: Sequence[str]) -> str:
    """The temperature unit of the columns that name one, when they all name the same."""
    found = set()
    for i, name in enumerate(header):
        quantity = columns.quantity_of(name)[0]
        if quantity and measure.kind(quantity) == "temperature":
            unit = columns.unit_in(name, quantity) or (unit_row[i] if i < len(unit_row) else "") or cell_units[i]
            if unit and measure.line(quantity, unit) is not None:
                found.add(unit)
    return found.pop() if len(found) == 1 else ""
