"""A mapping: what a person says about the columns of a kind of trace file, kept as TOML and used again.

    [file]      encoding = "latin-1", delimiter = ";", decimal = ",", header_line = 4
    [time]      column = "Date", clock = "Time", order = "day-month-year", zone = "+01:00"
    [columns]   "Exhaust O2 (%)" = {quantity = "oxygen_dry", unit = "%"}
                "Setpoint" = {use = false}

Every key may be left out: what is not said is guessed and shown.
"""

import codecs
import json
import tomllib
from collections.abc import Mapping as Table
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from fluewright.errors import Problems, TraceError
from fluewright.evidence.trace.sniff import HEAD_LINES
from fluewright.evidence.trace.times import ORDERS, zone_of

_KEYS: dict[str, dict[str, type]] = {
    "file": {"encoding": str, "delimiter": str, "decimal": str, "header_line": int},
    "time": {"column": str, "clock": str, "order": str, "zone": str},
}
_COLUMN_KEYS: dict[str, type] = {"quantity": str, "unit": str, "use": bool}


@dataclass(frozen=True, slots=True)
class ColumnSaid:
    """What was said about one column. quantity, unit: "" when not said. use: False to leave the column out."""

    quantity: str = ""
    unit: str = ""
    use: bool = True


@dataclass(frozen=True, slots=True)
class Mapping:
    """Everything that was said; empty strings and 0 mean: guess."""

    encoding: str = ""
    delimiter: str = ""
    decimal: str = ""
    header_line: int = 0
    time_column: str = ""
    clock_column: str = ""
    order: str = ""
    zone: str = ""
    columns: Table[str, ColumnSaid] = field(default_factory=dict)


def _wrong(where: str, read: str, expected: str) -> TraceError:
    return TraceError(
        code="FW-T-012",
        where=where,
        read=read,
        expected=expected,
        matters="a mapping that is only half understood would put numbers under the wrong name",
        do="correct the line; --write-mapping FILE writes a complete example for a trace",
    )


def load(path: Path) -> Mapping:
    """The mapping in a TOML file; all its mistakes are gathered into one error.

    -> Mapping
    """
    try:
        data = tomllib.loads(path.read_text("utf-8"))
    except OSError as error:
        raise _wrong(str(path), f"the mapping file cannot be read: {error.strerror}", "a TOML file") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, RecursionError) as error:
        raise _wrong(str(path), f"not TOML: {error}", "TOML with [file], [time] and [columns]") from error
    return from_data(data, where=str(path))


def from_data(data: Table[str, Any], *, where: str = "mapping") -> Mapping:
    """The mapping in a table such as a parsed TOML file."""
    errors: list[TraceError] = []
    for name in data:
        if name not in {*_KEYS, "columns"}:
            errors.append(_wrong(where, f"a table named {name}", "[file], [time] or [columns]"))
    file, time = (_table(data.get(name, {}), _KEYS[name], f"{where}, [{name}]", errors) for name in ("file", "time"))
    errors += _values(file, time, where)
    columns: dict[str, ColumnSaid] = {}
    listed = data.get("columns", {})
    for name, said in listed.items() if isinstance(listed, dict) else ():
        said = {"quantity": said} if isinstance(said, str) else said
        columns[name] = ColumnSaid(**_table(said, _COLUMN_KEYS, f'{where}, [columns] "{name}"', errors))
    if errors:
        raise errors[0] if len(errors) == 1 else Problems(subject=where, errors=errors)
    return Mapping(
        **file,
        time_column=time.get("column", ""),
        clock_column=time.get("clock", ""),
        order=time.get("order", ""),
        zone=time.get("zone", ""),
        columns=columns,
    )


def _table(said: Any, keys: Table[str, type], where: str, errors: list[TraceError]) -> dict[str, Any]:
    """The known keys of a table; unknown ones and wrong types are written to errors."""
    if not isinstance(said, dict):
        errors.append(_wrong(where, f"{said!r}", f"a table with {', '.join(keys)}"))
        return {}
    kept = {}
    for key, value in said.items():
        if key not in keys:
            errors.append(_wrong(where, f"a key named {key}", f"one of {', '.join(keys)}"))
        elif not isinstance(value, keys[key]) or (isinstance(value, bool) and keys[key] is int):
            errors.append(_wrong(where, f"{key} = {value!r}", f"{key} as {_KIND[keys[key]]}"))
        else:
            kept[key] = value
    return kept


_KIND = {str: "text in quotes", int: "a whole number", bool: "true or false"}


def _encodes(name: str) -> bool:
    """Whether text can be read in this encoding, odd bytes included; some that the library lists are for other uses."""
    try:
        decoder = codecs.getincrementaldecoder(name)(errors="replace")
        return decoder.decode("Time".encode(name), final=True) == "Time"
    except (LookupError, ValueError, TypeError, AssertionError):
        return False


def _values(file: Table[str, Any], time: Table[str, Any], where: str) -> list[TraceError]:
    errors = []
    if file.get("decimal", ".") not in {".", ","}:
        errors.append(_wrong(f"{where}, [file]", f"decimal = {file['decimal']!r}", '"." or ","'))
    if len(file.get("delimiter", ";")) != 1:
        errors.append(_wrong(f"{where}, [file]", f"delimiter = {file['delimiter']!r}", "a single character"))
    if not 0 <= file.get("header_line", 0) <= HEAD_LINES:
        errors.append(
            _wrong(f"{where}, [file]", f"header_line = {file['header_line']}", f"a line from 1 to {HEAD_LINES}")
        )
    if not _encodes(file.get("encoding", "utf-8")):
        errors.append(
            _wrong(f"{where}, [file]", f"encoding = {file['encoding']!r}", "utf-8, utf-16, latin-1 or cp1252")
        )
    if time.get("order", "iso") not in ORDERS:
        errors.append(_wrong(f"{where}, [time]", f"order = {time['order']!r}", f"one of {', '.join(ORDERS)}"))
    try:
        zone_of(time.get("zone", ""))
    except ValueError:
        errors.append(
            _wrong(f"{where}, [time]", f"zone = {time['zone']!r}", "+01:00, UTC or a place such as Europe/Berlin")
        )
    return errors


def text_of(mapping: Mapping) -> str:
    """The mapping as TOML, to be kept, corrected and used again; loading it gives the same mapping."""
    lines = ["# For fluewright trace --mapping: correct what is wrong; leave out what should be guessed."]
    for title, pairs in (
        (
            "file",
            (
                ("encoding", mapping.encoding),
                ("delimiter", mapping.delimiter),
                ("decimal", mapping.decimal),
                ("header_line", mapping.header_line),
            ),
        ),
        (
            "time",
            (
                ("column", mapping.time_column),
                ("clock", mapping.clock_column),
                ("order", mapping.order),
                ("zone", mapping.zone),
            ),
        ),
    ):
        lines += [
            "",
            f"[{title}]",
            *(f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in pairs if value),
        ]
    lines += ["", "[columns]"]
    for name, said in mapping.columns.items():
        parts = [] if said.use else ["use = false"]
        parts += [
            f"{key} = {json.dumps(value, ensure_ascii=False)}"
            for key, value in (("quantity", said.quantity), ("unit", said.unit))
            if value
        ]
        lines.append(f"{json.dumps(name, ensure_ascii=False)} = {{{', '.join(parts)}}}")
    return "\n".join(lines) + "\n"
