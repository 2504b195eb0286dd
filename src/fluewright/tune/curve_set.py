"""Sets of curves: fuel, mode, way and firing rate as the key of a point, with what the actuators stood at.

A table is read cell by cell and written again as it came, with what was worked out behind it. Columns are named for the
quantity with its unit: `oxygen_dry_percent`, `carbon_monoxide_dry_ppm`, `position_air_percent`.
"""

import csv
import io
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Literal

from fluewright.errors import FluewrightError, PhysicsRefused, Problems, UseError
from fluewright.quantity import units
from fluewright.quantity.names import REGISTRY
from fluewright.rules import adjusting_figures as trade
from fluewright.words import number, say

KEYS = ("fuel", "rate_percent", "way", "mode")
"""Columns that say which point a row is; way and mode may be left out."""
WAYS = ("down", "up", "")
POSITION = "position_"
"""How the columns begin that hold where an actuator stands, in percent of its way."""
SPEED = "blower_speed_share_percent"
UNITS = {
    "percent": "%",
    "ppm": "ppm",
    "celsius": "°C",
    "fahrenheit": "°F",
    "pascal": "Pa",
    "mbar": "mbar",
    "inwc": "in w.c.",
    "bar": "bar",
    "psi": "psi",
    "ratio": "1",
}
"""Unit words of a column's name."""
MOST_ROWS = 5000
MOST_BYTES = 4_000_000


@dataclass(frozen=True, slots=True)
class Key:
    """Which curve a point belongs to."""

    fuel: str
    mode: str
    way: str

    @property
    def words(self) -> str:
        """As a person says it."""
        way = {"down": say("going down"), "up": say("going up"), "": ""}[self.way]
        return ", ".join(part for part in (self.fuel, self.mode, way) if part)


@dataclass(frozen=True, slots=True)
class Spot:
    """One point of a set.

    line    in the file, counted from 1
    rate    firing rate, share of full
    values  by column: canonical unit of the quantity, share of its way for a position
    cells   as they stood in the file
    """

    line: int
    key: Key
    rate: float
    values: Mapping[str, float]
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CurveSet:
    """A set of curves as it was read: header, points in the order of the file, and the sign between cells."""

    header: tuple[str, ...]
    spots: tuple[Spot, ...]
    delimiter: str = ","

    def curves(self) -> dict[Key, tuple[Spot, ...]]:
        """Points of each curve by rising rate."""
        keys = dict.fromkeys(spot.key for spot in self.spots)
        return {key: tuple(sorted((s for s in self.spots if s.key == key), key=lambda s: s.rate)) for key in keys}


def _problem(where: str, *, code: str, read: str, expected: str, matters: str, do: str) -> UseError:
    return UseError(code=code, where=where, read=read, expected=expected, matters=matters, do=do)


def _column(name: str) -> tuple[str, str] | None:
    """Quantity and unit of a column; None for one that is kept as text."""
    if name.startswith(POSITION) and name.endswith("_percent"):
        return "actuator_position", "%"
    head, _, unit = name.rpartition("_")
    if head in REGISTRY and unit in UNITS:
        return head, UNITS[unit]
    return None


def _number(text: str, column: str, where: str) -> float | FluewrightError | None:
    """One cell in the canonical unit; None for an empty one."""
    meant = _column(column) if column != "rate_percent" else ("firing_rate", "%")
    if meant is None or not text.strip():
        return None
    quantity, unit = REGISTRY[meant[0]], meant[1]
    try:
        value = float(text.strip().replace("−", "-"))
        found = units.canonical(value, unit=units.unit_named(unit, quantity=quantity), quantity=quantity)
    except (ValueError, FluewrightError):
        found = math.nan
    low, high = quantity.least, quantity.most
    if math.isfinite(found) and (low is None or found >= low) and (high is None or found <= high):
        return found
    return _problem(
        where, code="FW-U-331", read=f"{column} = {text!r}",
        expected=f"{quantity.words} as a plain number in {unit}, without its unit, and one that can be",
        matters="a cell understood wrongly would stand in the curve as a point",
        do="write the number with a point for its decimals, or leave the cell empty",
    )  # fmt: skip


def _header(row: Sequence[str], file: str) -> Iterator[FluewrightError]:
    """Problems of the first line."""
    missing = [name for name in ("fuel", "rate_percent") if name not in row]
    if missing:
        yield _problem(
            f"{file}: line 1", code="FW-U-332", read=f"no column {', '.join(missing)}",
            expected="columns fuel and rate_percent, then readings such as oxygen_dry_percent",
            matters="a point without its fuel and rate belongs to no curve",
            do="name the columns for what they hold, with the unit behind",
        )  # fmt: skip
    twice = sorted({name for name in row if row.count(name) > 1})
    if twice:
        yield _problem(
            f"{file}: line 1", code="FW-U-333", read=f"the column {', '.join(twice)} twice",
            expected="each column once", matters="nobody could tell which of the two counts",
            do="name the second one for what it holds",
        )  # fmt: skip


