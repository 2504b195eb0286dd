"""A virtual appliance at a steady fire: physical inputs in, what is in the flue, the room and the water or air out.

Fuel, air, flame, exchanger, flue and room depend on each other; a few rounds settle them.
"""

import math
from dataclasses import dataclass, replace
from functools import cache

from fluewright.simulate import mixing
from fluewright.simulate.breath import Flow, breathed
from fluewright.simulate.burned import AIR_MASS, OXYGEN_SHARE, Burned, burned
from fluewright.simulate.chimney import Flue, flue_of
from fluewright.simulate.condition import Condition, Constants, Design, Site
from fluewright.simulate.exchanger import Exchanged, exchanged

ROOM_VOLUME = 60.0
"""m3, invented."""
_MOLES = 41.0
"""mol/m3 of room air."""
_HYDROGEN = 0.83
"""Hydrogen for each monoxide of rich pockets (kernel.equilibrium at 1500 K; reference text on cells)."""
_ROUNDS = 5
_BLOWER = 0.55
"""Share of crack air that disturbs the flame instead of passing behind it: invented."""


@dataclass(frozen=True, slots=True)
class Truth:
    """What is there, by nature: shares in mol/mol dry, temperatures in K, pressures in Pa from the room, heat in W."""

    oxygen: float
    oxygen_at_flame: float
    oxygen_low_fire: float
    monoxide: float
    dioxide: float
    hydrogen: float
    flue: float
    intake: float
    intake_oxygen: float
    draft: float
    over_fire: float
    fuel_pressure: float
    line_pressure: float
    heat: float
    rise: float
    smoke: float
    current: float
    room_monoxide: float
    spilled: float
    air_ratio: float
    air_ratio_at_flame: float
    useful: float
    condensed: float


@dataclass(slots=True)
class _State:
    """What the rounds hand on."""

    flow: Flow
    flue: Flue
    heat: Exchanged
    stale: float = 0.0


@cache
def _wanted_pull(design: Design) -> float:
    """Pull left for the fire of a healthy wood or oil appliance, Pa."""
    return design.pull * (design.over_fire or 1.0)


def _intake(design: Design, site: Site) -> float:
    return site.outdoor + 12.0 if design.family == "premix" else site.room


def _stale(*, condition: Condition, state: _State, site: Site, fuel: Burned) -> float:
    """Share of flue gas in the combustion air: drawn in again, or spilled into the room before."""
    volume = ROOM_VOLUME * site.changes * (1.0 - 0.8 * condition.room_shut) / 3600.0 * _MOLES
    spilled = state.flue.spilled * state.flow.heat * fuel.dry_at(max(state.flow.air_ratio, 1.0))
    return min(0.35, condition.recirculation + 0.5 * spilled / (spilled + volume * 4.0))


def _settled(*, design: Design, site: Site, condition: Condition, constants: Constants, fuel: Burned) -> _State:
    """Fuel, air, exchanger and flue in agreement."""
    intake = _intake(design, site)
    pull, push, hot, stale = 1.0, 0.0, 430.0, 0.0
    state: _State | None = None
    for _ in range(_ROUNDS):
        flow = breathed(
            burned=fuel, design=design, site=site, condition=condition, constants=constants, flue=hot,
            intake=intake, flue_push=push, pull=pull, stale=stale,
        )  # fmt: skip
        heat = exchanged(
            burned=fuel, design=design, site=site, condition=condition, constants=constants, heat=flow.heat,
            air_ratio=flow.air_ratio, intake=intake,
        )  # fmt: skip
        flue = flue_of(design=design, site=site, condition=condition, flue=heat.flue, flow=flow.through)
        state = _State(flow, flue, heat, stale)
        hot = heat.flue
        pull = 0.5 * (pull + max(0.02, -flue.over_fire / _wanted_pull(design))) if design.family == "wood" else 1.0
        push = 0.5 * (push + flue.push)
        stale = 0.5 * (stale + _stale(condition=condition, state=state, site=site, fuel=fuel))
    assert state is not None
    return state


