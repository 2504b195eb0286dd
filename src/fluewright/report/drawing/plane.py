"""The operating plane: oxygen against air-free carbon monoxide on a log scale, or against smoke for oil.

The upper edge carries the same scale as excess air. A loss curve holds only "if flue temperature stayed", because the
flue cools or heats when the air is changed (docs/printings.md).
"""

from math import floor, log10

from fluewright.quantity.meaning import Spread
from fluewright.report.drawing.data import Knot, Plane, Window
from fluewright.report.drawing.place import LEADING, Places
from fluewright.report.drawing.svg import Canvas, Point, breadth, hatched, polyline, rectangle, wrapped
from fluewright.report.phrase import said, said_between
from fluewright.report.tree import Table

FOOT = 22.0
"""Height of the band at the foot for what the cell cannot tell, px."""


class Frame:
    """Where the axes lie in a drawing of a given width."""

    def __init__(self, plane: Plane, width: float) -> None:
        self.plane = plane
        self.narrow = width < 520
        self.width = width
        self.height = round(width * (1.15 if self.narrow else 0.68)) + 40
        left = (64.0 if self.narrow else 84.0) if plane.smoke else (44.0 if self.narrow else 58.0)
        self.left, self.right = left, width - 12.0
        self.top, self.bottom = 56.0, self.height - 54.0
        self.floor_y = self.bottom if plane.smoke else self.bottom - FOOT

    def x(self, oxygen: float) -> float:
        """Across: oxygen, held at the right edge when it is beyond it (an edge mark says so)."""
        return self.left + (self.right - self.left) * min(oxygen, self.plane.oxygen_limit) / self.plane.oxygen_limit

    def y(self, carbon_monoxide: float) -> float:
        """Up: decades of air-free ppm; at or below the cell's floor the middle of the foot band."""
        floor_ppm, top_ppm = self.plane.cell_floor_ppm, self.plane.co_limit
        if carbon_monoxide <= floor_ppm:
            return self.bottom - FOOT / 2
        share = (log10(min(carbon_monoxide, top_ppm)) - log10(floor_ppm)) / (log10(top_ppm) - log10(floor_ppm))
        return self.floor_y - (self.floor_y - self.top) * share

    def row(self, smoke: float) -> float:
        """Up, for oil: the middle of the row of a smoke number 0..9."""
        return self.bottom - (self.bottom - self.top) / 10 * (smoke + 0.5)

    def at(self, knot: Knot) -> Point:
        """Where a knot lies."""
        up = self.row(knot.smoke or 0.0) if self.plane.smoke else self.y(knot.carbon_monoxide_air_free)
        return self.x(knot.oxygen), up

    def blot(self, knot: Knot) -> float:
        """Half the width of the mark of a step, px."""
        wide = (self.right - self.left) * min(2 * knot.spread_oxygen, 3.0) / self.plane.oxygen_limit
        return wide if self.plane.smoke else wide / 2 + 4

    def level(self, window: Window) -> float:
        """The upper edge of the window."""
        if self.plane.smoke:
            return self.row((window.smoke or 0.0) + 0.5)
        return self.y(window.carbon_monoxide)


def draw(plane: Plane, *, width: float) -> Canvas:
    """The plane at a width in px."""
    frame = Frame(plane, width)
    name = "smoke spot number" if plane.smoke else "air-free carbon monoxide"
    canvas = Canvas(width=width, height=frame.height, label=f"Operating plane: oxygen against {name}")
    places = Places((frame.left + 8, frame.top + 2, frame.right - 2, frame.floor_y))
    if plane.window:
        window_area(canvas, frame, plane.window)
    if plane.knee:
        knee_area(canvas, frame, plane.knee, places)
    if plane.smoke:
        smoke_rows(canvas, frame)
    else:
        loss_curves(canvas, frame, places)
    axes(canvas, frame)
    scale(canvas, frame)
    path = trail(frame)
    if len(path) > 1:
        places.paths.append(path)
        canvas.path(polyline(path), "clear")
        canvas.path(polyline(path), "path")
    if plane.window:
        window_words(canvas, frame, plane.window, places)
    for knot in plane.knots:
        x, y = frame.at(knot)
        half = max(9.0, frame.blot(knot) + 4)
        places.taken.append((x - half, y - 9, x + half, y + 9))
    for knot in plane.knots:
        knot_mark(canvas, frame, knot)
    live_line(canvas, frame, places)
    knot_words(canvas, frame, places)
    return canvas


