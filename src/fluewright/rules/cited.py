"""Rows of data that each carry their citation, read strictly: for figures that are no simple limit."""

import datetime
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from importlib import resources
from typing import Any, get_args

from fluewright.errors import FluewrightError, Problems, RuleError
from fluewright.rules import currency
from fluewright.rules.schema import CURRENT, OPEN, UNKNOWN, Citation, Known, Layer, line_of

CITED = ("id", "jurisdiction", "layer", "citation", "known", "current", "valid_from", "valid_until", "text")
"""What every row says beside its own fields."""

_CHOICES: Mapping[str, tuple[str, ...]] = {"layer": get_args(Layer), "known": get_args(Known)}


@dataclass(frozen=True, slots=True)
class Shape:
    """What a row of one kind of file must hold, and may.

    rows      name of the list
    required  fields of its own, beside CITED
    optional  fields that may be left out
    choices   words that a field may be
    """

    rows: str
    required: Sequence[str]
    optional: Sequence[str] = ()
    choices: Mapping[str, Sequence[str]] = field(default_factory=dict)


def problem(*, where: str, read: str, expected: str) -> RuleError:
    """A row that cannot be taken, and why."""
    return RuleError(
        code="FW-B-010",
        read=read,
        expected=expected,
        matters="a figure without its source, or half understood, would be printed as law",
        do="mend the row at this line",
        where=where,
    )


def unknown(*, id: str, known: Sequence[str]) -> RuleError:
    """A row that nobody has."""
    return RuleError(
        code="FW-B-011",
        read=f"the rule {id!r}",
        expected="one of " + ", ".join(known),
        matters="nothing can be asked of a rule that is not written down",
        do="write one of these names",
    )


def _of_row(table: Mapping[str, Any], shape: Shape, where: str) -> Iterator[RuleError]:
    wanted = (*CITED, *shape.required)
    for name in wanted:
        if name not in table:
            yield problem(where=where, read=f"no {name}", expected=f"{', '.join(wanted)}")
    for name in table:
        if name not in (*wanted, *shape.optional):
            yield problem(where=where, read=f"the unknown field {name!r}", expected=f"one of {', '.join(wanted)}")
    for name, choices in {**_CHOICES, **shape.choices}.items():
        if name in table and table[name] not in choices:
            yield problem(where=where, read=f"{name} = {table[name]!r}", expected=f"one of {', '.join(choices)}")
    citation = table.get("citation", {})
    parts = set(Citation.__dataclass_fields__)
    if not isinstance(citation, dict) or set(citation) != parts or not all(str(v).strip() for v in citation.values()):
        yield problem(where=where, read=f"citation = {citation!r}", expected="document, clause and edition, none empty")
    if "current" in table and not currency.is_one(table["current"]):
        yield problem(where=where, read=f"current = {table['current']!r}", expected=CURRENT)
    for name, word in (("valid_from", UNKNOWN), ("valid_until", OPEN)):
        if name in table and table[name] != word and not isinstance(table[name], datetime.date):
            yield problem(where=where, read=f"{name} = {table[name]!r}", expected=f'a date, or the word "{word}"')


def rows_of(*, text: str, file: str, shape: Shape) -> tuple[Mapping[str, Any], ...]:
    """The rows of one file, strictly read.

    text   TOML: title, and a list of rows
    file   its name, for messages
    shape  what a row must hold
    -> tables with `citation` as a Citation and open dates as None; RuleError for one problem, Problems for several
    """
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise problem(where=file, read=str(error), expected="TOML without a repeated key") from error
    found: list[FluewrightError] = [
        problem(where=file, read=f"the unknown table {key!r}", expected=f"title and {shape.rows}")
        for key in sorted(set(document) - {"title", shape.rows})
    ]
    seen: set[str] = set()
    for table in document.get(shape.rows, []):
        label = str(table.get("id", ""))
        line = line_of(text=text, words=f'id = "{label}"')
        where = f"{file}:{line}"
        found += _of_row(table, shape, where)
        if label in seen:
            found.append(problem(where=where, read=f"{label} a second time", expected="an id of its own"))
        seen.add(label)
    if len(found) == 1:
        raise found[0]
    if found:
        raise Problems(subject=file, errors=found)
    return tuple(_made(table) for table in document.get(shape.rows, []))


def _made(table: Mapping[str, Any]) -> Mapping[str, Any]:
    dates = {
        name: table[name] if isinstance(table[name], datetime.date) else None for name in ("valid_from", "valid_until")
    }
    return {**table, **dates, "citation": Citation(**table["citation"])}


def shipped(folder: str, shape: Shape) -> tuple[Mapping[str, Any], ...]:
    """The rows of every file of a folder that came with the program, no id twice."""
    found: dict[str, Mapping[str, Any]] = {}
    place = resources.files("fluewright.rules") / folder
    for entry in sorted(place.iterdir(), key=lambda one: one.name):
        if not entry.name.endswith(".toml"):
            continue
        for row in rows_of(text=entry.read_text(encoding="utf-8"), file=f"rules/{folder}/{entry.name}", shape=shape):
            if row["id"] in found:
                raise problem(
                    where=f"rules/{folder}/{entry.name}",
                    read=f"{row['id']}, which another file has too",
                    expected="an id of its own for each row",
                )
            found[row["id"]] = row
    return tuple(found.values())
