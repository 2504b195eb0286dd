"""Small dense matrices by reflections: orthogonal triangles with the largest column first, in plain Python.

Rows are lists of floats. Sizes are those of a visit, some tens.
"""

import math

Rows = list[list[float]]

HARDLY = 1e-10
"""What is left of a column, beside the largest, that counts as nothing: scaled rows hold rounding of some 1e-15."""


def _reflect(rows: Rows, step: int, column: int, width: int) -> None:
    """Turn one column below a step into a single number, and everything to the right of it along."""
    count = len(rows)
    size = math.sqrt(sum(rows[i][column] ** 2 for i in range(step, count)))
    head = rows[step][column]
    size = -size if head > 0.0 else size
    mirror = [rows[i][column] for i in range(step, count)]
    mirror[0] -= size
    weight = sum(each * each for each in mirror)
    if weight == 0.0:
        return
    active = rows[step:]
    for j in range(column + 1, width):
        along = 0.0
        for part, row in zip(mirror, active, strict=True):
            along += part * row[j]
        along *= 2.0 / weight
        if along:
            for part, row in zip(mirror, active, strict=True):
                row[j] -= along * part
    for row in active:
        row[column] = 0.0
    active[0][column] = size


def triangled(rows: Rows, columns: int) -> tuple[int, list[int]]:
    """Bring the first columns to a triangle by reflections, in place; those behind come along.

    rows     changed in place
    columns  how many at the left make the triangle
    -> rank, and where each column came from, the ones that carry something first
    """
    order = list(range(columns))
    count = len(rows)
    width = len(rows[0]) if rows else 0
    first = 0.0
    for step in range(min(count, columns)):
        sizes = [sum(rows[i][j] ** 2 for i in range(step, count)) for j in range(step, columns)]
        best = max(range(len(sizes)), key=sizes.__getitem__) + step
        largest = math.sqrt(sizes[best - step])
        first = first or largest
        if largest <= HARDLY * max(first, 1.0):
            return step, order
        if best != step:
            order[step], order[best] = order[best], order[step]
            for row in rows:
                row[step], row[best] = row[best], row[step]
        _reflect(rows, step, step, width)
    return min(count, columns), order


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
