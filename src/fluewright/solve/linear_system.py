"""As many linear equations as unknowns, a handful of each: elimination with the largest pivot."""

from collections.abc import Sequence


def solved(rows: Sequence[Sequence[float]], right: Sequence[float]) -> list[float] | None:
    """The unknowns of a square system.

    rows   coefficients, one row for each equation
    right  what each comes to
    -> unknowns; None where the equations do not settle them
    """
    work = [[*row, end] for row, end in zip(rows, right, strict=True)]
    count = len(work)
    for step in range(count):
        best = max(range(step, count), key=lambda index: abs(work[index][step]))
        if abs(work[best][step]) < 1e-14:
            return None
        work[step], work[best] = work[best], work[step]
        for below in work[step + 1 :]:
            share = below[step] / work[step][step]
            for column in range(step, count + 1):
                below[column] -= share * work[step][column]
    found = [0.0] * count
    for step in reversed(range(count)):
        known = sum(work[step][column] * found[column] for column in range(step + 1, count))
        found[step] = (work[step][count] - known) / work[step][step]
    return found
