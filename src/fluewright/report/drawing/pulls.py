"""The drafts of one flue side by side: the room is a wall, right of it gas comes out, and nobody's silence is fine."""

from math import ceil, floor

from fluewright.report.drawing.data import Pull, Pulls
from fluewright.report.drawing.svg import Canvas, breadth, hatched, polyline, rectangle
from fluewright.report.phrase import said
from fluewright.report.tree import Table

TOP, ROW, FOOT = 26.0, 52.0, 46.0
"""px above the first appliance, of each, and below the last."""

LEAST, MOST = -8.0, 4.0
"""Pa that the scale reaches at least."""

STEPS = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)


class Scale:
    """Across: pressure from the room."""

    def __init__(self, drawn: Pulls, width: float) -> None:
        values = [value for one in drawn.pulls if one.now is not None for value in (one.now, one.least, one.most)]
        self.low, self.high = 1.1 * min(LEAST / 1.1, *values, 0.0), 1.1 * max(MOST / 1.1, *values, 0.0)
        self.left, self.right = 14.0, width - 14.0

    def x(self, pressure: float) -> float:
        """px across."""
        return self.left + (self.right - self.left) * (pressure - self.low) / (self.high - self.low)


def draw(drawn: Pulls, *, width: float) -> Canvas:
    """The drafts at a width in px."""
    foot = TOP + ROW * len(drawn.pulls)
    canvas = Canvas(width=width, height=foot + FOOT, label="Drafts of the appliances of this flue, from the room")
    scale = Scale(drawn, width)
    room = scale.x(0.0)
    canvas.path(hatched(rectangle(room, TOP, scale.right, foot), gap=7, angle=-55), "hatch")
    canvas.text((room - 8, TOP - 9), "drawn up the flue", "note halo", anchor="end")
    out = "out into the room"
    canvas.text((room + 8, TOP - 9), out if room + 8 + breadth(out) <= width else "out", "note halo")
    for number, one in enumerate(drawn.pulls):
        _row(canvas, scale, one, TOP + ROW * number, drawn)
    canvas.line((room, TOP - 4), (room, foot + 4), "wall")
    _axis(canvas, scale, foot, drawn)
    return canvas


def _row(canvas: Canvas, scale: Scale, one: Pull, top: float, drawn: Pulls) -> None:
    """One appliance: its word, the last minute as a soft bar, the present as a disc in pen."""
    middle = top + 34
    canvas.text((scale.left, top + 17), one.appliance, "word halo")
    canvas.line((scale.left, middle), (scale.right, middle), "faint")
    if one.now is None:
        canvas.path(polyline(rectangle(scale.left, middle - 8, scale.left + 20, middle + 8), closed=True), "dotted")
        canvas.text((scale.left + 28, middle + 5), one.words, "note halo")
        return
    left, right = scale.x(one.least), scale.x(one.most)
    canvas.ellipse(((left + right) / 2, middle), max((right - left) / 2, 4.0), 7.0, "soft")
    canvas.disc((scale.x(one.now), middle), 5.5, "knot live")
    words = one.said
    end = scale.x(one.now) + 12 + breadth(words, sans=True) > scale.right
    at = (scale.x(one.now) + (-12 if end else 12), middle - 9)
    canvas.text(at, words, "word live halo", anchor="end" if end else "start")


def _axis(canvas: Canvas, scale: Scale, foot: float, drawn: Pulls) -> None:
    """The scale below, with the room named."""
    canvas.line((scale.left, foot), (scale.right, foot), "axis")
    reach = (scale.high - scale.low) / drawn.per
    step = next((each for each in STEPS if reach / each <= 8), STEPS[-1])
    for count in range(ceil(scale.low / drawn.per / step), floor(scale.high / drawn.per / step) + 1):
        x = scale.x(count * step * drawn.per)
        canvas.line((x, foot), (x, foot + 5), "axis")
        canvas.text((x, foot + 20), f"{round(count * step, 6):g}".replace("-", "−"), anchor="middle")
    canvas.text((scale.right, foot + 38), f"draft, {drawn.unit} from the room", anchor="end")


def twin(drawn: Pulls) -> Table:
    """The same as a table."""
    rows = tuple(
        (
            one.appliance,
            "not read" if one.now is None else one.said,
            "" if one.now is None else f"{said(one.least / drawn.per)} to {said(one.most / drawn.per)}",
            one.words,
        )
        for one in drawn.pulls
    )
    return Table(heads=("appliance", "draft", f"in the last minute, {drawn.unit}", "how it stands"), rows=rows)
