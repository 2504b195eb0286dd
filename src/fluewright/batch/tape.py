"""Formulas recorded once and replayed over columns, block by block.

An array formula makes a new array for each operation and works out results that nobody asked for. Here a recording
number goes through the kernel in place of the reading, exactly as a float, an array or an uncertain number would, and
writes down each operation. What no wanted result needs is left out, the arrays in between are used again, and a block
is small enough for all of them to stay in the processor's cache. The text of a formula stays where it is.
"""

from collections.abc import Iterator, Sequence
from operator import itemgetter
from typing import Any, NamedTuple

Steps = list[tuple[Any, "itemgetter[Any]"]]


class Recorded:
    """A number that is not known yet; arithmetic on it is written down on its tape."""

    __slots__ = ("index", "tape")

    def __init__(self, tape: "Tape", index: int) -> None:
        self.tape = tape
        self.index = index

    def __add__(self, other: Any) -> Any:
        return self if _is(other, 0.0) else self.tape.record("add", self, other)

    __radd__ = __add__

    def __sub__(self, other: Any) -> Any:
        return self if _is(other, 0.0) else self.tape.record("subtract", self, other)

    def __rsub__(self, other: Any) -> Any:
        return self.tape.record("subtract", other, self)

    def __mul__(self, other: Any) -> Any:
        if _is(other, 0.0):
            return 0.0
        return self if _is(other, 1.0) else self.tape.record("multiply", self, other)

    __rmul__ = __mul__

    def __truediv__(self, other: Any) -> Any:
        if isinstance(other, Recorded):
            return self.tape.record("divide", self, other)
        return self * (1.0 / other)  # a division takes four times as long; the last digit may differ

    def __rtruediv__(self, other: Any) -> Any:
        return self.tape.record("divide", other, self)

    def __neg__(self) -> Any:
        return self.tape.record("negative", self)

    def __abs__(self) -> Any:
        return self.tape.record("absolute", self)

    def __pow__(self, power: float) -> Any:
        return self.tape.record("sqrt", self) if power == 0.5 else self.tape.record("power", self, power)

    def __array_ufunc__(self, function: Any, method: str, *operands: Any, **settings: Any) -> Any:
        """What numpy.sqrt, numpy.exp and their like call when they meet a recorded number."""
        if method != "__call__" or settings:
            return NotImplemented
        return self.tape.record(function.__name__, *operands)

    def __bool__(self) -> bool:
        raise TypeError("a recorded number has no value yet, so nothing can be decided by it")


def _is(other: Any, number: float) -> bool:
    return isinstance(other, float | int) and other == number


class Tape:
    """Operations in the order in which they were made, each one once."""

    def __init__(self) -> None:
        self.operations: list[tuple[str, tuple[Any, ...]]] = []
        self._known: dict[tuple[Any, ...], Recorded] = {}

    def reading(self) -> Recorded:
        """A fresh number that a column will be put in for."""
        self.operations.append(("reading", ()))
        return Recorded(self, len(self.operations) - 1)

    def record(self, name: str, *operands: Any) -> Any:
        """Write an operation down, or find it again if it stands there already."""
        if not all(isinstance(operand, Recorded | float | int) for operand in operands):
            return NotImplemented
        key = (name, *((Recorded, o.index) if isinstance(o, Recorded) else o for o in operands))
        if key not in self._known:
            self.operations.append((name, operands))
            self._known[key] = Recorded(self, len(self.operations) - 1)
        return self._known[key]

    def needed(self, results: Sequence[Any]) -> list[int]:
        """The operations that the results stand on, in order."""
        found: set[int] = set()
        waiting = [result.index for result in results if isinstance(result, Recorded)]
        while waiting:
            index = waiting.pop()
            if index not in found:
                found.add(index)
                waiting += [o.index for o in self.operations[index][1] if isinstance(o, Recorded)]
        return sorted(found)


class Program(NamedTuple):
    """A tape made ready to run: each step works on places of one list.

    The list holds the constants, then the columns that come in, then those that go out, then the arrays in between.
    """

    constants: Sequence[Any]
    steps: Steps
    between: int

    def run(self, columns: Sequence[Any], results: Sequence[Any], *, parts: Iterator[slice], block: int) -> None:
        """Work out some parts of the results; several threads may run one program on parts of their own."""
        import numpy

        between = [numpy.empty(block) for _ in range(self.between)]
        with numpy.errstate(all="ignore"):  # a row that no flame can produce comes out as inf or nan, and says so there
            for part in parts:
                inside = [column[part] for column in (*columns, *results)]
                length = len(inside[0])
                places = [*self.constants, *inside, *(array[:length] for array in between)]
                for function, operands in self.steps:
                    function(*operands(places))


def program(*, tape: Tape, readings: Sequence[Recorded], results: Sequence[Any]) -> Program:
    """Make a tape ready to run for the results that are wanted."""
    import numpy

    needed = tape.needed(results)
    constants = _constants(tape, needed, results)
    place = {reading.index: len(constants) + n for n, reading in enumerate(readings)}
    first_result = len(constants) + len(readings)
    going_out = {r.index: first_result + n for n, r in enumerate(results) if isinstance(r, Recorded)}
    free = _Free(first_result + len(results), _last_uses(tape, needed))
    steps: Steps = []
    for index in needed:
        name, operands = tape.operations[index]
        if name == "reading":
            continue
        sources = [place[o.index] if isinstance(o, Recorded) else constants[float(o)] for o in operands]
        free.give_back(index, place)
        place[index] = going_out.get(index) or free.take()
        steps.append((getattr(numpy, name), itemgetter(*sources, place[index])))
    for number, result in enumerate(results):
        source = place[result.index] if isinstance(result, Recorded) else constants[float(result)]
        if source != first_result + number:  # a reading, a plain number, or the same result twice
            steps.append((numpy.positive, itemgetter(source, first_result + number)))
    # as arrays without extent, which numpy takes up a little faster than plain numbers
    return Program([numpy.asarray(number) for number in constants], steps, free.made)


def _constants(tape: Tape, needed: Sequence[int], results: Sequence[Any]) -> dict[float, int]:
    """Every plain number among operands and results, with its place."""
    operands = [operand for index in needed for operand in tape.operations[index][1]]
    plain = dict.fromkeys(float(number) for number in (*operands, *results) if not isinstance(number, Recorded))
    return {number: place for place, number in enumerate(plain)}


def _last_uses(tape: Tape, needed: Sequence[int]) -> dict[int, list[int]]:
    """For each operation the numbers that nothing after it needs."""
    last = {o.index: index for index in needed for o in tape.operations[index][1] if isinstance(o, Recorded)}
    ends: dict[int, list[int]] = {}
    for number, index in last.items():
        ends.setdefault(index, []).append(number)
    return ends


class _Free:
    """Places of arrays in between that may be written over."""

    def __init__(self, first: int, ends: dict[int, list[int]]) -> None:
        self._first = first
        self._ends = ends
        self._waiting: list[int] = []
        self.made = 0

    def give_back(self, index: int, place: dict[int, int]) -> None:
        """Free what this operation is the last to need; it may itself write there, element by element."""
        self._waiting += [place[number] for number in self._ends.get(index, ()) if place[number] >= self._first]

    def take(self) -> int:
        """A free place, the one used last first, because it is still in the cache."""
        if self._waiting:
            return self._waiting.pop()
        self.made += 1
        return self._first + self.made - 1