def _spot(header: Sequence[str], row: Sequence[str], line: int, file: str) -> Spot | list[FluewrightError]:
    """One line as a point, or what is wrong with it."""
    where = f"{file}: line {line}"
    if len(row) != len(header):
        return [
            _problem(
                where,
                code="FW-U-334",
                read=f"{len(row)} cells",
                expected=f"{len(header)}, as the first line has",
                matters="what stands behind the missing cell would slip into another column",
                do="mend the line: a decimal comma in a table parted by commas does this",
            )
        ]
    cells = dict(zip(header, row, strict=True))
    found = {name: _number(text, name, where) for name, text in cells.items()}
    wrong: list[FluewrightError] = [each for each in found.values() if isinstance(each, FluewrightError)]
    rate, way = found["rate_percent"], cells.get("way", "").strip().lower()
    if not cells["fuel"].strip() or rate is None or way not in WAYS:
        wrong.append(
            _problem(
                where,
                code="FW-U-335",
                read=f"fuel {cells['fuel']!r}, rate {cells['rate_percent']!r}, way {way!r}",
                expected="a fuel, a rate, and down, up or nothing for the way",
                matters="the point belongs to no curve",
                do="fill the cell, or take the line out",
            )
        )
    if wrong or not isinstance(rate, float):
        return wrong
    values = {name: each for name, each in found.items() if isinstance(each, float) and name != "rate_percent"}
    return Spot(line, Key(cells["fuel"].strip(), cells.get("mode", "").strip(), way), rate, values, tuple(row))


def curve_set_of(*, text: str, file: str = "curve set") -> CurveSet:
    """A set of curves from the text of its table.

    text  CSV parted by commas, semicolons or tabs, the first line naming the columns
    file  for errors
    -> set; Problems with every line that cannot be taken
    """
    first = text.lstrip("\ufeff").split("\n", 1)[0]
    delimiter = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""), delimiter=delimiter)
    try:
        numbered = [(reader.line_num, row) for row in reader if any(cell.strip() for cell in row)]
    except csv.Error as error:
        raise _problem(
            f"{file}: line {reader.line_num}", code="FW-U-337", read=f"a line that is no row of a table: {error}",
            expected="cells parted by one sign, in quotes where they hold it", matters="nothing behind it can be told",
            do="mend the quotes of that line",
        ) from error  # fmt: skip
    if len(numbered) < 2 or len(numbered) > MOST_ROWS:
        read = f"{max(0, len(numbered) - 1)} points"
        raise _problem(
            file, code="FW-U-336", read=read, expected=f"a line of column names and 1 to {MOST_ROWS} points below it",
            matters="there is no curve to look at", do="write one line for each point",
        )  # fmt: skip
    header = tuple(name.strip() for name in numbered[0][1])
    errors = list(_header(header, file))
    if errors:
        raise Problems(subject=file, errors=errors)
    made = [_spot(header, row, line, file) for line, row in numbered[1:]]
    errors = [error for each in made if isinstance(each, list) for error in each]
    if errors:
        raise Problems(subject=file, errors=errors)
    return CurveSet(header, tuple(each for each in made if isinstance(each, Spot)), delimiter)


def read(path: Path) -> CurveSet:
    """A set of curves from a file.

    path  CSV in UTF-8
    -> set; UseError FW-U-338 when the file cannot be read, and what `curve_set_of` refuses
    """
    try:
        raw = path.read_bytes()
        if len(raw) > MOST_BYTES:
            raise ValueError(f"{len(raw)} bytes")
        text = raw.decode("utf-8-sig")
    except (OSError, ValueError) as error:
        raise UseError(
            code="FW-U-338",
            where=path.name,
            read=f"the table cannot be read: {getattr(error, 'strerror', None) or error}",
            expected=f"text in UTF-8, at most {MOST_BYTES} bytes",
            matters="there is no curve to look at",
            do="save the table as CSV in UTF-8 where this name leads",
        ) from error
    return curve_set_of(text=text, file=path.name)


def text_of(found: CurveSet, *, more: Mapping[str, Sequence[str]] | None = None) -> str:
    """A set as the text of a table: every cell as it was read, further columns behind.

    more  cells by column, one for each point in the order of the file
    """
    further = more or {}
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=found.delimiter, lineterminator="\n")
    writer.writerow((*found.header, *further))
    for i, spot in enumerate(found.spots):
        writer.writerow((*spot.cells, *(cells[i] for cells in further.values())))
    return out.getvalue()


Flaw = Literal["gap", "not monotone", "twice"]


@dataclass(frozen=True, slots=True)
class Noticed:
    """Something about a curve: what kind, which curve, which lines of the file, in words."""

    kind: Flaw
    key: Key
    lines: tuple[int, ...]
    words: str


