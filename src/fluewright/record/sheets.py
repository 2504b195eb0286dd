"""The journal as tables for people: one for each kind of entry, and one of readings with a column for each quantity.

They show what stands now, amendments applied. Nothing is proven by them; the lines of the export are the record.
"""

import csv
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from itertools import groupby
from pathlib import Path
from typing import Any, Protocol

from sqlalchemy import select
from sqlalchemy.engine import Connection

from fluewright.record.canonical import canonical
from fluewright.record.entry import entry_from
from fluewright.record.fold import Current, current
from fluewright.record.journal import Journal
from fluewright.record.kinds import KINDS
from fluewright.record.personal import KEY
from fluewright.record.reading import values_of
from fluewright.record.tables import ENTRY
from fluewright.record.today import Read, as_today

HEAD = ("id", "device", "number", "entered", "observed", "author", "source", "amended", "struck_out")
VALUE = ("typed", "quantity", "figure", "unit")
PIVOT = "readings by moment"
MOMENT = ("visit", "stretch", "appliance", "point")
LEFT_OUT = "(left out)"

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_QUANTITY = re.compile(r'"quantity":"([a-z0-9_]+)"')


class Sheets(Protocol):
    """Something that takes rows of tables."""

    def row(self, table: str, head: Sequence[str], cells: Sequence[str]) -> None:
        """Take a row."""

    def close(self) -> None:
        """All rows are there."""


def safe(text: str) -> str:
    """A cell that no spreadsheet takes for a formula: one that begins like one gets an apostrophe before it.

    Plain numbers stay numbers, also negative ones.
    """
    if text.startswith(_FORMULA) and not _NUMBER.fullmatch(text):
        return "'" + text
    return text


class CsvSheets:
    """Tables as CSV files (RFC 4180), with the mark by which spreadsheets know UTF-8."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._stack, self._open = folder, ExitStack(), dict[str, Any]()
        folder.mkdir(parents=True, exist_ok=True)

    def row(self, table: str, head: Sequence[str], cells: Sequence[str]) -> None:
        """Take a row."""
        if table not in self._open:
            path = self._folder / f"{table.replace(' ', '-')}.csv"
            file = self._stack.enter_context(path.open("w", encoding="utf-8-sig", newline=""))
            self._open[table] = csv.writer(file)
            self._open[table].writerow([safe(cell) for cell in head])
        self._open[table].writerow([safe(cell) for cell in cells])

    def close(self) -> None:
        """Close all files."""
        self._stack.close()


class ParquetSheets:
    """Tables as Parquet files: texts as texts, and the columns of quantities as numbers."""

    BATCH = 10_000

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._writers, self._waiting, self._heads = dict[str, Any](), dict[str, Any](), dict[str, Any]()
        folder.mkdir(parents=True, exist_ok=True)

    def row(self, table: str, head: Sequence[str], cells: Sequence[str]) -> None:
        """Take a row."""
        self._heads.setdefault(table, list(head))
        waiting = self._waiting.setdefault(table, [])
        waiting.append(list(cells))
        if len(waiting) >= self.BATCH:
            self._write(table)

    def _write(self, table: str) -> None:
        import pyarrow
        import pyarrow.parquet

        numbers = set(self._heads[table][len(MOMENT) :]) if table == PIVOT else set()
        fields = [(name, pyarrow.float64() if name in numbers else pyarrow.string()) for name in self._heads[table]]
        schema = pyarrow.schema(fields)
        columns = zip(*self._waiting[table], strict=True)
        held = [
            [_number(cell) for cell in column] if name in numbers else list(column)
            for name, column in zip(self._heads[table], columns, strict=True)
        ]
        arrays = [pyarrow.array(column, type=schema.field(at).type) for at, column in enumerate(held)]
        if table not in self._writers:
            path = self._folder / f"{table.replace(' ', '-')}.parquet"
            self._writers[table] = pyarrow.parquet.ParquetWriter(path, schema)
        self._writers[table].write_table(pyarrow.Table.from_arrays(arrays, schema=schema))
        self._waiting[table] = []

    def close(self) -> None:
        """Write what waits and close all files."""
        for table, waiting in self._waiting.items():
            if waiting:
                self._write(table)
        for writer in self._writers.values():
            writer.close()


def _number(cell: str) -> float | None:
    return float(cell) if _NUMBER.fullmatch(cell) else None


def _text(value: Any) -> str:
    """A field in one cell."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return LEFT_OUT if set(value) == {KEY} else canonical(value)
    if isinstance(value, list | tuple):
        if value and all(isinstance(each, Mapping) and set(each) == {KEY} for each in value):
            return LEFT_OUT
        plain = all(isinstance(each, str | int) for each in value)
        return "; ".join(str(each) for each in value) if plain else canonical(list(value))
    return str(value)


