"""What a clocking of the gas meter comes to: the numbers of one count, each with its doubt."""

import math
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from fluewright.errors import PhysicsRefused
from fluewright.evidence.doubt import Origin
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.fuels.figures import figures
from fluewright.fuels.reference import Reference
from fluewright.kernel import gas_input
from fluewright.kernel.ops import Number, value_of

Compensated = Literal["unknown", "no", "temperature", "both"]
"""What the meter makes up for by itself."""
HeatReference = Literal["", "60F", "15", "0", "20", "as metered"]

ROOT_3, ROOT_6 = math.sqrt(3.0), math.sqrt(6.0)

BILLING_METER = 0.03
"""Relative: a meter that bills are made by, sealed and in date: class 1.5 may be 3 % off in service (EN 1359, from
memory); within 2 % is usual in North America (common practice, no source)."""
UNKNOWN_METER = 0.06
"""Relative: a meter of which nobody knows class, age or check: a worn one passes gas uncounted (common practice, no
source)."""
SUPPLIER_SPREAD = 0.02 / ROOT_3
"""Relative: what a supplier publishes for a month is within 2 % of the day's gas (common practice, no source)."""
ASSUMED_SPREAD = 0.03 / ROOT_3
"""Relative, beside that of the fuel's analysis: a heating value that nobody asked for (common practice, no source)."""
ASSUMED_TEMPERATURE, TEMPERATURE_SPREAD = 288.15, 10.0 / ROOT_3
"""K: gas in a meter whose temperature nobody read, 5 to 25 C (common practice, no source)."""
ASSUMED_PRESSURE, PRESSURE_SPREAD = 1_900.0, 500.0
"""Pa, gauge: gas in a household meter whose pressure nobody read (common practice, no source)."""
NO_MATTER = 0.02
"""Correction this near to 1 changes nothing that a plate would feel (common practice, no source)."""
FINE_ENOUGH = 0.01
"""Steps of meter and watch over what was counted (practice P23)."""

_OF_REFERENCE: dict[str, tuple[float, float, str]] = {
    "60F": (288.7055555555555, 101_560.0, "60 °F and 14.73 psia"),
    "15": (288.15, 101_325.0, "15 °C and 1013.25 hPa"),
    "0": (273.15, 101_325.0, "0 °C and 1013.25 hPa"),
    "20": (293.15, 101_325.0, "20 °C and 1013.25 hPa"),
}
"""K, Pa, words: what heating values are counted at. 14.73 psia and 60 F: US gas trade (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Meter:
    """The meter and the state of the gas in it.

    pressure, temperature  gauge pressure and temperature of the gas in the meter, None when nobody read them
    compensated            what it makes up for by itself
    base                   reference it counts at where it makes up for something, key of a heating value's reference
    factor                 the supplier's correction from volume counted to the heating value's reference, None for none
    step                   m3, smallest change shown; 0 where the turn of a dial was timed
    kind                   billing for the sealed one of the supplier within its date, empty where nobody has said
    accuracy               how far off it may be by its own check, fraction, None where nobody knows
    """

    pressure: Reading | None = None
    temperature: Reading | None = None
    compensated: Compensated = "unknown"
    base: HeatReference = ""
    factor: float | None = None
    step: float = 0.0
    kind: Literal["", "billing"] = ""
    accuracy: float | None = None

    @property
    def vouched(self) -> bool:
        """Whether somebody stands for how far off it may be."""
        return self.kind == "billing" or self.accuracy is not None

    @property
    def limit(self) -> float:
        """How far off it may be, fraction."""
        if self.accuracy is not None:
            return self.accuracy
        return BILLING_METER if self.kind == "billing" else UNKNOWN_METER


@dataclass(frozen=True, slots=True)
class Heat:
    """The heating value that was used, and who said so.

    value      None when nobody asked for it: the fuel's analysis then stands in
    basis      gross or net
    reference  what its volume is counted at; found from its unit when empty
    """

    value: Reading | None = None
    basis: Literal["gross", "net"] = "gross"
    reference: HeatReference = ""
    by: str = ""
    when: str = ""

    @property
    def counted_at(self) -> HeatReference:
        """The reference as said, or the usual one of the unit it was typed in."""
        if self.reference or self.value is None:
            return self.reference or "15"
        return {"Btu/ft3": "60F", "kWh/m3": "0"}.get(self.value.typed.unit, "15")  # type: ignore[return-value]


@dataclass(frozen=True, slots=True)
class Count:
    """One count: volume, time, and how near start and stop were caught, s."""

    volume: Reading
    duration: Reading
    time_step: float = 0.5
    meter: Meter = field(default_factory=Meter)
    heat: Heat = field(default_factory=Heat)
    others_on: bool = False


class Numbers(NamedTuple):
    """The numbers of one count, each with its doubt.

    fuel_input  W, gross
    net         W
    flow        m3/s as counted
    correction  m3 at the reference for each m3 counted
    heating     J/m3, gross
    resolution  steps over what was counted
    corrected   the correction in figures
    """

    fuel_input: Number
    net: Number
    flow: Number
    correction: Number
    heating: Number
    resolution: float
    corrected: str


def reference_words(name: str) -> str:
    """What a heating value is counted at, in words."""
    return _OF_REFERENCE[name][2] if name in _OF_REFERENCE else "the state in the meter"


def _need_once(count: Count) -> None:
    """A volume is brought to the reference once: by the meter, by the supplier's factor, or by us."""
    meter = count.meter
    read = [words for words, reading in (("pressure", meter.pressure), ("temperature", meter.temperature)) if reading]
    done = "a heating value as metered" if count.heat.counted_at == "as metered" else ""
    done = done or ("a correction factor of the supplier" if meter.factor is not None else "")
    if not done:
        return
    if done.startswith("a heating") and meter.factor is not None:
        read.append("correction factor")
    if meter.compensated == "both":
        read.append("meter that makes up for pressure and temperature")
    if read:
        raise PhysicsRefused(
            code="FW-K-040",
            read=f"{done}, and beside it a {' and a '.join(read)}",
            expected="one way from the volume counted to the reference of the heating value",
            matters="the same correction twice moves the input by 2 to 20 %",
            do="keep the one that is known, and leave the other out",
        )


