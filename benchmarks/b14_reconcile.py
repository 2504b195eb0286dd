"""B14: fourteen readings of nine unknowns made to agree, against least squares written by hand on numpy and scipy."""

import importlib.util
import sys
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from benchmarks.measure import Aim, Report, Work, alternate
from fluewright.solve.reconcile import Equation, Read, Reconciled, Unknown, reconciled

Law = Callable[[Sequence[Any]], Any]

WATER, AIR = 4.12e6, 1.18e3
"""J/(m3 K) carried by water and by air."""

START = (28e3, 0.15, 2.5e-4, 318.0, 330.0, 0.5, 294.0, 320.0, 400.0)
SCALES = (1e3, 0.01, 1e-5, 1.0, 1.0, 0.02, 1.0, 1.0, 100.0)
"""Input, loss, water flow and its two temperatures, air flow and its two, jacket; W, 1, m3/s and K."""


def _water(z: Sequence[Any]) -> Any:
    return WATER * z[2] * (z[4] - z[3])


def _air(z: Sequence[Any]) -> Any:
    return AIR * z[5] * (z[7] - z[6])


READINGS: Mapping[str, tuple[float, float, Law]] = {
    "meter": (30.2e3, 450.0, lambda z: z[0]),
    "orifice": (29.4e3, 900.0, lambda z: z[0]),
    "loss": (0.168, 0.006, lambda z: z[1]),
    "water flow": (2.42e-4, 5e-6, lambda z: z[2]),
    "water return": (318.4, 0.4, lambda z: z[3]),
    "water supply": (328.1, 0.4, lambda z: z[4]),
    "air by table": (0.531, 0.02, lambda z: z[5]),
    "air by traverse": (0.498, 0.015, lambda z: z[5]),
    "air return": (293.6, 0.5, lambda z: z[6]),
    "air supply": (317.9, 0.5, lambda z: z[7]),
    "heat to water": (9.5e3, 400.0, _water),
    "heat to air": (14.6e3, 700.0, _air),
    "jacket": (450.0, 150.0, lambda z: z[8]),
    "left over": (0.0, 100.0, lambda z: z[0] * (1.0 - z[1]) - z[8] - _water(z) - _air(z)),
}
"""Invented: measured value, standard uncertainty, and what it is of the nine."""

NAMES = tuple(f"z{place}" for place in range(len(START)))


def _equation(name: str, law: Law) -> Equation:
    return lambda values: values[name] - law([values[each] for each in NAMES])


EQUATIONS = [_equation(name, law) for name, (_, _, law) in READINGS.items()]
READS = [Read(name, value, spread) for name, (value, spread, _) in READINGS.items()]
UNKNOWNS = [Unknown(name, at, scale) for name, at, scale in zip(NAMES, START, SCALES, strict=True)]


def ours() -> Reconciled:
    """All of it: adjusted values, redundancy, odds, what is not observable."""
    return reconciled(readings=READS, unknowns=UNKNOWNS, equations=EQUATIONS)


def residuals(z: Sequence[Any]) -> list[Any]:
    """Measured less expected, in units of doubt, as one writes it for a library."""
    w, a = WATER * z[2] * (z[4] - z[3]), AIR * z[5] * (z[7] - z[6])
    expected = (
        z[0],
        z[0],
        z[1],
        z[2],
        z[3],
        z[4],
        z[5],
        z[5],
        z[6],
        z[7],
        w,
        a,
        z[8],
        z[0] * (1.0 - z[1]) - z[8] - w - a,
    )
    return [(value - met) / spread for (value, spread, _), met in zip(READINGS.values(), expected, strict=True)]


def by_numpy() -> float:
    """Gauss and Newton by hand with differences for derivatives: the sum of squares alone."""
    import numpy

    z, steps = numpy.array(START), numpy.array(SCALES) * 1e-4
    for _ in range(30):
        left = numpy.array(residuals(z))
        slopes = numpy.empty((left.size, z.size))
        for place in range(z.size):
            moved = z.copy()
            moved[place] += steps[place]
            slopes[:, place] = (numpy.array(residuals(moved)) - left) / steps[place]
        scaled = numpy.linalg.lstsq(slopes * numpy.array(SCALES), -left, rcond=None)[0]
        z = z + scaled * numpy.array(SCALES)
        if numpy.abs(scaled).max() < 1e-11:
            break
    return float((numpy.array(residuals(z)) ** 2).sum())


def by_scipy() -> float:
    """`scipy.optimize.least_squares` with its scales set: the sum of squares alone."""
    import numpy
    from scipy.optimize import least_squares  # type: ignore[import-not-found]

    def left(z: Any) -> Any:
        return numpy.array(residuals(z))

    found = least_squares(left, START, x_scale=SCALES, method="lm", xtol=1e-14, ftol=1e-14, gtol=1e-14)
    return float(2.0 * found.cost)


def peers() -> dict[str, Callable[[], float]]:
    """Whoever is installed here."""
    found: dict[str, Callable[[], float]] = {"numpy by hand": by_numpy}
    if importlib.util.find_spec("scipy") is not None:
        found["scipy least_squares"] = by_scipy
    return found


def differences() -> dict[str, float]:
    """Relative difference of the sum of squares to each peer."""
    mine = ours().chi_square
    return {name: abs(peer() / mine - 1.0) for name, peer in peers().items()}


def run() -> list[Report]:
    """Time it; without scipy the line says that its part was left out."""
    others = peers()
    works = {"ours": Work(ours, calls=40), **{name: Work(peer, calls=40) for name, peer in others.items()}}
    works["one round of equations"] = Work(lambda: [law(START) for _, _, law in READINGS.values()], calls=2000)
    times = alternate(works)
    worst = max(differences().values())
    aims = [Aim(f"sum of squares equal to 1e-8: {worst:.0e}", worst <= 1e-8)]
    said = f"{worst:.0e} of the sum of squares"
    if "scipy least_squares" in others:
        ratio = times["scipy least_squares"].best / times["ours"].best
        aims.append(Aim(f"no slower than scipy by more than 1.2: {1.0 / ratio:.2f} of its time", ratio >= 1.0 / 1.2))
    else:
        reason = "scipy is not installed, so the comparison with its least_squares was not made"
        print(f"B14: {reason}", file=sys.stderr)
        said += f"; {reason}"
    share = times["one round of equations"].best / times["ours"].best
    limit = "the fourteen equations once, without derivatives"
    report = Report("B14", "14 readings, 9 unknowns", "solve", times["ours"],
                    {name: times[name] for name in others}, share, limit, said, tuple(aims))  # fmt: skip
    return [report]
