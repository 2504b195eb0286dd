"""The heat ribbon: fuel enters at full width and sheds its losses to scale; what condenses folds back."""

from collections.abc import Sequence

from fluewright.report.drawing.data import Ribbon, Shed
from fluewright.report.drawing.svg import Canvas, Point, arc, breadth, hatched, polyline, wrapped
from fluewright.report.phrase import said
from fluewright.report.tree import Table

BEND = 16.0
ARM = 24.0
HEAD = 60.0
LOOP = 8.0
REACH = 62.0
"""px from the ribbon's first edge to the words beside its strips."""
TOO_THIN = 1.5
"""px: thinner than its own outline, so that a drawn width would be a lie."""
NOTES = {
    "measured": "measured",
    "derived": "derived",
    "plate": "from a plate",
    "unknown": "not measured",
    "band": "only a band is known",
}


def draw(ribbons: Sequence[Ribbon], *, width: float) -> Canvas:
    """One ribbon, or several on one scale: side by side where there is room, else one below the other."""
    across = len(ribbons) if width / len(ribbons) >= 300 else 1
    each = width / across
    scale = min(each * 0.42, 170.0) / max(ribbon.fuel for ribbon in ribbons)
    heights = [height(ribbon, scale=scale, room=each) for ribbon in ribbons]
    total = max(heights) if across > 1 else sum(heights)
    names = " and ".join(ribbon.heading for ribbon in ribbons)
    canvas = Canvas(width=width, height=total, label=f"Heat ribbon: {names}")
    down = 0.0
    for index, ribbon in enumerate(ribbons):
        left, tall = (each * index, total) if across > 1 else (0.0, heights[index])
        head(canvas, ribbon, at=(left + 2, down), same=index > 0)
        one(canvas, ribbon, at=(left + 2, down + HEAD), foot=down + tall - 30, scale=scale, limit=left + each)
        down += 0 if across > 1 else tall
    return canvas


def height(ribbon: Ribbon, *, scale: float, room: float) -> float:
    """Height in px: a step for each strip, as tall as its words and its fold need."""
    return HEAD + 14 + sum(step(shed, ribbon=ribbon, scale=scale, room=room) for shed in ribbon.strips) + 100


def step(shed: Shed, *, ribbon: Ribbon, scale: float, room: float) -> float:
    """Height that a strip takes."""
    lines = len(label(shed, room=room - ribbon.fuel * scale - REACH, scale=scale))
    fold = BEND + shed.value * scale + 3 * LOOP + 2 * shed.folded * scale if shed.folded > 0 else 0.0
    return max(58.0, 17.0 * lines + 18, fold + 12)


def head(canvas: Canvas, ribbon: Ribbon, *, at: Point, same: bool) -> None:
    """When it was, how much fuel went in, and in which unit; a second ribbon says that it shares the scale."""
    x, top = at
    canvas.runs((x, top + 17), [(ribbon.heading, "value"), (f", fuel {fuel(ribbon)}", "")], "name")
    basis = f", {ribbon.basis}" if ribbon.basis else ""
    canvas.text((x, top + 36), "same scale" if same else f"{ribbon.unit}{basis}", "note")


def one(canvas: Canvas, ribbon: Ribbon, *, at: Point, foot: float, scale: float, limit: float) -> None:
    """One ribbon from top to bottom: strips, body with what folds back, arrival."""
    x0, top = at
    room = limit - x0
    x, y = x0 + ribbon.fuel * scale, top + 14
    edges: list[list[Point]] = [[(x0, top), (x, top)]]
    for shed in ribbon.strips:
        strip(canvas, shed, at=(x, y), scale=scale, room=room - ribbon.fuel * scale - REACH)
        edges[-1] += [(x, y), (x - shed.value * scale, y)]
        if shed.folded > 0:
            inner, outer = folding((x, y), shed.value * scale, shed.folded * scale)
            edges[-1] += inner
            edges.append(outer)
        x -= (shed.value - shed.folded) * scale
        y += step(shed, ribbon=ribbon, scale=scale, room=room)
    edges[-1] += torn((x, y), ribbon, foot=foot, scale=scale)
    end = edges[-1][-1][0]
    edges[-1] += [((x0 + end) / 2, foot + min(24.0, (end - x0) / 3)), (x0, foot), (x0, top)]
    whole = polyline([point for edge in edges for point in edge], closed=True)
    canvas.path(whole, "ground")
    canvas.path(whole, "body")
    for edge in edges:
        canvas.path(polyline(edge), "edge")
    arrival(canvas, ribbon, left=x0, right=end, foot=foot, limit=limit)


