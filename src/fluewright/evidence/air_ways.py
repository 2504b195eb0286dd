"""The ways to an air flow: a blower table, a traverse, the rise of a known heat. Each stands for itself."""

import math
from dataclasses import dataclass
from typing import Literal

from fluewright.errors import PhysicsRefused
from fluewright.evidence.delivered import HeatCarried, worded
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.kernel import air, air_side, dual
from fluewright.kernel.ops import Number, value_of

TABLE_DOUBT = 0.05
"""Relative limits of a blower table against the blower as it stands (common practice, no source)."""
FEW_POINTS = 16
"""Points of a traverse below which its mean is doubted more (common practice, no source)."""

Method = Literal["equal area", "log-Tchebycheff", "not said"]

LOG_TCHEBYCHEFF = {
    5: (0.074, 0.288, 0.500, 0.712, 0.926),
    6: (0.061, 0.235, 0.437, 0.563, 0.765, 0.939),
    7: (0.053, 0.203, 0.366, 0.500, 0.634, 0.797, 0.947),
}
"""Where across a side of a rectangular duct the tube stands, fractions of the side (ISO 3966, from memory)."""
LOG_LINEAR = {
    6: (0.032, 0.135, 0.321, 0.679, 0.865, 0.968),
    8: (0.021, 0.117, 0.184, 0.345, 0.655, 0.816, 0.883, 0.979),
    10: (0.019, 0.077, 0.153, 0.217, 0.361, 0.639, 0.783, 0.847, 0.923, 0.981),
}
"""Where across a diameter of a round duct, fractions of the diameter (ISO 3966, from memory)."""


@dataclass(frozen=True, slots=True)
class BlowerTable:
    """Rows of a maker's table for the speed tap in use: static pressure in Pa, air flow in m3/s, pressures rising."""

    tap: str
    rows: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Traverse:
    """Velocity pressures over the section of a duct.

    readings  one a point, all of equal weight
    area      of the section
    method    how the points were laid out
    """

    readings: tuple[Reading, ...]
    area: Reading
    method: Method = "not said"


@dataclass(frozen=True, slots=True)
class AirState:
    """The air where the flow is stated.

    place    in words
    density  kg/m3
    factor   J/(m3 K)
    """

    place: str
    density: Number
    factor: Number


def _refuse_point(read: str) -> PhysicsRefused:
    return PhysicsRefused(
        code="FW-K-081",
        read=read,
        expected="a velocity pressure above zero at every point of the traverse",
        matters="where air stands or runs back, the mean of the rest would be too high",
        do="move the traverse to a straight length of duct, or turn the tube into the flow and read again",
    )


def velocity(traverse: Traverse, state: AirState, reckoning: Reckoning) -> Number:
    """Mean velocity of a traverse; PhysicsRefused where a point shows none.

    The gauge errs alike at all points, so that its doubt u does not shrink with their number: each root moves by
    u / (2 x root), and the mean of those moves goes in once, on a common factor. Weak points move most.
    """
    values = []
    for reading in traverse.readings:
        figure = reading.figure
        if figure is None or reading.bound or figure <= 0.0:
            raise _refuse_point(f"a velocity pressure of {reading.typed.text}")
        values.append(figure)
    roots = [math.sqrt(value) for value in values]
    of_gauge = reckoning.read(traverse.readings[values.index(max(values))], words="velocity pressures")
    relative = float(dual.spread(of_gauge)) * sum(0.5 / root for root in roots) / sum(roots)
    laid = 0.02 if len(values) >= FEW_POINTS and traverse.method != "not said" else 0.05
    gauge = reckoning.assumed("share", 1.0, relative, source="instrument", words="gauge of the traverse")
    points = reckoning.assumed(
        "share", 1.0, laid / math.sqrt(3.0), source="common practice, no source", words="points of the traverse"
    )
    return air_side.mean_velocity(velocity_pressures=values, density=state.density) * gauge * points


def by_traverse(traverse: Traverse, state: AirState, reckoning: Reckoning) -> dict[str, Result]:
    """Velocity and air flow of a traverse, and the velocity of the handbook form beside them."""
    account = reckoning.account
    speed = velocity(traverse, state, reckoning)
    area = reckoning.read(traverse.area)
    count = len(traverse.readings)
    handbook = sum(float(air_side.velocity_handbook(velocity_pressure=one.figure or 0.0)) for one in traverse.readings)
    flow = speed * area
    said = worded(speed, "duct_velocity", account)
    return {
        "duct_velocity": reckoning.result(
            "duct_velocity",
            speed,
            formula="velocity = mean over the points of the root of (2 x velocity pressure / density)",
            substitution=f"{count} points at {worded(state.density, 'density', account)} = {said}",
            source="Bernoulli; ISO 3966 (from memory)",
            holds="points of equal weight, tube along the flow; the root of the mean would be too high",
        ),
        "duct_velocity_handbook": reckoning.result(
            "duct_velocity",
            handbook / count,
            formula="velocity = mean over the points of 4005 x root of (velocity pressure in in w.c.), ft/min",
            substitution=f"{count} points = {worded(handbook / count, 'duct_velocity', account)}",
            source="handbook form (from memory)",
            holds="air of 0.075 lb/ft3 alone",
        ),
        "air_flow_by_traverse": reckoning.result(
            "air_flow",
            flow,
            formula="air flow = mean velocity x area",
            substitution=f"{said} x {worded(area, 'duct_area', account)} = {worded(flow, 'air_flow', account)}",
            source="continuity",
            holds="all air passes this section",
        ),
    }


