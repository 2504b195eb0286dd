"""What is wrong with a recorded trace, as data: each problem has a kind, a row and a column, and is counted.

A problem is never an exception while the file is being read. At the end those that refuse the file are gathered into
one error; the rest are shown, so that no cell is dropped in silence.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from fluewright.errors import Problems, TraceError

Weight = Literal["refuse", "gap", "note"]
"""refuse: the file is not taken. gap: the cell or row is left out and counted. note: taken, and said."""

SHOWN = 20
"""Problems of one kind in one column that are listed one by one; beyond that only the count grows (common practice)."""


@dataclass(frozen=True, slots=True)
class Nature:
    """One kind of problem: its code, how heavy it is, and three of the four parts of its error."""

    code: str
    weight: Weight
    title: str
    expected: str
    matters: str
    do: str


# fmt: off
NATURES: dict[str, Nature] = {
    "missing file": Nature(
        "FW-T-001", "refuse", "no such file", "a file that can be opened for reading",
        "there is nothing to read a trace from", "check the path and the permission, or use - to read from a pipe",
    ),
    "empty": Nature(
        "FW-T-002", "refuse", "empty file", "a header line and at least one row of readings",
        "an empty file says nothing about the appliance", "export the trace again and check that the logger ran",
    ),
    "no rows": Nature(
        "FW-T-003", "refuse", "header without rows", "at least one row of readings below the header",
        "names without values cannot be judged", "export the trace again with the time span in which it ran",
    ),
    "no header": Nature(
        "FW-T-004", "refuse", "no header line", "a line that names the columns, above the first row of numbers",
        "without names a 4.3 could be oxygen, carbon dioxide or a draft",
        'add a header line, or name the columns in a mapping file as "column 1", "column 2", ...',
    ),
    "no time": Nature(
        "FW-T-005", "refuse", "no time column", "a column of dates, times, clock times or seconds",
        "steadiness and response can only be judged against time",
        "name the time column in the mapping file: [time] column = ...",
    ),
    "no channel": Nature(
        "FW-T-006", "refuse", "no column understood", "at least one column whose quantity and unit are known",
        "a column that is not understood cannot be computed with",
        "write the guesses with --write-mapping FILE, correct them, and run again with --mapping FILE",
    ),
    "ambiguous date": Nature(
        "FW-T-007", "refuse", "date order can be read in two ways",
        "an order of day, month and year that is beyond doubt",
        "a wrong order moves every reading by months",
        "say which with --dates, or in the mapping file: [time] order = ...",
    ),
    "ambiguous decimal": Nature(
        "FW-T-008", "refuse", "decimal mark can be read in two ways",
        "numbers that show which mark is the decimal mark",
        "1,234 read the other way is a thousand times larger",
        'say which with --decimal, or in the mapping file: [file] decimal = ","',
    ),
    "ambiguous unit": Nature(
        "FW-T-009", "refuse", "unit can be read in two ways",
        "a unit in the header, in the cells or in the mapping file",
        "kelvin taken for fahrenheit is a flue temperature off by two hundred degrees",
        "give the unit in the mapping file: [columns] ... = {unit = ...}",
    ),
    "not text": Nature(
        "FW-T-010", "refuse", "not a table of text", "CSV text or a Parquet file",
        "bytes of another format would be read as nonsense", "export the trace as CSV or Parquet",
    ),
    "broken quote": Nature(
        "FW-T-011", "refuse", "a quoted field never ends", "every opening quote closed again",
        "everything after the open quote would be read as one cell", "close the quote on that line",
    ),
    "mapping": Nature(
        "FW-T-012", "refuse", "mapping does not fit",
        "names, quantities and units that exist in this file and in the registry",
        "a mapping that is only half used gives numbers under the wrong name",
        "correct the mapping file; --preview lists the columns as they are",
    ),
    "wrong unit": Nature(
        "FW-T-013", "refuse", "unit does not measure this quantity", "a unit of the quantity's own dimension",
        "the number could not be converted honestly", "correct the unit or the quantity in the mapping file",
    ),
    "unreadable": Nature(
        "FW-T-014", "refuse", "the file cannot be read", "a complete file of its format",
        "a part of a file would pass for the whole", "export or copy the file again",
    ),
    "only rubbish": Nature(
        "FW-T-015", "refuse", "no usable number",
        "at least one row with a time and one number that is physically possible",
        "a trace without numbers says nothing",
        "check the unit and decimal mark in the mapping file; --preview shows them",
    ),
    "backwards clock": Nature(
        "FW-T-016", "note", "the clock steps back", "local time that moves forward, or a zone",
        "an hour that occurs twice mixes two conditions", "give the zone, such as --zone Europe/Berlin, or use UTC",
    ),
    "not a number": Nature(
        "FW-T-020", "gap", "text where a number belongs", "a number",
        "a word taken as zero would look like a perfect reading", "nothing if the logger writes this for no reading",
    ),
    "bound": Nature(
        "FW-T-021", "note", "a bound, not a value", "a value within the range of the instrument",
        "the true value lies beyond, so that a mean would be too close to the limit",
        "read the mean as at least (or at most); use a range that covers it",
    ),
    "impossible": Nature(
        "FW-T-022", "gap", "outside what is physically possible", "a value within the limits of the quantity",
        "no flue can show it: it is a wiring, scaling or unit fault", "check the unit of the column, then the sensor",
    ),
    "unlikely": Nature(
        "FW-T-023", "note", "outside the usual range", "a value within the usual range of the quantity",
        "it may be true, but more often it is a unit or a sensor",
        "check that the unit is right; it was taken as it is",
    ),
    "bad unit": Nature(
        "FW-T-024", "gap", "the cell has a unit that does not fit", "the unit of the column, or one of its dimension",
        "the number could not be converted honestly", "correct the cell",
    ),
    "bad time": Nature(
        "FW-T-030", "gap", "time cannot be read", "a time in the form of the rest of the column",
        "a row without time has no place in the trace", "correct the cell; the row was left out",
    ),
    "short row": Nature(
        "FW-T-031", "note", "fewer cells than columns", "as many cells as the header has names",
        "the missing cells may not be the last ones", "look at the row: what is there was read from the left",
    ),
    "long row": Nature(
        "FW-T-032", "gap", "more cells than columns", "as many cells as the header has names",
        "an unquoted separator inside a cell moves every value one column on", "quote the cell; the row was left out",
    ),
    "repeated header": Nature(
        "FW-T-033", "note", "header line again", "one header line", "the logger was restarted here",
        "nothing: the line was left out, and a stretch may end there",
    ),
    "repeated row": Nature(
        "FW-T-034", "note", "same time and same values again", "each time once",
        "a row counted twice looks surer than it is", "nothing: the repeat was left out",
    ),
    "conflicting row": Nature(
        "FW-T-035", "gap", "same time with other values", "each time once",
        "two truths at one time: clock, export or two instruments in one file",
        "look at both rows; the first was taken",
    ),
    "out of order": Nature(
        "FW-T-036", "note", "earlier than the row before", "rows in the order of time",
        "differences from row to row are meaningless when rows are shuffled", "nothing: rows were put in order of time",
    ),
    "gap": Nature(
        "FW-T-037", "note", "a gap in time", "the usual step from row to row",
        "nobody knows what happened in it", "nothing: no stretch is carried across a gap",
    ),
    "nul byte": Nature(
        "FW-T-038", "note", "NUL bytes", "text", "they come from a file cut off while it was written",
        "check the last rows; the bytes were left out",
    ),
    "odd byte": Nature(
        "FW-T-039", "note", "bytes that are not text in this encoding", "text in one encoding",
        "a name or a unit may have lost a letter", 'give the encoding in the mapping file: [file] encoding = "latin-1"',
    ),
    "two alike": Nature(
        "FW-T-040", "note", "a second column of the same quantity", "one column for each quantity",
        "two sensors of one quantity cannot both be the reading", "choose one in the mapping file; the first was taken",
    ),
}
# fmt: on


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem at one place. row: line in the file, 0 for the file as a whole. read: what stands there."""

    kind: str
    row: int
    column: str
    read: str

    @property
    def nature(self) -> Nature:
        """The kind spelt out."""
        return NATURES[self.kind]

    def error(self) -> TraceError:
        """The problem as an error in four parts."""
        nature = self.nature
        where = ", ".join(part for part in (f"row {self.row}" if self.row else "", self.column) if part)
        return TraceError(
            code=nature.code,
            where=where,
            read=f"{nature.title}: {self.read}" if self.read else nature.title,
            expected=nature.expected,
            matters=nature.matters,
            do=nature.do,
        )