def torn(start: Point, ribbon: Ribbon, *, foot: float, scale: float) -> list[Point]:
    """The right edge down to the foot: straight, or torn as deep as what does not close."""
    x = start[0]
    if ribbon.gap is None:
        return [(x, foot)]
    depth = max(5.0, min(abs(ribbon.gap) * scale, 0.3 * ribbon.fuel * scale))
    points = [(x, foot - 62)]
    for index in range(8):
        points.append((x - (depth if index % 2 == 0 else 0), foot - 55 + 7 * index))
    end = x - ribbon.gap * scale if abs(ribbon.gap * scale) > TOO_THIN else x
    return [*points, (end, foot)]


def outline(at: Point, thickness: float, reach: float) -> list[Point]:
    """A strip that leaves to the right: quarter bend, arm, arrow."""
    x, y = at
    centre = (x + BEND, y)
    inner = arc(centre, BEND, 180, 90)
    outer = arc(centre, BEND + thickness, 90, 180)
    tip = x + BEND + reach
    nose = min(9.0, 3 + thickness / 2)
    middle = y + BEND + thickness / 2
    return [*inner, (tip, y + BEND), (tip + nose, middle), (tip, y + BEND + thickness), *outer]


def folding(at: Point, thickness: float, folded: float) -> tuple[list[Point], list[Point]]:
    """The two sides of what condensed: the lower part of the arm turns round and comes home to the ribbon."""
    x, y = at
    low = y + BEND + thickness
    turn = (x + BEND + ARM, low + LOOP)
    home = low + 2 * LOOP
    inner = [(x - thickness, home), *arc(turn, LOOP, 90, -90), (x + BEND, low)]
    outer = [(x + BEND, low - folded), *arc(turn, LOOP + folded, -90, 90), (x - thickness + folded, home + folded)]
    return inner, outer


def strip(canvas: Canvas, shed: Shed, *, at: Point, scale: float, room: float) -> None:
    """One strip in the style of what is known about it, and its words to the right."""
    true = shed.value * scale
    drawn = max(true, TOO_THIN)
    shape = outline(at, drawn, ARM + longer(shed, scale))
    if shed.how == "unknown":
        canvas.path(polyline(shape, closed=True), "dotted")
    elif shed.how in ("plate", "band"):
        canvas.path(polyline(shape, closed=True), "ground")
        canvas.path(hatched(shape, gap=4.5, angle=-50), "hatch bold")
        canvas.path(polyline(shape, closed=True), "dashed" if shed.how == "band" else "edge")
        if shed.least is not None and shed.least * scale > TOO_THIN:
            sure = outline(at, shed.least * scale, ARM + longer(shed, scale))
            canvas.path(polyline(sure, closed=True), "ground")
            canvas.path(polyline(sure, closed=True), "shed")
    else:
        canvas.path(polyline(shape, closed=True), "shed")
    x = max(point[0] for point in shape) + 9
    y = at[1] + BEND + drawn / 2 + 4
    for index, (words, role) in enumerate(label(shed, room=room, scale=scale)):
        canvas.runs((x, y + 17 * index), words, role)


