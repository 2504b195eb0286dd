"""Invented curves of several shapes, none of them the one that the program fits, with the noise of a cellar."""

import math
import random
from collections.abc import Callable

from fluewright.tune.curve import Step

Shape = Callable[[float, float, float, float], float]
"""Carbon monoxide in ppm from oxygen, knee (percent), level (ppm) and steepness."""


def _below(oxygen: float, knee: float) -> float:
    return max(0.0, knee - oxygen)


SHAPES: dict[str, Shape] = {
    "sharp": lambda x, k, b, s: b * math.exp(s * _below(x, k)),
    "round": lambda x, k, b, s: b * (1.0 + math.exp(min(50.0, 1.7 * s * (k - x)))),
    "parabola": lambda x, k, b, s: b + 60.0 * s * _below(x, k) ** 2,
    "straight": lambda x, k, b, s: b + 100.0 * s * _below(x, k),
    "cubic": lambda x, k, b, s: b + 100.0 * s * _below(x, k) ** 3,
    "filling up": lambda x, k, b, s: b * math.exp(
        math.log(3000.0 / b) * (1.0 - 1.0 / (1.0 + s * _below(x, k) ** 1.5))
    ),
    "creeping first": lambda x, k, b, s: b * math.exp(0.12 * (6.0 - x) + s * _below(x, k)),
    "cold with much air": lambda x, k, b, s: b * (math.exp(s * _below(x, k)) + 0.25 * max(0.0, x - k - 1.5) ** 2),
    "all at once": lambda x, k, b, s: b * math.exp(12.0 * _below(x, k)),
}  # fmt: skip


def walked(shape: Shape, draw: random.Random) -> tuple[float, list[Step]]:
    """A knee in percent, and a curve of it as a person walks it: 6 to 13 steps, read to a tenth and a whole ppm."""
    knee, level, steepness = draw.uniform(1.5, 4.5), draw.uniform(4.0, 40.0), draw.uniform(1.5, 5.0)
    count, top, bottom = draw.randint(6, 13), knee + draw.uniform(1.0, 3.0), knee - draw.uniform(0.4, 1.2)
    steps = []
    for i in range(count):
        oxygen = top + (bottom - top) * i / (count - 1) + draw.gauss(0.0, 0.05)
        made = shape(oxygen, knee, level, steepness) * (1.0 + draw.gauss(0.0, 0.06)) + draw.gauss(0.0, 2.0)
        read = round(oxygen + draw.gauss(0.0, 0.08), 1)
        over = made > 2000.0
        steps.append(Step(read / 100.0, max(0.0, round(min(made, 2000.0))) * 1e-6, bound="at least" if over else ""))
    return knee, steps


def even(values: list[tuple[float, float]]) -> list[Step]:
    """Steps from percent of oxygen and ppm."""
    return [Step(oxygen / 100.0, made * 1e-6) for oxygen, made in values]