def gaps(found: CurveSet) -> Iterator[Noticed]:
    """Neighbours on a curve whose rates lie too far apart."""
    most = trade.practice("curve-gap")
    for key, spots in found.curves().items():
        for low, high in pairwise(spots):
            if high.rate - low.rate > most + 1e-9:
                ends = number(100 * low.rate, ".0f"), number(100 * high.rate, ".0f")
                words = say("nothing between {low} % and {high} % of full rate", low=ends[0], high=ends[1])
                yield Noticed("gap", key, (low.line, high.line), words)


def twice(found: CurveSet) -> Iterator[Noticed]:
    """Points of one curve at one rate."""
    for key, spots in found.curves().items():
        for one, other in pairwise(spots):
            if math.isclose(one.rate, other.rate, abs_tol=1e-6):
                yield Noticed(
                    "twice",
                    key,
                    (one.line, other.line),
                    say("two points at {rate} % of full rate", rate=number(one.rate * 100, ".0f")),
                )


def not_monotone(found: CurveSet) -> Iterator[Noticed]:
    """Actuators and fans that turn round on the way from low to full rate; recirculation may."""
    for key, spots in found.curves().items():
        columns = [name for name in found.header if name.startswith(POSITION) or name == SPEED]
        for column in columns:
            read = [spot for spot in spots if column in spot.values]
            if len(read) < 3:
                continue
            rising = 1.0 if read[-1].values[column] >= read[0].values[column] else -1.0
            for low, high in pairwise(read):
                if rising * (high.values[column] - low.values[column]) < -1e-9:
                    ends = number(low.rate * 100, ".0f"), number(high.rate * 100, ".0f")
                    words = say(
                        "{column} turns round from {low} to {high} % of full rate",
                        column=column, low=ends[0], high=ends[1],
                    )  # fmt: skip
                    yield Noticed("not monotone", key, (low.line, high.line), words)


def value_at(found: CurveSet, *, key: Key, rate: float, column: str) -> float:
    """A reading or position between two points of one curve.

    key     fuel, mode and way; another fuel is never taken in its place
    rate    share of full
    column  as the table names it
    -> canonical unit; PhysicsRefused across fuels, beyond the ends and across a gap
    """
    spots = [spot for spot in found.curves().get(key, ()) if column in spot.values]
    if not spots:
        fuels = ", ".join(sorted({each.fuel for each in found.curves()}))
        raise PhysicsRefused(
            code="FW-K-122", read=f"{column} asked on {key.words}", expected=f"a curve of it; the set has {fuels}",
            matters="another fuel needs other air at the same position, so nothing is carried over between fuels",
            do="walk the curve on this fuel, in this mode and way",
        )  # fmt: skip
    for low, high in pairwise(spots):
        if low.rate <= rate <= high.rate and high.rate - low.rate <= trade.practice("curve-gap") + 1e-9:
            share = 0.0 if high.rate == low.rate else (rate - low.rate) / (high.rate - low.rate)
            return low.values[column] + share * (high.values[column] - low.values[column])
    exact = next((spot for spot in spots if math.isclose(spot.rate, rate, abs_tol=1e-9)), None)
    if exact is not None:
        return exact.values[column]
    raise PhysicsRefused(
        code="FW-K-123", read=f"{column} asked at {rate * 100:.0f} % of full rate",
        expected=f"a rate between two points of {key.words} no further apart than the gap allowed",
        matters="between far points a linkage does what it likes", do="take a point there",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Apart:
    """Two curves at one rate: value of the second less that of the first, canonical unit."""

    rate: float
    column: str
    difference: float


def _apart(one: CurveSet, first: Key, other: CurveSet, second: Key, column: str) -> Iterator[Apart]:
    for spot in one.curves().get(first, ()):
        if column not in spot.values:
            continue
        try:
            there = value_at(other, key=second, rate=spot.rate, column=column)
        except PhysicsRefused:
            continue
        yield Apart(spot.rate, column, there - spot.values[column])


def play(found: CurveSet, *, column: str = "oxygen_dry_percent") -> dict[Key, tuple[Apart, ...]]:
    """How far the way up lies from the way down, by the key of the way down."""
    keys = [key for key in found.curves() if key.way == "down"]
    made = {key: tuple(_apart(found, key, found, Key(key.fuel, key.mode, "up"), column)) for key in keys}
    return {key: each for key, each in made.items() if each}


def changed(before: CurveSet, after: CurveSet, *, column: str = "oxygen_dry_percent") -> dict[Key, tuple[Apart, ...]]:
    """What moved between two sets of one burner, curve by curve; curves of other keys are never compared."""
    made = {key: tuple(_apart(before, key, after, key, column)) for key in before.curves()}
    return {key: each for key, each in made.items() if each}
