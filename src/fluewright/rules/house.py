"""A shop's own house book: it may ask more of its people than the law, the programme and the books do, and never less.

A line either holds a row of a book tighter (`[[tighten]]`), or is a whole limit of its own (`[[limits]]`). Rows of the
law are asked all the same, so a house book hides no verdict: where both apply, both are printed.
"""

import datetime
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, get_args

from fluewright.errors import FluewrightError, RuleError
from fluewright.quantity import names, units
from fluewright.rules.schema import (
    Citation,
    Decision,
    Limit,
    Severity,
    limit_of,
    problem,
)
from fluewright.rules.strict import Place, document_of, refuse, rows_checked

NAME = "house book"
HOUSE = "house-book.toml"
"""Its file in the folder of settings."""
OWN = "own rule of the shop"

_HEAD = ("title", "version", "tighten", "limits")
_NEEDED = ("id", "of", "because", "since")
_CHANGES = ("limit", "decision", "rounding", "severity")
_FREE = ("do",)
_STRICTER_DECISION: tuple[Decision, ...] = ("minus uncertainty", "none", "plus uncertainty")
_STRICTER_SEVERITY: tuple[Severity, ...] = ("advise", "act", "stop")


@dataclass(frozen=True, slots=True)
class HouseBook:
    """A house book that holds: its rows are limits of the layer house, each with the row it tightens."""

    title: str
    version: datetime.date
    limits: tuple[Limit, ...]


def _loosens(where: str, read: str, expected: str) -> RuleError:
    return RuleError(
        code="FW-B-050",
        where=where,
        read=read,
        expected=expected,
        matters="a house book that asks less than the law would let a visit pass that the law does not",
        do="ask as much or more at this line, or take it out; the row of the book is asked all the same",
    )


def canonical(rule: Limit) -> float:
    """The number of a row in the canonical unit of its quantity."""
    quantity = names.of(rule.quantity)
    return units.canonical(rule.limit, unit=units.unit_named(rule.unit, quantity=quantity), quantity=quantity)


def _of_words(table: Mapping[str, Any], where: Place) -> Iterator[RuleError]:
    for name in _NEEDED:
        if not str(table.get(name, "")).strip():
            yield where.wrong("", f"no {name}", f"{', '.join(_NEEDED)}, and one of {', '.join(_CHANGES)}")
    for name in table:
        if name not in (*_NEEDED, *_CHANGES, *_FREE):
            expected = f"one of {', '.join((*_NEEDED, *_CHANGES, *_FREE))}"
            yield where.wrong(name, f"the unknown field {name!r}", expected)
    for name, choices in (("decision", get_args(Decision)), ("severity", get_args(Severity))):
        if name in table and table[name] not in choices:
            yield where.wrong(name, f"{name} = {table[name]!r}", f"one of {', '.join(choices)}")
    if "since" in table and not isinstance(table["since"], datetime.date):
        yield where.wrong("since", f"since = {table['since']!r}", "the day from which the shop asks it")
    limit = table.get("limit", 0.0)
    if isinstance(limit, bool) or not isinstance(limit, int | float) or not math.isfinite(limit):
        yield where.wrong("limit", f"limit = {limit!r}", "a number, in the unit of the row")


def _of_tighter(table: Mapping[str, Any], base: Limit, where: Place) -> Iterator[RuleError]:
    """A line that asks less than its row, or nothing more."""
    label, limit = f"{base.id} ({base.sense} {base.limit:g} {base.unit})", float(table.get("limit", base.limit))
    if (limit > base.limit) if base.upper else (limit < base.limit):
        yield _loosens(
            where.at("limit"), f"limit = {limit:g} for {label}", f"{base.sense} {base.limit:g} {base.unit} or tighter"
        )
    decision, severity = table.get("decision", base.decision), table.get("severity", base.severity)
    if _STRICTER_DECISION.index(decision) < _STRICTER_DECISION.index(base.decision):
        yield _loosens(
            where.at("decision"), f"decision = {decision!r} for {label}", f"{base.decision!r}, or one that asks more"
        )
    if _STRICTER_SEVERITY.index(severity) < _STRICTER_SEVERITY.index(base.severity):
        yield _loosens(
            where.at("severity"), f"severity = {severity!r} for {label}", f"{base.severity!r}, or one that is graver"
        )
    if table.get("rounding", base.rounding) not in ("none", base.rounding):
        yield _loosens(
            where.at("rounding"), f"rounding = {table['rounding']!r} for {label}", f"{base.rounding!r}, or none"
        )
    same = (limit, decision, severity, table.get("rounding", base.rounding))
    if same == (base.limit, base.decision, base.severity, base.rounding):
        yield where.wrong("id", f"nothing that asks more than {label}", f"one of {', '.join(_CHANGES)}")