def label(shed: Shed, *, room: float, scale: float) -> list[tuple[list[tuple[str, str]], str]]:
    """Name and number upright, what kind of knowledge in italics beneath: (runs, role) line by line."""
    value, thin = amount(shed), shed.value * scale < TOO_THIN
    room -= longer(shed, scale)
    if breadth(f"{shed.name} {value}", size=15) <= room:
        lines: list[tuple[list[tuple[str, str]], str]] = [([(f"{shed.name} ", ""), (value, "value")], "name")]
    else:
        lines = [([(shed.name, "")], "name"), *([([(value, "value")], "name")] if value else [])]
    note = shed.note or NOTES[shed.how]
    if thin and shed.how != "unknown":
        note = "too thin to draw true" if shed.how == "derived" and not shed.note else f"{note}, too thin to draw true"
    if shed.folded > 0:
        note = f"{note}; {said(shed.folded)} of it condensed and folds back"
    return [*lines, *(([(line, "")], "note") for line in wrapped(note, room=room))]


def fuel(ribbon: Ribbon) -> str:
    """What went in, with one decimal below a thousand; a hundred that only stands for all of it has none."""
    whole = ribbon.fuel >= 1000 or ribbon.unit.startswith("per ")
    return f"{ribbon.fuel:,.{0 if whole else 1}f}"


def longer(shed: Shed, scale: float) -> float:
    """How much further the arm of a strip reaches when part of it turns round below."""
    return LOOP + shed.folded * scale + 10 if shed.folded > 0 else 0.0


def amount(shed: Shed) -> str:
    """How much it is, empty for what was not measured."""
    return shed.words or ("" if shed.how == "unknown" and not shed.value else said(shed.value, shed.spread))


def came(ribbon: Ribbon) -> str:
    """How much arrived."""
    return ribbon.useful_words or said(ribbon.useful, ribbon.useful_spread)


def arrival(canvas: Canvas, ribbon: Ribbon, *, left: float, right: float, foot: float, limit: float) -> None:
    """What arrived, and what does not close."""
    value = came(ribbon)
    inside = breadth(f"{ribbon.useful_word}", size=15) < right - left - 14
    x = left + 8 if inside else right + 12
    y = foot - 24 if inside or ribbon.gap is None else foot - 74
    canvas.text((x, y), ribbon.useful_word, "name")
    canvas.text((x, y + 18), value, "name value")
    if ribbon.gap is None:
        return
    gap = f"does not close: {said(ribbon.gap, ribbon.gap_spread)}"
    for index, line in enumerate(wrapped(gap, room=limit - right - 18)):
        canvas.text((right + 14, foot - 22 + 17 * index), line, "note")


def twin(ribbons: Sequence[Ribbon]) -> Table:
    """The ribbons as a table: one row for each strip; the unit in the head when all share it."""
    units = {ribbon.unit for ribbon in ribbons}
    rows = []
    for ribbon in ribbons:
        unit = "" if len(units) == 1 else f" {ribbon.unit}"
        rows.append((ribbon.heading, "fuel", f"{fuel(ribbon)}{unit}", ribbon.basis))
        for shed in ribbon.strips:
            note = shed.note or NOTES[shed.how]
            fold = f"; {said(shed.folded)} of it condensed" if shed.folded else ""
            known = f"{amount(shed)}{unit}" if amount(shed) else "not known"
            rows.append((ribbon.heading, shed.name, known, f"{note}{fold}"))
        arrived = NOTES[ribbon.useful_how] if ribbon.gap is not None else "what remains"
        useful = f"{came(ribbon)}{unit}"
        rows.append((ribbon.heading, ribbon.useful_word, useful, arrived))
        if ribbon.gap is not None:
            gap = f"{said(ribbon.gap, ribbon.gap_spread)}{unit}"
            rows.append((ribbon.heading, "does not close", gap, "fuel less everything above"))
    much = f"how much, {units.pop()}" if len(units) == 1 else "how much"
    return Table(heads=("when", "where the heat went", much, "how known"), rows=tuple(rows))
