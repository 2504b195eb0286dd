"""Small dense matrices by reflections: orthogonal triangles with the largest column first, in plain Python.

Rows are lists of floats. Sizes are those of a visit, some tens.
"""

import math

Rows = list[list[float]]

HARDLY = 1e-10
"""What is left of a column, beside the largest, that counts as nothing: scaled rows hold rounding of some 1e-15."""

SLIPPED = 1e-8
"""Share of a sum of squares below which taking it down has lost half of its digits."""


def _reflect(rows: Rows, step: int) -> None:
    """Turn the column of a step into a single number, and everything to the right of it along."""
    active = rows[step:]
    mirror = [row[step] for row in active]
    size = math.sqrt(sum(part * part for part in mirror))
    size = -size if mirror[0] > 0.0 else size
    mirror[0] -= size
    weight = sum(part * part for part in mirror)
    if weight == 0.0:
        return
    along = [0.0] * (len(active[0]) - step)
    for part, row in zip(mirror, active, strict=True):
        if part:
            along = [total + part * each for total, each in zip(along, row[step:], strict=True)]
    double = 2.0 / weight
    for part, row in zip(mirror, active, strict=True):
        if part:
            part *= double
            row[step:] = [each - part * total for each, total in zip(row[step:], along, strict=True)]
            row[step] = 0.0
    active[0][step] = size


def triangled(rows: Rows, columns: int) -> tuple[int, list[int]]:
    """Bring the first columns to a triangle by reflections, in place; those behind come along.

    rows     changed in place
    columns  how many at the left make the triangle
    -> rank, and where each column came from, the ones that carry something first
    """
    order = list(range(columns))
    count = min(len(rows), columns)
    sizes = [0.0] * columns
    for row in rows:
        sizes = [size + part * part for size, part in zip(sizes, row, strict=False)]
    first = max(1.0, math.sqrt(max(sizes, default=0.0)))
    for step in range(count):
        best = max(range(step, columns), key=sizes.__getitem__)
        if sizes[best] <= SLIPPED * first * first:  # taken down step by step, so that little is left of its digits
            sizes[step:] = [sum(row[j] * row[j] for row in rows[step:]) for j in range(step, columns)]
            best = max(range(step, columns), key=sizes.__getitem__)
        if math.sqrt(sizes[best]) <= HARDLY * first:
            return step, order
        if best != step:
            order[step], order[best] = order[best], order[step]
            for row in (sizes, *rows):
                row[step], row[best] = row[best], row[step]
        _reflect(rows, step)
        sizes = [size - part * part for size, part in zip(sizes, rows[step], strict=False)]
    return count, order


def solved_positive(square: Rows, right: list[float]) -> list[float] | None:
    """Solve a symmetric positive matrix by its triangle (Cholesky), in place; None where it is not clearly positive.

    square  lower half is read
    right   one number a row
    -> solution
    """
    count = len(right)
    sides = right[:]
    for i in range(count):
        row = square[i]
        for j in range(i):
            other = square[j]
            total = row[j]
            for k in range(j):
                total -= row[k] * other[k]
            row[j] = total / other[j]
        left = row[i]
        for k in range(i):
            left -= row[k] * row[k]
        if left <= SLIPPED * row[i] or left <= 0.0:
            return None
        row[i] = math.sqrt(left)
        total = sides[i]
        for k in range(i):
            total -= row[k] * sides[k]
        sides[i] = total / row[i]
    for i in range(count - 1, -1, -1):
        total = sides[i]
        for k in range(i + 1, count):
            total -= square[k][i] * sides[k]
        sides[i] = total / square[i][i]
    return sides


def back(rows: Rows, rank: int, right: list[float]) -> list[float]:
    """Solve the upper triangle of a rank for one right side.

    rows   as triangled
    rank   its rank
    right  one number for each of the first rows
    -> solution, as long as the rank
    """
    found = [0.0] * rank
    for i in range(rank - 1, -1, -1):
        row = rows[i]
        total = right[i]
        for j in range(i + 1, rank):
            total -= row[j] * found[j]
        found[i] = total / row[i]
    return found


def forward(rows: Rows, rank: int, right: list[float]) -> list[float]:
    """Solve the transpose of the upper triangle for one right side; arguments as for back."""
    found = [0.0] * rank
    for i in range(rank):
        total = right[i]
        for j in range(i):
            total -= rows[j][i] * found[j]
        found[i] = total / rows[i][i]
    return found


def null_space(rows: Rows, rank: int, order: list[int]) -> Rows:
    """Directions of the columns that the triangle does not feel, one row a direction, in the order before pivoting."""
    found: Rows = []
    for free in range(rank, len(order)):
        direction = [0.0] * len(order)
        direction[order[free]] = 1.0
        for place, part in enumerate(back(rows, rank, [-rows[i][free] for i in range(rank)])):
            direction[order[place]] = part
        found.append(direction)
    return found


def row_space(rows: Rows) -> tuple[Rows, Rows, int, list[int]]:
    """An orthonormal basis of what some rows span.

    rows  constraints, each as long as there are readings
    -> basis, one row a direction; triangle of the transpose; rank; order of the constraints in the triangle
    """
    if not rows:
        return [], [], 0, []
    count = len(rows[0])
    beside = [[row[i] for row in rows] + [1.0 if i == j else 0.0 for j in range(count)] for i in range(count)]
    rank, order = triangled(beside, len(rows))
    return [beside[k][len(rows) :] for k in range(rank)], beside, rank, order