def _tightened(table: Mapping[str, Any], base: Limit, title: str, version: datetime.date) -> Limit:
    return replace(
        base,
        id=table["id"],
        layer="house",
        limit=float(table.get("limit", base.limit)),
        decision=table.get("decision", base.decision),
        rounding=table.get("rounding", base.rounding),
        severity=table.get("severity", base.severity),
        do=table.get("do", base.do),
        waiver="whoever answers for the shop",
        citation=Citation(title, table["id"], f"{version}"),
        known="own rule of the shop",
        current=version,
        valid_from=table["since"],
        valid_until=None,
        text=table["because"],
        book=NAME,
        tightens=base.id,
    )


def _same_place(one: str, other: str) -> bool:
    """Whether two rows may speak at one place."""
    return "everywhere" in (one, other) or one == other or one.split("-")[0] == other or one == other.split("-")[0]


def _of_own(row: Limit, above: Sequence[Limit], where: Place) -> Iterator[RuleError]:
    """A limit of the shop's own that asks less than a law or programme asks of the same thing."""
    for law in above:
        same = (law.quantity, law.upper, law.basis, law.averaging) == (
            row.quantity,
            row.upper,
            row.basis,
            row.averaging,
        )
        if not same or law.layer not in ("law", "programme") or not _same_place(row.jurisdiction, law.jurisdiction):
            continue
        looser = canonical(row) > canonical(law) if row.upper else canonical(row) < canonical(law)
        if looser and row.applies.meets(law.applies):
            read = f"{row.sense} {row.limit:g} {row.unit}, where {law.id} asks {law.sense} {law.limit:g} {law.unit}"
            yield _loosens(where.at("limit"), read, f"{law.sense} {law.limit:g} {law.unit} or tighter")


def _tighten_rows(
    rows: Sequence[Any], above: Mapping[str, Limit], text: str, file: str
) -> tuple[list[FluewrightError], list[tuple[Mapping[str, Any], Limit]]]:
    found: list[FluewrightError] = []
    sound: list[tuple[Mapping[str, Any], Limit]] = []
    seen: set[str] = set()
    for number, table in enumerate(rows, 1):
        where = Place(file, text, "tighten", number)
        if not isinstance(table, dict):
            found.append(problem(where=file, read=f"{table!r}", expected="a table of fields"))
            continue
        mine: list[FluewrightError] = list(_of_words(table, where))
        label, of = str(table.get("id", "")), str(table.get("of", ""))
        if label in seen or label in above:
            mine.append(where.wrong("id", f"{label} a second time", "an id of its own"))
        if of and of not in above:
            mine.append(
                where.wrong(
                    "of",
                    f"of = {of!r}, which no book has",
                    "the id of a row; see `fluewright rules list`",
                )
            )
        if not mine:
            mine += _of_tighter(table, above[of], where)
        found += mine
        seen.add(label)
        if not mine:
            sound.append((table, above[of]))
    return found, sound


def house_book_of(*, text: str, file: str, above: Sequence[Limit]) -> HouseBook:
    """A house book, strictly read.

    text   TOML: title, version, and lists `tighten` and `limits`
    file   its name, for messages
    above  the rows of law, programme, standard and practice that it may only tighten
    -> book; RuleError for one problem, Problems for several, each with file and line
    """
    document, found = document_of(text, file=file, head=_HEAD)
    by_id = {row.id: row for row in above}
    wrong, sound = _tighten_rows(document.get("tighten", []), by_id, text, file)

    def own(table: Mapping[str, Any], where: Place) -> Iterator[RuleError]:
        if table["layer"] != "house" or table["known"] != OWN:
            read = f"layer = {table['layer']!r}, known = {table['known']!r}"
            yield where.wrong("layer", read, f'layer = "house" and known = "{OWN}": a shop makes no law')
        elif table["id"] in by_id:
            yield where.wrong("id", f"{table['id']}, which a book has too", "an id of its own")
        else:
            yield from _of_own(limit_of(table, book=NAME), above, where)

    rows = document.get("limits", [])
    refuse([*found, *wrong, *rows_checked(rows, text=text, file=file, also=own)], file=file)
    title, version = document["title"], document["version"]
    tightened = [_tightened(table, base, title, version) for table, base in sound]
    return HouseBook(title, version, (*tightened, *(limit_of(row, book=NAME) for row in rows)))
