"""Appliances that a law forbids in a kind of building, whatever was read at them."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, get_args

from fluewright.rules import cited, currency
from fluewright.rules.schema import Citation, Known, Layer, Severity

_SHAPE = cited.Shape(
    rows="bans",
    required=("kinds", "buildings", "only", "severity"),
    choices={"severity": get_args(Severity)},
)


@dataclass(frozen=True, slots=True)
class Ban:
    """One ban of one law.

    kinds      of appliance, in the words of a visit
    buildings  kinds of building it speaks of
    only       conditions and exceptions that a person has to judge
    severity   what it means to find one where the building is one of those
    """

    id: str
    kinds: tuple[str, ...]
    buildings: tuple[str, ...]
    only: str
    severity: Severity
    jurisdiction: str
    layer: Layer
    citation: Citation
    known: Known
    current: currency.Current
    valid_from: datetime.date | None
    valid_until: datetime.date | None
    text: str


def of_row(row: Mapping[str, Any]) -> Ban:
    """A ban from its row; RuleError where a list is none."""
    made = {name: row[name] for name in Ban.__dataclass_fields__}
    for name in ("kinds", "buildings"):
        if not isinstance(row[name], list) or not row[name]:
            raise cited.problem(where=str(row["id"]), read=f"{name} = {row[name]!r}", expected="a list of words")
        made[name] = tuple(row[name])
    return Ban(**made)


def bans_of(*, text: str, file: str) -> tuple[Ban, ...]:
    """The bans of one file."""
    return tuple(of_row(row) for row in cited.rows_of(text=text, file=file, shape=_SHAPE))


@cache
def bans() -> tuple[Ban, ...]:
    """Every ban that came with the program."""
    return tuple(of_row(row) for row in cited.shipped("bans", _SHAPE))


def speaking(*, kind: str, jurisdiction: str, day: datetime.date) -> tuple[Ban, ...]:
    """The bans that speak of a kind of appliance at a place, on a day; the building is for the caller."""
    place = jurisdiction.upper()
    return tuple(
        one
        for one in bans()
        if kind in one.kinds
        and one.jurisdiction in (place, place.split("-")[0])
        and (one.valid_from is None or one.valid_from <= day)
        and (one.valid_until is None or day <= one.valid_until)
    )
