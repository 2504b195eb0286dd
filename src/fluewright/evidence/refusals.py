"""What no flame, flue or room can be: the readings and places that nothing honest can be worked out from."""

import math

from fluewright.errors import PhysicsRefused
from fluewright.evidence.reading import Reading, Stretch, Surroundings
from fluewright.fuels.record import FuelRecord
from fluewright.kernel import ops, saturation
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.ops import Number
from fluewright.quantity import names

HOTTEST = 1000.0
"""K: the enthalpies of the losses hold to here; no flue worth testing is hotter."""
COLDEST = 200.0
"""K, the same at the cold end."""
LOWEST_PRESSURE, HIGHEST_PRESSURE = 40_000.0, 112_000.0
"""Pa: the highest towns on Earth and the deepest mines lie between (from memory)."""
DAMPEST = 0.5
"""Share of the barometer that vapour may take before a humidity and a temperature cannot belong together."""
HARDLY_CARBON = 0.01
"""mol/mol: fuels whose highest carbon dioxide is below this have too little carbon to count air by."""
LEAST_OUTDOORS, MOST_OUTDOORS = 0.18, 0.24
"""mol/mol of oxygen that a cell may show of outdoor air, which holds 20.95 % dry (common practice, no source)."""
STARVED = 0.15
"""mol/mol of oxygen in the intake below which hardly any burner still burns (from memory)."""
GASES = ("oxygen_dry", "oxygen_wet", "carbon_dioxide_dry", "carbon_dioxide_wet")


def _named(stretch: Stretch) -> str:
    return ", ".join(f"{names.of(r.quantity).words} {r.typed.text}" for r in stretch.readings.values())


def no_figure(reading: Reading) -> PhysicsRefused:
    """FW-K-011: a trend word alone, where a number is to be worked out from it."""
    words = names.of(reading.quantity).words
    return PhysicsRefused(
        code="FW-K-011",
        read=f'"{reading.typed.text}" for {words}, a trend without a figure',
        expected="a figure beside the word",
        matters="a direction says where a reading goes, not where it is, and nothing can be worked out from it",
        do=f"type the figure that was seen, such as with the word {reading.typed.trend} behind it, or leave it out",
    )


def need_a_gas(stretch: Stretch, record: FuelRecord) -> None:
    """Oxygen or carbon dioxide with a figure must be there."""
    if any(name in stretch.readings and stretch.readings[name].figure is not None for name in GASES):
        return
    raise PhysicsRefused(
        code="FW-K-002",
        read=f"no figure for oxygen or carbon dioxide among the readings of {stretch.word}",
        expected="one of them, as % of the flue gas",
        matters=f"without it nobody knows how much air {record.words} burned with",
        do='add --o2 or --co2, or in a visit file a line such as oxygen_dry = "5.0 %"',
    )


def need_a_flue(stretch: Stretch) -> None:
    """Flue and air no hotter and no colder than the heat data hold."""
    for name in ("flue_temperature", "air_temperature"):
        reading = stretch.readings.get(name)
        ends = () if reading is None else (reading.typed.value, reading.typed.low, reading.typed.high)
        if reading is None or all(COLDEST <= end <= HOTTEST for end in ends if end is not None):
            continue
        raise PhysicsRefused(
            code="FW-K-003",
            read=f"{names.of(name).words} {reading.typed.text}",
            expected="-73 to 727 °C (-100 to 1340 °F)",
            matters="the heat data of the losses hold no further, and no flue worth testing is that hot or cold",
            do="if the reading is true, shut the appliance down; else check the unit and where the probe stood",
        )


def need_outdoor_air(stretch: Stretch) -> None:
    """A reading of outdoor air that can be one: everything in the intake is measured from it."""
    reading = stretch.readings.get("oxygen_outdoor")
    ends = () if reading is None else (reading.typed.value, reading.typed.low, reading.typed.high)
    if reading is None or all(LEAST_OUTDOORS <= end <= MOST_OUTDOORS for end in ends if end is not None):
        return
    raise PhysicsRefused(
        code="FW-K-029",
        read=f"outdoor air with {reading.typed.text} oxygen",
        expected=f"about 20.9 %, and {LEAST_OUTDOORS * 100:.0f} to {MOST_OUTDOORS * 100:.0f} % by any cell fit for use",
        matters="the share of flue gas in the intake is counted from it, and air with so little oxygen is deadly",
        do="take the probe far from any flue and read again; a cell that still shows this is not fit to test a flame",
    )


def starved(intake: Reading | None) -> bool:
    """Whether the air at the intake was read with too little oxygen for any flame, and for anybody who breathes it."""
    return intake is not None and intake.figure is not None and intake.figure < STARVED


