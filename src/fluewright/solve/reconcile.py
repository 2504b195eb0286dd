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
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from fluewright.errors import PhysicsRefused
from fluewright.kernel.dual import Dual, Source
from fluewright.kernel.ops import Number
from fluewright.solve import chance, linear
from fluewright.solve.linear import Rows

Equation = Callable[[Mapping[str, Number]], Number]
"""Takes readings and unknowns by name, gives what has to be zero; written so that a Dual can pass."""

ROUNDS = 60
SETTLED = 1e-11
"""Change of an adjusted reading, in units of its doubt, below which the rounds end."""
UNFELT = 1e-6
"""Redundancy below which no error of a reading can be seen by the others."""
ALIKE = 0.999
"""Correlation of two standardised residuals from which on they are one witness."""
FALSE_ALARM = 0.05
"""Odds at which sound readings are called contradictory."""
POWER = 4.13
"""Shift of a standardised residual that a 0.1 % test finds in 80 of 100 cases (Baarda 1968, from memory)."""


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


@dataclass(slots=True)
class _Problem:
    """Readings, unknowns and equations, with a source of derivatives for each variable."""

    readings: Sequence[Read]
    unknowns: Sequence[Unknown]
    equations: Sequence[Equation]
    sources: tuple[Source, ...]

    def straight(self, change: list[float], off: list[float]) -> Rows:
        """The equations made straight where we are: unknowns, then readings in units of doubt, then what is left.

        change  of each reading, in units of its doubt
        off     of each unknown from its start, in units of its scale
        """
        values: dict[str, Number] = {}
        scales: list[float] = []
        slots = iter(self.sources)
        for unknown, moved in zip(self.unknowns, off, strict=True):
            values[unknown.name] = Dual(unknown.start + unknown.scale * moved, {next(slots): 1.0})
            scales.append(unknown.scale)
        for read, moved in zip(self.readings, change, strict=True):
            values[read.name] = Dual(read.value + read.spread * moved, {next(slots): 1.0})
            scales.append(read.spread)
        return [self._row(equation(values), scales, change) for equation in self.equations]

    def _row(self, met: Number, scales: list[float], change: list[float]) -> list[float]:
        partials: Mapping[Source, float] = met.partials if isinstance(met, Dual) else {}
        row = [partials.get(source, 0.0) * scale for source, scale in zip(self.sources, scales, strict=True)]
        beyond = float(met.value if isinstance(met, Dual) else met)
        for part, moved in zip(row[len(self.unknowns) :], change, strict=True):
            beyond -= part * moved
        size = max(map(abs, row), default=0.0)
        if not math.isfinite(size) or not math.isfinite(beyond):
            raise _no_end("an equation has no value on the way to agreement")
        size = size or 1.0
        return [part / size for part in row] + [beyond / size]


@dataclass(slots=True)
class _Step:
    """One straight round: change of the readings, of the unknowns, and what they rest on."""

    change: list[float]
    moved: list[float]
    basis: Rows
    upper: Rows
    rank: int
    order: list[int]


def _no_end(read: str) -> PhysicsRefused:
    return PhysicsRefused(
        code="FW-K-080",
        read=read,
        expected="equations that some small change of the readings can meet",
        matters="readings that cannot be made to agree at all say nothing about which of them is wrong",
        do="look for a reading of another appliance, another moment or another unit",
    )


def _solved(rows: Rows, unknowns: int) -> _Step:
    """The shortest change of the readings that meets all straight equations."""
    rank, order = linear.triangled(rows, unknowns)
    left = [row[unknowns:-1] for row in rows[rank:]]
    goals = [-row[-1] for row in rows[rank:]]
    readings = len(rows[0]) - 1 - unknowns
    basis, triangle, freedom, turned = linear.row_space(left)
    change = [0.0] * readings
    if freedom:
        amounts = linear.forward(triangle, freedom, [goals[turned[k]] for k in range(freedom)])
        change = [sum(a * row[i] for a, row in zip(amounts, basis, strict=True)) for i in range(readings)]
    for row, goal in zip(left, goals, strict=True):
        met = sum(a * b for a, b in zip(row, change, strict=True))
        if abs(met - goal) > 1e-6 * (1.0 + abs(goal)):
            raise _no_end("equations that contradict each other whatever the readings")
    right = [-row[-1] - sum(a * b for a, b in zip(row[unknowns:-1], change, strict=True)) for row in rows[:rank]]
    moved = [0.0] * unknowns
    for place, amount in enumerate(linear.back(rows, rank, right)):
        moved[order[place]] = amount
    return _Step(change, moved, basis, rows, rank, order)


def _settled(problem: _Problem) -> tuple[_Step, list[float]]:
    """Rounds until nothing changes; the last step and where the unknowns are."""
    change = [0.0] * len(problem.readings)
    off = [0.0] * len(problem.unknowns)
    for _ in range(ROUNDS):
        step = _solved(problem.straight(change, off), len(problem.unknowns))
        far = max((abs(a - b) / (1.0 + abs(a)) for a, b in zip(step.change, change, strict=True)), default=0.0)
        far = max([far, *(abs(moved) / (1.0 + abs(at)) for moved, at in zip(step.moved, off, strict=True))])
        change = step.change
        off = [at + moved for at, moved in zip(off, step.moved, strict=True)]
        if far <= SETTLED:
            return step, off
    raise _no_end(f"readings that did not come to agree in {ROUNDS} rounds")


def _unknowns(problem: _Problem, step: _Step, off: list[float]) -> tuple[Found, ...]:
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
    names = [*(one.name for one in unknowns), *(one.name for one in readings)]
    problem = _Problem(readings, unknowns, equations, tuple(Source(name, 1.0) for name in names))
    step, off = _settled(problem)
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
