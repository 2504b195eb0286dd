"""What a limit is, and a strict reading of it: nothing missing, nothing unknown, nothing twice, every problem at once.

A limit is more than a number: what is measured and on which basis, where, in which state, averaged and rounded how,
and what happens with the uncertainty of the result. A book that leaves one of these out is refused.
"""

import datetime
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, get_args

from fluewright.errors import FluewrightError, Problems, RuleError
from fluewright.rules import currency

Layer = Literal["law", "standard", "programme", "house"]
"""Whose limit: a law, a product or trade standard, a programme one takes part in, one's own house."""

Sense = Literal["at most", "at least", "below"]
"""below: the figure itself is already too much."""
Decision = Literal["none", "minus uncertainty", "plus uncertainty"]
"""none: the bare result. minus: the uncertainty is deducted, the owner has the benefit. plus: added, for safety."""

Rounding = Literal["none", "one decimal more than the limit", "as the limit", "to whole numbers"]
Severity = Literal["stop", "act", "advise"]
Known = Literal["read", "second-hand", "from memory", "common practice, no source"]

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
class Applies:
    """To what a limit applies; an empty tuple or None means no restriction of that kind.

    fuels          groups such as "gas", "oil"
    appliances     kinds such as "boiler"
    output_above   W nominal heat output, exclusive
    output_from    W, inclusive
    output_to      W, inclusive
    output_below   W, exclusive: where a law for houses ends; alone it also fits an output that nobody has said
    only           conditions in words that a person has to judge
    """

    fuels: tuple[str, ...] = ()
    appliances: tuple[str, ...] = ()
    output_above: float | None = None
    output_from: float | None = None
    output_to: float | None = None
    output_below: float | None = None
    only: str = ""


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of one book, as its text has it.

    quantity     registry name of what is judged
    basis        dry or wet, air-free route, reference oxygen, heating value
    place        where it is read
    state        when: since lit, warm, steady
    averaging    over what, how many
    current      whether the text read is the one in force: a day on which it was, or why that cannot be said
    valid_from   date, or None where it is not known
    valid_until  date, or None while it is open
    text         the sentence to print, in words of our own
    severity     what passing it means: stop, act or advise; act when the row does not say
    only_alarms  whether being inside it says nothing, as with a limit that breaks off a test or guards workers
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
    book: str = ""

    @property
    def upper(self) -> bool:
        """Whether the result must stay under it, and not reach it."""
        return self.sense != "at least"


@dataclass(frozen=True, slots=True)
class Book:
    """A book of limits: name, title, and limits in the order of the file."""

    name: str
    title: str
    limits: tuple[Limit, ...] = field(default_factory=tuple)


_OPTIONAL = ("applies", "severity", "only_alarms", "book")
_REQUIRED = tuple(name for name in Limit.__dataclass_fields__ if name not in _OPTIONAL)
_CHOICES: Mapping[str, tuple[str, ...]] = {
    "layer": get_args(Layer),
    "sense": get_args(Sense),
    "rounding": get_args(Rounding),
    "decision": get_args(Decision),
    "known": get_args(Known),
    "severity": get_args(Severity),
}
_APPLIES: Mapping[str, type | tuple[type, ...]] = {
    "fuels": list, "appliances": list, "only": str,
    "output_above": (int, float), "output_from": (int, float), "output_to": (int, float),
    "output_below": (int, float),
}  # fmt: skip


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


def _of_fields(table: Mapping[str, Any], where: str) -> Iterator[RuleError]:
    for name in _REQUIRED:
        if name not in table:
            yield problem(where=where, read=f"no {name}", expected=f"{name}, and every other field of a limit")
    for name in table:
        if name not in (*_REQUIRED, "applies", "severity", "only_alarms"):
            yield problem(where=where, read=f"the unknown field {name!r}", expected=f"one of {', '.join(_REQUIRED)}")
    for name, choices in _CHOICES.items():
        if name in table and table[name] not in choices:
            yield problem(where=where, read=f"{name} = {table[name]!r}", expected=f"one of {', '.join(choices)}")
    if not isinstance(table.get("limit", 0.0), int | float):
        yield problem(where=where, read=f"limit = {table['limit']!r}", expected="a number")
    if "current" in table and not currency.is_one(table["current"]):
        yield problem(where=where, read=f"current = {table['current']!r}", expected=CURRENT)
    if not isinstance(table.get("only_alarms", False), bool):
        yield problem(where=where, read=f"only_alarms = {table['only_alarms']!r}", expected="true or false")


def _of_parts(table: Mapping[str, Any], where: str) -> Iterator[RuleError]:
    citation = table.get("citation", {})
    wanted = set(Citation.__dataclass_fields__)
    if "citation" in table and (not isinstance(citation, dict) or set(citation) != wanted):
        yield problem(where=where, read=f"citation = {citation!r}", expected="document, clause and edition, no more")
    elif any(not str(part).strip() for part in citation.values()):
        yield problem(where=where, read="an empty part of the citation", expected="document, clause, edition")
    applies = table.get("applies", {})
    for name, value in applies.items():
        if name not in _APPLIES or not isinstance(value, _APPLIES[name]):
            yield problem(where=where, read=f"applies.{name} = {value!r}", expected=f"one of {', '.join(_APPLIES)}")
    for name, word in (("valid_from", UNKNOWN), ("valid_until", OPEN)):
        if name in table and table[name] != word and not isinstance(table[name], datetime.date):
            yield problem(where=where, read=f"{name} = {table[name]!r}", expected=f'a date, or the word "{word}"')


def _limit(table: Mapping[str, Any], book: str) -> Limit:
    made: dict[str, Any] = {name: table[name] for name in _REQUIRED}
    for name in ("valid_from", "valid_until"):
        made[name] = None if isinstance(made[name], str) else made[name]
    applies: dict[str, Any] = dict(table.get("applies", {}))
    for name in ("fuels", "appliances"):
        applies[name] = tuple(applies.get(name, ()))
    made |= {
        "limit": float(table["limit"]),
        "citation": Citation(**table["citation"]),
        "applies": Applies(**applies),
        "severity": table.get("severity", "act"),
        "only_alarms": table.get("only_alarms", False),
        "book": book,
    }
    return Limit(**made)


def book_of(*, text: str, name: str, file: str = "") -> Book:
    """Read one book, strictly.

    text  TOML: title, and a list `limits`
    name  the name of the book
    file  where it came from, for messages
    -> book; RuleError for one problem, Problems for several, each with its line
    """
    file = file or f"{name}.toml"
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise problem(where=file, read=str(error), expected="TOML without a repeated key") from error
    found: list[FluewrightError] = []
    seen: dict[str, int] = {}
    for key in set(document) - {"title", "limits"}:
        found.append(problem(where=file, read=f"the unknown table {key!r}", expected="title and limits"))
    for table in document.get("limits", []):
        label = str(table.get("id", ""))
        seen[label] = seen.get(label, 0) + 1
        line = line_of(text=text, words=f'id = "{label}"', occurrence=seen[label])
        where = f"{file}:{line}"
        found += [*_of_fields(table, where), *_of_parts(table, where)]
        if seen[label] > 1:
            found.append(problem(where=where, read=f"{label} a second time", expected="an id of its own"))
    if len(found) == 1:
        raise found[0]
    if found:
        raise Problems(subject=file, errors=found)
    return Book(name, str(document.get("title", name)), tuple(_limit(table, name) for table in document["limits"]))