def _need_gas(account: Account) -> None:
    if account.fuel.kind != "gas":
        raise PhysicsRefused(
            code="FW-K-041",
            read=f"{account.fuel.words} counted by a gas meter",
            expected="a gas",
            matters="a cubic metre of another fuel holds another heat",
            do="name the gas that the meter counts",
        )


def reference_unsaid(count: Count, correction: float) -> bool:
    """Whether a heating value came without its reference where that matters: it may be that of the gas as metered."""
    heat, meter = count.heat, count.meter
    if heat.value is None or heat.reference or meter.factor is not None:
        return False
    return abs(correction - 1.0) > NO_MATTER


def left_out(count: Count) -> tuple[str, ...]:
    """Readings that the meter makes up for by itself, and that are not counted again."""
    meter = count.meter
    out = ("temperature",) if meter.compensated in ("temperature", "both") and meter.temperature else ()
    return (*out, "pressure") if meter.compensated == "both" and meter.pressure else out


def _state(count: Count, reckoning: Reckoning) -> tuple[Number, Number]:
    """Absolute pressure and temperature that the meter counts at."""
    meter, place = count.meter, reckoning.account.surroundings
    base = _OF_REFERENCE[meter.base or ("60F" if count.volume.typed.unit == "ft3" else "15")]
    if meter.compensated == "both":
        return base[1], base[0]
    air = reckoning.assumed("barometer", place.pressure, place.pressure_spread, source=place.pressure_source)
    words = "gauge pressure in the meter"
    gauge = (
        reckoning.read(meter.pressure, words=words)
        if meter.pressure is not None
        else reckoning.assumed("gas_pressure", ASSUMED_PRESSURE, PRESSURE_SPREAD, source="assumed", words=words)
    )
    if meter.compensated == "temperature":
        return air + gauge, base[0]
    words = "temperature of the gas in the meter"
    if meter.temperature is None:
        kelvin: Number = reckoning.assumed(
            "fuel_temperature", ASSUMED_TEMPERATURE, TEMPERATURE_SPREAD, source="assumed", words=words
        )
        return air + gauge, kelvin
    kelvin = reckoning.read(meter.temperature, words=words)
    if meter.compensated == "unknown":
        off = abs(base[0] / float(value_of(kelvin)) - 1.0) / ROOT_3
        doubt = reckoning.assumed(
            "volume_correction", 1.0, off, source="not known", words="whether the meter makes up for temperature"
        )
        kelvin = kelvin * doubt
    return air + gauge, kelvin


def _perhaps_as_metered(count: Count, correction: Number, reckoning: Reckoning) -> Number:
    """The correction with the doubt, on one side, that none is due."""
    taken = float(value_of(correction))
    if not reference_unsaid(count, taken):
        return correction
    other = (1.0 / taken - 1.0) / ROOT_3
    words = "whether the heating value counts the gas as metered"
    origin = Origin("volume_correction", words, 1.0, max(0.0, -other), max(0.0, other), "not said")
    return correction * reckoning.ledger.number(origin)


