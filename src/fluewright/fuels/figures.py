"""What follows from a fuel: heat, density, Wobbe index, air need and products, each with doubt and working."""

from collections.abc import Callable
from dataclasses import dataclass

from fluewright.fuels import ofgas, ofmass
from fluewright.fuels.line import Line
from fluewright.fuels.record import FuelRecord, doubtful_fuel, doubtful_shares
from fluewright.fuels.reference import Reference
from fluewright.kernel.dual import Dual, Source
from fluewright.kernel.ops import Number, value_of

DATA_SPREAD = 0.0005
"""Relative standard uncertainty of heating values of pure gases (ISO 6976:2016: 0.02 to 0.1 %, from memory)."""

ROUND_OFF = 1e-12
"""Share of the variance below which a source of doubt is only the rounding of the arithmetic."""

NOTHING = 1e-9
"""Relative uncertainty below which there is none: parts that cancel leave the rounding of the arithmetic behind."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """One source of doubt of a figure.

    words   as a person says it
    name    of the share or property
    value   canonical unit, fractions for shares
    spread  standard uncertainty
    share   part of the variance, 0..1
    """

    words: str
    name: str
    value: float
    spread: float
    share: float


@dataclass(frozen=True, slots=True)
class Figure:
    """One property of a fuel.

    name      key in the output
    words     as a person says it
    quantity  registry name whose units it is shown in
    value     canonical unit of that quantity, None when refused
    spread    standard uncertainty
    doubts    largest share first
    formula   in words; numbers the same with values; source and holds as in a working
    refused   why there is no value
    """

    name: str
    words: str
    quantity: str
    value: float | None
    spread: float
    doubts: tuple[Doubt, ...]
    formula: str
    numbers: str
    source: str
    holds: str
    refused: str = ""


class Doubts:
    """Makes the uncertain numbers of one fuel, the same source for the same name each time."""

    def __init__(self, record: FuelRecord) -> None:
        self._made: dict[str, Dual] = {}
        self._words: dict[Source, tuple[str, str, float]] = {}
        self.record = record

    def number(self, name: str, value: float, spread: float) -> Number:
        """An uncertain number for a share, a heating value or a constant of the data."""
        if name not in self._made:
            source = Source(name, spread)
            self._words[source] = (self._say(name), name, value)
            self._made[name] = Dual(value, {source: 1.0})
        return self._made[name]

    def _say(self, name: str) -> str:
        known = {
            "heating_value_gross": "heating value of the fuel",
            "data": "heating values of the pure gases",
            "density": "density",
            "water": "moisture of the fuel" if self.record.kind == "solid" else "water in the fuel",
        }
        return known.get(name, f"share of {name}")

    def of(self, number: Number) -> tuple[float, tuple[Doubt, ...]]:
        """Standard uncertainty of a result and where it comes from."""
        if not isinstance(number, Dual):
            return 0.0, ()
        parts = {source: float(slope * source.spread) ** 2 for source, slope in number.partials.items()}
        total = sum(parts.values())
        if total <= 0.0 or total**0.5 <= NOTHING * abs(float(number.value)):
            return 0.0, ()
        ordered = sorted(parts, key=lambda source: -parts[source])
        doubts = tuple(
            Doubt(*self._words[source], float(source.spread), parts[source] / total)
            for source in ordered
            if parts[source] > ROUND_OFF * total
        )
        return float(total**0.5), doubts


def figures(record: FuelRecord, *, reference: Reference) -> dict[str, Figure]:
    """Everything that follows from a fuel, by name.

    record     fuel
    reference  what heat and volume of a gas are counted at
    -> figures; those that a fuel does not have are refused with a reason
    Holds   dry air of 20.946 % oxygen, complete combustion
    Source  ISO 6976:2016 and the element balance; docs/method/fuel.md
    """
    doubts = Doubts(record)
    data = doubts.number("data", 1.0, DATA_SPREAD)
    shares = doubtful_shares(record, doubts.number)
    fuel = doubtful_fuel(record, doubts.number)
    make: Callable[..., list[Line]] = ofgas.lines if record.kind == "gas" else ofmass.lines
    return {
        line.name: _figure(line, doubts)
        for line in make(record, shares=shares, fuel=fuel, data=data, reference=reference, number=doubts.number)
    }


def _figure(line: Line, doubts: Doubts) -> Figure:
    spread, parts = (0.0, ()) if line.value is None else doubts.of(line.value)
    return Figure(
        name=line.name,
        words=line.told.words,
        quantity=line.told.quantity,
        value=None if line.value is None else float(value_of(line.value)),
        spread=spread,
        doubts=parts,
        formula=line.told.formula,
        numbers=line.numbers,
        source=line.told.source,
        holds=line.holds,
        refused=line.refused,
    )