def live_line(canvas: Canvas, frame: Frame, places: Places) -> None:
    """What the flame does now, in pen: the line of the last minutes, its end, and the word beside it."""
    if not frame.plane.live or frame.plane.smoke:
        return
    path = [(frame.x(oxygen), frame.y(ppm)) for oxygen, ppm in frame.plane.live]
    if len(path) > 1:
        places.paths.append(path)
        canvas.path(polyline(path), "clear")
        canvas.path(polyline(path), "growing")
    x, y = path[-1]
    places.taken.append((x - 9, y - 9, x + 9, y + 9))
    canvas.disc((x, y), 5.5, "knot live")
    if frame.plane.live_words:
        room = breadth(frame.plane.live_words, sans=True) + 14
        end = x + room > frame.right
        at = (x - 12 if end else x + 12, y - 10)
        places.taken.append((at[0] - room if end else at[0], at[1] - 14, at[0] if end else at[0] + room, at[1] + 4))
        canvas.text(at, frame.plane.live_words, "word live halo", anchor="end" if end else "start")


def trail(frame: Frame) -> list[Point]:
    """The line of the flame: the samples between the steps where there are any, else straight from step to step."""
    plane = frame.plane
    if plane.trail and not plane.smoke:
        return [(frame.x(oxygen), frame.y(co)) for oxygen, co in plane.trail]
    return [frame.at(knot) for knot in plane.knots]


def window_area(canvas: Canvas, frame: Frame, window: Window) -> None:
    """The region of the rule book, hatched, its edges drawn."""
    left, right = frame.x(window.low), frame.x(window.high)
    top, foot = frame.level(window), frame.floor_y
    canvas.path(hatched(rectangle(left, top, right, foot), gap=8, angle=-55), "hatch")
    canvas.path(polyline([(left, foot), (left, top), (right, top), (right, foot)]), "edge")


def window_words(canvas: Canvas, frame: Frame, window: Window, places: Places) -> None:
    """Label and citation above the window's edge; on a phone the citation stays in the caption and the table."""
    left, right, top = frame.x(window.low), frame.x(window.high), frame.level(window)
    room = max(right - left, 0.6 * (frame.right - frame.left))
    end = right if right - room >= frame.left + 6 else min(frame.right, left + room)
    lines = wrapped(window.label, room=room - 4)
    lines += [] if frame.narrow else wrapped(window.citation, room=room - 4)
    over, deep = top - 6, LEADING * len(lines)
    if frame.plane.live and not frame.plane.smoke:  # never behind the end of the live line
        x, y = frame.x(frame.plane.live[-1][0]), frame.y(frame.plane.live[-1][1])
        wide = max(map(breadth, lines))
        hidden = end - 16 - wide < x < end + 8 and over - deep - 8 < y < over + 10
        over = top + deep + 10 if hidden else over
    for index, line in enumerate(reversed(lines)):
        place_line(canvas, places, (end - 4, over - index * LEADING), line)


def place_line(canvas: Canvas, places: Places, at: Point, line: str) -> None:
    """A quiet line that ends at a point, and whose place is taken."""
    places.taken.append((at[0] - breadth(line), at[1] - 12, at[0], at[1] + 4))
    canvas.text(at, line, "note halo", anchor="end")


def knee_area(canvas: Canvas, frame: Frame, knee: tuple[float, float], places: Places) -> None:
    """The interval in which the knee lies, as a band over the whole height."""
    left, right = frame.x(knee[0]), frame.x(knee[1])
    canvas.path(hatched(rectangle(left, frame.top, right, frame.bottom), gap=5, angle=55), "hatch")
    for edge in (left, right):
        canvas.line((edge, frame.top), (edge, frame.bottom), "axis")
    room = max(frame.right - right - 12, right - frame.left)
    beside = frame.right - right - 12 == room
    found = f"the knee is somewhere in here: {said(knee[0])} to {said(knee[1])} % oxygen"
    for index, line in enumerate(wrapped(found, room=min(room, 220.0))):
        at = (right + 8 if beside else left - 8, frame.top + 20 + index * LEADING)
        start = at[0] if beside else at[0] - breadth(line)
        places.taken.append((start, at[1] - 12, start + breadth(line), at[1] + 4))
        canvas.text(at, line, "note halo", anchor="start" if beside else "end")


