"""Times as loggers write them -> seconds since 1970 in UTC, and which of the possible readings a column allows.

Order of day and month, zone and resolution are properties of the whole column: one sample never decides them.
"""

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from itertools import pairwise

ORDERS = (
    "iso",
    "day-month-year",
    "month-day-year",
    "year-month-day",
    "named month",
    "epoch seconds",
    "epoch milliseconds",
    "elapsed seconds",
    "clock",
)
"""The forms a time column can have. iso: read by the standard library. clock: time of day on an unknown day."""

_CLOCK = r"(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?\s*([ap]\.?m\.?)?"
_ZONE = r"(?:\s*(Z|UTC|GMT|[+-]\d{2}(?::?\d{2})?))?"
_NUMERIC = re.compile(rf"(\d{{1,4}})[-/.](\d{{1,2}})[-/.](\d{{1,4}})(?:[T ,]+{_CLOCK}{_ZONE})?$", re.IGNORECASE)
_NAMED = re.compile(
    rf"(?:[A-Za-z]{{2,9}},?\s+)?(\d{{1,2}}|[^\W\d]{{3,9}})[-/. ]+([^\W\d]{{3,9}}|\d{{1,2}})[-/., ]+(\d{{4}})"
    rf"(?:[T ,]+{_CLOCK}{_ZONE})?$",
    re.IGNORECASE,
)
_OF_DAY = re.compile(rf"{_CLOCK}$", re.IGNORECASE)
_MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "jan january januar",
            "feb february februar",
            "mar march mär märz mrz",
            "apr april",
            "may mai",
            "jun june juni",
            "jul july juli",
            "aug august",
            "sep sept september",
            "oct october okt oktober",
            "nov november",
            "dec december dez dezember",
        ),
        start=1,
    )
    for name in names.split()
}
READABLE = 0.8
"""Share of the cells of a column that a form must read before the column is taken for times (common practice)."""
LEAP = 10.0
"""How much farther one order of dates must leap than the other to be ruled out (common practice, no source)."""
_FIRST, _LAST = (datetime(*day, tzinfo=UTC).timestamp() for day in ((1, 1, 3), (9999, 12, 29)))
"""Days nearer to the ends of the calendar than any zone reaches: beyond, a time cannot be shown in every zone."""
_LONGEST = 1e11
"""Seconds (3000 years): no logger counts so far (common practice, no source)."""
_EPOCH_FIRST, _EPOCH_LAST = 631_152_000.0, 4_102_444_800.0  # 1990 and 2100: outside, a number is not taken for a date


@dataclass(frozen=True, slots=True)
class Form:
    """How a time column is written: its order, and the zone that applies where the cell itself names none.

    zone  "" when nobody said (times are kept as they stand), "+01:00", "UTC", or a place such as "Europe/Berlin"
    """

    order: str
    zone: str = ""


def zone_of(text: str) -> tzinfo | None:
    """The zone a person names, None for none.

    text  "", "Z", "UTC", "+01:00", "-0800" or a place such as Europe/Berlin
    -> tzinfo; ValueError for a text that names no zone
    """
    if not text:
        return None
    if text.upper() in {"Z", "UTC", "GMT"}:
        return UTC
    match = re.fullmatch(r"([+-])(\d{2}):?(\d{2})?", text)
    if match:
        span = timedelta(hours=int(match[2]), minutes=int(match[3] or 0))
        return timezone(-span if match[1] == "-" else span)
    from zoneinfo import ZoneInfo, ZoneInfoNotFoundError  # a phone's Python may hold no zone data: only when asked for

    try:
        return ZoneInfo(text)
    except (ZoneInfoNotFoundError, OSError, ValueError) as error:
        raise ValueError(f"no zone is called {text}") from error