def _correction(count: Count, reckoning: Reckoning) -> tuple[Number, str]:
    """Volume at the reference for each volume counted, and the same in figures."""
    if count.meter.factor is not None:
        return count.meter.factor, "factor of the supplier"
    if count.heat.counted_at == "as metered":
        return 1.0, "heating value as metered"
    pressure, temperature = _state(count, reckoning)
    kelvin, pascal, _ = _OF_REFERENCE[count.heat.counted_at]
    correction = gas_input.volume_correction(
        meter_pressure=pressure,
        meter_temperature=temperature,
        reference_pressure=pascal,
        reference_temperature=kelvin,
    )
    above = f"{float(value_of(pressure)) / 100.0:.1f} hPa x {kelvin:.2f} K"
    correction = _perhaps_as_metered(count, correction, reckoning)
    return correction, f"{above} / ({pascal / 100.0:.1f} hPa x {float(value_of(temperature)):.2f} K)"


def _heating(count: Count, reckoning: Reckoning) -> tuple[Number, float]:
    """Gross heating value, and gross over net of the fuel."""
    at = count.heat.counted_at
    metering = at if at in _OF_REFERENCE else "15"
    known = figures(reckoning.account.fuel, reference=Reference("25" if at == "0" else metering, metering))
    gross, net = known["heating_value_gross"], known["heating_value_net"]
    ratio = (gross.value or 1.0) / (net.value or 1.0)
    words = "heating value of the gas"
    given = count.heat.value
    if given is not None and given.figure is not None:
        spread = math.hypot(given.figure * SUPPLIER_SPREAD, given.half_width / ROOT_3)
        number = reckoning.read(given, words=words, spread=spread)
        return (number * ratio if count.heat.basis == "net" else number), ratio
    value = gross.value or 0.0
    spread = math.hypot(gross.spread, value * ASSUMED_SPREAD)
    fuel = reckoning.account.fuel.name
    return reckoning.assumed("heating_value_gross", value, spread, source=f"assumed: {fuel}", words=words), ratio


def numbers_of(count: Count, reckoning: Reckoning) -> Numbers:
    """The numbers of one count.

    count      what was read
    reckoning  ledger of the part
    -> numbers with their doubt; PhysicsRefused where a volume would be corrected twice or the fuel is no gas
    """
    _need_gas(reckoning.account)
    _need_once(count)
    volume, seconds = count.volume.figure or 0.0, count.duration.figure or 0.0
    step = math.hypot(count.meter.step / ROOT_6, count.volume.half_width / ROOT_3)
    counted = reckoning.read(count.volume, words="volume counted", spread=step)
    hand = math.hypot(count.time_step * math.sqrt(2.0) / ROOT_3, count.duration.half_width / ROOT_3)
    duration = reckoning.read(count.duration, words="time counted", spread=hand)
    limit = count.meter.limit
    how = "its check" if count.meter.accuracy is not None else (count.meter.kind or "class not known")
    meter = reckoning.assumed(
        "volume_correction", 1.0, limit / ROOT_3, source=f"{how}: within {limit:.1%}", words="accuracy of the meter"
    )
    if count.others_on:
        words = "what of the gas counted went here"
        meter = meter * reckoning.ledger.number(Origin("share", words, 1.0, 0.0, 0.0, "others were on", "at most"))
    heating, ratio = _heating(count, reckoning)
    correction, corrected = _correction(count, reckoning)
    power = gas_input.heat_input_from_count(
        volume=counted * meter, duration=duration, heating_value=heating * correction
    )
    return Numbers(
        fuel_input=power,
        net=gas_input.net_input(fuel_input=power, gross_net_ratio=ratio),
        flow=counted * meter / duration,
        correction=correction,
        heating=heating,
        resolution=float(
            gas_input.count_resolution(
                volume=volume, volume_step=count.meter.step, duration=seconds, time_step=count.time_step
            )
        ),
        corrected=corrected,
    )


def seconds_to_go(count: Count, resolution: float) -> float:
    """How much longer to count until the steps are fine enough, s; 0 when they are."""
    until = gas_input.duration_until_resolved(
        duration=count.duration.figure or 0.0, count_resolution=resolution, resolution=FINE_ENOUGH
    )
    return max(0.0, float(until) - (count.duration.figure or 0.0))