@dataclass(frozen=True, slots=True)
class Group:
    """Problems of one kind in one column: how many, the first of them, and the last row it was seen in."""

    kind: str
    column: str
    count: int
    first: tuple[Problem, ...]
    last_row: int

    @property
    def nature(self) -> Nature:
        """The kind spelt out."""
        return NATURES[self.kind]

    def lines(self) -> list[str]:
        """The group as a person reads it: one line each up to the number shown, else one line with the count."""
        nature = self.nature
        place = self.column or "file"
        if self.count > SHOWN:
            several = ", ".join(dict.fromkeys(problem.read for problem in self.first if problem.read))[:60]
            rows = f"rows {self.first[0].row} to {self.last_row}"
            return [f"{rows}, {place}: {nature.title}, {self.count} times ({several}) [{nature.code}]"]
        return [
            f"{f'row {p.row}' if p.row else 'file'}{f', {p.column}' if p.column else ''}: {nature.title}"
            f"{f' ({p.read})' if p.read else ''} [{nature.code}]"
            for p in self.first
        ]

    def plain(self) -> dict[str, object]:
        """The group as plain data for JSON."""
        nature = self.nature
        return {
            "code": nature.code,
            "kind": self.kind,
            "weight": nature.weight,
            "column": self.column,
            "count": self.count,
            "rows": [problem.row for problem in self.first],
            "read": [problem.read for problem in self.first],
            "last_row": self.last_row,
            "expected": nature.expected,
            "matters": nature.matters,
            "do": nature.do,
        }


