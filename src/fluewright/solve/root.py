"""Where a curve crosses nothing: false position, with the weight of the end that stays halved."""

from collections.abc import Callable

STEPS = 200


def between(curve: Callable[[float], float], *, low: float, high: float, within: float) -> float:
    """The crossing between two places at which a curve has different signs.

    Dowell and Jarratt 1971, doi 10.1007/BF01934364 (from memory): an end that stays twice counts half, so that both
    ends close in.

    curve   steady between the two
    low     one side of the crossing
    high    the other
    within  how near the last two guesses have to lie
    -> the crossing; nothing is promised where both ends have the same sign
    """
    below, above = curve(low), curve(high)
    kept, last = 0, low
    for _ in range(STEPS):
        if below == above:
            break
        middle = low - below * (high - low) / (above - below)
        value = curve(middle)
        if abs(middle - last) < within or value == 0.0:
            return middle
        last = middle
        if (value < 0.0) == (below < 0.0):
            low, below = middle, value
            above *= 0.5 if kept == 1 else 1.0
            kept = 1
        else:
            high, above = middle, value
            below *= 0.5 if kept == -1 else 1.0
            kept = -1
    return last