def _columns(kind: str) -> Iterator[tuple[str, str, str]]:
    """Header, field and part of it, for each column of a kind."""
    for field in KINDS[kind].fields:
        if field.type == "value":
            yield from ((f"{field.name}_{part}", field.name, part) for part in VALUE)
        else:
            yield field.name, field.name, ""


def _cells(stood: Current) -> list[str]:
    entry = stood.read.entry
    flags = ["yes" if stood.history else "", "yes" if stood.struck else ""]
    head = [entry.id, entry.device, str(entry.sequence), entry.entered, entry.observed, entry.author, entry.source]
    cells = []
    for _, name, part in _columns(entry.kind):
        value = stood.body.get(name)
        cells.append(_text(value.get(part)) if part and isinstance(value, Mapping) else _text(value))
    return [*head, *flags, *cells]


def _moments(group: Iterable[Current], quantities: Sequence[str]) -> Iterator[list[str]]:
    """Readings of a visit, one row for each moment, what was struck out left out."""
    rows: dict[tuple[str, ...], dict[str, str]] = {}
    for stood in group:
        value = stood.body.get("value")
        if stood.read.entry.kind == "reading" and stood.counts and isinstance(value, Mapping):
            at = tuple(_text(stood.body.get(name)) for name in MOMENT)
            rows.setdefault(at, {})[str(value.get("quantity"))] = _text(value.get("figure", value.get("typed")))
    for at, found in rows.items():
        yield [*at, *(found.get(name, "") for name in quantities)]


def _groups(journal: Journal, connection: Connection, *, people: bool) -> Iterator[list[Read]]:
    """All entries, those of one subject together."""
    asked = select(ENTRY.c.subject, ENTRY.c.text).order_by(ENTRY.c.subject, ENTRY.c.device, ENTRY.c.sequence)
    rows = connection.execute(asked, execution_options={"stream_results": True, "yield_per": 1000})
    for _, found in groupby(rows, key=lambda row: row.subject):
        entries = [entry_from(row.text) for row in found]
        with journal.store.reading() as beside:
            values = values_of(beside, entries) if people else {}
        if people:
            yield [as_today(entry, values) for entry in entries]
        else:
            yield [Read(entry, entry.body, as_today(entry, {}).known) for entry in entries]


def _quantities(connection: Connection) -> list[str]:
    """Every quantity that was read, by its registry name."""
    rows = connection.execute(
        select(ENTRY.c.text).where(ENTRY.c.kind == "reading"),
        execution_options={"stream_results": True, "yield_per": 1000},
    )
    return sorted({name for row in rows for name in _QUANTITY.findall(row.text)})


def laid_out(journal: Journal, sheets: Sheets, *, people: bool = True) -> int:
    """Lay the journal out as tables.

    journal  open and whole
    sheets   takes the rows
    people   whether texts about people stand in them
    -> rows
    """
    count = 0
    loose = [read for read in journal.of_kind("struck out", "amendment") if not read.entry.body.get("visit")]
    with journal.store.reading() as connection:
        quantities = _quantities(connection)
        for reads in _groups(journal, connection, people=people):
            ids = {read.entry.id for read in reads}
            more = [read for read in loose if read.entry.body.get("of") in ids and read.entry.id not in ids]
            group = [each for each in current([*reads, *more]) if each.read.known]
            for stood in group:
                kind = stood.read.entry.kind
                sheets.row(kind, [*HEAD, *(name for name, _, _ in _columns(kind))], _cells(stood))
                count += 1
            for cells in _moments(group, quantities):
                sheets.row(PIVOT, [*MOMENT, *quantities], cells)
    sheets.close()
    return count
