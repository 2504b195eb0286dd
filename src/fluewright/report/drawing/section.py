"""The pressure section: an elevation of house, appliances and flue, and the pressure beside it at the same heights."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor, log10

from fluewright.report.drawing import elevation
from fluewright.report.drawing.data import Case, Height, Pin, PressureSection
from fluewright.report.drawing.elevation import Elevation
from fluewright.report.drawing.place import Places
from fluewright.report.drawing.svg import Canvas, Point, breadth, hatched, polyline
from fluewright.report.phrase import said
from fluewright.report.tree import Table

TOP, FOOT = 44.0, 62.0
"""px above the highest and below the lowest height drawn."""
BELOW_FLOOR = 0.35
"""m drawn below the floor."""
NARROW = 480.0
"""px: narrower than this the captions are the short ones."""
SPILL = 26.0
"""px of the hatched side beside the room's line."""
LOWER, UPPER = 0.36, 0.58
"""Share of the flue's height at which the first case is named, and the others: where the lines stand apart."""
WORTH_A_HEAD = 16.0
"""px: a dimension line shorter than this has no room for its arrow heads."""


def pressures(drawn: PressureSection) -> list[float]:
    """Every pressure of the drawing."""
    held = [pressure for case in drawn.cases for pressure in _of_case(case)]
    return [0.0, *held, *(pin.pressure + side * pin.spread for pin in drawn.pins for side in (-2.0, 2.0))]


def _of_case(case: Case) -> Iterator[float]:
    ways = (case.room, case.flue, *(branch.way for branch in case.branches))
    yield from (pressure for way in ways for _, pressure in way)


class Frame:
    """Turns heights and pressures into places on the paper."""

    def __init__(self, drawn: PressureSection, width: float) -> None:
        self.drawn = drawn
        self.width = width
        self.narrow = width < NARROW
        self.height = max(420.0, min(0.74 * width, 560.0))
        self.middle = width * (0.34 if self.narrow else 0.40)
        self.left, self.right = self.middle + (16 if self.narrow else 26), width - 12
        held = pressures(drawn)
        reach = max(max(held) - min(held), 1.0)
        self.low, self.high = min(held) - 0.08 * reach, max(held) + 0.14 * reach
        self.highest = max(drawn.house.top, drawn.house.ridge)

    def y(self, height: float) -> float:
        """Up: metres above the floor of the appliances."""
        share = (height + BELOW_FLOOR) / (self.highest + BELOW_FLOOR)
        return TOP + (self.height - TOP - FOOT) * (1.0 - share)

    def x(self, pressure: float) -> float:
        """Across: Pa against outdoors at the same height."""
        return self.left + (self.right - self.left) * (pressure - self.low) / (self.high - self.low)

    def at(self, point: Height) -> Point:
        """A height and its pressure."""
        return self.x(point[1]), self.y(point[0])

    def way(self, points: Sequence[Height]) -> list[Point]:
        """A line of pressure over height."""
        return [self.at(point) for point in points]


def draw(drawn: PressureSection, *, width: float) -> Canvas:
    """The section at a width in px."""
    frame = Frame(drawn, width)
    canvas = Canvas(
        width=width, height=frame.height, label="Pressure section of house, appliances and flue, against outdoors"
    )
    built = Elevation(canvas, frame.middle, frame.y, narrow=frame.narrow)
    elevation.draw(built, drawn)
    for pin in drawn.pins:
        start = built.outside(pin.height, drawn)
        canvas.line((start, frame.y(pin.height)), (frame.x(pin.pressure), frame.y(pin.height)), "curve")
    axes(canvas, frame)
    places = Places((frame.left, TOP - 10, frame.right, frame.y(0.0)))
    for index, case in reversed(list(enumerate(drawn.cases))):
        lines(canvas, frame, case, first=index == 0)
        places.paths += [frame.way(case.flue), *(frame.way(branch.way) for branch in case.branches)]
    dimension(canvas, frame, places)
    pins(canvas, frame)
    captions(canvas, frame, places)
    return canvas


