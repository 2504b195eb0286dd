"""Where a probe can go: an elevation of one kind of appliance with its named points, each of them a link.

It is no portrait of any appliance: a jacket, a flame, a way out for the gas, and what stands open to the room.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from html import escape

from fluewright.appliance.points import validity
from fluewright.appliance.record import ApplianceClass, SamplingPoint
from fluewright.report.drawing.svg import Canvas, Point, hatched, number, polyline, rectangle
from fluewright.report.tree import Table

WIDTH, HEIGHT = 328.0, 316.0
FLOOR, BODY_TOP, LEFT, RIGHT = 296.0, 176.0, 116.0, 220.0
MIDDLE = (LEFT + RIGHT) / 2
PIPE, CHIMNEY = 78.0, 286.0
"""Height of the pipe that leads to the chimney, and where that stands."""
HALF = 9.0
DISC, REACH = 14.0, 24.0
"""px: a drawn point, and how far around it a finger still hits it."""
APART = 54.0

AT: Mapping[str, Point] = {
    "undiluted": (MIDDLE, 154.0), "one cell": (MIDDLE, 206.0), "collar": (MIDDLE, 150.0), "over fire": (MIDDLE, 236.0),
    "breech": (MIDDLE, 152.0), "after economiser": (MIDDLE, 124.0), "terminal": (CHIMNEY, 26.0),
    "above hood": (MIDDLE, 92.0), "after damper": (MIDDLE + 62.0, PIPE), "common flue": (CHIMNEY, 74.0),
    "oven vent": (MIDDLE, 152.0), "plume": (MIDDLE, 134.0), "intake": (58.0, 252.0), "room": (44.0, 118.0),
    "supply air": (72.0, 196.0),
}  # fmt: skip
"""Where the points of a class stand in the picture."""

NO_FLUE = frozenset({"plume", "oven vent", "room", "supply air"})
"""Point classes of an appliance that lets its gas into the room."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A point in the picture: its number in the list, the point, and where it is drawn."""

    number: int
    point: SamplingPoint
    at: Point


def spots(of_class: ApplianceClass) -> tuple[Spot, ...]:
    """The points of a class with their places in the picture; several of one class stand side by side."""
    found = []
    for index, point in enumerate(of_class.points, 1):
        same = [each for each in of_class.points if each.point_class == point.point_class]
        x, y = AT.get(point.point_class, AT["undiluted"])
        shift = (same.index(point) - (len(same) - 1) / 2) * APART
        upright = point.point_class in ("terminal", "common flue", "room", "intake", "supply air")
        found.append(Spot(index, point, (x, y + shift) if upright else (x + shift, y)))
    return tuple(found)


def svg(of_class: ApplianceClass, *, lead: Callable[[SamplingPoint], str], chosen: str = "") -> str:
    """The picture with a link at every point.

    of_class  the kind of appliance
    lead      address that a point leads to
    chosen    name of the point that is chosen, drawn with a ring
    -> SVG in bare classes; the page brings the style
    """
    canvas = Canvas(width=WIDTH, height=HEIGHT, label=f"{of_class.words}: where the probe goes")
    classes = {each.point_class for each in of_class.points}
    _room(canvas)
    if not classes <= NO_FLUE:
        _flue(canvas, hood="above hood" in classes)
    if "intake" in classes or "collar" in classes:
        _pipe(canvas, ((24.0, 252.0), (LEFT, 252.0)))
    if "supply air" in classes:
        _pipe(canvas, ((LEFT, 196.0), (24.0, 196.0)))
    _body(canvas, bottom="plume" in classes)
    for spot in spots(of_class):
        _spot(canvas, spot, lead(spot.point), chosen=spot.point.name == chosen)
    return canvas.element(ink="paper", weight="regular", alone=False, role="group")


def twin(of_class: ApplianceClass) -> Table:
    """The same as a table: number, point, what the gas there is."""
    known = validity().points
    rows = ((str(each.number), each.point.name, known[each.point.point_class].words) for each in spots(of_class))
    return Table(("", "point", "what is there"), tuple(rows))


def _room(canvas: Canvas) -> None:
    canvas.path(hatched(rectangle(8.0, FLOOR, WIDTH - 8.0, FLOOR + 12.0), gap=6, angle=-45), "hatch")
    canvas.line((8.0, FLOOR), (WIDTH - 8.0, FLOOR), "edge")


def _pipe(canvas: Canvas, run: tuple[Point, Point]) -> None:
    """A round pipe seen from the side: two heavy lines with paper between them."""
    (x1, y1), (x2, y2) = run
    dx, dy = (0.0, HALF) if abs(x2 - x1) > abs(y2 - y1) else (HALF, 0.0)
    canvas.path(polyline(rectangle(x1 - dx, y1 - dy, x2 + dx, y2 + dy), closed=True), "ground")
    canvas.line((x1 - dx, y1 - dy), (x2 - dx, y2 - dy), "path")
    canvas.line((x1 + dx, y1 + dy), (x2 + dx, y2 + dy), "path")


def _flue(canvas: Canvas, *, hood: bool) -> None:
    """The chimney, the pipe to it, and a hood where the appliance has one."""
    _pipe(canvas, ((CHIMNEY, 12.0), (CHIMNEY, FLOOR)))
    _pipe(canvas, ((MIDDLE - HALF, PIPE), (CHIMNEY - HALF + 1.5, PIPE)))
    _pipe(canvas, ((MIDDLE, PIPE), (MIDDLE, 116.0 if hood else BODY_TOP)))
    canvas.line((MIDDLE - HALF, PIPE - HALF), (MIDDLE - HALF, PIPE), "path")
    if hood:
        skirt = [(MIDDLE - 34, 138.0), (MIDDLE - HALF, 114.0), (MIDDLE + HALF, 114.0), (MIDDLE + 34, 138.0)]
        canvas.path(polyline(skirt), "path")
        _pipe(canvas, ((MIDDLE, 148.0), (MIDDLE, BODY_TOP)))


def _body(canvas: Canvas, *, bottom: bool) -> None:
    """The jacket and its flames; one that burns openly has no lid."""
    corners = rectangle(LEFT, BODY_TOP, RIGHT, FLOOR)
    canvas.path(polyline(corners, closed=True), "ground")
    walls = [corners[0], corners[3], corners[2], corners[1]]
    canvas.path(polyline(walls, closed=not bottom), "path")
    for shift in (-30.0, -10.0, 10.0, 30.0):
        x = MIDDLE + shift
        canvas.path(polyline([(x - 6, FLOOR - 10), (x, FLOOR - 30), (x + 6, FLOOR - 10)], closed=True), "open")
    canvas.line((LEFT + 14, FLOOR - 9), (RIGHT - 14, FLOOR - 9), "edge")


def _spot(canvas: Canvas, spot: Spot, address: str, *, chosen: bool) -> None:
    x, y = spot.at
    ring = f'<circle class="doubt" cx="{number(x)}" cy="{number(y)}" r="{number(DISC + 5)}"/>' if chosen else ""
    name = escape(f"{spot.number}, {spot.point.name}", quote=True)
    state = ' aria-current="true"' if chosen else ""
    canvas.shapes.append(
        f'<a href="{escape(address, quote=True)}" aria-label="{name}"{state}>'
        f'<circle class="reach" cx="{number(x)}" cy="{number(y)}" r="{number(REACH)}"/>{ring}'
        f'<circle class="open" cx="{number(x)}" cy="{number(y)}" r="{number(DISC)}"/>'
        f'<text class="value" x="{number(x)}" y="{number(y + 5)}" text-anchor="middle">{spot.number}</text></a>'
    )
