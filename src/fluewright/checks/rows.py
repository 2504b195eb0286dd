"""Published values as data: what was printed where, what goes in, what must come out, how near, and why that near."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib import resources
from typing import Any

from fluewright.checks import units
from fluewright.errors import OurFault

KNOWN = ("read", "computed", "from memory")
"""How a value is known: seen in the document, worked out independently from stated inputs, or remembered."""

_SOURCE_KEYS = {"document", "edition", "place", "seen", "known"}
_ROW_KEYS = {"id", "topic", "asks", "with", "expected", "unit", "tolerance", "reason", "source"}
_NO_DATA = ("not-met.toml",)


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value comes from.

    key       short name, unique among the check files
    document  title, with its number
    edition   year or version
    place     table, clause or equation
    seen      where it was read, or with what it was computed
    known     one of KNOWN
    """

    key: str
    document: str
    edition: str
    place: str
    seen: str
    known: str


@dataclass(frozen=True, slots=True)
class Row:
    """One published value and how to find it again.

    asks       name of the adapter that finds it
    inputs     numbers as text with their unit, words, and the fuels of the file by name
    expected   one number, or several in order
    unit       of expected and tolerance, basis words behind it
    tolerance  absolute; 0 for a constant that must be met exactly
    """

    id: str
    topic: str
    asks: str
    inputs: Mapping[str, Any]
    expected: tuple[float, ...]
    unit: str
    tolerance: float
    tolerance_reason: str
    source: Source
    file: str
    fuels: Mapping[str, Mapping[str, Any]]

    def number(self, name: str, otherwise: str | None = None) -> float:
        """An input in SI."""
        value, unit = units.parted(str(self._given(name, otherwise)))
        return units.to_si(value, unit)

    def plain(self, name: str, otherwise: str | None = None) -> float:
        """An input as printed, its unit left aside, for formulas that are defined in that unit."""
        return units.parted(str(self._given(name, otherwise)))[0]

    def word(self, name: str, otherwise: str | None = None) -> str:
        """An input that is a choice or a name."""
        return str(self._given(name, otherwise))

    def _given(self, name: str, otherwise: str | None) -> Any:
        if name in self.inputs:
            return self.inputs[name]
        if otherwise is None:
            raise KeyError(f"{self.id} gives no {name!r}")
        return otherwise


def _fault(where: str, read: str, expected: str) -> OurFault:
    return OurFault(
        code="FW-Z-101",
        read=read,
        expected=expected,
        matters="a check that cannot be read proves nothing",
        do="install the program again, or mend the file if you wrote it",
        where=where,
    )


def _sources(file: str, tables: Mapping[str, Any]) -> dict[str, Source]:
    found = {}
    for key, table in tables.items():
        if set(table) != _SOURCE_KEYS:
            raise _fault(file, f"source {key!r} with the fields {sorted(table)}", f"exactly {sorted(_SOURCE_KEYS)}")
        if table["known"] not in KNOWN:
            raise _fault(file, f"source {key!r} known as {table['known']!r}", f"one of {', '.join(KNOWN)}")
        found[key] = Source(key=key, **table)
    return found


def _row(file: str, table: Mapping[str, Any], document: Mapping[str, Any], sources: Mapping[str, Source]) -> Row:
    where = f"{file}, {table.get('id', 'a row without id')}"
    if not _ROW_KEYS - {"with"} <= set(table) <= _ROW_KEYS:
        raise _fault(where, f"a row with the fields {sorted(table)}", f"the fields {sorted(_ROW_KEYS)}")
    if table["source"] not in sources:
        raise _fault(where, f"the source {table['source']!r}", f"one of {sorted(sources)}")
    try:
        units.unit_of(table["unit"])
    except KeyError:
        raise _fault(where, f"the unit {table['unit']!r}", "a unit that checks/units.py knows") from None
    expected = table["expected"]
    return Row(
        id=table["id"],
        topic=table["topic"],
        asks=table["asks"],
        inputs={**document.get("everywhere", {}), **table.get("with", {})},
        expected=tuple(map(float, expected if isinstance(expected, list) else [expected])),
        unit=table["unit"],
        tolerance=float(table["tolerance"]),
        tolerance_reason=table["reason"],
        source=sources[table["source"]],
        file=file,
        fuels=document.get("fuels", {}),
    )


def rows_of(*, text: str, file: str) -> tuple[Row, ...]:
    """The rows of one check file.

    text  TOML with the tables sources, fuels, everywhere (inputs of every row) and rows
    file  its name, for messages
    -> rows in the order of the file; OurFault when something in it is missing or unknown
    """
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _fault(file, str(error), "TOML") from error
    strange = set(document) - {"sources", "fuels", "everywhere", "rows"}
    if strange:
        raise _fault(file, f"the tables {sorted(strange)}", "sources, fuels, everywhere and rows")
    sources = _sources(file, document["sources"])
    return tuple(_row(file, table, document, sources) for table in document["rows"])


def _texts() -> Iterator[tuple[str, str]]:
    folder = resources.files("fluewright.checks") / "data"
    for entry in sorted(folder.iterdir(), key=lambda one: one.name):
        if entry.name.endswith(".toml") and entry.name not in _NO_DATA:
            yield entry.name, entry.read_text(encoding="utf-8")


def rows() -> tuple[Row, ...]:
    """Every row of every check file that came with the program; no two share an id."""
    found: dict[str, Row] = {}
    for file, text in _texts():
        for row in rows_of(text=text, file=file):
            if row.id in found:
                raise _fault(file, f"{row.id}, which {found[row.id].file} has too", "an id of its own for each row")
            found[row.id] = row
    return tuple(found.values())


def not_met() -> Mapping[str, str]:
    """Rows that are known not to be met, each with the reason."""
    text = (resources.files("fluewright.checks") / "data" / _NO_DATA[0]).read_text(encoding="utf-8")
    return {row["id"]: row["reason"] for row in tomllib.loads(text).get("rows", [])}
