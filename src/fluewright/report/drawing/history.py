"""The history: what one appliance showed over years, as found and as left, each quantity on its own small field.

Open disc as found, solid disc as left, a stroke between them; the soft bar is twice the doubt. A small square was read
at another load, or at one that nobody told, and no line joins it. A dotted square is a year without a reading.
"""

from collections.abc import Callable, Sequence
from datetime import date
from math import ceil, floor, log10

from fluewright.report.drawing.data import History, Past, Seen
from fluewright.report.drawing.svg import Canvas, breadth, polyline, rectangle
from fluewright.report.phrase import said_between
from fluewright.report.tree import Table

FIELD, HEAD, FOOT, GAP = 84.0, 30.0, 34.0, 26.0
"""px: height of a field between its ends, above it for its name, below it for the years, between two fields."""

LEAST_PPM = 1.0
"""Lowest end of a scale of powers of ten; what is less stands on it."""

DISC, SQUARE = 4.6, 3.6


def columns_of(width: float, *, fields: int) -> int:
    """How many fields stand side by side: no row is left with a single one where that can be helped."""
    most = 3 if width >= 640 else 2 if width >= 440 else 1
    return min(2 if most == 3 and fields == 4 else most, max(fields, 1))


def draw(history: History, *, width: float) -> Canvas:
    """The fields at a width in px."""
    columns = columns_of(width, fields=len(history.pasts))
    rows = ceil(len(history.pasts) / columns)
    each = HEAD + FIELD + FOOT
    names = ", ".join(past.name for past in history.pasts)
    canvas = Canvas(width=width, height=max(rows, 1) * each, label=f"History of {history.words}: {names}")
    across = (width - GAP * (columns - 1)) / columns
    for place, past in enumerate(history.pasts):
        row, column = divmod(place, columns)
        _Field(canvas, past, history.years(), column * (across + GAP), row * each + HEAD, across).draw()
    return canvas


def moment(day: date) -> float:
    """A day in years, so that two visits of one year stand side by side."""
    return day.year + (day.timetuple().tm_yday - 1) / 366


def ends(seen: Sequence[Seen]) -> tuple[float, float]:
    """The lowest and the highest value with their doubt."""
    values = [
        value + sign * 2 * point.spread
        for one in seen
        for point in one.points()
        for value, sign in ((point.value, -1), (point.value, 1))
    ]
    return min(values, default=0.0), max(values, default=1.0)


def ticks(low: float, high: float, logarithmic: bool) -> list[float]:
    """Round values that hold all of a field's between them."""
    if logarithmic:
        first, last = floor(log10(max(low, LEAST_PPM))), ceil(log10(max(high, 10 * LEAST_PPM)))
        return [10.0**power for power in range(min(first, last - 1), last + 1)]
    reach = (high - low) or max(abs(high), 1.0)
    power = 10.0 ** floor(log10(reach))
    step = next(s for s in (power * part for part in (0.5, 1.0, 2.0, 5.0, 10.0)) if reach / s <= 3)
    first, last = floor(low / step), ceil(high / step)
    return [round(step * count, 10) for count in range(first, max(last, first + 1) + 1)]