def _room(*, condition: Condition, site: Site, made: float, spilled: float) -> float:
    """Monoxide in the room in mol/mol after long running, from what spills and leaks; `made` in mol/s."""
    out = made * min(1.0, spilled + condition.gasket_leak + 0.02 * condition.trap_dry)
    return out / (ROOM_VOLUME * site.changes * (1.0 - 0.8 * condition.room_shut) / 3600.0 * _MOLES)


def _current(*, design: Design, condition: Condition, share: float, air_ratio: float) -> float:
    off = (air_ratio - 1.25) / 0.8
    return design.current * math.pow(share, 0.7) * (1.0 - 0.9 * condition.rod_dirt) / (1.0 + off * off)


def steady(*, design: Design, site: Site, condition: Condition, constants: Constants) -> Truth:
    """Everything about one appliance at a steady fire.

    design     its class
    site       the day and place
    condition  physical inputs; a fault is another number there
    constants  of the model
    -> truth
    """
    fuel = burned(design.fuel)
    if condition.crack and design.family in ("atmospheric", "power"):
        condition = replace(condition, intake_block=min(0.9, condition.intake_block + 0.6 * condition.crack))
    state = _settled(design=design, site=site, condition=condition, constants=constants, fuel=fuel)
    flow, exchange = state.flow, state.heat
    spread = mixing.unevenness(
        design=design, site=site, condition=condition, constants=constants, speed=flow.through
    ) * (1.0 + 2.0 * _BLOWER * condition.crack)  # fmt: skip
    monoxide = mixing.monoxide(
        burned=fuel, design=design, condition=condition, constants=constants, air_ratio=flow.air_ratio, spread=spread
    )  # fmt: skip
    dry = fuel.dry_at(flow.air_ratio)
    carbon_monoxide = monoxide * dry
    at_flame = max(0.0, fuel.need * (flow.air_ratio - 1.0)) + 0.5 * carbon_monoxide
    behind = condition.breech_leak + condition.crack
    added = dry * behind / (1.0 - behind)
    chilled = 1.0 / (1.0 + added / dry)
    flue = site.room + (exchange.flue - site.room) * (1.0 - (1.0 - chilled) * 0.9)
    whole = dry + added
    oxygen = (at_flame + added * OXYGEN_SHARE) / whole
    share = flow.heat / design.input
    return Truth(
        oxygen=oxygen,
        oxygen_at_flame=at_flame / dry,
        oxygen_low_fire=_oxygen(fuel, flow.low_fire),
        monoxide=carbon_monoxide / whole,
        dioxide=(fuel.carbon - carbon_monoxide) / whole,
        hydrogen=_HYDROGEN * max(0.0, carbon_monoxide) / whole,
        flue=flue,
        intake=_intake(design, site),
        intake_oxygen=OXYGEN_SHARE - state.stale * (OXYGEN_SHARE - oxygen),
        draft=state.flue.draft,
        over_fire=state.flue.over_fire,
        fuel_pressure=flow.fuel_pressure,
        line_pressure=2000.0 * condition.supply,
        heat=flow.heat,
        rise=exchange.rise,
        smoke=mixing.smoke(design=design, constants=constants, air_ratio=flow.air_ratio, spread=spread),
        current=_current(design=design, condition=condition, share=share, air_ratio=flow.air_ratio),
        room_monoxide=_room(
            condition=condition, site=site, made=carbon_monoxide * flow.heat, spilled=state.flue.spilled
        ),
        spilled=state.flue.spilled,
        air_ratio=1.0 + oxygen * whole / fuel.need if whole else flow.air_ratio,
        air_ratio_at_flame=flow.air_ratio,
        useful=exchange.useful,
        condensed=exchange.condensed,
    )


def _oxygen(fuel: Burned, air_ratio: float) -> float:
    return max(0.0, fuel.need * (air_ratio - 1.0)) / fuel.dry_at(max(air_ratio, 0.6))


def air_mass(*, fuel: str, heat: float, air_ratio: float) -> float:
    """Dry air in kg/s that a flame of `heat` W takes at an air ratio."""
    return heat * burned(fuel).air * air_ratio * AIR_MASS