def by_table(table: BlowerTable, external: Number, reckoning: Reckoning) -> Result:
    """Air flow of a blower table at the measured static pressure; refused beyond its rows."""
    account = reckoning.account
    at = float(value_of(external))
    low, high = table.rows[0][0], table.rows[-1][0]
    if not low <= at <= high:
        ends = f"{worded(low, 'external_static', account)} to {worded(high, 'external_static', account)}"
        found = worded(external, "external_static", account)
        return refused("air_flow", f"{found} lies outside the table, {ends}; nothing is read beyond its last row")
    made = reckoning.assumed(
        "share", 1.0, TABLE_DOUBT / math.sqrt(3.0), source="common practice, no source", words="blower table"
    )
    flow = air_side.air_flow_from_table(static_pressure=external, parts=table.rows) * made
    return reckoning.result(
        "air_flow",
        flow,
        formula="air flow = the maker's table at the external static pressure, a straight line between its rows",
        substitution=f"{table.tap}, {worded(external, 'external_static', account)} = "
        f"{worded(flow, 'air_flow', account)}",
        source="table as typed",
        holds="this tap, clean wheel, voltage of the plate, inlet air near standard density",
    )


def by_rise(carried: HeatCarried, state: AirState, reckoning: Reckoning, *, blower: Number, rise: Number) -> Result:
    """Air flow that carries a known heat at the measured rise."""
    account = reckoning.account
    heat = carried.number + blower
    flow = air_side.air_flow_from_heat(heat_output=heat, air_factor=state.factor, air_rise=rise)
    warm, factor = worded(rise, "air_rise", account), worded(state.factor, "air_factor", account)
    extra = f" + {worded(blower, 'blower_power', account)} blower" if float(value_of(blower)) else ""
    return reckoning.result(
        "air_flow",
        flow,
        formula="air flow = (heat + heat of the blower between the thermometers) / (heat the air carries x rise)",
        substitution=f"({carried.figures}{extra}) / ({factor} x {warm}) = {worded(flow, 'air_flow', account)}",
        source="first law, density at the place stated",
        holds=f"volume at the {state.place}; heat {carried.words}; nothing lost between appliance and thermometers",
    )


def by_handbook(carried: HeatCarried, rise: Number, reckoning: Reckoning) -> Result:
    """The same by 1.08, beside it."""
    account = reckoning.account
    flow = air_side.air_flow_from_heat(
        heat_output=carried.number, air_factor=air_side.HANDBOOK_AIR_FACTOR, air_rise=rise
    )
    return reckoning.result(
        "air_flow",
        flow,
        formula="cfm = Btu/h / (1.08 x rise in °F)",
        substitution=f"({carried.figures}) / (1.08 x {worded(rise, 'air_rise', account)}) = "
        f"{worded(flow, 'air_flow', account)}",
        source="handbook form, 1.08 = 60 x 0.075 x 0.24",
        holds="air of 0.075 lb/ft3, without the blower's heat",
    )


def state_of(place: str, temperature: Number, mean: tuple[Number, Number], reckoning: Reckoning) -> AirState:
    """Density and heat carried by the air at the place where the flow is stated.

    place        "return" or "supply"
    temperature  K, there
    mean         return and supply temperature, K, between which the heat is taken up
    """
    surroundings = reckoning.account.surroundings
    pressure = reckoning.assumed(
        "barometer", surroundings.pressure, surroundings.pressure_spread, source=surroundings.pressure_source
    )
    if surroundings.relative_humidity is None:
        words = "moisture of the air, not read"
        damp: Number = reckoning.assumed("humidity_ratio", 0.006, 0.003, source="assumed", words=words)
    else:
        read = reckoning.assumed("relative_humidity", surroundings.relative_humidity, 0.03, source="typed")
        cool = float(value_of(mean[0]))
        damp = air.humidity_ratio(relative_humidity=read, temperature=cool, pressure=surroundings.pressure)
    density = air_side.moist_air_density(temperature=temperature, pressure=pressure, humidity_ratio=damp)
    apart = float(value_of(mean[1])) - float(value_of(mean[0]))
    warm = float(value_of(mean[1])) if abs(apart) > 0.5 else float(value_of(mean[0])) + 1.0
    cool = float(value_of(mean[0]))
    heat = air_side.air_heat_rise(return_air_temperature=cool, supply_air_temperature=warm, humidity_ratio=damp)
    return AirState(f"{place} thermometer", density, density * heat / (warm - cool))