class _Field:
    """One quantity over the years."""

    def __init__(
        self, canvas: Canvas, past: Past, years: tuple[int, int], left: float, top: float, across: float
    ) -> None:
        self.canvas, self.past, self.years, self.top = canvas, past, years, top
        self.scale = ticks(*ends(past.seen), past.logarithmic)
        self.edge = left
        self.left = left + max(breadth(_plain(value)) for value in self.scale) + 12
        shown = [one for one in past.seen if one.points()]
        self.newest = _plain(float(f"{shown[-1].last().value:.3g}")) if shown else ""
        self.right = left + across - 6 - breadth(self.newest, sans=True)
        self.end = left + across

    def x(self, year: float) -> float:
        """Across: time."""
        first, last = self.years
        return self.left + 8 + (self.right - self.left - 16) * (year - first) / max(last + 1 - first, 1)

    def y(self, value: float) -> float:
        """Up: the value, in powers of ten where the field counts so."""
        turn: Callable[[float], float] = (lambda v: log10(max(v, LEAST_PPM))) if self.past.logarithmic else float
        low, high = turn(self.scale[0]), turn(self.scale[-1])
        share = (turn(value) - low) / ((high - low) or 1.0)
        return self.top + FIELD * (1.0 - min(max(share, 0.0), 1.0))

    def draw(self) -> None:
        """Name, scale, years, then the values from the back to the front."""
        self._axes()
        shown = [one for one in self.past.seen if one.points()]
        for one in shown:
            self._soft(one)
        line = [(self.x(moment(one.day)), self.y(one.last().value)) for one in shown if one.compared]
        if len(line) > 1:
            self.canvas.path(polyline(line), "path" if self.past.drifts else "trace")
        for one in shown:
            self._values(one)
        for year in self.past.missing(self.years):
            x, y = self.x(year + 0.5), self.top + FIELD
            self.canvas.path(polyline(rectangle(x - 4, y - 9, x + 4, y - 1), closed=True), "dotted")
        self._newest(shown)

    def _axes(self) -> None:
        name, unit = self.past.name, self.past.unit
        self.canvas.text((self.edge, self.top - 14), name, "value")
        more = f"{unit}, log" if self.past.logarithmic else unit
        self.canvas.text((self.end, self.top - 14), f"drifts · {more}" if self.past.drifts else more, "note",
                         anchor="end")  # fmt: skip
        self.canvas.line((self.left, self.top), (self.left, self.top + FIELD), "axis")
        shown = self.scale if len(self.scale) < 5 else self.scale[::2]
        for value in shown:
            self.canvas.line((self.left - 5, self.y(value)), (self.left, self.y(value)), "axis")
            self.canvas.text((self.left - 8, self.y(value) + 5), _plain(value), anchor="end")
        first, last = self.years
        room = max(int((self.right - self.left) / 40), 1)
        step = max(ceil((last + 1 - first) / room), 1)
        for year in range(first, last + 1, step):
            words = f"’{year % 100:02}"
            self.canvas.text((self.x(year + 0.5), self.top + FIELD + 20), words, anchor="middle")

    def _soft(self, one: Seen) -> None:
        """Twice the doubt on either side, as a soft bar."""
        for point in one.points():
            x, doubt = self.x(moment(one.day)), 2 * point.spread
            low, high = self.y(point.value - doubt), self.y(point.value + doubt)
            if low - high > 1.0:
                self.canvas.path(polyline(rectangle(x - 4, high, x + 4, low), closed=True), "soft")

    def _values(self, one: Seen) -> None:
        x = self.x(moment(one.day))
        if one.found is not None and one.left is not None:
            self.canvas.line((x, self.y(one.found.value)), (x, self.y(one.left.value)), "edge")
        for point, role in ((one.found, "open"), (one.left, "knot")):
            if point is None:
                continue
            y = self.y(point.value)
            if one.compared:
                self.canvas.disc((x, y), DISC, role)
            else:
                square = rectangle(x - SQUARE, y - SQUARE, x + SQUARE, y + SQUARE)
                self.canvas.path(polyline(square, closed=True), role)

    def _newest(self, shown: Sequence[Seen]) -> None:
        """The newest value in words, beside its disc."""
        if not shown:
            return
        point = shown[-1].last()
        x, y = self.x(moment(shown[-1].day)), self.y(point.value)
        self.canvas.text((x + 9, y + 5), self.newest, "word halo")


def _plain(value: float) -> str:
    """A scale's number, with a true minus sign."""
    return f"{value:,g}".replace("-", "−") if abs(value) < 1e4 else f"{value / 1000:,g} k".replace("-", "−")


def twin(history: History) -> Table:
    """The history as a table: one row for each visit, found and left with their doubt, and what was not compared."""
    days = sorted({one.day for past in history.pasts for one in past.seen})
    rows = []
    for day in days:
        cells = [_cell(next((one for one in past.seen if one.day == day), None)) for past in history.pasts]
        rows.append((day.isoformat(), *cells))
    heads = tuple(f"{past.name}, {past.unit}" for past in history.pasts)
    return Table(("day", *heads), tuple(rows))


def _cell(one: Seen | None) -> str:
    if one is None or not one.points():
        return "not measured"
    said = " → ".join(said_between(point.value, point.doubt()) for point in one.points())
    known = "found and left" if one.found is not None and one.left is not None else "found" if one.found else "left"
    other = "" if one.compared else "; load not equal or not told"
    return f"{said} ({known}{other})"