def axes(canvas: Canvas, frame: Frame) -> None:
    """Outdoors as the upright line, pressure below."""
    foot = frame.y(-BELOW_FLOOR) + 6
    out = frame.x(0.0)
    canvas.line((out, foot), (out, TOP - 14), "axis")
    half = breadth("outdoors") / 2
    canvas.text((min(out, frame.right + 10 - half), TOP - 20), "outdoors", "note", anchor="middle")
    canvas.line((frame.left, foot), (frame.right, foot), "axis")
    for value in ticks(frame.low, frame.high, room=frame.right - frame.left):
        x = frame.x(value)
        canvas.line((x, foot), (x, foot + 6), "axis")
        canvas.text((x, foot + 22), f"{value:g}".replace("-", "−"), anchor="middle")
    words = "Pa against outdoors" if frame.narrow else "Pa against outdoors at the same height"
    canvas.text((frame.right, foot + 44), words, anchor="end")


def ticks(low: float, high: float, *, room: float) -> list[float]:
    """Round values between two ends, as many as have room."""
    wanted = max(2.0, room / 62.0)
    power = 10.0 ** floor(log10((high - low) / wanted))
    step = next(power * part for part in (1.0, 2.0, 5.0, 10.0) if (high - low) / (power * part) <= wanted)
    return [count * step for count in range(ceil(low / step), floor(high / step) + 1)]


def lines(canvas: Canvas, frame: Frame, case: Case, *, first: bool) -> None:
    """One case: the room, every branch, the flue; heavy for the first, broken for the others."""
    heavy, thin = ("path", "edge") if first else ("dashed", "dashed")
    canvas.path(polyline(frame.way(case.room)), thin)
    for branch in case.branches:
        way = frame.way(branch.way)
        start = branch.way[0]
        opening = (frame.x(_in_room(case, start[0])), way[0][1])
        if branch.opens and (first or branch.spills):
            spill_side(canvas, frame, case, start, bold=branch.spills)
        if branch.opens:
            canvas.line(opening, way[0], heavy)
        canvas.path(polyline(way), heavy)
    canvas.path(polyline(frame.way(case.flue)), heavy)


def _in_room(case: Case, height: float) -> float:
    """Pressure of the room at a height, straight between floor and ceiling and beyond."""
    (low, at_low), (high, at_high) = case.room
    return at_low + (at_high - at_low) * (height - low) / ((high - low) or 1.0)


def spill_side(canvas: Canvas, frame: Frame, case: Case, opening: Height, *, bold: bool) -> None:
    """Right of the room's line at an opening gas comes out: hatched, and hatched heavily where it does."""
    height, pressure = opening
    low, high = frame.y(height - 0.28), frame.y(height + 0.28)
    left_low, left_high = frame.x(_in_room(case, height - 0.28)), frame.x(_in_room(case, height + 0.28))
    reach = max(SPILL, frame.x(pressure) - min(left_low, left_high) + 8.0) if bold else SPILL
    area = [(left_low, low), (left_high, high), (left_high + reach, high), (left_low + reach, low)]
    canvas.path(hatched(area, gap=4 if bold else 5, angle=-35), "hatch bold" if bold else "hatch")


def dimension(canvas: Canvas, frame: Frame, places: Places) -> None:
    """The draft at the first measured point: how far it lies below the room at that height."""
    pin = next((one for one in frame.drawn.pins if one.case == 0), None)
    if pin is None or not frame.drawn.cases:
        return
    room = _in_room(frame.drawn.cases[0], pin.height)
    near, far, level = frame.x(pin.pressure), frame.x(room), frame.y(pin.height) - 38
    for x in (near, far):
        canvas.line((x, frame.y(pin.height) - 9), (x, level - 5), "faint")
    canvas.line((near, level), (far, level), "faint")
    if abs(far - near) > WORTH_A_HEAD:
        inward = 6.0 if far > near else -6.0
        canvas.path(polyline([(near + inward, level - 3), (near, level), (near + inward, level + 3)]), "faint")
        canvas.path(polyline([(far - inward, level - 3), (far, level), (far - inward, level + 3)]), "faint")
    words = f"draft {said(abs(room - pin.pressure), pin.spread)} Pa" if room > pin.pressure else "no draft"
    half = breadth(words) / 2
    middle = min(max((near + far) / 2, frame.left + half), frame.right - half)
    canvas.text((middle, level - 8), words, "note halo", anchor="middle")
    places.taken.append((middle - half, level - 22, middle + half, level + 4))


