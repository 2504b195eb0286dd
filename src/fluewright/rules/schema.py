"""What a limit is, and a strict reading of it: nothing missing, nothing unknown, nothing twice, every problem at once.

A limit is more than a number: what is measured and on which basis, where, in which state, averaged and rounded how,
and what happens with the uncertainty of the result. A book that leaves one of these out is refused.
"""

import datetime
import math
import re
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, get_args

from fluewright.errors import FluewrightError, Problems, QuantityError, RuleError
from fluewright.quantity import names, units
from fluewright.rules import applies, currency
from fluewright.rules.applies import Applies

Layer = Literal["law", "standard", "programme", "house"]
"""Whose limit: a law, a product or trade standard, a programme one takes part in, one's own house."""

Sense = Literal["at most", "at least", "below"]
"""below: the figure itself is already too much."""
Decision = Literal["none", "minus uncertainty", "plus uncertainty"]
"""none: the bare result. minus: the uncertainty is deducted, the owner has the benefit. plus: added, for safety."""

Rounding = Literal["none", "one decimal more than the limit", "as the limit", "to whole numbers"]
Severity = Literal["stop", "act", "advise"]
Known = Literal["read", "second-hand", "from memory", "common practice, no source", "own rule of the shop"]
"""own rule of the shop: only in a house book, where a shop asks more of itself than the law does."""
AirFree = Literal["none", "oxygen", "carbon dioxide", "not said"]
"""By which gas carbon monoxide is taken to air-free flue gas; none where it is not."""

Steady = Literal["not needed", "readings settled", "appliance steady", "as the rule says", "not said"]
"""What kind of steady a limit asks for: the instrument settled, the appliance settled, or words of the rule itself."""

Rate = Literal["any", "full", "low", "each", "not said"]

NOT_SAID = "not said"
"""What a field says where the text read says nothing of it: never a guess."""

SINCE_LIT = re.compile(r"any|not said|no flame|as the test has it|(?:at least|at most) \d+ min|\d+ to \d+ min")
SINCE = "any, not said, no flame, as the test has it, at least N min, at most N min, or N to M min"
_OXYGEN = re.compile(r"(\d+(?:\.\d+)?) %")
UNKNOWN = "unknown"
OPEN = "open"
CURRENT = f"a day on which the text read was in force, or one of {', '.join(currency.UNSURE)}"
"""What the field `current` of a row may be."""


