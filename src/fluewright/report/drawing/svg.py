"""A small hand for SVG: lines, areas, text and hatch. Classes name the role; the style sheet gives the ink."""

import math
from collections.abc import Sequence
from html import escape
from itertools import pairwise

from fluewright.report.drawing.inks import Ink, Weight, fixed_css
from fluewright.report.phrase import clean

Point = tuple[float, float]
Box = tuple[float, float, float, float]

NARROW = frozenset("iljtfrI1.,:;'|·’ ")
WIDE = frozenset("mwMWOQGDCNHAV%±×")


def breadth(text: str, *, size: float = 14.0, sans: bool = False) -> float:
    """Estimated length of a text in px. Errs on the long side, because a label that runs out is worse than air."""
    ems = sum(0.31 if letter in NARROW else 0.78 if letter in WIDE else 0.53 for letter in text)
    return ems * size * (1.06 if sans else 1.0)


def wrapped(text: str, *, room: float, size: float = 14.0, sans: bool = False) -> list[str]:
    """The text in lines no longer than the room in px, broken at spaces; one long word stays whole."""
    lines: list[str] = []
    for word in text.split():
        if lines and breadth(f"{lines[-1]} {word}", size=size, sans=sans) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def number(value: float) -> str:
    """A coordinate with one decimal, without a negative zero."""
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


def polyline(points: Sequence[Point], *, closed: bool = False) -> str:
    """Path data through the points: the first by its place, each further one by its way from the one before.

    Ways are counted in tenths between rounded places, so that they are short to write and their rounding never adds up.
    """
    places = [(round(10.0 * x), round(10.0 * y)) for x, y in points]
    ways = [(x - last_x, y - last_y) for (last_x, last_y), (x, y) in pairwise(places)]
    told = "".join(f"{_tenths(x)}{_tenths(y)}" for x, y in ways if x or y)
    first = f"M{number(places[0][0] / 10.0)} {number(places[0][1] / 10.0)}"
    return f"{first}l{told.lstrip()}{'Z' if closed else ''}" if told else f"{first}h0{'Z' if closed else ''}"


def _tenths(count: int) -> str:
    """A number of tenths, set apart from what stands before it by its sign or a space."""
    whole, rest = divmod(abs(count), 10)
    text = f"{whole or ''}.{rest}" if rest else f"{whole}"
    return f"-{text}" if count < 0 else f" {text}"


def arc(centre: Point, radius: float, start: float, end: float) -> list[Point]:
    """Points on a circle from one angle to another in degrees, y downwards. Polygons can then be hatched exactly."""
    steps = max(4, round(abs(end - start) / 9))
    angles = (math.radians(start + (end - start) * i / steps) for i in range(steps + 1))
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]


def hatched(polygon: Sequence[Point], *, gap: float, angle: float) -> str:
    """Path data of parallel lines clipped to a polygon.

    Lines are cut here instead of by a pattern, so that every renderer draws them alike and no identifier is needed.
    """
    turn = math.radians(angle)
    along, across = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    turned = [(x * along[0] + y * along[1], x * across[0] + y * across[1]) for x, y in polygon]
    level = math.ceil(min(v for _, v in turned) / gap) * gap + gap / 2
    pieces: list[str] = []
    while level < max(v for _, v in turned):
        cuts: list[float] = []
        for (u1, v1), (u2, v2) in zip(turned, turned[1:] + turned[:1], strict=True):
            if (v1 <= level) != (v2 <= level):
                cuts.append(u1 + (u2 - u1) * (level - v1) / (v2 - v1))
        cuts.sort()
        for u1, u2 in zip(cuts[::2], cuts[1::2], strict=False):
            ends = [(u * along[0] + level * across[0], u * along[1] + level * across[1]) for u in (u1, u2)]
            pieces.append(polyline(ends))
        level += gap
    return "".join(pieces)


def rectangle(left: float, top: float, right: float, bottom: float) -> list[Point]:
    """Its four corners."""
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


class Canvas:
    """Collects shapes in drawing order and closes them into one SVG element."""

    def __init__(self, *, width: float, height: float, label: str) -> None:
        self.width, self.height, self.label = width, height, label
        self.shapes: list[str] = []

    def path(self, data: str, role: str) -> None:
        """A path; nothing when there is nothing to draw."""
        if data:
            self.shapes.append(f'<path class="{role}" d="{data}"/>')

    def line(self, start: Point, end: Point, role: str) -> None:
        """One straight line."""
        self.path(polyline((start, end)), role)

    def disc(self, centre: Point, radius: float, role: str, *, opacity: float | None = None) -> None:
        """A filled circle."""
        extra = "" if opacity is None else f' fill-opacity="{opacity:.2f}"'
        x, y = map(number, centre)
        self.shapes.append(f'<circle class="{role}" cx="{x}" cy="{y}" r="{number(radius)}"{extra}/>')

    def ellipse(self, centre: Point, across: float, up: float, role: str) -> None:
        """A filled ellipse."""
        x, y = map(number, centre)
        self.shapes.append(f'<ellipse class="{role}" cx="{x}" cy="{y}" rx="{number(across)}" ry="{number(up)}"/>')

    def text(self, at: Point, words: str, role: str = "", *, anchor: str = "start") -> None:
        """One line of text; whatever it contains is shown, never interpreted."""
        self.runs(at, ((words, ""),), role, anchor=anchor)

    def runs(self, at: Point, parts: Sequence[tuple[str, str]], role: str = "", *, anchor: str = "start") -> None:
        """One line of text in several voices: (words, role) in order."""
        inner = "".join(
            f'<tspan class="{voice}">{escape(clean(words))}</tspan>' if voice else escape(clean(words))
            for words, voice in parts
        )
        x, y = map(number, at)
        name = f' class="{role}"' if role else ""
        self.shapes.append(f'<text{name} x="{x}" y="{y}" text-anchor="{anchor}">{inner}</text>')

    def element(self, *, ink: Ink, weight: Weight, alone: bool, role: str = "img") -> str:
        """The finished SVG: with its own style when it stands alone, bare when the page brings the style.

        role  img, or group where things inside it can be reached
        """
        width, height = number(self.width), number(self.height)
        label = escape(clean(self.label), quote=True)
        style = f"<style>{fixed_css(ink, weight)}</style>" if alone else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="dr" viewBox="0 0 {width} {height}" width="{width}" '
            f'height="{height}" role="{role}" aria-label="{label}"><title>{label}</title>'
            f"{style}{''.join(self.shapes)}</svg>"
        )
