"""A virtual appliance at a steady fire: physical inputs in, what is in the flue, the room and the water or air out.

Fuel, air, flame, exchanger, flue and room depend on each other; a few rounds settle them.
"""

import math
from dataclasses import dataclass, replace
from functools import cache

from fluewright.simulate import mixing
from fluewright.simulate.breath import Flow, breathed
from fluewright.simulate.burned import OXYGEN_SHARE, Burned, burned
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
    useful: float


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


@dataclass(frozen=True, slots=True)
class _Gas:
    """Dry gas for a joule at the flame and at the probe, mol/J; the evenness of mixing that it comes from."""

    dry: float
    whole: float
    monoxide: float
    oxygen_at_flame: float
    oxygen: float
    spread: float


def _gas(*, design: Design, site: Site, condition: Condition, constants: Constants, fuel: Burned, flow: Flow) -> _Gas:
    """What the flame leaves, and what has leaked in before the probe."""
    spread = mixing.unevenness(design=design, site=site, condition=condition, constants=constants, speed=flow.through)
    spread *= 1.0 + 2.0 * _BLOWER * condition.crack
    share = mixing.monoxide(
        burned=fuel, design=design, condition=condition, constants=constants, air_ratio=flow.air_ratio, spread=spread
    )
    dry = fuel.dry_at(flow.air_ratio)
    monoxide = share * dry
    at_flame = max(0.0, fuel.need * (flow.air_ratio - 1.0)) + 0.5 * monoxide
    behind = condition.breech_leak + condition.crack
    added = dry * behind / (1.0 - behind)
    return _Gas(dry, dry + added, monoxide, at_flame, at_flame + added * OXYGEN_SHARE, spread)


def steady(*, design: Design, site: Site, condition: Condition, constants: Constants) -> Truth:
    """Everything about one appliance at a steady fire.

    design     its class
    site       the day and place
    condition  physical inputs; a fault is another number there
    constants  of the model
    -> truth
    """
    fuel = burned(design.fuel)
    if condition.crack and design.family == "atmospheric":
        condition = replace(condition, intake_block=min(0.9, condition.intake_block + 0.6 * condition.crack))
    state = _settled(design=design, site=site, condition=condition, constants=constants, fuel=fuel)
    flow, exchange = state.flow, state.heat
    gas = _gas(design=design, site=site, condition=condition, constants=constants, fuel=fuel, flow=flow)
    oxygen, spilled = gas.oxygen / gas.whole, state.flue.spilled
    return Truth(
        oxygen=oxygen,
        oxygen_at_flame=gas.oxygen_at_flame / gas.dry,
        oxygen_low_fire=_oxygen(fuel, flow.low_fire),
        monoxide=gas.monoxide / gas.whole,
        dioxide=(fuel.carbon - gas.monoxide) / gas.whole,
        hydrogen=_HYDROGEN * gas.monoxide / gas.whole,
        flue=site.room + (exchange.flue - site.room) * (0.1 + 0.9 * gas.dry / gas.whole),
        intake=_intake(design, site),
        intake_oxygen=OXYGEN_SHARE - state.stale * (OXYGEN_SHARE - oxygen),
        draft=state.flue.draft,
        over_fire=state.flue.over_fire,
        fuel_pressure=flow.fuel_pressure,
        line_pressure=2000.0 * condition.supply,
        heat=flow.heat,
        rise=exchange.rise,
        smoke=mixing.smoke(design=design, constants=constants, air_ratio=flow.air_ratio, spread=gas.spread),
        current=_current(design=design, condition=condition, share=flow.heat / design.input, air_ratio=flow.air_ratio),
        room_monoxide=_room(condition=condition, site=site, made=gas.monoxide * flow.heat, spilled=spilled),
        spilled=spilled,
        useful=exchange.useful,
    )


def _oxygen(fuel: Burned, air_ratio: float) -> float:
    return max(0.0, fuel.need * (air_ratio - 1.0)) / fuel.dry_at(max(air_ratio, 0.6))
