"""Readings made into uncertain numbers: what was typed, what the instrument adds, what was assumed in silence."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from fluewright.evidence import refusals
from fluewright.evidence.doubt import Ledger, Origin
from fluewright.evidence.origins import class_for, origin_of
from fluewright.evidence.reading import Instrument, Point, Reading, Stretch, Surroundings
from fluewright.fuels.record import FuelRecord, doubtful_fuel
from fluewright.kernel import air as airs
from fluewright.kernel import analysis, ops, sampling
from fluewright.kernel.air import Air
from fluewright.kernel.analysis import Prepared
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.constants import REFERENCE_TEMPERATURE, WATER_MOLAR_MASS
from fluewright.kernel.fuel import Fuel
from fluewright.kernel.ops import Number
from fluewright.quantity import names

OF_THE_FUEL = "what the fuel is made of"
"""Words of a source that stands for several shares together, so that no single value belongs to it."""

HUMIDITY_LEFT_OUT = 0.010 / math.sqrt(3.0)
"""kg/kg dry air: humidity nobody read lies between none and 10 g/kg (25 C, half saturated; check HUM-001)."""

SAMPLE_WATER_LEFT = 0.023 / math.sqrt(3.0)
"""Relative: a trap up to 20 C leaves up to 2.3 % water in a sample called dry (practice P7)."""

FUEL_WARMTH_UNREAD = 15.0 / math.sqrt(3.0)
"""K around 25 C: fuel from a cold pipe or a warm cellar (common practice, no source)."""

MIXING = "how evenly the gas is mixed at that point, not known"
"""What the doubt of a point with a wide edge is called in a working."""

TRACE_GASES = ("nitric_oxide", "nitrogen_dioxide", "sulfur_dioxide")


@dataclass(frozen=True, slots=True)
class Taken:
    """One stretch as it goes into the formulas; missing readings are None, temperatures then 25 C.

    Gases stand on the basis of the sample: dry, or wet where `wet` is true; `dried` brings one to dry.
    """

    record: FuelRecord
    prepared: Prepared
    ledger: Ledger
    point: Point
    boundary: str
    basis: str
    oxygen: Number | None
    carbon_dioxide: Number | None
    carbon_monoxide: Number | None
    trace_gases: Mapping[str, Number]
    oxygen_intake: Number | None
    oxygen_fresh: Number | None
    flue_temperature: Number
    air_temperature: Number
    fuel_temperature: Number
    pressure: Number
    jacket: Number
    condensate: Number | None
    readings: Mapping[str, Reading]
    mixed: Number = 1.0
    withheld: Mapping[str, str] = field(default_factory=dict)

    @property
    def wet(self) -> bool:
        """Whether the sample was not dried."""
        return self.basis == "wet"

    @property
    def has_temperatures(self) -> bool:
        """Whether both flue and air temperature were read."""
        return not self.missing_temperature()

    @property
    def has_carbon_monoxide(self) -> bool:
        """Whether carbon monoxide was read."""
        return self.carbon_monoxide is not None

    @property
    def has_carbon(self) -> bool:
        """Whether the fuel has carbon to make carbon monoxide of."""
        return float(ops.value_of(self.prepared.need.carbon_dioxide_dry_max)) >= refusals.HARDLY_CARBON

    @property
    def colder_than_air(self) -> bool:
        """Whether the flue reads colder than the air: no loss worked out from that means anything."""
        return self.has_temperatures and float(ops.value_of(self.flue_temperature)) < float(
            ops.value_of(self.air_temperature)
        )

    def missing_temperature(self) -> str:
        """The temperatures still wanted, in words."""
        wanted = [
            n for n in ("flue_temperature", "air_temperature")
            if n not in self.readings or self.readings[n].figure is None
        ]  # fmt: skip
        return " and ".join(names.of(name).words for name in wanted)

    def dried(self, number: Number, flue: FlueGas) -> Number:
        """A gas of the sample on the dry basis."""
        return number * (flue.dry + flue.water) / flue.dry if self.wet else number

    def carbon_monoxide_dry(self, flue: FlueGas) -> Number:
        """Carbon monoxide on the dry basis, 0 when it was not read."""
        return 0.0 if self.carbon_monoxide is None else self.dried(self.carbon_monoxide, flue)


def _uncertain_fuel(record: FuelRecord, ledger: Ledger) -> Fuel:
    """The fuel with the doubt about what it is made of."""

    def doubtful(name: str, value: float, spread: float) -> Number:
        quantity = "heating_value_gross_per_mass" if name == "heating_value_gross" else "share"
        return ledger.number(Origin(quantity, OF_THE_FUEL, value, spread, spread, "fuel library"))

    return doubtful_fuel(record, doubtful)


def _air(surroundings: Surroundings, ledger: Ledger, temperature: Number) -> Air:
    """Combustion air with its humidity, or with the doubt of a humidity nobody read."""
    dry = airs.DRY_AIR
    humidity = surroundings.relative_humidity
    if humidity is None:
        words = "moisture in the air, left out"
        water = ledger.number(Origin("humidity_ratio", words, 0.0, 0.0, HUMIDITY_LEFT_OUT, "assumed"))
        moles = water * (airs.MOLAR_MASS / WATER_MOLAR_MASS)
        return Air(dry.oxygen, dry.nitrogen, dry.argon, dry.carbon_dioxide, moles)
    spread = 0.05 / math.sqrt(3.0)
    read = ledger.number(Origin("relative_humidity", "relative humidity", humidity, spread, spread, "typed"))
    return airs.humid(
        relative_humidity=read, temperature=ops.value_of(temperature), pressure=surroundings.pressure, dry=dry
    )


class _Reader:
    """Hands out each reading as an uncertain number, brought to dry where a trap left water in the sample."""

    def __init__(
        self, stretch: Stretch, instrument: Instrument, surroundings: Surroundings, record: FuelRecord
    ) -> None:
        self.stretch = stretch
        self.instrument = instrument
        self.record = record
        self.pressure = surroundings.pressure
        self.ledger = Ledger()
        words = "water left in the sample"
        left = Origin("share", words, 0.0, 0.0, SAMPLE_WATER_LEFT, "assumed")
        self.left = self.ledger.number(left) if stretch.basis == "dry" else 0.0
        self.trap = self._trap()

    def _trap(self) -> Number | None:
        trap = self.instrument.trap
        if self.stretch.basis != "dried to trap" or trap is None:
            return None
        spread = 2.0 / math.sqrt(3.0)  # K: common practice, no source
        return self.ledger.number(
            Origin("trap_temperature", names.of("trap_temperature").words, trap, spread, spread, "typed")
        )

    def reading(self, gas: str) -> Reading | None:
        """The reading of a gas under its wet or dry name; None when it was not taken or is a trend word alone."""
        endings = ("_wet", "_dry") if self.stretch.basis == "wet" else ("_dry",)
        for name in (*(gas + ending for ending in endings), gas):
            found = self.stretch.readings.get(name)
            if found is not None and found.figure is not None:
                return found
        return None

    def number(self, name: str) -> Number | None:
        """The reading as it stands, None when it was not taken."""
        reading = self.reading(name)
        return None if reading is None else self.ledger.number(self.origin(reading))

    def origin(self, reading: Reading) -> Origin:
        """Where the doubt of a reading comes from."""
        return origin_of(reading, self.instrument, record=self.record)

    def gas(self, name: str) -> Number | None:
        """A gas on the basis of the sample: dry, or wet where it was not dried."""
        read = self.number(name)
        if read is None or self.stretch.basis == "wet":
            return read
        if self.trap is not None:
            return sampling.dry_from_dried(dried_fraction=read, trap_temperature=self.trap, pressure=self.pressure)
        return read * (1.0 + self.left)

    def of_one_cell(self, name: str) -> Number | None:
        """Oxygen compared with another reading of the same cell: only its display step is in doubt."""
        reading = self.reading(name)
        if reading is None:
            return None
        kind = class_for(reading.quantity, self.instrument)
        step = (kind.channels[0].resolution if kind else 0.001) / math.sqrt(12.0)
        return self.ledger.number(replace(self.origin(reading), below=step, above=step))


def _pressure(surroundings: Surroundings) -> Origin:
    spread = surroundings.pressure_spread
    source = surroundings.pressure_source
    return Origin("barometer", "barometric pressure", surroundings.pressure, spread, spread, source)


def _fuel_warmth(ledger: Ledger) -> Number:
    spread = FUEL_WARMTH_UNREAD
    words = "temperature of the fuel, not read"
    return ledger.number(Origin("fuel_temperature", words, REFERENCE_TEMPERATURE, spread, spread, "assumed"))


def _jacket(fraction: float, ledger: Ledger) -> Number:
    if not fraction:
        return 0.0
    half = fraction / 2.0 / math.sqrt(3.0)
    return ledger.number(Origin("loss_jacket", "heat lost through the jacket", fraction, half, half, "assumed"))


def _mixed(point: Point, ledger: Ledger) -> Number:
    """One, with the doubt that uneven mixing at the point adds."""
    spread = point.point_class.mixing
    return 1.0 if not spread else ledger.number(Origin("share", MIXING, 1.0, spread, spread, point.point_class.note))


def take(
    *,
    record: FuelRecord,
    stretch: Stretch,
    instrument: Instrument,
    surroundings: Surroundings,
    jacket: float,
    withheld: Mapping[str, str],
) -> Taken:
    """Make one stretch of readings ready for the formulas.

    record, stretch, instrument, surroundings  as in flue.work
    jacket                                     fraction of gross heat, 0 when left out
    withheld                                   results that this appliance refuses, with the reason
    -> readings as uncertain numbers; PhysicsRefused when nothing honest can be worked out from them
    """
    refusals.need_a_gas(stretch, record)
    refusals.need_a_flue(stretch)
    refusals.need_outdoor_air(stretch)
    reader = _Reader(stretch, instrument, surroundings, record)
    ledger = reader.ledger
    flue_temperature, air_temperature = reader.number("flue_temperature"), reader.number("air_temperature")
    refusals.need_a_place(surroundings, 293.15 if air_temperature is None else air_temperature)
    fuel = _uncertain_fuel(record, ledger)
    air = _air(surroundings, ledger, 293.15 if air_temperature is None else air_temperature)
    outdoor = reader.of_one_cell("oxygen_outdoor")
    collected = reader.number("condensate_per_heat")
    return Taken(
        record=record,
        prepared=analysis.prepare(fuel=fuel, air=air),
        ledger=ledger,
        point=stretch.point,
        boundary=stretch.boundary,
        basis=stretch.basis,
        oxygen=reader.gas("oxygen"),
        carbon_dioxide=reader.gas("carbon_dioxide"),
        carbon_monoxide=reader.gas("carbon_monoxide"),
        trace_gases={gas: read for gas in TRACE_GASES if (read := reader.gas(gas)) is not None},
        oxygen_intake=reader.gas("oxygen_intake") if outdoor is None else reader.of_one_cell("oxygen_intake"),
        oxygen_fresh=outdoor,
        flue_temperature=REFERENCE_TEMPERATURE if flue_temperature is None else flue_temperature,
        air_temperature=REFERENCE_TEMPERATURE if air_temperature is None else air_temperature,
        fuel_temperature=_fuel_warmth(ledger),
        pressure=ledger.number(_pressure(surroundings)),
        jacket=_jacket(jacket, ledger),
        condensate=None if collected is None else collected * fuel.heating_value_gross / WATER_MOLAR_MASS,
        readings=stretch.readings,
        mixed=_mixed(stretch.point, ledger),
        withheld=withheld,
    )