def loss_curves(canvas: Canvas, frame: Frame, places: Places) -> None:
    """Curves of equal stack loss, their per cent at the foot; every second is named where it is narrow."""
    right_of = frame.left
    for curve in frame.plane.losses:
        line = [
            (frame.x(oxygen), frame.y(co)) for oxygen, co in curve.points if 0.05 < oxygen <= frame.plane.oxygen_limit
        ]
        inside = [point for point in line if frame.top - 0.5 <= point[1] <= frame.floor_y + 0.5]
        if len(inside) < 2:
            continue
        canvas.path(polyline(inside), "curve")
        foot = max(inside, key=lambda point: point[1])
        words = f"{said(curve.percent)} %"
        wide = breadth(words)
        start = foot[0] + 5 if foot[0] + 5 + wide < frame.right else foot[0] - 5 - wide
        if start > right_of:
            canvas.text((start, frame.floor_y - 6), words, "note halo")
            places.taken.append((start, frame.floor_y - 18, start + wide, frame.floor_y))
            right_of = start + wide + 4


def smoke_rows(canvas: Canvas, frame: Frame) -> None:
    """Ten rows, each with a spot as dark as its number: the scale is ten steps of reflected light."""
    for smoke in range(10):
        y, half = frame.row(smoke), (frame.bottom - frame.top) / 20
        if smoke:
            canvas.line((frame.left, y + half), (frame.right, y + half), "faint")
        canvas.disc((frame.left - 22, y), min(10.0, half * 0.78), "spot", opacity=smoke / 10)
        canvas.text((frame.left - 38, y + 5), str(smoke), anchor="end")


def axes(canvas: Canvas, frame: Frame) -> None:
    """The frame: the wall at zero oxygen, oxygen below, excess air above."""
    left, right, top, bottom = frame.left, frame.right, frame.top, frame.bottom
    canvas.line((left, bottom), (right, bottom), "axis")
    canvas.line((left, top), (right, top), "axis")
    for whole in range(int(frame.plane.oxygen_limit) + 1):
        x = frame.x(whole)
        canvas.line((x, bottom), (x, bottom + (6 if whole % 2 == 0 else 3)), "axis")
        if whole % 2 == 0:
            canvas.text((x, bottom + 21), str(whole), anchor="middle")
    last: float = left
    for percent, oxygen in frame.plane.excess_air_ticks:
        x, words = frame.x(oxygen), said(percent)
        if oxygen > frame.plane.oxygen_limit:
            continue
        canvas.line((x, top), (x, top - 6), "axis")
        if x - breadth(words) / 2 > last + 4:
            canvas.text((x, top - 10), words, anchor="middle")
            last = x + breadth(words) / 2
    canvas.text((right, top - 32), "excess air, %", anchor="end")
    canvas.text((right, bottom + 42), "oxygen, % dry", anchor="end")
    canvas.text((left, bottom + 42), "no oxygen left", "note")
    canvas.text((2, top - 32), "smoke spot number" if frame.plane.smoke else "CO air-free, ppm")


def scale(canvas: Canvas, frame: Frame) -> None:
    """The left edge: decades cut at 1, 2 and 5, and the foot band; then the wall over everything."""
    plane = frame.plane
    if not plane.smoke:
        canvas.path(polyline([(frame.left, frame.floor_y), (frame.right, frame.floor_y)]), "faint")
        foot_words(canvas, frame)
        last = frame.floor_y
        for exponent in range(floor(log10(plane.cell_floor_ppm)), floor(log10(plane.co_limit)) + 1):
            for digit in (1, 2, 5):
                ppm, y = digit * 10.0**exponent, frame.y(digit * 10.0**exponent)
                if plane.cell_floor_ppm < ppm <= plane.co_limit and y < last - 14:
                    canvas.line((frame.left - 6, y), (frame.left, y), "axis")
                    canvas.text((frame.left - 9, y + 5), f"{ppm:g}", anchor="end")
                    last = y
    canvas.line((frame.left, frame.top - 8), (frame.left, frame.bottom), "wall")


def foot_words(canvas: Canvas, frame: Frame) -> None:
    """What the foot band means, written where no knot lies in the band: long or short, at the right or the left."""
    ppm = said(frame.plane.cell_floor_ppm)
    low = [knot for knot in frame.plane.knots if knot.carbon_monoxide_air_free <= frame.plane.cell_floor_ppm]
    marks = [frame.x(knot.oxygen) for knot in low]
    tried = [
        (line, anchor, x if anchor == "start" else x - breadth(line))
        for line in (
            f"under {ppm} ppm: below what this cell can tell",
            f"under {ppm} ppm the cell cannot tell",
            f"under {ppm} ppm",
        )
        for anchor, x in (("end", frame.right - 4), ("start", frame.left + 8))
    ]

    def price(option: tuple[str, str, float]) -> int:
        line, _, left = option
        hidden = sum(left - 8 < mark < left + breadth(line) + 8 for mark in marks)
        return hidden + (left < frame.left + 6) * 10

    line, anchor, _ = min(tried, key=price)
    x = frame.right - 4 if anchor == "end" else frame.left + 8
    canvas.text((x, frame.bottom - 7), line, "note halo", anchor=anchor)


