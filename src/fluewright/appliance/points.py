"""Classes of sampling points, and what each quantity is worth at each of them (practice P1)."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal, get_args

from fluewright.appliance import refusals
from fluewright.appliance.rows import each_once, one_of, rows, whole
from fluewright.errors import FluewrightError
from fluewright.quantity import names

Kind = Literal["undiluted", "diluted", "intake", "room", "supply"]
"""What the gas at a point is."""
Grade = Literal["valid", "wide", "refused"]
"""valid: as the instrument read it. wide: with more doubt. refused: not to be had there."""
Known = Literal["computed", "read", "from memory", "common practice, no source", "physics"]

OF_KIND: Mapping[str, str] = {
    "undiluted": "undiluted",
    "diluted": "above hood",
    "intake": "intake",
    "room": "room",
    "supply": "supply air",
}
"""The class of a point of which only the kind of its gas was said."""


@dataclass(frozen=True, slots=True)
class PointClass:
    """One class of sampling points.

    name    by which the table and the appliance classes name it
    words   as a person says it
    kind    what the gas there is
    mixing  relative standard uncertainty that uneven mixing adds to what is wide there, 0 where nothing is
    note    why that much
    """

    name: str
    words: str
    kind: str
    mixing: float
    note: str


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a cell is what it is, with its source and how that is known."""

    name: str
    words: str
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class Cell:
    """What one quantity is worth at one class of points."""

    quantity: str
    point: str
    grade: Grade
    reason: Reason


@dataclass(frozen=True, slots=True)
class Validity:
    """The whole table: point classes and quantities in the order of the file, and a cell for each pair."""

    points: Mapping[str, PointClass]
    words: Mapping[str, str]
    cells: Mapping[tuple[str, str], Cell] = field(default_factory=dict)

    def cell(self, quantity: str, point: str) -> Cell:
        """One cell; UseError where the table has no such row or column."""
        if point not in self.points:
            raise refusals.unknown_point_class(point, self.points)
        if quantity not in self.words:
            raise refusals.unknown_row(quantity, self.words)
        return self.cells[quantity, point]

    def row(self, quantity: str) -> tuple[Cell, ...]:
        """One quantity at every class of points."""
        return tuple(self.cell(quantity, point) for point in self.points)

    def column(self, point: str) -> tuple[Cell, ...]:
        """Every quantity at one class of points."""
        return tuple(self.cell(quantity, point) for quantity in self.words)


def _cells_of(
    quantity: str, table: Mapping[str, Any], reasons: Mapping[str, Reason], file: str
) -> Iterator[Cell | FluewrightError]:
    """The cells that one row of the file names, or what is wrong with them."""
    for grade in get_args(Grade):
        for reason, points in table.get(grade, {}).items():
            where = f"{file}: quantity {quantity}, {grade}"
            if reason not in reasons:
                yield refusals.unusable(where=where, read=f"the reason {reason!r}", expected=", ".join(reasons))
            elif not isinstance(points, list):
                yield refusals.unusable(where=where, read=f"{reason} = {points!r}", expected="a list of point classes")
            else:
                yield from (Cell(quantity, str(point), grade, reasons[reason]) for point in points)


def _row(
    quantity: str, table: Mapping[str, Any], frame: tuple[Mapping[str, PointClass], Mapping[str, Reason]], file: str
) -> Iterator[Cell | FluewrightError]:
    """One row with every class of points exactly once, or what is wrong with it."""
    points, reasons = frame
    where = f"{file}: quantity {quantity}"
    for key in set(table) - {"words", *get_args(Grade)}:
        yield refusals.unusable(where=where, read=f"the unknown key {key!r}", expected="words, valid, wide, refused")
    if "words" not in table and quantity not in names.REGISTRY:
        yield refusals.unusable(where=where, read="no words", expected="words, or a name of the registry")
    seen: list[str] = []
    for cell in _cells_of(quantity, table, reasons, file):
        if isinstance(cell, Cell):
            seen.append(cell.point)
            if cell.point in points and cell.grade == "wide" and points[cell.point].mixing <= 0.0:
                yield refusals.unusable(where=where, read=f"wide at {cell.point}", expected="a mixing above 0 there")
        yield cell
    for point in [*points, *(each for each in seen if each not in points)]:
        if seen.count(point) != 1 or point not in points:
            read = f"{point} {seen.count(point)} times" if point in points else f"the point class {point!r}"
            yield refusals.unusable(where=where, read=read, expected="every class of points exactly once")


def validity_of(*, text: str, file: str) -> Validity:
    """Read a table of validity, strictly.

    text  TOML: lists `point` and `reason`, tables `quantity.NAME`
    file  where it came from, for messages
    -> table; VisitError for one problem, Problems for several
    """
    try:
        document = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise refusals.unusable(where=file, read=str(error), expected="TOML without a repeated key") from error
    found: list[FluewrightError] = []
    for key in set(document) - {"point", "reason", "quantity"}:
        found.append(
            refusals.unusable(where=file, read=f"the unknown table {key!r}", expected="point, reason, quantity")
        )
    listed = rows(PointClass, document, "point", file, found)
    reasons = rows(Reason, document, "reason", file, found)
    each_once([each.name for each in listed], file, found)
    each_once([each.name for each in reasons], file, found)
    for each in listed:
        one_of(each.kind, get_args(Kind), f"{file}: point {each.name}", found)
    for reason in reasons:
        one_of(reason.known, get_args(Known), f"{file}: reason {reason.name}", found)
    points = {each.name: each for each in listed}
    frame = points, {each.name: each for each in reasons}
    cells: dict[tuple[str, str], Cell] = {}
    words: dict[str, str] = {}
    for quantity, table in document.get("quantity", {}).items():
        words[quantity] = table.get("words") or _words(quantity)
        for made in _row(quantity, table, frame, file):
            if isinstance(made, Cell):
                cells[quantity, made.point] = made
            else:
                found.append(made)
    whole(file, found)
    return Validity(points, words, cells)


def _words(quantity: str) -> str:
    known = names.REGISTRY.get(quantity)
    return quantity if known is None else known.words


@cache
def validity() -> Validity:
    """The table that came with the program."""
    entry = Path(__file__).parent / "validity.toml"
    return validity_of(text=entry.read_text(encoding="utf-8"), file="appliance/validity.toml")
