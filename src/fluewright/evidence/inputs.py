"""Readings made into uncertain numbers: what was typed, what the instrument adds, what was assumed in silence."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from fluewright.errors import PhysicsRefused
from fluewright.evidence.doubt import Ledger, Origin
from fluewright.evidence.reading import Instrument, Point, Reading, Stretch, Surroundings
from fluewright.fuels.record import FuelRecord, doubtful_fuel
from fluewright.kernel import air as airs
from fluewright.kernel import analysis, ops, sampling
from fluewright.kernel.air import Air
from fluewright.kernel.analysis import Prepared
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.constants import WATER_MOLAR_MASS
from fluewright.kernel.fuel import Fuel
from fluewright.kernel.ops import Number
from fluewright.quantity import names, uncertain
from fluewright.quantity.meaning import Spread
from fluewright.quantity.uncertain import InstrumentClass

OF_THE_FUEL = "what the fuel is made of"
"""Words of a source that stands for several shares together, so that no single value belongs to it."""

HUMIDITY_LEFT_OUT = 0.010 / math.sqrt(3.0)
"""kg/kg dry air: humidity nobody read lies between none and 10 g/kg (25 C, half saturated; check HUM-001)."""

TRACE_GASES = ("nitric_oxide_dry", "nitrogen_dioxide_dry", "sulfur_dioxide_dry")

SAMPLE_WATER_LEFT = 0.023 / math.sqrt(3.0) / 2.0
"""Relative: a trap between 0 and 20 C leaves 0.6 to 2.3 % water in a sample called dry (practice P7)."""


@dataclass(frozen=True, slots=True)
class Taken:
    """One stretch as it goes into the formulas; missing readings are None, temperatures then 25 C."""

    record: FuelRecord
    prepared: Prepared
    ledger: Ledger
    point: Point
    boundary: str
    basis: str
    oxygen: Number | None
    oxygen_wet: Number | None
    carbon_dioxide: Number | None
    carbon_monoxide: Number
    flue_temperature: Number
    air_temperature: Number
    pressure: Number
    jacket: Number
    condensate: Number | None
    trace_gases: Mapping[str, Number]
    oxygen_intake: Number | None
    readings: Mapping[str, Reading]
    over_range: bool

    @property
    def has_temperatures(self) -> bool:
        """Whether both flue and air temperature were read."""
        return "flue_temperature" in self.readings and "air_temperature" in self.readings

    @property
    def has_carbon_monoxide(self) -> bool:
        """Whether carbon monoxide was read, dry or wet."""
        return "carbon_monoxide_dry" in self.readings or "carbon_monoxide_wet" in self.readings

    def missing_temperature(self) -> str:
        """The temperatures still wanted, in words."""
        wanted = [n for n in ("flue_temperature", "air_temperature") if n not in self.readings]
        return " and ".join(names.of(name).words for name in wanted)

    def carbon_monoxide_dry(self, flue: FlueGas) -> Number:
        """Carbon monoxide on the dry basis."""
        return flue.carbon_monoxide / flue.dry

    def described(self) -> str:
        """The readings as typed, for an error."""
        return ", ".join(f"{names.of(r.quantity).words} {r.typed.text}" for r in self.readings.values())


def _value_of(reading: Reading) -> tuple[float, float]:
    """Middle of what was typed and the half-width of a range; a bound counts as its edge."""
    typed = reading.typed
    if typed.kind == "range" and typed.low is not None and typed.high is not None:
        return (typed.low + typed.high) / 2.0, (typed.high - typed.low) / 2.0
    if typed.kind == "bound":
        edge = typed.low if typed.low is not None else typed.high
        return float(edge if edge is not None else 0.0), 0.0
    return float(typed.value if typed.value is not None else 0.0), 0.0


_FALLBACKS = ("service", "portable", "in-situ", "gauge")
"""Classes asked in turn for a quantity that the instrument's own class does not read."""
_SAME_CELL = {"carbon_monoxide_wet": "carbon_monoxide_dry", "oxygen_intake": "oxygen_dry"}
_UNLISTED = 0.05
"""Relative limit of error of a reading that no class lists (common practice, no source)."""


def _class_for(quantity: str, instrument: Instrument) -> InstrumentClass | None:
    """The accuracy class that reads this quantity, with the instrument's own word on hydrogen."""
    for name in (instrument.accuracy, *_FALLBACKS):
        kind = uncertain.instrument_class(name)
        for channel in kind.channels:
            if quantity in channel.quantities:
                known = replace(channel, hydrogen=instrument.hydrogen) if channel.hydrogen != "none" else channel
                return replace(kind, channels=(known,))
    return None