@dataclass(frozen=True, slots=True)
class Citation:
    """Document, clause and edition that print the limit."""

    document: str
    clause: str
    edition: str


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of one book, as its text has it.

    quantity     registry name of what is judged
    basis        dry or wet, air-free route, reference oxygen, heating value, as the text words it
    reference_oxygen  mol/mol that the result is taken to, 0 for air-free, None for none
    air_free_route    by which gas it is taken to air-free
    place        where it is read
    state        when, as the text words it
    since_lit    minutes since the burner lit, in the words of SINCE
    steady       which of the three kinds of steady
    rate         at which rate it burns
    averaging    over what, as the text words it
    count        how many readings or papers, None where the text does not say
    current      whether the text read is the one in force: a day on which it was, or why that cannot be said
    valid_from   date, or None where it is not known
    valid_until  date, or None while it is open
    text         the sentence to print, in words of our own
    severity     what passing it means: stop, act or advise
    only_alarms  whether being inside it says nothing, as with a limit that breaks off a test or guards workers
    do           what the text says to do when it is passed
    waiver       who may let it pass, as the text has it
    tightens     id of the row that a house book holds tighter, empty for any other
    entered      who read its clause for the shop, and on which page; empty when nobody did
    """

    id: str
    layer: Layer
    jurisdiction: str
    quantity: str
    basis: str
    sense: Sense
    limit: float
    unit: str
    applies: Applies
    place: str
    state: str
    averaging: str
    rounding: Rounding
    decision: Decision
    citation: Citation
    known: Known
    current: currency.Current
    valid_from: datetime.date | None
    valid_until: datetime.date | None
    text: str
    severity: Severity = "act"
    only_alarms: bool = False
    do: str = NOT_SAID
    waiver: str = NOT_SAID
    reference_oxygen: float | None = None
    air_free_route: AirFree = "not said"
    since_lit: str = NOT_SAID
    steady: Steady = "not said"
    rate: Rate = "not said"
    count: int | None = None
    book: str = ""
    tightens: str = ""
    entered: str = ""

    @property
    def upper(self) -> bool:
        """Whether the result must stay under it, and not reach it."""
        return self.sense != "at least"


@dataclass(frozen=True, slots=True)
class Book:
    """A book of limits: name, title, day of its version, and limits in the order of the file."""

    name: str
    title: str
    version: datetime.date
    limits: tuple[Limit, ...] = field(default_factory=tuple)


_OURS = ("book", "tightens", "entered")
"""Fields that no row writes."""

REQUIRED = tuple(name for name in Limit.__dataclass_fields__ if name not in _OURS)
"""What every row must say; where its text says nothing, the row says that."""

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


def line_of(*, text: str, words: str, occurrence: int = 1) -> int:
    """Line of the n-th occurrence of some words in a text, 1 when there is none."""
    for number, line in enumerate(text.splitlines(), 1):
        if words in line:
            occurrence -= 1
            if occurrence == 0:
                return number
    return 1


def problem(*, where: str, read: str, expected: str) -> RuleError:
    """A rule book that cannot be taken, and why."""
    return RuleError(
        code="FW-B-001",
        read=read,
        expected=expected,
        matters="a limit that is half known would be judged wrongly, in ink",
        do="mend the row at this line; docs/checks.md lists the fields of a limit",
        where=where,
    )


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _of_fields(table: Mapping[str, Any], where: str) -> Iterator[RuleError]:
    """Fields that are missing, that nobody knows, or that hold a word they may not."""
    for name in REQUIRED:
        if name not in table:
            yield problem(where=where, read=f"no {name}", expected=f"{name}, and every other field of a limit")
    for name in table:
        if name not in REQUIRED:
            yield problem(where=where, read=f"the unknown field {name!r}", expected=f"one of {', '.join(REQUIRED)}")
    for name, choices in _CHOICES.items():
        if name in table and table[name] not in choices:
            yield problem(where=where, read=f"{name} = {table[name]!r}", expected=f"one of {', '.join(choices)}")
    for name in _WORDS:
        if name in table and not (isinstance(table[name], str) and table[name].strip()):
            yield problem(where=where, read=f"{name} = {table[name]!r}", expected="words, not empty")


def _of_figures(table: Mapping[str, Any], where: str) -> Iterator[RuleError]:
    """Numbers, and fields that are a number or a word."""
    if not _is_number(table.get("limit", 0.0)):
        yield problem(where=where, read=f"limit = {table['limit']!r}", expected="a number")
    if not isinstance(table.get("only_alarms", False), bool):
        yield problem(where=where, read=f"only_alarms = {table['only_alarms']!r}", expected="true or false")
    count = table.get("count", 1)
    if count != NOT_SAID and (not isinstance(count, int) or isinstance(count, bool) or count < 1):
        yield problem(where=where, read=f"count = {count!r}", expected=f'a whole number from 1 on, or "{NOT_SAID}"')
    oxygen = str(table.get("reference_oxygen", "none"))
    match = _OXYGEN.fullmatch(oxygen)
    if oxygen != "none" and (match is None or float(match[1]) >= 20.9):
        yield problem(where=where, read=f"reference_oxygen = {oxygen!r}", expected='such as "3 %", "0 %", or "none"')
    if not SINCE_LIT.fullmatch(str(table.get("since_lit", NOT_SAID))):
        yield problem(where=where, read=f"since_lit = {table['since_lit']!r}", expected=SINCE)
    yield from _of_unit(table, where)


def _of_unit(table: Mapping[str, Any], where: str) -> Iterator[RuleError]:
    """A quantity that the registry knows, with a unit of its kind."""
    name, unit = table.get("quantity"), table.get("unit")
    if not isinstance(name, str) or not name.strip() or not isinstance(unit, str):
        return
    try:
        units.unit_named(unit, quantity=names.of(name))
    except QuantityError as error:
        yield problem(where=where, read=f"quantity = {name!r}, unit = {unit!r}", expected=error.expected)


def _of_parts(table: Mapping[str, Any], where: str) -> Iterator[RuleError]:
    citation = table.get("citation", {})
    wanted = set(Citation.__dataclass_fields__)
    if "citation" in table and (not isinstance(citation, dict) or set(citation) != wanted):
        yield problem(where=where, read=f"citation = {citation!r}", expected="document, clause and edition, no more")
    elif any(not str(part).strip() for part in citation.values()):
        yield problem(where=where, read="an empty part of the citation", expected="document, clause, edition")
    said = table.get("applies", applies.ALWAYS)
    if not isinstance(said, str) or isinstance(found := applies.read(said), str):
        read = f"applies = {said!r}" + (f": {found}" if isinstance(said, str) else "")
        yield problem(where=where, read=read, expected=applies.GRAMMAR)
    if "current" in table and not currency.is_one(table["current"]):
        yield problem(where=where, read=f"current = {table['current']!r}", expected=CURRENT)
    for name, word in (("valid_from", UNKNOWN), ("valid_until", OPEN)):
        if name in table and table[name] != word and not isinstance(table[name], datetime.date):
            yield problem(where=where, read=f"{name} = {table[name]!r}", expected=f'a date, or the word "{word}"')
    begun, ended = table.get("valid_from"), table.get("valid_until")
    if isinstance(begun, datetime.date) and isinstance(ended, datetime.date) and ended < begun:
        yield problem(
            where=where, read=f"valid from {begun} until {ended}", expected="an end that lies after its begin"
        )


def _of_sense(table: Mapping[str, Any], where: str) -> Iterator[RuleError]:
    """Rows that contradict themselves."""
    known, current, layer = table.get("known"), table.get("current"), table.get("layer")
    if current == "no text" and known == "read":
        yield problem(
            where=where,
            read="known = 'read' of what has no text",
            expected="the text that was read, or how else it is known",
        )
    if known == "common practice, no source" and layer in ("law", "programme"):
        yield problem(
            where=where,
            read=f"a {layer} known as common practice",
            expected='layer = "house" or "standard", or the text',
        )
    if known == "own rule of the shop" and layer != "house":
        yield problem(where=where, read=f"a {layer} that is the shop's own rule", expected='layer = "house"')
    if table.get("air_free_route") in ("oxygen", "carbon dioxide") and table.get("reference_oxygen") == "none":
        yield problem(
            where=where, read="an air-free route without reference oxygen", expected='reference_oxygen = "0 %"'
        )


def limit_of(table: Mapping[str, Any], *, book: str) -> Limit:
    """A limit from a row that was found sound."""
    made: dict[str, Any] = {name: table[name] for name in REQUIRED}
    for name in ("valid_from", "valid_until"):
        made[name] = None if isinstance(made[name], str) else made[name]
    oxygen = _OXYGEN.fullmatch(table["reference_oxygen"])
    made |= {
        "limit": float(table["limit"]),
        "citation": Citation(**table["citation"]),
        "applies": applies.read(table["applies"]),
        "reference_oxygen": float(oxygen[1]) / 100.0 if oxygen else None,
        "count": None if table["count"] == NOT_SAID else table["count"],
        "book": book,
    }
    return Limit(**made)


def rows_checked(
    rows: Iterable[Any],
    *,
    text: str,
    file: str,
    also: Callable[[Mapping[str, Any], str], Iterable[RuleError]] | None = None,
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
        words, occurrence = (f'id = "{label}"', seen[label]) if label else ("[[limits]]", number)
        where = f"{file}:{line_of(text=text, words=words, occurrence=occurrence)}"
        mine = [
            *_of_fields(table, where),
            *_of_figures(table, where),
            *_of_parts(table, where),
            *_of_sense(table, where),
        ]
        if seen[label] > 1:
            mine.append(problem(where=where, read=f"{label} a second time", expected="an id of its own"))
        if not mine and also is not None:
            mine += also(table, where)
        found += mine
    return found


def document_of(text: str, *, file: str, head: Sequence[str] = _HEAD) -> tuple[dict[str, Any], list[FluewrightError]]:
    """A book as TOML, with what is wrong with its head."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise problem(where=file, read=str(error), expected="TOML without a repeated key") from error
    found: list[FluewrightError] = []
    for key in sorted(set(document) - set(head)):
        found.append(problem(where=file, read=f"the unknown table {key!r}", expected=" and ".join(head)))
    if not str(document.get("title", "")).strip():
        found.append(problem(where=file, read="no title", expected='title = "..."'))
    if not isinstance(document.get("version"), datetime.date):
        found.append(
            problem(where=file, read=f"version = {document.get('version')!r}", expected="the day of this version")
        )
    for name in head[2:]:
        if not isinstance(document.get(name, []), list):
            found.append(problem(where=file, read=f"{name} is no list", expected=f"[[{name}]] before each row"))
            document[name] = []
    if not any(document.get(name) for name in head[2:]) and not found:
        found.append(problem(where=file, read="a book without a row", expected=f"[[{head[2]}]] and its fields"))
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
