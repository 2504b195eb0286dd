"""The class of an appliance, its named sampling points and its events, as a visit file tells them."""

from collections.abc import Mapping
from typing import Any, cast, get_args

from fluewright.appliance import load
from fluewright.appliance.points import validity
from fluewright.appliance.record import ApplianceClass
from fluewright.errors import UseError
from fluewright.evidence.lit import UNSAID, moment
from fluewright.evidence.reading import Event, Happening, Point, PointKind
from fluewright.visit.source import Source

Texts = Mapping[str, Any]


def class_in(file: Source) -> ApplianceClass | None:
    """The class of the appliance; None when it is not said or not known, with the problem noted once."""
    table = file.table("appliance")
    if "class" not in table:
        return None
    typed = str(table["class"])
    try:
        return load.load(typed)
    except UseError as error:
        place = f"{file.path.name}: appliance, class"
        if all(noted.where != place for noted in file.gathered.errors):
            file.gathered.keep("appliance, class", error)
        return None


def _disagrees(file: Source, place: str, said: str, point: Point) -> None:
    file.gathered.add(
        code="FW-V-090",
        place=f"{place}, point_kind",
        read=f"{said!r} for {point.name}, which is a point of the class {point.place!r}",
        expected=f"{point.kind!r}, or no point_kind: it follows from the point",
        matters="one of them would say that room air is in the gas and the other that it is not",
        do="correct the point or take point_kind out",
    )


def _unknown(file: Source, place: str, typed: str, of_class: ApplianceClass) -> None:
    file.gathered.add(
        code="FW-V-091",
        place=f"{place}, point",
        read=f"the point {typed!r}",
        expected="a named point of this class: " + "; ".join(each.name for each in of_class.points),
        matters="a misspelled point above the hood would count as undiluted",
        do="write one of these, or add point_class or point_kind to say what the gas there is",
    )


def point_in(file: Source, place: str, row: Texts) -> Point:
    """The sampling point of a stretch: by its name in the class, by its own class, or by the kind of its gas."""
    of_class = class_in(file)
    name = file.text(place, row, "point", "the flue")
    named = of_class.point(name) if of_class is not None else None
    said = file.choice(place, row, "point_kind", get_args(PointKind)) if "point_kind" in row else ""
    column = named.point_class if named is not None else ""
    if "point_class" in row:
        typed = file.choice(place, row, "point_class", tuple(validity().points))
        if column and typed != column:
            _disagrees(file, place, typed, Point(name, cast(PointKind, validity().points[column].kind), column))
        column = column or typed
    if not column:
        if of_class is not None and "point" in row and not said:
            _unknown(file, place, name, of_class)
        if of_class is not None and "point" not in row and not said:
            name = UNSAID
        return Point(name, cast(PointKind, said or "undiluted"))
    point = Point(name, cast(PointKind, validity().points[column].kind), column)
    if said and said != point.kind:
        _disagrees(file, place, said, point)
    return point


def events_in(file: Source) -> tuple[Event, ...]:
    """What burner and fans did, in order; problems are noted."""
    found = []
    for place, row in file.rows("event"):
        time, word = file.text(place, row, "time"), file.choice(place, row, "word", get_args(Happening))
        if moment(time) is None:
            file.gathered.add(
                code="FW-V-092",
                place=f"{place}, time",
                read=f"{time!r}",
                expected="a time of day, such as 09:41 or 09:41:30",
                matters="every reading gets its minutes since lighting from it",
                do="write hours and minutes with a colon",
            )
        found.append(Event(time, cast(Happening, word)))
    return tuple(found)
