"""Where the words of a drawing stand: the first free place beside their knot, found by trying sixteen."""

from collections.abc import Sequence
from itertools import pairwise, product
from math import hypot

from fluewright.report.drawing.svg import Box, Point, breadth

LEADING = 17.0
BESIDE = -0.5
SIDES = ((1, BESIDE), (-1, BESIDE), (1, 0.6), (1, -1.6), (-1, 0.6), (-1, -1.6), (0, -1.9), (0, 1.0))
"""Right, left, below and above: (side, lines down from the point to the top of the label)."""


def overlap(one: Box, other: Box) -> float:
    """Shared area of two boxes (left, top, right, bottom)."""
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return across * down if across > 0 and down > 0 else 0.0


def outside(box: Box, frame: Box) -> float:
    """How far a box sticks out of a frame, px."""
    return (
        max(0.0, frame[0] - box[0]) + max(0.0, frame[1] - box[1])
        + max(0.0, box[2] - frame[2]) + max(0.0, box[3] - frame[3])
    )  # fmt: skip


def crossings(box: Box, path: Sequence[Point]) -> int:
    """How many of the path's samples, taken every few px, fall into the box."""
    count = 0
    for (x1, y1), (x2, y2) in pairwise(path):
        steps = max(1, int(max(abs(x2 - x1), abs(y2 - y1)) / 4))
        for i in range(steps + 1):
            x, y = x1 + (x2 - x1) * i / steps, y1 + (y2 - y1) * i / steps
            count += box[0] <= x <= box[2] and box[1] <= y <= box[3]
    return count


def distance(box: Box, point: Point) -> float:
    """From a point to the nearest edge of a box, px; 0 inside."""
    across = max(box[0] - point[0], 0.0, point[0] - box[2])
    return hypot(across, max(box[1] - point[1], 0.0, point[1] - box[3]))


class Places:
    """Keeps what is already taken and finds room for the next label."""

    def __init__(self, frame: Box) -> None:
        self.frame = frame
        self.taken: list[Box] = []
        self.paths: list[Sequence[Point]] = []

    def cost(self, box: Box) -> float:
        """The dearer, the more it hides."""
        hidden = sum(overlap(box, other) for other in self.taken)
        return hidden * 4 + outside(box, self.frame) * 400 + sum(crossings(box, path) for path in self.paths) * 22

    def mistaken(self, box: Box, own: Point, all_points: Sequence[Point]) -> int:
        """How many other points lie nearer to a label than its own, so that it would be read as theirs."""
        return sum(distance(box, point) < distance(box, own) + 2 for point in all_points if point != own)

    def labels(self, wanted: Sequence[tuple[Point, Sequence[str], float]]) -> list[tuple[Point, str]]:
        """Baseline and anchor for the first line of every label, each beside its point: (point, lines, px to keep).

        They are set one after the other, then each is set again knowing the rest, until nothing moves.
        """
        boxes: list[Box | None] = [None] * len(wanted)
        found: list[tuple[Point, str]] = [((0.0, 0.0), "start")] * len(wanted)
        fixed = list(self.taken)
        for _ in range(4):
            before = list(boxes)
            for index, (at, lines, reach) in enumerate(wanted):
                self.taken = fixed + [box for place, box in enumerate(boxes) if box and place != index]
                found[index], boxes[index] = self.best(at, lines, reach, [point for point, _, _ in wanted])
            if boxes == before:
                break
        self.taken = fixed + [box for box in boxes if box]
        return found

    def best(
        self, at: Point, lines: Sequence[str], reach: float, points: Sequence[Point]
    ) -> tuple[tuple[Point, str], Box]:
        """The cheapest of sixteen places: eight near, eight further off."""
        wide = max(breadth(line, sans=True) for line in lines)
        tall = LEADING * len(lines)
        tried = []
        for order, (far, (side, up)) in enumerate(product((0.0, 14.0), SIDES)):
            x = at[0] + side * (reach + (far if up == BESIDE else far / 2))
            top = at[1] + up * LEADING
            if up < BESIDE:
                top -= far + tall - LEADING
            elif up > BESIDE:
                top += far
            left = x if side > 0 else x - wide if side < 0 else x - wide / 2
            box = (left, top, left + wide, top + tall)
            price = self.cost(box) + order * 4 + self.mistaken(box, at, points) * 400
            tried.append((price, ((x, top + 13), ("middle", "start", "end")[side]), box))
        _, place, box = min(tried, key=lambda each: each[0])
        return place, box
