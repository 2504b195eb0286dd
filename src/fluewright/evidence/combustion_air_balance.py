"""The balance of air from first principles: what flames take, what comes in at a stated pressure, what fans leave."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from fluewright.evidence.combustion_air_room import OUTDOOR_KINDS, Room, exactly
from fluewright.evidence.reading import Account
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.kernel import combustion_air, odds, ops
from fluewright.kernel.air import DRY_AIR, MOLAR_MASS
from fluewright.kernel.constants import GAS_CONSTANT
from fluewright.kernel.fuel import stoichiometry
from fluewright.kernel.ops import Number

if TYPE_CHECKING:
    from fluewright.evidence.combustion_air import AirForBurning

AIR_RATIO = {"natural": (2.2, 0.3), "fan-assisted": (1.6, 0.2)}
"""Air that an appliance takes over the need of its flame, hood included, and standard uncertainty (practice)."""
PRESSURE = 4.0
"""Pa below outdoors at which German practice counts what comes in (DVGW G 600, from memory)."""
DISCHARGE = (0.6, 0.05)
"""Share of the ideal flow through a sharp-edged opening, and standard uncertainty (handbooks, from memory)."""
ROOM_TEMPERATURE, OUTDOORS = 293.15, (283.15, 10.0)
"""K; outdoors with standard uncertainty, assumed."""
PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Balance:
    """The air balance of a room.

    results  by key: flames take, comes in, fans take, left, pressure needed
    odds     that less is left than the flames take, None where nobody can say
    short    whether the bare figures leave less than the flames take; None where they are not known
    unsaid   why no odds can be given, empty when they can
    """

    results: Mapping[str, Result] = field(default_factory=dict)
    odds: float | None = None
    short: bool | None = None
    unsaid: str = ""


@dataclass(frozen=True)
class _Flows:
    """Flows of one room as uncertain numbers, all as volume at room temperature: what is weighed up is mass.

    taken, leaks, through, fans  m3/s at room temperature, None for one that is not known
    area                         free area of the openings to outdoors, m2
    density                      of the air outdoors, kg/m3
    warming                      volume of air in the room over its volume outdoors
    """

    taken: Number | None
    leaks: Number | None
    through: Number | None
    fans: Number | None
    area: Number
    density: Number
    warming: Number


def _taken(given: "AirForBurning", account: Account, reckoning: Reckoning) -> Number | None:
    """What the flames take from the room."""
    burned = account.fuel.fuel
    need = stoichiometry(fuel=burned, air=DRY_AIR).air_need
    total: Number = 0.0
    for one in given.open_fires:
        if one.input is None or one.input.figure is None:
            return None
        ratio, spread = AIR_RATIO[one.draws]
        per_heat = combustion_air.air_per_heat_from_fuel(
            air_need=float(ops.value_of(need)),
            heating_value=float(ops.value_of(burned.heating_value_gross)),
            air_ratio=reckoning.assumed("air_ratio", ratio, spread, source=PRACTICE, words=f"air ratio of {one.words}"),
            temperature=ROOM_TEMPERATURE,
            pressure=account.surroundings.pressure,
        )
        burning = exactly(reckoning, one.input, f"input of {one.words}")
        total = total + combustion_air.air_flow_from_input(fuel_input=burning, air_per_heat=per_heat)
    return total


def _fans(given: "AirForBurning", reckoning: Reckoning) -> Number | None:
    """What fans take out; None when one of them is not known."""
    total: Number = 0.0
    for one in given.exhausts:
        if one.flow is None or one.flow.figure is None:
            return None
        total = total + reckoning.read(one.flow, words=f"air taken by {one.words}")
    return total


def _leaks(given: "AirForBurning", reckoning: Reckoning) -> Number | None:
    """What leaks in, and what a fan brings; None when nobody knows the leaks."""
    volume, changes = given.volume, given.air_changes
    if volume is None or volume.figure is None or changes is None or changes.figure is None:
        return None
    return combustion_air.leakage_from_air_changes(
        room_volume=reckoning.read(volume), air_changes=reckoning.read(changes)
    )


def _flows(given: "AirForBurning", account: Account, reckoning: Reckoning) -> _Flows:
    room = Room(given, account, reckoning)
    outdoors = reckoning.assumed("air_temperature", *OUTDOORS, source="assumed", words="temperature outdoors")
    density = account.surroundings.pressure * MOLAR_MASS / (GAS_CONSTANT * outdoors)
    warming = ROOM_TEMPERATURE / outdoors
    area: Number = sum(room.areas(*OUTDOOR_KINDS, place=account.jurisdiction), 0.0)
    pressure = given.pressure
    if pressure is None:
        drop = reckoning.assumed("air_supply_pressure", PRESSURE, 0.0, source="DVGW G 600, from memory")
    elif (pressure.figure or 0.0) > 0.0:  # against the wind nothing flows in by itself
        drop = reckoning.read(pressure)
    else:
        drop = None
    through: Number | None = 0.0
    if float(ops.value_of(area)) > 0.0:
        through = None if drop is None else _through(area, drop, density, reckoning) * warming
    fan = given.supply_fan
    if fan is not None and fan.figure is not None and through is not None:
        through = through + reckoning.read(fan, words="air that the fan brings")
    return _Flows(
        _taken(given, account, reckoning),
        _leaks(given, reckoning),
        through,
        _fans(given, reckoning),
        area,
        density,
        warming,
    )


def _through(area: Number, drop: Number, density: Number, reckoning: Reckoning) -> Number:
    coefficient = reckoning.assumed("discharge_coefficient", *DISCHARGE, source="handbooks, from memory")
    return combustion_air.flow_through_opening(
        free_area=area, air_supply_pressure=drop, density=density, discharge_coefficient=coefficient
    )


_SOURCE = "element balance, Bernoulli, what comes in goes out; docs/method/air-for-burning.md"
_HOLDS = (
    "all volumes at room temperature, so that masses are compared; at the pressure stated; wind, frost and long ducts "
    "change it"
)


def _hourly(number: Number | None) -> str:
    return "not known" if number is None else f"{float(ops.value_of(number)) * 3600.0:.1f} m3/h"


def _shown(flows: _Flows, reckoning: Reckoning, supply: Number, left: Number | None) -> dict[str, Result]:
    """The balance as results."""

    def result(quantity: str, number: Number, formula: str, substitution: str) -> Result:
        return reckoning.result(
            quantity, number, formula=formula, substitution=substitution, source=_SOURCE, holds=_HOLDS
        )

    made = {
        "comes in": result(
            "room_air_supply",
            supply,
            "comes in = coefficient x free area x sqrt(2 x pressure / density) x room K / outdoor K"
            " + room x air changes",
            f"{_hourly(flows.through)} + {_hourly(flows.leaks)} = {_hourly(supply)}",
        )
    }
    if flows.taken is not None:
        made["flames take"] = result(
            "burning_air_flow",
            flows.taken,
            "flames take = heat input x air need per heat x air ratio, at room temperature",
            f"= {_hourly(flows.taken)}",
        )
    if flows.fans is not None and left is not None:
        made["left"] = result(
            "room_air_left", left, "left = comes in - fans take", f"{_hourly(supply)} - {_hourly(flows.fans)}"
        )
    return made


def _pressure(flows: _Flows, reckoning: Reckoning) -> Result | None:
    """How far the room is drawn below outdoors until flames and fans have their air through the openings."""
    if flows.taken is None or flows.fans is None or float(ops.value_of(flows.area)) <= 0.0:
        return None
    wanted = flows.taken + flows.fans - (flows.leaks if flows.leaks is not None else 0.0)
    if float(ops.value_of(wanted)) <= 0.0:
        return refused("air_supply_pressure", "leaks alone bring that air")
    coefficient = reckoning.assumed("discharge_coefficient", *DISCHARGE, source="handbooks, from memory")
    number = combustion_air.pressure_from_opening_flow(
        free_area=flows.area,
        supply_flow=wanted / flows.warming,
        density=flows.density,
        discharge_coefficient=coefficient,
    )
    return reckoning.result(
        "air_supply_pressure",
        number,
        formula="pressure = density x (flow x outdoor K / room K / (coefficient x free area))2 / 2",
        substitution=f"flow {_hourly(wanted)} through {float(ops.value_of(flows.area)) * 1e4:.0f} cm2",
        source=_SOURCE,
        holds="leaks at the air changes given, none where nobody knows them",
    )


def balanced(given: "AirForBurning", account: Account, reckoning: Reckoning) -> Balance:
    """The balance of one room, with the odds that flames are left short where the leaks are known."""
    flows = _flows(given, account, reckoning)
    if flows.through is None:
        return Balance(unsaid="without a pressure to drive it no air comes through an opening")
    supply = flows.through + (flows.leaks if flows.leaks is not None else 0.0)
    left = None if flows.fans is None else combustion_air.air_left(supply_flow=supply, exhaust_flow=flows.fans)
    results = _shown(flows, reckoning, supply, left)
    pressure = _pressure(flows, reckoning)
    if pressure is not None:
        results["drawn down"] = pressure
    if left is None:
        return Balance(results, unsaid="a fan takes air out, and nobody knows how much")
    if flows.taken is None:
        return Balance(results, unsaid="the input of an appliance was not read from its plate")
    margin = left - flows.taken
    value = float(ops.value_of(margin))
    if flows.leaks is None or not given.leakage_known:
        known = "assumed" if flows.leaks is not None else "not known"
        return Balance(results, None, value < 0.0, f"the air changes of the room are {known}")
    below, above = reckoning.ledger.sides(margin)
    spread = below if value >= 0.0 else above
    if reckoning.ledger.bound(margin) or spread <= 0.0:
        return Balance(results, None, value < 0.0, "it rests on a reading that is only a bound")
    return Balance(results, odds.below(value=value, spread=spread, limit=0.0), value < 0.0)
