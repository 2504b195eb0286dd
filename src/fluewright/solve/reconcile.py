"""Readings made to agree: the smallest changes, weighed by doubt, after which every equation holds.

    minimise  sum ((x - m) / u)^2   so that   f(x, z) = 0

m readings, u their standard uncertainty, x what they are adjusted to, z unknowns nobody read. Each round makes the
equations straight (derivatives from dual numbers), takes the unknowns out by reflections, and finds the shortest change
of the readings that meets what is left. What is left is the redundancy: without it nothing contradicts anything, and
that is said and not taken for agreement.

Source: method of Lagrange multipliers for conditioned least squares; redundancy and the test of the largest
standardised residual as in geodesy and data reconciliation (handbooks, from memory). Unweighed faults: by projection.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fluewright.solve import chance, linear
from fluewright.solve.linear import Rows
from fluewright.solve.rounds import Equation, Problem, Read, Step, Unknown, settled

__all__ = ["Adjusted", "Equation", "Found", "Read", "Reconciled", "Seen", "Unknown", "reconciled"]

UNFELT = 1e-6
"""Redundancy below which no error of a reading can be seen by the others."""
ALIKE = 0.999
"""Correlation of two standardised residuals from which on they are one witness."""
FALSE_ALARM = 0.05
"""Odds at which sound readings are called contradictory."""
POWER = 4.13
"""Shift of a standardised residual that a 0.1 % test finds in 80 of 100 cases (Baarda 1968, from memory)."""


@dataclass(frozen=True, slots=True)
class Adjusted:
    """One reading after it was made to agree.

    value         adjusted
    spread        its standard uncertainty afterwards
    residual      measured less adjusted, in units of its doubt
    redundancy    how much of an error in it shows in its residual, 0..1; 0 means that nobody checks it
    standardised  residual over what chance allows it; 0 where nobody checks it
    """

    name: str
    measured: float
    value: float
    spread: float
    residual: float
    redundancy: float
    standardised: float

    @property
    def checked(self) -> bool:
        """Whether the other readings can contradict this one."""
        return self.redundancy > UNFELT


@dataclass(frozen=True, slots=True)
class Found:
    """One unknown: its value and standard uncertainty; not observable where the readings leave it open."""

    name: str
    value: float
    spread: float
    observable: bool


@dataclass(frozen=True, slots=True)
class Seen:
    """What a fault of a given kind would do to the residuals.

    share  how much of it the residuals feel, 0..1; 0 is along the equations and never shows
    least  size from which on it would show, in the units in which the fault was given; infinite when never
    """

    name: str
    share: float
    least: float

    @property
    def visible(self) -> bool:
        """Whether readings like these could show it at all."""
        return math.isfinite(self.least)


@dataclass(frozen=True, slots=True)
class Reconciled:
    """All readings made to agree.

    chi_square  sum of squared residuals
    freedom     independent contradictions that were possible
    odds        that chance alone makes them disagree this much; 1 where nothing could
    critical    what the largest standardised residual stays below in 95 of 100 cases
    """

    readings: tuple[Adjusted, ...]
    unknowns: tuple[Found, ...]
    chi_square: float
    freedom: int
    odds: float
    critical: float
    _basis: tuple[tuple[float, ...], ...] = field(default=(), repr=False)
    _spreads: tuple[float, ...] = field(default=(), repr=False)

    @property
    def agrees(self) -> bool:
        """Whether chance alone explains what is left; True says little where freedom is 0."""
        return self.odds >= FALSE_ALARM

    @property
    def suspects(self) -> tuple[str, ...]:
        """Readings of which each alone, set aside, would leave the rest in agreement; none where all agree.

        One: the odd one out. Several: they cannot be told apart. None, in spite of disagreement: more than one is
        wrong.
        """
        if self.agrees:
            return ()
        return tuple(
            one.name
            for one in sorted(self.readings, key=lambda one: -abs(one.standardised))
            if one.checked
            and chance.beyond(self.chi_square - one.standardised**2, freedom=self.freedom - 1) >= FALSE_ALARM
        )

    @property
    def unchecked(self) -> tuple[str, ...]:
        """Readings that no other can contradict: any error in them passes unseen."""
        return tuple(one.name for one in self.readings if not one.checked)

    @property
    def not_observable(self) -> tuple[str, ...]:
        """Unknowns that these readings leave open."""
        return tuple(one.name for one in self.unknowns if not one.observable)

    @property
    def alike(self) -> tuple[tuple[str, str], ...]:
        """Pairs of readings whose errors leave the same trace, so that nothing here tells them apart."""
        pairs = []
        for i, one in enumerate(self.readings):
            for j in range(i + 1, len(self.readings)):
                other = self.readings[j]
                if not (one.checked and other.checked):
                    continue
                along = sum(row[i] * row[j] for row in self._basis)
                if abs(along) >= ALIKE * math.sqrt(one.redundancy * other.redundancy):
                    pairs.append((one.name, other.name))
        return tuple(pairs)

    def seen(self, name: str, shifts: Mapping[str, float]) -> Seen:
        """Whether a fault would show that shifts several readings together.

        name    of the fault
        shifts  what one unit of it adds to each reading it touches, in the reading's unit
        -> what of it shows
        """
        scaled = [shifts.get(one.name, 0.0) / self._spreads[i] for i, one in enumerate(self.readings)]
        whole = math.sqrt(sum(part * part for part in scaled))
        felt = math.sqrt(sum(sum(a * b for a, b in zip(row, scaled, strict=True)) ** 2 for row in self._basis))
        if whole == 0.0 or felt <= UNFELT * whole:
            return Seen(name, 0.0, math.inf)
        return Seen(name, (felt / whole) ** 2, POWER / felt)


def _unknowns(problem: Problem, step: Step, off: list[float]) -> tuple[Found, ...]:
    """Value, doubt and observability of each unknown."""
    count = len(problem.unknowns)
    blind = linear.null_space(step.upper, step.rank, step.order)
    felt: Rows = []
    for i in range(len(problem.readings)):
        felt.append(linear.back(step.upper, step.rank, [-step.upper[k][count + i] for k in range(step.rank)]))
    found = []
    place = {name: k for k, name in enumerate(step.order)}
    for j, unknown in enumerate(problem.unknowns):
        value = unknown.start + unknown.scale * off[j]
        open_ = place[j] >= step.rank or any(abs(row[j]) > 1e-7 for row in blind)
        if open_:
            found.append(Found(unknown.name, value, math.inf, False))
            continue
        line = [row[place[j]] for row in felt]
        along = [sum(a * b for a, b in zip(line, row, strict=True)) for row in step.basis]
        left = sum(a * a for a in line) - sum(a * a for a in along)
        found.append(Found(unknown.name, value, unknown.scale * math.sqrt(max(0.0, left)), True))
    return tuple(found)


def reconciled(
    *, readings: Sequence[Read], unknowns: Sequence[Unknown] = (), equations: Sequence[Equation]
) -> Reconciled:
    """Make readings agree, and say what contradicts what.

    readings   measured values, each with its standard uncertainty, which do not hang together
    unknowns   what nobody read, with a start
    equations  each gives 0 for the true values
    -> adjusted readings, unknowns, residuals, odds, and what the readings cannot show
    """
    problem = Problem(readings, unknowns, equations)
    step, off = settled(problem)
    adjusted = []
    for i, read in enumerate(readings):
        redundancy = min(1.0, sum(row[i] ** 2 for row in step.basis))
        residual = -step.change[i]
        adjusted.append(
            Adjusted(
                name=read.name,
                measured=read.value,
                value=read.value - read.spread * residual,
                spread=read.spread * math.sqrt(1.0 - redundancy),
                residual=residual,
                redundancy=redundancy,
                standardised=residual / math.sqrt(redundancy) if redundancy > UNFELT else 0.0,
            )
        )
    squares = sum(one.residual**2 for one in adjusted)
    freedom = len(step.basis)
    return Reconciled(
        readings=tuple(adjusted),
        unknowns=_unknowns(problem, step, off),
        chi_square=squares,
        freedom=freedom,
        odds=chance.beyond(squares, freedom=freedom),
        critical=chance.critical_largest(count=sum(one.checked for one in adjusted)),
        _basis=tuple(map(tuple, step.basis)),
        _spreads=tuple(read.spread for read in readings),
    )
