"""Duties of the law: what must be done again by when, how long records are kept, and sizes from which they apply."""

import calendar
import datetime
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args

from fluewright.rules import cited, currency
from fluewright.rules.schema import Citation, Known, Layer

Counted = Literal["last done", "installed", "record made", "checked", "started again", "every year", "a size"]
"""What the time is counted from; for a size there is no time."""

_SPAN = re.compile(r"(\d+) (day|week|month|calendar year|year)s?")
_SIZE = re.compile(r"([\d.]+) ([A-Za-z][A-Za-z/]*)")
_DAY_OF_YEAR = re.compile(r"(\d{2})-(\d{2})")

_SHAPE = cited.Shape(
    rows="duties",
    required=("what", "counted_from", "amounts", "first_day", "only"),
    optional=("not_for", "by", "installed_from", "installed_until"),
    choices={"counted_from": get_args(Counted), "first_day": ("counted", "not counted")},
)


@dataclass(frozen=True, slots=True)
class Span:
    """A time as the law says it: so many days, months, years or calendar years; or a size with its unit."""

    count: float
    unit: str


@dataclass(frozen=True, slots=True)
class Duty:
    """One duty of one law.

    what             in a few words
    counted_from     what the time is counted from
    amounts          times, one after the other
    first_day        whether the day it is counted from is the first of the time
    by               a date fixed by the law, or a day of each year (month, day), None for neither
    installed_from, installed_until   days between which an appliance must have been installed, None for any
    only             conditions that a person has to judge
    not_for          groups of fuel whose appliances the law leaves out: gas, oil, solid
    """

    id: str
    what: str
    jurisdiction: str
    layer: Layer
    counted_from: Counted
    amounts: tuple[Span, ...]
    first_day: str
    only: str
    text: str
    citation: Citation
    known: Known
    current: currency.Current
    valid_from: datetime.date | None
    valid_until: datetime.date | None
    not_for: tuple[str, ...] = ()
    by: datetime.date | tuple[int, int] | None = None
    installed_from: datetime.date | None = None
    installed_until: datetime.date | None = None


def _span(text: object, where: str, *, size: bool) -> Span:
    match = (_SIZE if size else _SPAN).fullmatch(str(text))
    if match is None:
        wanted = "a number and a unit" if size else "a whole number of days, weeks, months, years or calendar years"
        raise cited.problem(where=where, read=f"amounts with {text!r}", expected=wanted)
    return Span(float(match[1]), match[2])


def _by(value: object, where: str) -> datetime.date | tuple[int, int] | None:
    if value is None or isinstance(value, datetime.date):
        return value
    match = _DAY_OF_YEAR.fullmatch(str(value))
    if match is None:
        raise cited.problem(where=where, read=f"by = {value!r}", expected="a date, or a day of each year such as 03-01")
    return int(match[1]), int(match[2])


def of_row(row: Mapping[str, Any]) -> Duty:
    """A duty from its row; RuleError for a time that is none."""
    made = {name: row[name] for name in Duty.__dataclass_fields__ if name in row}
    where = str(row["id"])
    size = row["counted_from"] == "a size"
    made["amounts"] = tuple(_span(text, where, size=size) for text in row["amounts"])
    made["not_for"] = tuple(row.get("not_for", ()))
    made["by"] = _by(row.get("by"), where)
    if not made["amounts"] and made["by"] is None:
        raise cited.problem(where=where, read="neither a time nor a date", expected="amounts, or by")
    return Duty(**made)


def duties_of(*, text: str, file: str) -> tuple[Duty, ...]:
    """The duties of one file."""
    return tuple(of_row(row) for row in cited.rows_of(text=text, file=file, shape=_SHAPE))


@cache
def duties() -> tuple[Duty, ...]:
    """Every duty that came with the program."""
    return tuple(of_row(row) for row in cited.shipped("duties", _SHAPE))


def duty(id: str) -> Duty:
    """One duty by its id; RuleError FW-B-011 when there is none."""
    found = {each.id: each for each in duties()}
    if id not in found:
        raise cited.unknown(id=id, known=sorted(found))
    return found[id]


def of_place(jurisdiction: str) -> tuple[Duty, ...]:
    """The duties of a country, all of them where none is named."""
    country = jurisdiction.upper().split("-")[0]
    return tuple(each for each in duties() if not country or each.jurisdiction == country)


def months_later(day: datetime.date, months: int) -> datetime.date:
    """The same day so many months later; the last of the month where it has no such day.

    day     from which
    months  whole
    -> date
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return datetime.date(year, month + 1, min(day.day, last))


def _later(day: datetime.date, span: Span) -> datetime.date:
    count = int(span.count)
    if span.unit in ("day", "week"):
        return day + datetime.timedelta(days=count * (7 if span.unit == "week" else 1))
    if span.unit == "calendar year":
        return datetime.date(day.year + count, 12, 31)
    return months_later(day, count * (12 if span.unit == "year" else 1))


def last_day(duty: Duty, day: datetime.date) -> datetime.date:
    """The last day on which a duty can still be met.

    duty  with a time or a date
    day   it is counted from
    -> date; where the first day counts, a year from 25 May ends on 24 May
    """
    if isinstance(duty.by, datetime.date):
        return duty.by
    if isinstance(duty.by, tuple):
        due = datetime.date(day.year, *duty.by)
        return due if due >= day else datetime.date(day.year + 1, *duty.by)
    for span in duty.amounts:
        day = _later(day, span)
    return day - datetime.timedelta(days=1) if duty.first_day == "counted" else day


def speaks_to(duty: Duty, installed: datetime.date) -> bool:
    """Whether a duty speaks to an appliance of that day of installation."""
    after = duty.installed_from is None or installed >= duty.installed_from
    return after and (duty.installed_until is None or installed <= duty.installed_until)