def knot_mark(canvas: Canvas, frame: Frame, knot: Knot) -> None:
    """Soft edge as wide as the doubt, a blot where the flame lingered, the knot; an arrow where it left the paper."""
    x, y = frame.at(knot)
    across = frame.x(min(2 * knot.spread_oxygen, 3.0)) - frame.x(0)
    if frame.plane.smoke:
        half = (frame.bottom - frame.top) / 20
        canvas.path(polyline([(x, y - half), (x, y + half)]), "doubt")
        canvas.path(polyline([(x - across, y), (x + across, y)]), "doubt")
    else:
        high = frame.y(knot.carbon_monoxide_air_free + 2 * knot.spread_co)
        down = knot.spread_co if knot.spread_down is None else knot.spread_down
        low = frame.y(max(knot.carbon_monoxide_air_free - 2 * down, frame.plane.cell_floor_ppm * 1.0001))
        up, middle = max(4.0, (low - high) / 2), y if knot.spread_down is None else (low + high) / 2
        for part in (1.0, 0.62):
            canvas.ellipse((x, middle), max(across * part, 4.0), max(up * part, 4.0), "soft")
        if knot.lingered and across > 4:
            canvas.path(polyline([(x - across / 2, y), (x + across / 2, y)]), "blot")
    canvas.disc((x, y), 5.5 if knot.lingered else 4.5, "knot" if knot.lingered else "knot open")
    if knot.over_range or (not frame.plane.smoke and knot.carbon_monoxide_air_free > frame.plane.co_limit):
        canvas.path(
            polyline([(x - 6, frame.top - 3), (x, frame.top - 14), (x + 6, frame.top - 3)], closed=True), "spot"
        )
    if knot.oxygen > frame.plane.oxygen_limit:
        edge = frame.right
        canvas.path(polyline([(edge + 2, y - 6), (edge + 11, y), (edge + 2, y + 6)], closed=True), "spot")


def knot_words(canvas: Canvas, frame: Frame, places: Places) -> None:
    """Each step's word in the hand's face, its note below in the page's; on a phone the notes stay in the table."""
    room = (frame.right - frame.left) * (0.42 if frame.narrow else 0.34)
    wanted: list[tuple[Point, list[str], float]] = []
    words: list[int] = []
    for knot in frame.plane.knots:
        notes = [] if frame.narrow else wrapped(knot.note, room=room)
        notes += ["over range"] if knot.over_range else []
        hand = wrapped(knot.word, room=room, sans=True)
        if hand or notes:
            wanted.append((frame.at(knot), [*hand, *notes], max(14.0, frame.blot(knot) + 7)))
            words.append(len(hand))
    for ((x, y), anchor), (_, lines, _), spoken in zip(places.labels(wanted), wanted, words, strict=True):
        for index, line in enumerate(lines):
            canvas.text((x, y + index * LEADING), line, "word halo" if index < spoken else "note halo", anchor=anchor)


def twin(plane: Plane) -> Table:
    """The plane as a table: one row for each step."""
    upright = "smoke spot number" if plane.smoke else "CO air-free, ppm"
    rows = []
    for knot in plane.knots:
        if plane.smoke:
            up = "not taken" if knot.smoke is None else said(knot.smoke)
        elif knot.over_range:
            up = f"over {said(knot.carbon_monoxide_air_free)}"
        elif knot.carbon_monoxide_air_free <= plane.cell_floor_ppm:
            up = f"{said(knot.carbon_monoxide_air_free)}, below what this cell can tell"
        else:
            down = knot.spread_co if knot.spread_down is None else knot.spread_down
            up = said_between(knot.carbon_monoxide_air_free, Spread(down, knot.spread_co, ""))
        rows.append((knot.word, said(knot.oxygen, knot.spread_oxygen), up, knot.note))
    if plane.knee:
        low, high = plane.knee
        rows.append(("the knee", f"{said(low)} to {said(high)}", "begins to rise", "of the walked curve"))
    if plane.window:
        window = plane.window
        limit = window.smoke if plane.smoke and window.smoke is not None else window.carbon_monoxide
        rows.append(
            (window.label, f"{said(window.low)} to {said(window.high)}", f"at most {said(limit)}", window.citation)
        )
    return Table(heads=("step", "oxygen, % dry", upright, "note"), rows=tuple(rows))
