"""A strict reading of a book: nothing missing, nothing unknown, nothing twice, every problem at once with its line."""

import datetime
import math
import re
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, get_args

from fluewright.errors import FluewrightError, Problems, QuantityError, RuleError
from fluewright.quantity import names, units
from fluewright.rules import applies, currency
from fluewright.rules.schema import (
    CURRENT,
    NOT_SAID,
    OPEN,
    OXYGEN,
    REQUIRED,
    SINCE,
    SINCE_LIT,
    UNKNOWN,
    AirFree,
    Book,
    Citation,
    Decision,
    Known,
    Layer,
    Rate,
    Rounding,
    Sense,
    Severity,
    Steady,
    limit_of,
    line_of,
    problem,
)

_HEAD = ("title", "version", "limits")

_CHOICES: Mapping[str, tuple[str, ...]] = {
    "layer": get_args(Layer),
    "sense": get_args(Sense),
    "rounding": get_args(Rounding),
    "decision": get_args(Decision),
    "known": get_args(Known),
    "severity": get_args(Severity),
    "air_free_route": get_args(AirFree),
    "steady": get_args(Steady),
    "rate": get_args(Rate),
}
_WORDS = ("id", "jurisdiction", "quantity", "basis", "unit", "place", "state", "averaging", "text", "do", "waiver")
"""Fields of words that may not be empty."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a row stands in the text of its file, so that a problem names the line of the field it is in.

    file   name
    text   of the file
    rows   name of the list
    nth    which row of it, counted from 1
    """

    file: str
    text: str
    rows: str
    nth: int

    def at(self, field: str = "") -> str:
        """File and line of a field; of the head of the row where the field is not written in it."""
        head = line_of(text=self.text, words=f"[[{self.rows}]]", occurrence=self.nth)
        for number, line in enumerate(self.text.splitlines()[head:], head + 1):
            if line.startswith("[["):
                break
            if field and re.match(rf"\s*{re.escape(field)}\s*=", line):
                return f"{self.file}:{number}"
        return f"{self.file}:{head}"

    def wrong(self, field: str, read: str, expected: str) -> RuleError:
        """A problem of a field of this row."""
        return problem(where=self.at(field), read=read, expected=expected)


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _of_fields(table: Mapping[str, Any], where: Place) -> Iterator[RuleError]:
    """Fields that are missing, that nobody knows, or that hold a word they may not."""
    for name in REQUIRED:
        if name not in table:
            yield where.wrong("", f"no {name}", f"{name}, and every other field of a limit")
    for name in table:
        if name not in REQUIRED:
            yield where.wrong(name, f"the unknown field {name!r}", f"one of {', '.join(REQUIRED)}")
    for name, choices in _CHOICES.items():
        if name in table and table[name] not in choices:
            yield where.wrong(name, f"{name} = {table[name]!r}", f"one of {', '.join(choices)}")
    for name in _WORDS:
        if name in table and not (isinstance(table[name], str) and table[name].strip()):
            yield where.wrong(name, f"{name} = {table[name]!r}", "words, not empty")


def _of_figures(table: Mapping[str, Any], where: Place) -> Iterator[RuleError]:
    """Numbers, and fields that are a number or a word."""
    if not _is_number(table.get("limit", 0.0)):
        yield where.wrong("limit", f"limit = {table['limit']!r}", "a number")
    if not isinstance(table.get("only_alarms", False), bool):
        yield where.wrong("only_alarms", f"only_alarms = {table['only_alarms']!r}", "true or false")
    count = table.get("count", 1)
    if count != NOT_SAID and (not isinstance(count, int) or isinstance(count, bool) or count < 1):
        yield where.wrong("count", f"count = {count!r}", f'a whole number from 1 on, or "{NOT_SAID}"')
    oxygen = str(table.get("reference_oxygen", "none"))
    match = OXYGEN.fullmatch(oxygen)
    if oxygen != "none" and (match is None or float(match[1]) >= 20.9):
        yield where.wrong(
            "reference_oxygen",
            f"reference_oxygen = {oxygen!r}",
            'such as "3 %", "0 %", or "none"',
        )
    if not SINCE_LIT.fullmatch(str(table.get("since_lit", NOT_SAID))):
        yield where.wrong("since_lit", f"since_lit = {table['since_lit']!r}", SINCE)
    yield from _of_unit(table, where)


def _of_unit(table: Mapping[str, Any], where: Place) -> Iterator[RuleError]:
    """A quantity that the registry knows, with a unit of its kind."""
    name, unit = table.get("quantity"), table.get("unit")
    if not isinstance(name, str) or not name.strip() or not isinstance(unit, str):
        return
    try:
        units.unit_named(unit, quantity=names.of(name))
    except QuantityError as error:
        yield where.wrong("quantity", f"quantity = {name!r}, unit = {unit!r}", error.expected)


def _of_parts(table: Mapping[str, Any], where: Place) -> Iterator[RuleError]:
    citation = table.get("citation", {})
    wanted = set(Citation.__dataclass_fields__)
    if "citation" in table and (not isinstance(citation, dict) or set(citation) != wanted):
        yield where.wrong(
            "citation",
            f"citation = {citation!r}",
            "document, clause and edition, no more",
        )
    elif any(not str(part).strip() for part in citation.values()):
        yield where.wrong("citation", "an empty part of the citation", "document, clause, edition")
    said = table.get("applies", applies.ALWAYS)
    if not isinstance(said, str) or isinstance(found := applies.read(said), str):
        read = f"applies = {said!r}" + (f": {found}" if isinstance(said, str) else "")
        yield where.wrong("applies", read, applies.GRAMMAR)
    if "current" in table and not currency.is_one(table["current"]):
        yield where.wrong("current", f"current = {table['current']!r}", CURRENT)
    for name, word in (("valid_from", UNKNOWN), ("valid_until", OPEN)):
        if name in table and table[name] != word and not isinstance(table[name], datetime.date):
            yield where.wrong(name, f"{name} = {table[name]!r}", f'a date, or the word "{word}"')
    begun, ended = table.get("valid_from"), table.get("valid_until")
    if isinstance(begun, datetime.date) and isinstance(ended, datetime.date) and ended < begun:
        yield where.wrong(
            "valid_until",
            f"valid from {begun} until {ended}",
            "an end that lies after its begin",
        )