class Reader:
    """Reads one column of times; keeps only what a clock without date needs to pass midnight."""

    def __init__(self, form: Form) -> None:
        self.form = form
        self._zone = zone_of(form.zone) or UTC
        self._place = not isinstance(self._zone, timezone)
        self._last = -math.inf
        self._day = 0.0
        self._read = _READERS[form.order]

    def seconds(self, text: str) -> float:
        """Seconds since 1970 UTC (since the first day for a clock, since the start for elapsed seconds).

        ValueError when the text is not in the column's form.
        """
        moment = self._read(text.strip())
        if isinstance(moment, float):
            low, high = (-_LONGEST, _LONGEST) if self.form.order == "elapsed seconds" else (_FIRST, _LAST)
            if not low <= moment <= high:
                raise ValueError(text)
            return self._past_midnight(moment) if self.form.order == "clock" else moment
        if not 1 < moment.year < 9999:
            raise ValueError(text)
        if moment.tzinfo is None:
            moment = moment.replace(tzinfo=self._zone)
            if self._place:
                moment = self._later_twin(moment)
        seconds = moment.timestamp()
        self._last = seconds
        return seconds

    def _past_midnight(self, seconds: float) -> float:
        if seconds + self._day < self._last - 43_200.0:
            self._day += 86_400.0
        self._last = seconds + self._day
        return self._last

    def _later_twin(self, moment: datetime) -> datetime:
        """The second of the two equal local hours in autumn, when the first has already gone by."""
        second = moment.replace(fold=1)
        return second if second.timestamp() != moment.timestamp() and moment.timestamp() <= self._last else moment


def guess(texts: Sequence[str], *, header: str = "") -> tuple[Form, ...]:
    """Every form that reads all of these texts, most usual first; several mean that nobody can tell them apart.

    Days that run on are evidence: of two orders, the one whose longest leap from row to row is shorter is kept alone
    when the other leaps LEAP times as far.

    texts   cells of one column
    header  name of the column, to tell elapsed seconds from a plain number
    -> forms, empty when it is no time column
    """
    texts = [text.strip() for text in texts if text.strip()]
    if not texts:
        return ()
    read = {order: _count_read(texts, Form(order)) for order in ORDERS}
    most = max(read.values())
    if most < READABLE * len(texts):
        return ()
    fits = tuple(Form(order) for order in ORDERS if read[order] == most and _fits(Form(order), texts, header))
    if fits and fits[0].order == "iso":
        return fits[:1]
    if {form.order for form in fits} == {"day-month-year", "month-day-year"}:
        return _steadier(texts, fits)
    return fits


def _fits(form: Form, texts: Sequence[str], header: str) -> bool:
    if not form.order.endswith("seconds"):
        return True
    values = [float(text) for text in texts if _is_number(text)]
    if form.order != "elapsed seconds":
        scale = 1.0 if form.order == "epoch seconds" else 1000.0
        return all(_EPOCH_FIRST <= value / scale <= _EPOCH_LAST for value in values)
    words = re.search(r"time|elapsed|second|zeit|\bs\b|\bt\b", header, re.IGNORECASE)
    return bool(words) and max(values) < _EPOCH_FIRST and values[0] <= values[-1]


def _is_number(text: str) -> bool:
    try:
        return math.isfinite(float(text))
    except ValueError:
        return False


def readable(text: str, form: Form) -> bool:
    """Whether the form can read this text."""
    return bool(_times([text], form))


def _times(texts: Sequence[str], form: Form) -> list[float]:
    """The times of those texts that the form can read."""
    reader = Reader(form)
    times = []
    for text in texts:
        try:
            times.append(reader.seconds(text))
        except (ValueError, OverflowError):
            continue
    return times


def _count_read(texts: Sequence[str], form: Form) -> int:
    return len(_times(texts, form))