def need_a_place(surroundings: Surroundings, air_temperature: Number) -> None:
    """A barometer that the Earth has, and air that can hold the vapour it is said to."""
    pressure, humidity = surroundings.pressure, surroundings.relative_humidity
    if not LOWEST_PRESSURE <= pressure <= HIGHEST_PRESSURE:
        raise PhysicsRefused(
            code="FW-K-005",
            read=f"a barometer of {pressure / 100.0:.4g} hPa",
            expected=f"{LOWEST_PRESSURE / 100.0:.0f} to {HIGHEST_PRESSURE / 100.0:.0f} hPa at the place",
            matters="dew point and condensing hang on it",
            do="check unit and decimal mark; give the pressure at the place, not reduced to sea level",
        )
    vapour = (humidity or 0.0) * float(saturation.pressure(temperature=ops.value_of(air_temperature)))
    if vapour > DAMPEST * pressure:
        raise PhysicsRefused(
            code="FW-K-006",
            read=f"air at {float(ops.value_of(air_temperature)) - 273.15:.0f} °C with a humidity of {humidity:.0%}",
            expected="a humidity read in the same air as the temperature",
            matters="so much vapour does not fit into air at this barometer",
            do="leave the humidity out, or give that of the air where its temperature was read",
        )


def impossible(flue: FlueGas, stretch: Stretch, record: FuelRecord, *, oxygen_spread: float) -> None:
    """Stop where no flame of this fuel can have made these readings."""
    dry, air = float(ops.value_of(flue.dry)), float(ops.value_of(flue.air))
    carbon, left = float(ops.value_of(flue.carbon_dioxide)), float(ops.value_of(flue.oxygen))
    whole = dry > 0.0 and air > 0.0 and carbon > -1e-9 and math.isfinite(dry + air)
    if whole and left / dry > -max(0.005, 2.0 * oxygen_spread):
        return
    raise PhysicsRefused(
        code="FW-K-001",
        read=f"readings that no flame of {record.words} can make: {_named(stretch)}",
        expected="oxygen below that of fresh air, and no more carbon than the fuel has",
        matters="an air ratio worked out from them would be infinite, negative or that of another fuel",
        do="check the fuel, the units and that the probe is in the flue and its hose tight",
    )


def need_carbon(stretch: Stretch, record: FuelRecord, most: float) -> None:
    """Carbon dioxide alone says nothing of a fuel with hardly any carbon."""
    if most >= HARDLY_CARBON or any(n in stretch.readings for n in ("oxygen_dry", "oxygen_wet")):
        return
    raise PhysicsRefused(
        code="FW-K-004",
        read=f"carbon dioxide as the only gas, of {record.words}",
        expected="oxygen",
        matters="a fuel with hardly any carbon leaves none to count the air by",
        do="add --o2",
    )


def trap_fits(flue: FlueGas, stretch: Stretch, *, trap: float | None, pressure: float) -> None:
    """A water trap takes water only where it is colder than the dew point of the gas."""
    if trap is None or stretch.basis != "dried to trap":
        return
    wet = float(ops.value_of(flue.water / (flue.dry + flue.water)))
    if float(saturation.pressure(temperature=trap)) / pressure < wet:
        return
    raise PhysicsRefused(
        code="FW-K-007",
        read=f"a water trap at {trap - 273.15:.0f} °C",
        expected="a trap colder than the dew point of the flue gas",
        matters="a warmer trap takes out no water, so the readings would be corrected for water that is not there",
        do="give the trap's own temperature, or say that the sample was wet",
    )


def too_much_condensate(*, amount: float, water: float) -> None:
    """No more water can be collected than burns."""
    if amount <= water * 1.02:
        return
    raise PhysicsRefused(
        code="FW-K-008",
        read=f"condensate {amount / water:.0%} of all the water that the fuel makes",
        expected="at most all of it",
        matters="the heat it gave back would be more than there was",
        do="check the mass, the time it ran and the gas burned in that time",
    )


def need_heat(*, gross_heat: float, loss: float) -> None:
    """Losses beyond all the heat there is: no such gas keeps a flame."""
    if math.isfinite(loss) and loss <= 1.0:
        return
    raise PhysicsRefused(
        code="FW-K-009",
        read=f"losses of {loss * 100.0:.0f} % of the gross heat ({gross_heat:.3g} J per unit of fuel)",
        expected="at most all of the heat that the fuel holds",
        matters="so poor a gas, so much air or so hot a flue cannot come from a flame that keeps burning",
        do="check the composition, the unit of oxygen and the flue temperature",
    )