def _of_sense(table: Mapping[str, Any], where: Place) -> Iterator[RuleError]:
    """Rows that contradict themselves."""
    known, current, layer = table.get("known"), table.get("current"), table.get("layer")
    if current == "no text" and known == "read":
        yield where.wrong(
            "known",
            "known = 'read' of what has no text",
            "the text that was read, or how else it is known",
        )
    if known == "common practice, no source" and layer in ("law", "programme"):
        yield where.wrong(
            "known",
            f"a {layer} known as common practice",
            'layer = "house" or "standard", or the text',
        )
    if known == "own rule of the shop" and layer != "house":
        yield where.wrong("layer", f"a {layer} that is the shop's own rule", 'layer = "house"')
    if table.get("air_free_route") in ("oxygen", "carbon dioxide") and table.get("reference_oxygen") == "none":
        yield where.wrong(
            "air_free_route",
            "an air-free route without reference oxygen",
            'reference_oxygen = "0 %"',
        )


def rows_checked(
    rows: Iterable[Any],
    *,
    text: str,
    file: str,
    also: Callable[[Mapping[str, Any], Place], Iterable[RuleError]] | None = None,
) -> list[FluewrightError]:
    """Every problem of the rows of a book, each with its line.

    rows  as TOML has them
    text  of the file
    file  its name, for messages
    also  a check of the caller's own, told the row and where it stands
    -> problems in the order of the file
    """
    found: list[FluewrightError] = []
    seen: dict[str, int] = {}
    for number, table in enumerate(rows, 1):
        if not isinstance(table, dict):
            found.append(problem(where=file, read=f"row {number} is {table!r}", expected="a table of fields"))
            continue
        label = str(table.get("id", ""))
        seen[label] = seen.get(label, 0) + 1
        where = Place(file, text, "limits", number)
        mine = [
            *_of_fields(table, where),
            *_of_figures(table, where),
            *_of_parts(table, where),
            *_of_sense(table, where),
        ]
        if seen[label] > 1:
            mine.append(where.wrong("id", f"{label} a second time", "an id of its own"))
        if not mine and also is not None:
            mine += also(table, where)
        found += mine
    return found


def _torn_at(text: str, file: str, error: tomllib.TOMLDecodeError) -> str:
    """File and line at which TOML could not go on."""
    told = re.search(r"at line (\d+)", str(error))
    return f"{file}:{told[1] if told else max(1, len(text.splitlines()))}"


def _of_head(text: str, file: str, key: str, read: str, expected: str) -> RuleError:
    """A problem of a key or table of the head, at its line; at the first where it is not written."""
    words = rf"\[*{re.escape(key)}\]*\s*(=|$)"
    line = next((n for n, line in enumerate(text.splitlines(), 1) if re.match(words, line)), 1)
    return problem(where=f"{file}:{line}", read=read, expected=expected)


def document_of(text: str, *, file: str, head: Sequence[str] = _HEAD) -> tuple[dict[str, Any], list[FluewrightError]]:
    """A book as TOML, with what is wrong with its head."""
    try:
        document = tomllib.loads(text)
    except RecursionError as error:
        raise problem(where=file, read="tables nested without end", expected="a book as one types it") from error
    except tomllib.TOMLDecodeError as error:
        raise problem(
            where=_torn_at(text, file, error), read=str(error), expected="TOML without a repeated key"
        ) from error
    found: list[FluewrightError] = []
    for key in sorted(set(document) - set(head)):
        found.append(_of_head(text, file, key, f"the unknown table {key!r}", " and ".join(head)))
    if not str(document.get("title", "")).strip():
        found.append(_of_head(text, file, "title", "no title", 'title = "..."'))
    if not isinstance(document.get("version"), datetime.date):
        found.append(
            _of_head(
                text,
                file,
                "version",
                f"version = {document.get('version')!r}",
                "the day of this version",
            )
        )
    for name in head[2:]:
        if not isinstance(document.get(name, []), list):
            found.append(_of_head(text, file, name, f"{name} is no list", f"[[{name}]] before each row"))
            document[name] = []
    if not any(document.get(name) for name in head[2:]) and not found:
        found.append(
            _of_head(
                text,
                file,
                "title",
                "a book without a row",
                f"[[{head[2]}]] and its fields",
            )
        )
    return document, found


def refuse(found: Sequence[FluewrightError], *, file: str) -> None:
    """Raise what was found, all of it at once."""
    if len(found) == 1:
        raise found[0]
    if found:
        raise Problems(subject=file, errors=found)


def book_of(*, text: str, name: str, file: str = "") -> Book:
    """Read one book, strictly.

    text  TOML: title, version, and a list `limits`
    name  the name of the book
    file  where it came from, for messages
    -> book; RuleError for one problem, Problems for several, each with its line
    """
    file = file or f"{name}.toml"
    document, found = document_of(text, file=file)
    rows = document.get("limits", [])
    refuse([*found, *rows_checked(rows, text=text, file=file)], file=file)
    return Book(name, document["title"], document["version"], tuple(limit_of(row, book=name) for row in rows))
