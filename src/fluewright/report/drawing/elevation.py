"""The elevation of the pressure section: ground, house, flue, and the appliances with their connectors."""

from collections.abc import Callable
from dataclasses import dataclass

from fluewright.report.drawing.data import Firing, House, PressureSection
from fluewright.report.drawing.svg import Canvas, hatched, polyline, rectangle, wrapped

WALL_LEFT, WALL_RIGHT, FLUE = 0.10, 0.92, 0.76
"""Where walls and flue stand, shares of the elevation's breadth."""
FLUE_HALF = 0.034
ROOM_FOR_APPLIANCES = (0.15, 0.66)
"""Between which shares of the breadth the appliances stand."""
FLAMES = (-0.2, 0.0, 0.2)


@dataclass(frozen=True, slots=True)
class Elevation:
    """Where the elevation is drawn: its breadth in px and the height scale it shares with the pressures."""

    canvas: Canvas
    breadth: float
    y: Callable[[float], float]
    narrow: bool

    def x(self, share: float) -> float:
        """A share of the breadth."""
        return self.breadth * share

    def box(self, index: int, count: int) -> tuple[float, float]:
        """Left and right edge of one appliance."""
        start, end = ROOM_FOR_APPLIANCES
        each = (end - start) / max(count, 2)
        left = start + each * index + 0.12 * each
        return self.x(left), self.x(left + 0.70 * each)

    def outside(self, height: float, drawn: PressureSection) -> float:
        """Where a guide line at a height leaves the elevation: at the flue, or at the connector below its foot."""
        return self.x(FLUE + FLUE_HALF) + 8 if height > drawn.house.foot else self.x(WALL_RIGHT) - 6


def draw(built: Elevation, drawn: PressureSection) -> None:
    """Ground, house, flue, appliances, from the back to the front."""
    _ground(built, drawn.house)
    _walls(built, drawn.house)
    for index, firing in enumerate(drawn.firings):
        _appliance(built, firing, *built.box(index, len(drawn.firings)))
    _flue(built, drawn.house)
    if not built.narrow:
        _names(built, drawn)


def _ground(built: Elevation, house: House) -> None:
    """Earth beside and below the cellar, hatched."""
    left, right, edge = built.x(WALL_LEFT), built.x(WALL_RIGHT), built.x(1.0)
    level, floor, deep = built.y(house.ground), built.y(0.0), built.y(-0.35)
    for polygon in (
        rectangle(0.0, level, left, deep),
        rectangle(right, level, edge, deep),
        rectangle(left, floor, right, deep),
    ):
        built.canvas.path(hatched(polygon, gap=6, angle=-45), "hatch")
    line = [(0.0, level), (left, level), (left, floor), (right, floor), (right, level), (edge, level)]
    built.canvas.path(polyline(line), "edge")


def _walls(built: Elevation, house: House) -> None:
    """Walls, floors and roof in thin lines."""
    left, right = built.x(WALL_LEFT), built.x(WALL_RIGHT)
    foot = built.y(max(house.ground, 0.0))
    eaves, ridge = built.y(house.eaves), built.y(house.ridge)
    built.canvas.path(
        polyline([(left, foot), (left, eaves), ((left + right) / 2, ridge), (right, eaves), (right, foot)]), "faint"
    )
    for height in house.floors:
        built.canvas.line((left, built.y(height)), (right, built.y(height)), "faint")


def _flue(built: Elevation, house: House) -> None:
    """Two heavy lines, the space between them clear."""
    middle, half = built.x(FLUE), max(built.x(FLUE_HALF), 5.0) + 4.0
    foot, top = built.y(house.foot), built.y(house.top)
    built.canvas.path(polyline(rectangle(middle - half, top, middle + half, foot), closed=True), "ground")
    for side in (-half, half):
        built.canvas.line((middle + side, foot), (middle + side, top), "path")


def _appliance(built: Elevation, firing: Firing, left: float, right: float) -> None:
    """A jacket with its flame, and the pipe to the flue; a hood where it stands open to the room."""
    canvas, wide, middle = built.canvas, right - left, (left + right) / 2
    top, outlet, joins = built.y(firing.top), built.y(firing.outlet), built.y(firing.joins)
    canvas.path(polyline(rectangle(left, top, right, built.y(0.06)), closed=True), "edge")
    pipe = max(0.10 * wide, 3.0)
    end = built.x(FLUE) - max(built.x(FLUE_HALF), 5.0) - 4.0
    if firing.hood:
        for side in (-1.0, 1.0):
            skirt = [(middle + side * 0.36 * wide, outlet + 4), (middle + side * pipe, outlet - 10)]
            canvas.path(polyline(skirt), "edge")
            canvas.line((middle + side * 0.16 * wide, top), (middle + side * 0.16 * wide, outlet + 7), "edge")
    base = outlet - 10 if firing.hood else top
    upper = [(middle - pipe, base), (middle - pipe, joins - pipe), (end, joins - pipe)]
    lower = [(middle + pipe, base), (middle + pipe, joins + pipe), (end, joins + pipe)]
    canvas.path(polyline([*upper, *reversed(lower)], closed=True), "ground")
    canvas.path(polyline(upper), "edge")
    canvas.path(polyline(lower), "edge")
    if firing.lit:
        _flame(canvas, middle, built.y(0.28), wide)


def _flame(canvas: Canvas, middle: float, foot: float, wide: float) -> None:
    """Three tongues over a burner bar."""
    canvas.line((middle - 0.3 * wide, foot), (middle + 0.3 * wide, foot), "edge")
    for part in FLAMES:
        x = middle + part * wide
        canvas.path(
            polyline([(x - 3, foot), (x - 3.4, foot - 7), (x, foot - 15), (x + 3.4, foot - 7), (x + 3, foot)]), "faint"
        )


def _names(built: Elevation, drawn: PressureSection) -> None:
    """The name of each appliance below the floor line, where there is room."""
    count = len(drawn.firings)
    for index, firing in enumerate(drawn.firings):
        left, right = built.box(index, count)
        room = (right - left) / 0.70
        words = firing.words if firing.lit else f"{firing.words}, off"
        for row, line in enumerate(wrapped(words, room=room)[:2]):
            built.canvas.text(((left + right) / 2, built.y(-0.35) + 16 + 16 * row), line, "note", anchor="middle")
