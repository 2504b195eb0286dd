"""Gas pipes between meter and appliances: pieces in a row, branches, and the drop along them by two roads."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.errors import PhysicsRefused
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.fuels.record import FuelRecord
from fluewright.kernel import gas_pipe, ops, pipe_friction, pipe_sizes
from fluewright.kernel.gas_properties import gas_properties
from fluewright.kernel.ops import Number

HIGH = 1.5 * 6894.757293168
"""Pa gauge from which on the code has another equation and the gas thins on its way (IFGC 402.4)."""
CODE_PRESSURE = 14.73 * 6894.757293168
"""Pa: the flow of the code equations is counted at this and 60 F."""
SIXTY_F = 288.7056
"""K, 60 F."""
REFERENCE = 101_325.0

PLAIN = math.sqrt(3.0)
"""Half-width of even limits over their standard uncertainty (GUM 4.3.7)."""
DIAMETER, ROUGHNESS, FITTINGS, FORM, VISCOSITY = 0.01, 0.5, 0.3, 0.03, 0.03
"""Limits of inside diameter, roughness, equivalent lengths, friction form and viscosity, shares of themselves
(common practice, no source; the form by comparison with Colebrook-White)."""
UNDECIDED, BETWEEN = 0.3, (2000.0, 4500.0)
"""The friction form where flow may be laminar or turbulent, and the Reynolds numbers between which it may be either
(the two differ by a factor of two; common practice, no source)."""
STRANGE = 0.3
"""The same for the viscosity of a gas that has none of its own on file."""
PIPE_TEMPERATURE, TEMPERATURE_LIMIT = 288.15, 10.0
"""K taken for a pipe whose temperature nobody read, and its limits."""


@dataclass(frozen=True, slots=True)
class Load:
    """An appliance on the line.

    name   unique on the line
    input  gross heat input
    here   whether it is the appliance of this visit
    """

    name: str
    input: Reading
    here: bool = False


@dataclass(frozen=True, slots=True)
class Segment:
    """A piece of pipe of one size with one flow.

    words           size as typed
    length          without fittings
    inner_diameter  m
    roughness       m
    source          where the diameter comes from
    ratio           length over diameter of its fittings together
    feeds           names of the appliances behind it
    size            size of schedule 40 pipe, empty for any other
    """

    name: str
    words: str
    length: Reading
    inner_diameter: float
    roughness: float
    source: str
    ratio: float
    feeds: tuple[str, ...]
    size: str = ""


@dataclass(frozen=True, slots=True)
class GasLine:
    """Pieces from the meter on, and the appliances behind them."""

    segments: tuple[Segment, ...]
    loads: tuple[Load, ...]

    @property
    def here(self) -> Load:
        """The appliance of this visit, the first where none is marked."""
        return next((load for load in self.loads if load.here), self.loads[0])

    def way_to(self, load: Load) -> tuple[Segment, ...]:
        """The pieces that its gas passes."""
        return tuple(segment for segment in self.segments if load.name in segment.feeds)


@dataclass(frozen=True, slots=True)
class Drops:
    """Pressure lost to one appliance; by the code None where its equation does not speak of this gas."""

    by_friction: Number
    by_code: Number | None


def gas_of(record: FuelRecord) -> str:
    """The name of the gas in the tables of the code, empty where they do not have it."""
    shares = record.mole_fractions or {}
    if shares.get("CH4", 0.0) >= 0.7:
        return "natural gas"
    return "propane" if shares.get("C3H8", 0.0) >= 0.8 else ""


class Flow:
    """Works out the drop along a line for one fuel, with every doubt of its inputs.

    gauge  Pa above the room at the meter, an uncertain number
    """

    def __init__(self, line: GasLine, reckoning: Reckoning, gauge: Number) -> None:
        account = reckoning.account
        if account.fuel.mole_fractions is None:
            raise PhysicsRefused(
                code="FW-K-050",
                read=f"{account.fuel.words}, which is not a gas",
                expected="a fuel gas",
                matters="the drop along a gas pipe rests on its density and its heat",
                do="name the gas that flows through this pipe",
            )
        self.line, self.reckoning = line, reckoning
        self.gas = gas_of(account.fuel)
        found = gas_properties(mole_fractions=account.fuel.mole_fractions, combustion="60F", metering="60F")
        self.density, self.heat = found.relative_density, found.heating_value_gross
        self.high = bool(ops.value_of(gauge) > HIGH)
        self.pressure = gauge + _air(account, reckoning)
        self.temperature = reckoning.assumed(
            "pipe_temperature",
            PIPE_TEMPERATURE,
            TEMPERATURE_LIMIT / PLAIN,
            source="assumed, pipe of a house",
            words="temperature of the gas in the pipe",
        )
        self.viscosity = self._viscosity()
        self.inputs = {load.name: reckoning.read(load.input, words=f"input of {load.name}") for load in line.loads}
        self.sizes = {segment.name: self._size(segment) for segment in line.segments}

    def _share(self, words: str, limit: float, source: str) -> Number:
        return self.reckoning.assumed("share", 1.0, limit / PLAIN, source=source, words=words)

    def _viscosity(self) -> Number:
        data = pipe_sizes.LINE_GASES[self.gas or "natural gas"]
        own = self._share("viscosity of the gas", VISCOSITY if self.gas else STRANGE, "reference equations of state")
        return own * pipe_friction.viscosity_at(
            viscosity=data.viscosity, warming=data.warming, temperature=self.temperature
        )

    def _size(self, segment: Segment) -> tuple[Number, Number, Number]:
        """Inside diameter, whole length and roughness of a piece."""
        reckoning, name = self.reckoning, segment.name
        inner = reckoning.assumed(
            "inner_diameter",
            segment.inner_diameter,
            segment.inner_diameter * DIAMETER / PLAIN,
            source=segment.source,
            words=f"inside diameter of {name}",
        )
        length = reckoning.read(segment.length, words=f"length of {name}")
        if segment.ratio:
            counted = self._share(f"what the fittings of {name} count for", FITTINGS, "Crane TP 410, from memory")
            length = length + counted * pipe_friction.equivalent_length(
                fittings_ratio=segment.ratio, inner_diameter=inner
            )
        rough = self._share(f"roughness of {name}", ROUGHNESS, "new pipe, from memory")
        return inner, length, rough * segment.roughness

    def _form(self, segment: Segment, mass: Number) -> Number:
        """One, with the doubt of the friction form for this piece at this flow."""
        inner = float(ops.value_of(self.sizes[segment.name][0]))
        reynolds = 4.0 * float(ops.value_of(mass)) / (math.pi * inner * float(ops.value_of(self.viscosity)))
        if BETWEEN[0] < reynolds < BETWEEN[1]:
            return self._share(
                f"friction form, {segment.name}", UNDECIDED, "laminar or turbulent: at this flow a pipe may be either"
            )
        return self._share(f"friction form, {segment.name}", FORM, "compared with Colebrook-White")

    def _reference_flow(self, segment: Segment, burning: Sequence[str]) -> Number:
        """m3/s at 60 F and one atmosphere through a piece with these appliances on."""
        names = [name for name in segment.feeds if name in burning]
        total: Number = 0.0
        for name in names:
            total = total + self.inputs[name]
        return total / self.heat

    def to(self, load: Load, burning: Sequence[str]) -> Drops:
        """Pressure lost from the meter to one appliance with these appliances on.

        load     on the line
        burning  names of the appliances on, this one among them
        -> drops, Pa; PhysicsRefused where the pipe cannot carry the flow
        """
        friction, code = self.pressure, self.pressure if self.gas else None
        for segment in self.line.way_to(load):
            flow = self._reference_flow(segment, burning)
            friction = self._after(segment, friction, flow)
            if code is not None:
                code = self._after_by_code(segment, code, flow)
        for left in (friction, code):
            if left is not None and float(ops.value_of(left)) < self.reckoning.account.surroundings.pressure:
                raise PhysicsRefused(
                    code="FW-K-051",
                    read=f"a line to {load.name} that would lose more pressure than there is",
                    expected="a pipe that can carry what burns behind it",
                    matters="no such flow can pass, so the drop has no value",
                    do="check sizes, lengths and inputs: one of them is mistyped",
                )
        return Drops(self.pressure - friction, None if code is None else self.pressure - code)

    def _after(self, segment: Segment, pressure: Number, flow: Number) -> Number:
        """Absolute pressure behind a piece, from first principles."""
        inner, length, rough = self.sizes[segment.name]
        mass = flow * pipe_friction.line_density(relative_density=self.density, pressure=REFERENCE, temperature=SIXTY_F)
        form = self._form(segment, mass)
        if self.high:
            out = pipe_friction.pressure_out_isothermal(
                mass_flow=mass,
                pressure_in=pressure,
                temperature=self.temperature,
                relative_density=self.density,
                inner_diameter=inner,
                length=length,
                dynamic_viscosity=self.viscosity,
                roughness=rough,
            )
            return pressure - form * (pressure - out)
        drop = pipe_friction.drop_darcy(
            gas_flow=flow * (REFERENCE / self.pressure) * (self.temperature / SIXTY_F),
            inner_diameter=inner,
            length=length,
            density=pipe_friction.line_density(
                relative_density=self.density, pressure=self.pressure, temperature=self.temperature
            ),
            dynamic_viscosity=self.viscosity,
            roughness=rough,
        )
        return pressure - form * drop

    def _after_by_code(self, segment: Segment, pressure: Number, flow: Number) -> Number:
        """Absolute pressure behind a piece, by the equation of the code."""
        inner, length, _ = self.sizes[segment.name]
        data = pipe_sizes.LINE_GASES[self.gas]
        counted = flow * REFERENCE / CODE_PRESSURE
        if self.high:
            return gas_pipe.pressure_out_high_pressure(
                gas_flow=counted,
                pressure_in=pressure,
                inner_diameter=inner,
                length=length,
                gas_factor=data.code_factor,
                code_compression=data.compression,
            )
        return pressure - gas_pipe.drop_low_pressure(
            gas_flow=counted, inner_diameter=inner, length=length, gas_factor=data.code_factor
        )


def _air(account: Account, reckoning: Reckoning) -> Number:
    """The barometer of the place."""
    place = account.surroundings
    return reckoning.assumed("barometer", place.pressure, place.pressure_spread, source=place.pressure_source)