def pins(canvas: Canvas, frame: Frame) -> None:
    """What was measured: a disc with its doubt; open where it belongs to another case."""
    for pin in frame.drawn.pins:
        y = frame.y(pin.height)
        ends = [frame.x(pin.pressure + side * 2.0 * pin.spread) for side in (-1.0, 1.0)]
        canvas.line((ends[0], y), (ends[1], y), "doubt")
        canvas.disc((frame.x(pin.pressure), y), 5, "knot" if pin.case == 0 else "open")


def captions(canvas: Canvas, frame: Frame, places: Places) -> None:
    """Which line is which, what spills, and the room."""
    wanted: list[tuple[Point, list[str], float]] = []
    for index, case in enumerate(frame.drawn.cases):
        height = case.flue[0][0] + (UPPER if index else LOWER) * (case.flue[-1][0] - case.flue[0][0])
        wanted.append((frame.at((height, _on(case.flue, height))), [case.words], 10.0))
        for branch in case.branches:
            if branch.spills:
                wanted.append((frame.at(branch.way[0]), [f"{branch.words} spills"], 16.0))
    if frame.drawn.cases:
        case = frame.drawn.cases[0]
        wanted.append((frame.at((0.1, _in_room(case, 0.1))), ["room"], 8.0))
    for (at, anchor), (_, words, _) in zip(places.labels(wanted), wanted, strict=True):
        role = "value halo" if words[0].endswith(" spills") else "note halo"
        canvas.text(at, words[0], role, anchor=anchor)


def _on(way: Sequence[Height], height: float) -> float:
    """Pressure on a line at a height, the nearer end beyond it."""
    for (low, at_low), (high, at_high) in pairwise(way):
        if low <= height <= high and high > low:
            return at_low + (at_high - at_low) * (height - low) / (high - low)
    return way[0][1] if height < way[0][0] else way[-1][1]


def twin(drawn: PressureSection) -> Table:
    """The section as a table: every predicted and measured pressure with its place."""
    rows: list[tuple[str, ...]] = []

    def add(case: str, where: str, at: Height, how: str) -> None:
        rows.append((case, where, _high(drawn, at[0]), said(at[1]), how))

    for case in drawn.cases:
        for end, point in _ends(case.room):
            add(case.words, f"room, {end}", point, "predicted")
        for branch in case.branches:
            add(case.words, f"{branch.words}, at its opening", branch.way[0],
                "predicted; spills" if branch.spills else "predicted")  # fmt: skip
            add(case.words, f"{branch.words}, where it joins the flue", branch.way[-1], "predicted")
        for end, point in _ends(case.flue):
            add(case.words, f"flue, {end}", point, "predicted")
    rows += [_measured(drawn, pin) for pin in drawn.pins]
    unit = "ft" if drawn.feet else "m"
    return Table(heads=("case", "where", f"height, {unit}", "Pa against outdoors", "how known"), rows=tuple(rows))


def _high(drawn: PressureSection, height: float) -> str:
    """A height in the unit of the table."""
    return said(height / 0.3048 if drawn.feet else height)


def _ends(way: Sequence[Height]) -> tuple[tuple[str, Height], tuple[str, Height]]:
    return ("foot", way[0]), ("top", way[-1])


def _measured(drawn: PressureSection, pin: Pin) -> tuple[str, ...]:
    case = drawn.cases[pin.case].words if pin.case < len(drawn.cases) else ""
    return case, pin.words, _high(drawn, pin.height), said(pin.pressure, pin.spread), "measured"