def _steadier(texts: Sequence[str], forms: tuple[Form, ...]) -> tuple[Form, ...]:
    if all("." in text.split(" ")[0] for text in texts):
        return (Form("day-month-year"),)  # dots: written day first wherever they are used (common practice, no source)
    leaps = []
    for form in forms:
        times = _times(texts, form)
        leaps.append(max((abs(b - a) for a, b in pairwise(times)), default=0.0))
    if leaps[0] > LEAP * leaps[1]:
        return (forms[1],)
    if leaps[1] > LEAP * leaps[0]:
        return (forms[0],)
    return forms


def _iso(text: str) -> datetime:
    if len(text) < 8 or not text[:4].isdigit():
        raise ValueError(text)
    return datetime.fromisoformat(text)


def _numeric(first: int, second: int, third: int) -> Callable[[str], datetime]:
    def read(text: str) -> datetime:
        match = _NUMERIC.match(text)
        if match is None:
            raise ValueError(text)
        year, month, day = match[first], match[second], match[third]
        if len(year) not in {2, 4} or len(day) > 2 or (first == 1 and len(year) != 4):
            raise ValueError(text)
        return _at(int(year), int(month), int(day), match.groups()[3:])

    return read


def _named_month(text: str) -> datetime:
    match = _NAMED.match(text)
    if match is None:
        raise ValueError(text)
    day, month = (match[1], match[2]) if match[1].isdigit() else (match[2], match[1])
    number = _MONTHS.get(month.lower())
    if number is None or not day.isdigit():
        raise ValueError(text)
    return _at(int(match[3]), number, int(day), match.groups()[3:])


def _at(year: int, month: int, day: int, clock: Sequence[str | None]) -> datetime:
    year += 2000 if year < 100 else 0
    seconds = _of_day(clock[:5]) if clock[0] else 0.0
    whole = datetime(year, month, day) + timedelta(seconds=seconds)
    return whole.replace(tzinfo=zone_of((clock[5] or "").upper())) if len(clock) > 5 else whole


def _of_day(parts: Sequence[str | None]) -> float:
    hour, minute, second = int(parts[0] or 0), int(parts[1] or 0), int(parts[2] or 0)
    if hour > 23 or minute > 59 or second > 59:
        raise ValueError("no such time of day")
    if parts[4]:
        if not 1 <= hour <= 12:
            raise ValueError("no such time of day")
        hour = hour % 12 + (12 if parts[4].lower().startswith("p") else 0)
    return hour * 3600.0 + minute * 60.0 + second + (float(f"0.{parts[3]}") if parts[3] else 0.0)


def _clock(text: str) -> float:
    match = _OF_DAY.match(text)
    if match is None:
        raise ValueError(text)
    return _of_day(match.groups())


def _number(scale: float) -> Callable[[str], float]:
    def read(text: str) -> float:
        value = float(text) / scale
        if not math.isfinite(value):
            raise ValueError(text)
        return value

    return read


_READERS: dict[str, Callable[[str], datetime | float]] = {
    "iso": _iso,
    "day-month-year": _numeric(3, 2, 1),
    "month-day-year": _numeric(3, 1, 2),
    "year-month-day": _numeric(1, 2, 3),
    "named month": _named_month,
    "epoch seconds": _number(1.0),
    "epoch milliseconds": _number(1000.0),
    "elapsed seconds": _number(1.0),
    "clock": _clock,
}


def shown(seconds: float, form: Form) -> str:
    """A moment as text in the zone of the trace; without a zone, as it stood in the file."""
    if form.order in {"elapsed seconds", "clock"}:
        hours, rest = divmod(seconds, 3600.0)
        return (
            f"{int(hours):02d}:{int(rest // 60):02d}:{rest % 60:02.0f}" if form.order == "clock" else f"{seconds:g} s"
        )
    within = min(max(seconds, _FIRST), _LAST)  # the middle of a long step may lie before the first day
    moment = datetime.fromtimestamp(within, tz=zone_of(form.zone) or UTC)
    return moment.strftime("%Y-%m-%d %H:%M:%S").removesuffix(":00")
