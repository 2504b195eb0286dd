"""The flue: pull of its height, what the flow uses up, air drawn in at a hood or regulator, and what spills."""

from dataclasses import dataclass

from fluewright.simulate.condition import Condition, Design, Site

_GAS = 287.0
_GRAVITY = 9.81
_SPILL_BY = 0.02


@dataclass(frozen=True, slots=True)
class Flue:
    """Draft counted from the room (below nothing it pulls) at the flue and over the fire, in Pa; shares of gas.

    pull     Pa, at rest less wind and fans
    spilled  share of the flue gas that comes into the room
    push     back pressure on the chamber as a share of its own pull, nothing when the flue draws well
    """

    draft: float
    over_fire: float
    pull: float
    spilled: float
    push: float


def pull_of(*, site: Site, height: float, flue: float) -> float:
    """Pull at rest in Pa of a chimney filled with gas of `flue` K that cools on the way."""
    mean = site.outdoor + (flue - site.outdoor) * 0.75
    return _GRAVITY * height * site.barometer / _GAS * (1.0 / site.outdoor - 1.0 / mean)


def _at_hood(*, design: Design, site: Site, condition: Condition, flue: float, flow: float) -> Flue:
    """A hood lets the chimney draw room air beside the gas; when it cannot carry the gas, gas comes out there."""
    narrow = 1.0 / (1.0 - min(condition.flue_block, 0.97)) ** 2
    mixed = site.room + (flue - site.room) * 0.6
    pull = pull_of(site=site, height=site.chimney, flue=mixed) - condition.wind - condition.exhaust
    chimney, entry = 4.0 * narrow, 5.0
    low, high = 0.0, 6.0
    for _ in range(14):
        middle = 0.5 * (low + high)
        if chimney * (flow + middle) ** 2 + entry * middle * middle < pull:
            low = middle
        else:
            high = middle
    if pull > chimney * flow * flow:
        return Flue(-entry * low * low, 0.0, pull, 0.0, 0.0)
    up = (max(pull, 0.0) / chimney) ** 0.5
    spilled = max(0.0, min(1.0, 1.0 - up / max(flow, 0.05)))
    push = min(3.0, spilled * 2.0 + max(0.0, -pull) / 4.0)
    return Flue(max(0.0, -pull) * 0.3 + 1.5 * spilled, 0.0, pull, spilled, push)


def _behind_regulator(*, design: Design, site: Site, condition: Condition, flue: float, flow: float) -> Flue:
    """Oil and wood: a regulator holds the draft where the chimney has more than is wanted."""
    narrow = 1.0 / (1.0 - min(condition.flue_block, 0.97)) ** 2
    pull = pull_of(site=site, height=site.chimney, flue=flue) - condition.wind - condition.exhaust
    left = pull - 2.5 * narrow * flow * flow
    most = design.pull * 1.15
    held = left if left < most else most + (left - most) * (0.1 + 0.9 * condition.regulator_stuck)
    spilled = 0.0 if held > 0.0 else min(1.0, -held / 12.0 + _SPILL_BY)
    passes = 1.0 / (1.0 - min(condition.passes_block, 0.95)) ** 2
    over = held - (1.0 - design.over_fire) * design.pull * passes * flow * flow
    return Flue(-held, -over, pull, spilled, 0.0)


def _behind_fan(*, design: Design, site: Site, condition: Condition, flow: float) -> Flue:
    """A vent with a fan: little pressure behind it, more when it is blocked; suction in the firebox before it."""
    narrow = 1.0 / (1.0 - min(condition.flue_block, 0.97)) ** 2
    height = pull_of(site=site, height=site.chimney * 0.5, flue=390.0)
    share = 0.01 if design.family == "power" else 0.06
    behind = share * design.pull * narrow * flow * flow - height + condition.wind + condition.exhaust * 0.5
    passes = 1.0 / (1.0 - min(condition.passes_block, 0.95)) ** 2
    fire = -design.over_fire * design.pull * condition.fan**2 / (0.5 + 0.5 * passes) + 0.2 * condition.wind
    return Flue(behind, fire, height, 0.0, 0.0)


def flue_of(*, design: Design, site: Site, condition: Condition, flue: float, flow: float) -> Flue:
    """What the flue does with gas of `flue` K flowing at `flow` times the design."""
    if design.hood:
        return _at_hood(design=design, site=site, condition=condition, flue=flue, flow=flow)
    if design.family in ("oil", "wood"):
        return _behind_regulator(design=design, site=site, condition=condition, flue=flue, flow=flow)
    return _behind_fan(design=design, site=site, condition=condition, flow=flow)
