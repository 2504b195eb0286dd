"""Where the words of a drawing stand: the first free place beside their knot, found by trying eight."""

from collections.abc import Sequence
from itertools import pairwise

from fluewright.report.drawing.svg import Box, Point, breadth

LEADING = 17.0


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

    def label(self, at: Point, lines: Sequence[str], *, reach: float) -> tuple[Point, str]:
        """Baseline of the first line and its anchor, for lines beside a point; the place is then taken."""
        wide = max(breadth(line, sans=True) for line in lines)
        tall = LEADING * len(lines)
        x, y = at
        best: tuple[float, Point, str, Box] | None = None
        for order, (side, up) in enumerate(
            ((1, -0.5), (-1, -0.5), (1, 0.75), (1, -1.6), (-1, 0.75), (-1, -1.6), (0, -1.9), (0, 1.1))
        ):
            anchor = ("middle", "start", "end")[side]
            ax = x + side * reach
            top = y + up * LEADING + (LEADING * (1 - len(lines)) if up < -1 else 0)
            left = ax if side > 0 else ax - wide if side < 0 else ax - wide / 2
            box = (left, top, left + wide, top + tall)
            price = self.cost(box) + order * 3
            if best is None or price < best[0]:
                best = (price, (ax, top + 13), anchor, box)
        assert best is not None
        self.taken.append(best[3])
        return best[1], best[2]