@dataclass(slots=True)
class Ledger:
    """Where problems are written down while a file is read; memory stays constant however many there are."""

    _first: dict[tuple[str, str], list[Problem]] = field(default_factory=dict)
    _count: dict[tuple[str, str], int] = field(default_factory=dict)
    _last: dict[tuple[str, str], int] = field(default_factory=dict)

    def note(self, kind: str, row: int, column: str, read: str) -> None:
        """Write one problem down."""
        key = (kind, column)
        count = self._count.get(key, 0)
        self._count[key] = count + 1
        self._last[key] = max(row, self._last.get(key, 0))
        if count < SHOWN:
            self._first.setdefault(key, []).append(Problem(kind, row, column, shortened(read)))

    def groups(self) -> tuple[Group, ...]:
        """All problems, those that refuse the file first, then in order of kind and column."""
        order = {"refuse": 0, "gap": 1, "note": 2}
        keys = sorted(self._count, key=lambda key: (order[NATURES[key[0]].weight], NATURES[key[0]].code, key[1]))
        return tuple(
            Group(kind, column, self._count[kind, column], tuple(self._first[kind, column]), self._last[kind, column])
            for kind, column in keys
        )

    def count(self, *, kind: str = "", weight: str = "") -> int:
        """How many problems, of one kind or one weight when given."""
        return sum(
            count
            for (name, _), count in self._count.items()
            if (not kind or name == kind) and (not weight or NATURES[name].weight == weight)
        )

    def refuse(self, *, subject: str) -> None:
        """Raise one gathered error when anything was found that refuses the file."""
        fatal = [
            problem.error() for group in self.groups() if group.nature.weight == "refuse" for problem in group.first
        ]
        if len(fatal) == 1:
            raise named(fatal[0], subject=subject)
        if fatal:
            raise Problems(subject=subject, errors=fatal)


def shortened(text: str) -> str:
    """On one line and at most 200 letters."""
    line = " ".join(text.split())
    return line if len(line) <= 200 else f"{line[:199]}…"


def named(error: TraceError, *, subject: str) -> TraceError:
    """The same error with the file's name put before the place."""
    where = f"{subject}, {error.where}" if error.where else subject
    return TraceError(
        code=error.code, where=where, read=error.read, expected=error.expected, matters=error.matters, do=error.do
    )


def listed(groups: Iterable[Group]) -> list[str]:
    """All groups as lines for the screen."""
    return [line for group in groups for line in group.lines()]
