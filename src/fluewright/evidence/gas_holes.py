"""What the holes of a burner pass: from pressure and diameter, beside the count of the meter."""

from dataclasses import dataclass

from fluewright.errors import PhysicsRefused
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.fuels.figures import figures
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import Reference
from fluewright.kernel import gases, orifice
from fluewright.kernel.constants import GAS_CONSTANT
from fluewright.kernel.ops import Number, value_of
from fluewright.quantity import show

DISCHARGE, DISCHARGE_SPREAD = 0.85, 0.03
"""Drilled spuds pass 0.80 to 0.90 of the ideal flow (from memory)."""
CHOKED = 0.8
"""Gauge pressure over the barometer from which on a hole is near the speed of sound (kernel.orifice)."""
BUTANE_HEAT_CAPACITY = 98.5
"""J/(mol K) at 25 C, for butane and all heavier (handbooks, from memory): it moves the flow by far less than 0.1 %."""
REFERENCE_TEMPERATURE, REFERENCE_PRESSURE = 288.15, 101_325.0


@dataclass(frozen=True, slots=True)
class Hole:
    """Orifices of one burner: diameter in m, how many, as they were named, and a stated discharge coefficient."""

    diameter: float
    count: int = 1
    words: str = ""
    discharge: float | None = None

    def said(self) -> str:
        """The orifices as a person says them."""
        size = self.words or f"{self.diameter * 1000.0:.2f} mm"
        return f"{self.count} orifices {size}" if self.count > 1 else f"1 orifice {size}"


def density_and_heat(reckoning: Reckoning) -> tuple[float, float]:
    """Density and gross heating value of the fuel at 15 C and 1013.25 hPa; PhysicsRefused FW-K-043 for no gas."""
    fuel = reckoning.account.fuel
    if fuel.kind != "gas":
        raise PhysicsRefused(
            code="FW-K-043",
            read=f"{fuel.words} through the orifice of a gas burner",
            expected="a gas",
            matters="an orifice passes gas by its density; oil goes through a nozzle and is reckoned otherwise",
            do="name the gas, or ask `fluewright oil nozzle` for oil",
        )
    known = figures(reckoning.account.fuel, reference=Reference("15", "15"))
    return known["density"].value or 0.0, known["heating_value_gross"].value or 0.0


@dataclass(frozen=True, slots=True)
class Before:
    """The gas before the hole: density, gross heat per volume, and the share of the flow that expansion leaves."""

    density: Number
    heat: Number
    expansion: float


def _heat_capacity_ratio(record: FuelRecord) -> float:
    """cp/cv of the gas, at the temperature of the pipe."""
    shares = record.mole_fractions or {}
    heavy = {name: share for name, share in shares.items() if name not in gases.SPECIES}
    heat = sum(
        share * float(gases.heat_capacity(species=name, temperature=REFERENCE_TEMPERATURE))
        for name, share in shares.items()
        if name not in heavy
    )
    heat += sum(heavy.values()) * BUTANE_HEAT_CAPACITY
    return heat / (heat - GAS_CONSTANT)


def gas_before(pressure: Number, reckoning: Reckoning) -> Before:
    """Gas of 15 C at the barometer of the place, on its way through a hole.

    At a height the gas is thinner: more volume and less heat pass, together the root of the pressures.
    """
    density, heat = density_and_heat(reckoning)
    place = reckoning.account.surroundings
    if float(value_of(pressure)) > CHOKED * place.pressure:
        raise PhysicsRefused(
            code="FW-K-044",
            read=f"a pressure of {float(value_of(pressure)) / 1e3:.0f} kPa before the orifice",
            expected=f"at most {CHOKED:.0%} of the barometer, {CHOKED * place.pressure / 1e3:.0f} kPa".replace(
                "%", " %"
            ),
            matters="beyond that the gas leaves at the speed of sound, and the formula holds no longer",
            do="read the pressure at the manifold, behind the regulator",
        )
    air = reckoning.assumed("barometer", place.pressure, place.pressure_spread, source=place.pressure_source)
    thin = air / REFERENCE_PRESSURE
    expansion = orifice.expansion_factor(
        gas_pressure=float(value_of(pressure)),
        barometer=place.pressure,
        heat_capacity_ratio=_heat_capacity_ratio(reckoning.account.fuel),
    )
    return Before(density * thin, heat * thin, float(expansion))


def share_through(discharge: float | None, reckoning: Reckoning) -> Number:
    """The discharge coefficient as stated, or that of a drilled spud."""
    if discharge is not None:
        return discharge
    return reckoning.assumed("orifice_discharge", DISCHARGE, DISCHARGE_SPREAD, source="from memory")


def heat_through(hole: Hole, pressure: Number, reckoning: Reckoning) -> Number:
    """Gross heat input through all holes, W, for gas of 15 C at the barometer of the place."""
    gas = gas_before(pressure, reckoning)
    flow = orifice.flow_through_orifice(
        diameter=hole.diameter,
        discharge=share_through(hole.discharge, reckoning),
        gas_pressure=pressure,
        density=gas.density,
    )
    return hole.count * flow * gas.expansion * gas.heat


def by_orifice(hole: Hole, pressure: Reading, reckoning: Reckoning) -> Result:
    """The heat input that the holes pass at the manifold pressure read."""
    number = heat_through(hole, reckoning.read(pressure, words="manifold pressure"), reckoning)
    system = reckoning.account.system
    said = show.shown(float(value_of(number)), quantity="fuel_input", system=system)
    at = show.shown(pressure.figure or 0.0, quantity="gas_pressure", system=system)
    return reckoning.result(
        "fuel_input",
        number,
        formula="heat input = holes x discharge x area x root of (2 x pressure / density) x gross heating value",
        substitution=f"{hole.said()} at {at} = {said}",
        source="Bernoulli with isentropic expansion; heating value and density of the fuel",
        holds="gas of 15 C at the barometer of the place; discharge of a drilled spud; worn or dirty holes differ",
        basis="gross",
    )
