"""A composition that a person brings: typed on one line, or in a file."""

import json
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from fluewright.fuels import refusals
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.shape import TOP, record_from_table
from fluewright.fuels.shares import folded, visible

__all__ = ["composition", "from_file"]

_HEATS = {
    "hhv": "gross",
    "gcv": "gross",
    "gross": "gross",
    "heatingvaluegross": "gross",
    "lhv": "net",
    "ncv": "net",
    "net": "net",
    "heatingvaluenet": "net",
}
_PIECE = re.compile(r"^\s*(?P<name>[^=:]+?)\s*(?:[=:]\s*(?P<said>.*)|\s(?P<bare>[-+.\d].*))$")
LONGEST = 1_000_000
"""bytes; no fuel file needs more"""


def composition(text: str, *, by: str = "", moisture: float | None = None, name: str = "composition") -> FuelRecord:
    """A fuel typed on one line.

    For the analysis on a delivery note or in a supplier's letter.

    text      "CH4=95,N2=5" for a gas, "C=86.5,H=13.4,S=0.1,HHV=45.5 MJ/kg" for a liquid or solid; percent or
              fractions; one share may be the word rest; parted by commas, or by semicolons with decimal commas
    by        mole or volume for a gas; mole when empty
    moisture  kg water per kg as fired, when the analysis of a solid is given dry
    name      what to call it
    -> fuel record; FuelError with four parts
    """
    where = visible(text, most=100)
    parted = re.split(r"[;\n]", text) if re.search(r"[;\n]", text) else text.split(",")
    pieces = [_piece(piece, where) for piece in parted if piece.strip()]
    table = _table(pieces, where=where)
    ultimate = "heating_value" in table or any(folded(key) in ("c", "h") for key, _ in pieces)
    if by and not (ultimate and by == "mole"):
        table["by"] = by
    if moisture is not None:
        table["moisture"] = moisture
    shown = ", ".join(f"{key} {value}" for key, value in pieces)
    table |= {"words": f"a fuel of {shown}", "source": "typed in", "known": "as typed"}
    return record_from_table(table, name=name, where=where)


def from_file(path: Path | str, *, moisture: float | None = None) -> FuelRecord:
    """A fuel in a file of a person's own.

    path      TOML or JSON like the files of the library, or plain lines such as CH4 = 95
    moisture  kg water per kg as fired, in place of the file's own
    -> fuel record; FuelError with four parts, nothing taken in part
    """
    file = Path(path)
    where = str(path)
    table = _read(_text(file, where), where)
    if "composition" not in table and "blend" not in table:
        loose = [(key, value) for key, value in table.items() if key not in TOP]
        table = {key: value for key, value in table.items() if key in TOP} | _table(loose, where=where)
    table.setdefault("source", f"the file {file.name}")
    return record_from_table(table, name=file.stem, where=where, moisture=moisture)


def _text(file: Path, where: str) -> str:
    try:
        if file.is_file() and file.stat().st_size > LONGEST:
            raise refusals.not_a_fuel_file(where, "more than a million bytes")
        return file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as fault:
        raise refusals.not_a_fuel_file(where, "bytes that are no UTF-8 text") from fault
    except (OSError, ValueError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        raise refusals.no_such_file(where, reason) from fault


def _read(text: str, where: str) -> dict[str, Any]:
    """The table of a file: JSON, TOML, or plain lines."""
    if text.lstrip().startswith("{"):
        return _json(text, where)
    try:
        return tomllib.loads(text)
    except RecursionError as fault:
        raise refusals.not_a_fuel_file(where, "tables nested without end") from fault
    except tomllib.TOMLDecodeError as fault:
        if re.search(r"^\s*\[", text, re.MULTILINE):
            raise refusals.not_a_fuel_file(where, str(fault)) from fault
    lines = [line.split("#")[0].strip() for line in text.splitlines()]
    pieces = [_piece(line, where) for line in lines if line]
    return _table(pieces, where=where)


def _json(text: str, where: str) -> dict[str, Any]:
    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        table: dict[str, Any] = {}
        for key, value in pairs:
            if key in table:
                raise refusals.said_twice(key, key, key, where)
            table[key] = value
        return table

    try:
        found = json.loads(text, object_pairs_hook=once)
    except (json.JSONDecodeError, RecursionError) as fault:
        raise refusals.not_a_fuel_file(where, str(fault)) from fault
    return dict(found)


def _piece(text: str, where: str) -> tuple[str, str]:
    match = _PIECE.match(text)
    said = (match["said"] or match["bare"] or "").strip() if match else ""
    if match is None or not said:
        raise refusals.not_understood(text.strip(), where)
    return match["name"].strip(), said.strip("\"'")


def _table(pieces: list[tuple[str, Any]], *, where: str) -> dict[str, Any]:
    """Pieces sorted into shares, heating values and density, as the tables of a fuel file have them."""
    shares: dict[str, Any] = {}
    table: dict[str, Any] = {}
    for name, value in pieces:
        key = folded(name)
        if key in _HEATS:
            _put(table.setdefault("heating_value", {}), _HEATS[key], value, where)
        elif key == "density":
            _put(table.setdefault("density", {}), "value", value, where)
        elif isinstance(value, Mapping | list):
            raise refusals.unknown_key(name, TOP, where)
        else:
            _put(shares, name, value, where)
    return {**table, "composition": shares}


def _put(table: dict[str, Any], key: str, value: object, where: str) -> None:
    if key in table:
        raise refusals.said_twice(key, str(table[key]), str(value), where)
    table[key] = value
