"""The rounds of a reconciliation: equations made straight, solved, made straight again where that led, until it stands.

Where no reading stands in two equations, as in most books, a round is a small set of normal equations: it decides only
where to go next, and the place where nothing moves any more does not depend on its rounding. All other rounds, and the
last look at every set, go by reflections, which see what is redundant and what is not observable.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from fluewright.errors import PhysicsRefused
from fluewright.kernel.dual import Dual, Source
from fluewright.kernel.ops import Number
from fluewright.solve import linear
from fluewright.solve.linear import Rows

Equation = Callable[[Mapping[str, Number]], Number]
"""Takes readings and unknowns by name, gives what has to be zero; written so that a Dual can pass."""

ROUNDS = 60
SETTLED = 1e-8
"""Change in units of doubt below which the rounds end; what is then left of an equation is its square."""


@dataclass(frozen=True, slots=True)
class Read:
    """One reading that takes part: name, value, standard uncertainty above 0."""

    name: str
    value: float
    spread: float


@dataclass(frozen=True, slots=True)
class Unknown:
    """Something nobody read: name, where to begin, and the size of a usual change."""

    name: str
    start: float
    scale: float = 1.0


@dataclass(slots=True)
class Line:
    """One equation made straight: its slopes to unknowns and readings in their own units, and what is left of it."""

    unknowns: list[tuple[int, float]]
    readings: list[tuple[int, float]]
    beyond: float


@dataclass(slots=True)
class Step:
    """One straight round by reflections.

    change  of the readings, in units of their doubt
    moved   of the unknowns, in units of their scale
    basis   orthonormal directions in which the readings can contradict each other
    upper, rank, order  triangle of the unknowns
    """

    change: list[float]
    moved: list[float]
    basis: Rows
    upper: Rows
    rank: int
    order: list[int]


def no_agreement(read: str) -> PhysicsRefused:
    """Readings and equations that nothing brings together."""
    return PhysicsRefused(
        code="FW-K-080",
        read=read,
        expected="equations that some small change of the readings can meet",
        matters="readings that cannot be made to agree at all say nothing about which of them is wrong",
        do="look for a reading of another appliance, another moment or another unit",
    )


class Problem:
    """Readings, unknowns and equations, with a source of derivatives for each variable."""

    def __init__(self, readings: Sequence[Read], unknowns: Sequence[Unknown], equations: Sequence[Equation]) -> None:
        self.readings, self.unknowns, self.equations = readings, unknowns, equations
        self.variables = [
            *((one.name, one.start, one.scale) for one in unknowns),
            *((one.name, one.value, one.spread) for one in readings),
        ]
        sources = [Source(name, 1.0) for name, _, _ in self.variables]
        self.place = {source: place for place, source in enumerate(sources)}
        self.seeds = [{source: scale} for source, (_, _, scale) in zip(sources, self.variables, strict=True)]

    def straight(self, change: list[float], off: list[float]) -> list[Line]:
        """The equations made straight where we are."""
        values: dict[str, Number] = {
            name: Dual(start + scale * moved, seed)
            for (name, start, scale), seed, moved in zip(self.variables, self.seeds, off + change, strict=True)
        }
        return [self._line(equation(values), change) for equation in self.equations]

    def _line(self, met: Number, change: list[float]) -> Line:
        if not isinstance(met, Dual):
            return Line([], [], float(met))
        first, place = len(self.unknowns), self.place
        unknowns, readings, beyond = [], [], float(met.value)
        for source, part in met.partials.items():
            column = place[source] - first
            if column < 0:
                unknowns.append((column + first, part))
            elif part:
                readings.append((column, part))
                beyond -= part * change[column]
        if not math.isfinite(beyond):
            raise no_agreement("an equation has no value on the way to agreement")
        return Line(unknowns, readings, beyond)


def _own(lines: Sequence[Line]) -> bool:
    """Whether every equation has readings and none stands in two."""
    columns = [column for line in lines for column, _ in line.readings]
    return len(set(columns)) == len(columns) and all(line.readings for line in lines)


def _by_normal_equations(problem: Problem, lines: Sequence[Line]) -> tuple[list[float], list[float]] | None:
    """Change of the readings and unknowns where each equation has readings of its own; None where that is not clear."""
    count = len(problem.unknowns)
    square = [[0.0] * count for _ in range(count)]
    right = [0.0] * count
    weights = []
    for line in lines:
        weight = 1.0 / sum(part * part for _, part in line.readings)
        weights.append(weight)
        for i, part in line.unknowns:
            scaled = weight * part
            right[i] -= scaled * line.beyond
            row = square[i]
            for j, other in line.unknowns:
                if j <= i:
                    row[j] += scaled * other
    moved = linear.solved_positive(square, right)
    if moved is None:
        return None
    change = [0.0] * len(problem.readings)
    for line, weight in zip(lines, weights, strict=True):
        left = line.beyond
        for i, part in line.unknowns:
            left += part * moved[i]
        left *= weight
        for i, part in line.readings:
            change[i] = -part * left
    return change, moved


def _dense(problem: Problem, lines: Sequence[Line], own: bool) -> Rows:
    """The straight equations as rows of one size: unknowns, readings, what is left."""
    count, width = len(problem.unknowns), len(problem.variables) + 1
    rows = []
    for line in lines:
        parts = [part for _, part in line.readings] if own else [part for _, part in (*line.unknowns, *line.readings)]
        size = math.sqrt(sum(part * part for part in parts)) or 1.0
        row = [0.0] * width
        for i, part in line.unknowns:
            row[i] = part / size
        for i, part in line.readings:
            row[count + i] = part / size
        row[-1] = line.beyond / size
        rows.append(row)
    return rows


def _least(left: Rows, goals: list[float], own: bool) -> tuple[Rows, list[float]]:
    """Directions of contradiction, and the shortest change of the readings that ends it."""
    if own:  # rows of readings of their own, turned together, stay orthonormal
        basis = left
        amounts = goals
    else:
        basis, triangle, freedom, turned = linear.row_space(left)
        amounts = linear.forward(triangle, freedom, [goals[turned[k]] for k in range(freedom)])
    change = [0.0] * (len(left[0]) if left else 0)
    for amount, row in zip(amounts, basis, strict=True):
        change = [total + amount * part for total, part in zip(change, row, strict=True)]
    return basis, change


def by_reflections(problem: Problem, lines: Sequence[Line]) -> Step:
    """The shortest change of the readings that meets all straight equations, and what it rests on."""
    own = _own(lines)
    rows, count = _dense(problem, lines, own), len(problem.unknowns)
    rank, order = linear.triangled(rows, count)
    left = [row[count:-1] for row in rows[rank:]]
    goals = [-row[-1] for row in rows[rank:]]
    basis, change = _least(left, goals, own)
    change = change or [0.0] * len(problem.readings)
    for row, goal in zip(left, goals, strict=True):
        met = sum(a * b for a, b in zip(row, change, strict=True))
        if abs(met - goal) > 1e-6 * (1.0 + abs(goal)):
            raise no_agreement("equations that contradict each other whatever the readings")
    right = [-row[-1] - sum(a * b for a, b in zip(row[count:-1], change, strict=True)) for row in rows[:rank]]
    moved = [0.0] * count
    for place, amount in enumerate(linear.back(rows, rank, right)):
        moved[order[place]] = amount
    return Step(change, moved, basis, rows, rank, order)


def _far(new: list[float], old: list[float], moved: list[float], off: list[float]) -> float:
    """The largest change of this round, against where things are."""
    readings = [abs(a - b) / (1.0 + abs(a)) for a, b in zip(new, old, strict=True)]
    unknowns = [abs(step) / (1.0 + abs(at)) for step, at in zip(moved, off, strict=True)]
    return max([0.0, *readings, *unknowns])


def settled(problem: Problem) -> tuple[Step, list[float]]:
    """Rounds until nothing moves.

    problem  readings, unknowns, equations
    -> the last step by reflections, and where the unknowns are, in units of their scale from their start
    """
    change, off = [0.0] * len(problem.readings), [0.0] * len(problem.unknowns)
    for _ in range(ROUNDS):
        lines = problem.straight(change, off)
        quick = _by_normal_equations(problem, lines) if _own(lines) else None
        step = by_reflections(problem, lines) if quick is None else None
        new, moved = quick if quick is not None else (step.change, step.moved) if step else ([], [])
        far = _far(new, change, moved, off)
        change, off = new, [at + by for at, by in zip(off, moved, strict=True)]
        if far <= SETTLED:
            return step or by_reflections(problem, lines), off
    raise no_agreement(f"readings that did not come to agree in {ROUNDS} rounds")