def _origin(reading: Reading, instrument: Instrument) -> Origin:
    """The doubt of one reading: accuracy class with its own display step, and the width of a range.

    The digits typed do not count: people leave out the zero of 5.0.
    """
    value, half = _value_of(reading)
    quantity = _SAME_CELL.get(reading.quantity, reading.quantity)
    kind = _class_for(quantity, instrument)
    if kind is None:
        limit = abs(value) * _UNLISTED / math.sqrt(3.0)
        spread = Spread(limit, limit, "no class lists this reading")
    else:
        spread = uncertain.standard_uncertainty(quantity=quantity, value=value, instrument_class=kind)
    width = half / math.sqrt(3.0)
    return Origin(
        reading.quantity,
        names.of(reading.quantity).words,
        value,
        math.hypot(spread.below, width),
        math.hypot(spread.above, width),
        reading.source,
    )


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
    """Hands out each reading as an uncertain number, brought to the dry basis where the sample was not dry."""

    def __init__(self, stretch: Stretch, instrument: Instrument, surroundings: Surroundings, ledger: Ledger) -> None:
        self.stretch = stretch
        self.instrument = instrument
        self.pressure = surroundings.pressure
        self.ledger = ledger
        words = "water left in the sample"
        spread = SAMPLE_WATER_LEFT
        self.left = (
            ledger.number(Origin("share", words, 0.0, 0.0, 2.0 * spread, "assumed")) if stretch.basis == "dry" else 0.0
        )

    def number(self, name: str) -> Number | None:
        """The reading as it stands, None when it was not taken."""
        reading = self.stretch.readings.get(name)
        return None if reading is None else self.ledger.number(_origin(reading, self.instrument))

    def dry(self, name: str) -> Number | None:
        """A gas reading on the dry basis."""
        read = self.number(name)
        if read is None:
            return None
        if self.stretch.basis == "dried to trap" and self.instrument.trap is not None:
            return sampling.dry_from_dried(
                dried_fraction=read, trap_temperature=self.instrument.trap, pressure=self.pressure
            )
        return read * (1.0 + self.left)


def _need_a_gas(stretch: Stretch, record: FuelRecord) -> None:
    if any(name in stretch.readings for name in ("oxygen_dry", "oxygen_wet", "carbon_dioxide_dry")):
        return
    raise PhysicsRefused(
        code="FW-K-002",
        read=f"no oxygen and no carbon dioxide among the readings of {stretch.word}",
        expected="one of them, as % of the flue gas",
        matters=f"without it nobody knows how much air {record.words} burned with",
        do='add --o2 or --co2, or in a visit file a line such as oxygen_dry = "5.0 %"',
    )


HOTTEST = 1000.0
"""K: the enthalpies of the losses hold to here; no flue worth testing is hotter."""


def _need_a_flue(stretch: Stretch) -> None:
    for name in ("flue_temperature", "air_temperature"):
        reading = stretch.readings.get(name)
        if reading is None or reading.typed.value is None or 200.0 <= reading.typed.value <= HOTTEST:
            continue
        raise PhysicsRefused(
            code="FW-K-003",
            read=f"{names.of(name).words} {reading.typed.text}",
            expected="-73 to 727 °C (-100 to 1340 °F)",
            matters="the heat data of the losses hold no further, and no flue that may be left running is hotter",
            do="check the unit; a flame's own temperature is not a flue temperature",
        )


def _pressure(surroundings: Surroundings) -> Origin:
    spread = surroundings.pressure_spread
    source = surroundings.pressure_source
    return Origin("barometer", "barometric pressure", surroundings.pressure, spread, spread, source)


def take(
    *, record: FuelRecord, stretch: Stretch, instrument: Instrument, surroundings: Surroundings, jacket: float
) -> Taken:
    """Make one stretch of readings ready for the formulas.

    record, stretch, instrument, surroundings  as in flue.work
    jacket                                     fraction of gross heat, 0 when left out
    -> readings as uncertain numbers; PhysicsRefused when neither oxygen nor carbon dioxide was read
    """
    _need_a_gas(stretch, record)
    _need_a_flue(stretch)
    ledger = Ledger()
    reader = _Reader(stretch, instrument, surroundings, ledger)
    flue_temperature = reader.number("flue_temperature")
    air_temperature = reader.number("air_temperature")
    air = _air(surroundings, ledger, air_temperature if air_temperature is not None else 293.15)
    fuel = _uncertain_fuel(record, ledger)
    wet = stretch.basis == "wet"
    carbon_monoxide = reader.number("carbon_monoxide_wet") if wet else reader.dry("carbon_monoxide_dry")
    collected = reader.number("condensate_per_heat")
    co_reading = stretch.readings.get("carbon_monoxide_dry") or stretch.readings.get("carbon_monoxide_wet")
    return Taken(
        record=record,
        prepared=analysis.prepare(fuel=fuel, air=air),
        ledger=ledger,
        point=stretch.point,
        boundary=stretch.boundary,
        basis=stretch.basis,
        oxygen=None if wet else reader.dry("oxygen_dry"),
        oxygen_wet=reader.number("oxygen_wet") if wet else None,
        carbon_dioxide=reader.dry("carbon_dioxide_dry"),
        carbon_monoxide=0.0 if carbon_monoxide is None else carbon_monoxide,
        flue_temperature=298.15 if flue_temperature is None else flue_temperature,
        air_temperature=298.15 if air_temperature is None else air_temperature,
        pressure=ledger.number(_pressure(surroundings)),
        jacket=_jacket(jacket, ledger),
        condensate=None if collected is None else collected * fuel.heating_value_gross / WATER_MOLAR_MASS,
        trace_gases={n: g for n in TRACE_GASES if (g := reader.dry(n)) is not None},
        oxygen_intake=reader.dry("oxygen_intake"),
        readings=stretch.readings,
        over_range=co_reading is not None and co_reading.typed.kind == "bound" and co_reading.typed.low is not None,
    )


def _jacket(fraction: float, ledger: Ledger) -> Number:
    if not fraction:
        return 0.0
    half = fraction / 2.0 / math.sqrt(3.0)
    return ledger.number(Origin("loss_jacket", "heat lost through the jacket", fraction, half, half, "assumed"))


def spread_of(reading: Reading, instrument: Instrument) -> tuple[float, float]:
    """Standard uncertainty of one reading towards smaller and larger values, canonical unit."""
    origin = _origin(reading, instrument)
    return origin.below, origin.above
