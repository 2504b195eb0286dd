"""The balance of a flue: the flows and pressures at which everything that hangs on it rests.

A flue that several appliances share can rest in more than one way: drawing, because it is warm, or filled with cold
air that falls down it, because it was cold when the fires were lit. Both are answers to the same equations, so a search
that does not know where it comes from may give either. Here one is followed on purpose: the warm one, from gas as hot
as it can be; or the cold one, from a flue in which nothing burned.

Two loops. For given temperatures what is left over on each way from the room to the top falls with every flow, so there
is one set of flows, and damped Newton finds it. The flows say where each gas comes from and how warm it is, and a round
goes a part of the way to those temperatures.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from fluewright.kernel import flue_flow, pipe_friction
from fluewright.kernel.air import MOLAR_MASS as AIR
from fluewright.kernel.constants import GRAVITY
from fluewright.solve.flue_network import (
    TRICKLE,
    AtAppliance,
    Attached,
    Found,
    Gas,
    Network,
    Pipe,
    Surrounding,
    mixed,
)
from fluewright.solve.linear_system import solved

NEARLY = 1e-6
"""Pa of disagreement at the junctions that is left."""
CLOSE = 1e-8
"""Pa by which lift and losses may still move when the rounds end."""
AT_HAND = 0.5
"""Pa of movement below which the rest is near enough to be aimed at instead of walked to."""
ROUNDS, STEPS, SHORTEST = 500, 60, 1e-6
PART, CAREFUL, LEAST, MOST = 0.4, 0.1, 0.01, 0.7
"""Part of the way that a round goes: at first, where a flue turned round and may only have been pushed, and its ends.
It shrinks when a round swings back and grows when one goes on."""
REMEMBERED = 4096
"""Balances that are kept: a sheet that is looked at again asks for the same few hundred."""
FLOOR = 1e-3
"""Pa s/kg added to a slope, so that an opening without flow does not stop the search."""
GAP = 0.05
"""Share of its area that a shut draft damper still leaves open (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class _Law:
    """A pipe at one temperature: Pa it lifts, Pa it takes for each (kg/s)2, kg/m3 of the gas that enters."""

    lift: float
    resistance: float
    entering: float

    def towards(self, other: "_Law", part: float) -> "_Law":
        return _Law(
            self.lift + part * (other.lift - self.lift),
            self.resistance + part * (other.resistance - self.resistance),
            self.entering + part * (other.entering - self.entering),
        )


def _along(pipe: Pipe, gas: Gas, around: Surrounding) -> tuple[_Law, float]:
    """What a pipe does with a gas that enters it, and K at its end."""
    cooling = {
        "temperature": gas.temperature,
        "surrounding_temperature": pipe.surroundings,
        "heat_loss_rate": max(pipe.u_value * pipe.surface, 1e-9),
        "heat_flow_rate": max(abs(gas.flow), TRICKLE) * gas.heat_capacity,
    }
    mean = float(flue_flow.temperature_over_length(**cooling))
    density = around.density(gas.molar_mass, mean)
    reynolds = pipe_friction.reynolds_number(
        gas_flow=max(abs(gas.flow), TRICKLE) / density,
        inner_diameter=pipe.diameter,
        density=density,
        dynamic_viscosity=flue_flow.gas_viscosity(temperature=mean),
    )
    rough = min(pipe.roughness / pipe.diameter, 0.05)
    factor = pipe_friction.friction_factor(reynolds=reynolds, relative_roughness=rough)
    dynamic = flue_flow.dynamic_pressure(mass_flow=1.0, density=density, area=pipe.area)
    taken = float((factor * pipe.length / pipe.diameter + pipe.loss_factor) * dynamic)
    lift = GRAVITY * (around.density(AIR, around.outdoors) - density) * pipe.rise
    law = _Law(lift, taken, around.density(gas.molar_mass, gas.temperature))
    return law, float(flue_flow.temperature_at_end(**cooling))


class _Gases:
    """Where each gas comes from and how warm it is, for given flows in the connectors."""

    def __init__(self, network: Network, flows: Sequence[float]) -> None:
        self.network, self.flows = network, flows
        self.up = [sum(flows[: index + 1]) for index in range(len(flows))]
        self._connectors: dict[int, tuple[Gas, _Law, float]] = {}
        self._reaches: dict[int, tuple[Gas, _Law, float]] = {}

    def opening(self, index: int) -> Gas:
        """What stands in an opening: burnt gas, room air drawn in, what comes back down the connector."""
        one, around, flow = self.network.attached[index], self.network.around, self.flows[index]
        parts = [one.burnt, Gas(max(flow - one.burnt.flow, 0.0), around.room)]
        if flow < -TRICKLE:
            back, _, end = self.connector(index)
            parts.append(replace(back, flow=-flow, temperature=end))
        return mixed([part for part in parts if part.flow > 0.0], around.room)

    def connector(self, index: int) -> tuple[Gas, _Law, float]:
        """The gas in a connector, from whichever end it comes, what the pipe does, and K at the other end."""
        if index not in self._connectors:
            flow = self.flows[index]
            gas = replace(self.opening(index) if flow >= 0.0 else self.junction(index), flow=flow)
            self._connectors[index] = (gas, *_along(self.network.attached[index].connector, gas, self.network.around))
        return self._connectors[index]

    def reach(self, index: int) -> tuple[Gas, _Law, float]:
        """The same for the flue above a junction."""
        if index not in self._reaches:
            flow, around = self.up[index], self.network.around
            if flow >= 0.0:
                source = self.junction(index)
            else:
                last = index + 1 == len(self.flows)
                source = Gas(0.0, around.outdoors) if last else self.junction(index + 1)
            gas = replace(source, flow=flow)
            self._reaches[index] = (gas, *_along(self.network.flue[index], gas, around))
        return self._reaches[index]

    def junction(self, index: int) -> Gas:
        """What meets at a junction, from the connector, from below and from above."""
        arriving = []
        if self.flows[index] > TRICKLE:
            arriving.append((self.flows[index], self.connector(index)))
        if index and self.up[index - 1] > TRICKLE:
            arriving.append((self.up[index - 1], self.reach(index - 1)))
        if self.up[index] < -TRICKLE:
            arriving.append((-self.up[index], self.reach(index)))
        parts = [replace(gas, flow=flow, temperature=end) for flow, (gas, _, end) in arriving]
        return mixed(parts, self.network.attached[index].connector.surroundings)

    def laws(self) -> list[_Law]:
        """What each connector does, then each reach; a connector's gas stands in its opening as well."""
        around, count = self.network.around, range(len(self.flows))
        opened = [self.opening(index) for index in count]
        connectors = [
            replace(self.connector(index)[1], entering=around.density(gas.molar_mass, gas.temperature))
            for index, gas in enumerate(opened)
        ]
        return [*connectors, *(self.reach(index)[1] for index in count)]


def _over_opening(one: Attached, flow: float, *, room: float, gas: float) -> tuple[float, float]:
    """Pressure of the room over that in an opening for a flow inwards, kg/s, and its slope.

    A hood stands open. A damper holds its draft while it opens; shut, it leaves a gap, and so it does when gas presses
    on it from within, unless it opens both ways.
    """
    inwards = flow >= 0.0
    density = room if inwards else gas

    def law(through: float) -> tuple[float, float]:
        return flow * abs(flow) / (2.0 * density * through**2), abs(flow) / (density * through**2)

    wide = law(one.opening)
    if one.draft_set <= 0.0:
        return wide
    shut = law(GAP * one.opening)
    if not inwards and not one.both_ways:
        return shut
    held = wide if abs(wide[0]) > one.draft_set else (one.draft_set if inwards else -one.draft_set, 0.0)
    return shut if abs(shut[0]) < abs(held[0]) else held


class _Loops:
    """The ways from the room through each opening to the top, for given laws."""

    def __init__(self, network: Network, laws: Sequence[_Law]) -> None:
        self.network = network
        self.connectors, self.reaches = laws[: len(network.attached)], laws[len(network.attached) :]
        self.air = network.around.density(AIR, network.around.room)

    def junctions(self, flows: Sequence[float]) -> list[float]:
        """Pressure of the flue at each junction, from the top down."""
        at, found = self.network.around.at_top, []
        for index in range(len(flows) - 1, -1, -1):
            up, law = sum(flows[: index + 1]), self.reaches[index]
            at += law.resistance * up * abs(up) - law.lift
            found.append(at)
        return found[::-1]

    def drop(self, index: int, flow: float) -> tuple[float, float]:
        """Pressure over an opening, and its slope."""
        one = self.network.attached[index]
        return _over_opening(one, flow - one.burnt.flow, room=self.air, gas=self.connectors[index].entering)

    def left_over(self, flows: Sequence[float]) -> list[float]:
        """Pa left over on each way; for an appliance without an opening the flow it is short of."""
        found = []
        for index, (one, junction) in enumerate(zip(self.network.attached, self.junctions(flows), strict=True)):
            law, flow = self.connectors[index], flows[index]
            if one.opening <= 0.0:
                found.append(one.burnt.flow - flow)
                continue
            start = self.network.around.in_room(one.height) - self.drop(index, flow)[0]
            found.append(start + law.lift - law.resistance * flow * abs(flow) - junction)
        return found

    def slopes(self, flows: Sequence[float]) -> list[list[float]]:
        """By how much each falls with each flow."""
        count = range(len(flows))
        lost = [2.0 * law.resistance * abs(sum(flows[: k + 1])) for k, law in enumerate(self.reaches)]
        table = [[sum(lost[max(i, j) :]) for j in count] for i in count]
        for i, one in enumerate(self.network.attached):
            if one.opening <= 0.0:
                table[i] = [float(i == j) for j in count]
            else:
                own = 2.0 * self.connectors[i].resistance * abs(flows[i])
                table[i][i] += self.drop(i, flows[i])[1] + own + FLOOR
        return table

    def closed(self, start: Sequence[float]) -> list[float]:
        """The flows with which nothing is left over."""
        flows = [
            one.burnt.flow if one.opening <= 0.0 else flow
            for one, flow in zip(self.network.attached, start, strict=True)
        ]
        left = self.left_over(flows)
        for _ in range(STEPS):
            size = sum(each**2 for each in left)
            step = solved(self.slopes(flows), left)
            if size < 1e-22 or step is None:
                break
            part = 1.0
            while True:
                tried = [flow + part * each for flow, each in zip(flows, step, strict=True)]
                then = self.left_over(tried)
                if sum(each**2 for each in then) < size or part < SHORTEST:
                    break
                part *= 0.5
            flows, left = tried, then
        return flows


def _rested(network: Network, start: Sequence[float], part: float) -> tuple[list[float], _Gases, list[_Law], float]:
    """Rounds of flows and temperatures until neither moves: flows, gases, laws, and Pa that still move."""
    laws, flows, before = _Gases(network, start).laws(), list(start), [0.0] * 2 * len(start)
    change, last = math.inf, laws
    for _ in range(ROUNDS):
        flows = _Loops(network, laws).closed(flows)
        gases = _Gases(network, flows)
        found = gases.laws()
        moved = [new.lift - old.lift for new, old in zip(found, laws, strict=True)]
        nearer = max(map(abs, moved)) < change
        change = max(map(abs, moved))
        if change < CLOSE:
            break
        if change < AT_HAND and nearer:
            share = _of_the_last(moved, before)
            laws, last, before = [new.towards(old, share) for new, old in zip(found, last, strict=True)], found, moved
            continue
        swung = sum(a * b for a, b in zip(moved, before, strict=True)) < 0.0
        part, before, last = max(0.6 * part, LEAST) if swung else min(1.1 * part, MOST), moved, found
        laws = [old.towards(new, part) for old, new in zip(laws, found, strict=True)]
    return flows, gases, found, change


def _of_the_last(moved: Sequence[float], before: Sequence[float]) -> float:
    """Share of the last round's answer in the next guess: the mixture that would have moved least.

    Anderson 1965, doi 10.1145/321296.321305, with one round remembered (from memory).
    """
    turned = [new - old for new, old in zip(moved, before, strict=True)]
    size = sum(each**2 for each in turned)
    return min(max(sum(a * b for a, b in zip(moved, turned, strict=True)) / size, -2.0), 0.9) if size > 0.0 else 0.0


def _hot(network: Network) -> list[float]:
    """Flows to begin with where the flue is warm: the gas of each burner with no air in it."""
    little = 0.1 * max(one.burnt.flow for one in network.attached) or 1e-3
    return [one.burnt.flow or (little if one.opening > 0.0 else 0.0) for one in network.attached]


def cold_flows(network: Network) -> list[float]:
    """Flows to begin with where nothing has burned yet: what the cold flue does by itself."""
    off = replace(network, attached=tuple(replace(one, burnt=replace(one.burnt, flow=0.0)) for one in network.attached))
    falling = [-0.01 if one.opening > 0.0 else 0.0 for one in network.attached]
    return _rested(off, falling, PART)[0]


@lru_cache(maxsize=REMEMBERED)
def balanced(network: Network, *, near: Found | None = None, cold: bool = False) -> Found:
    """The flows and pressures at which a network rests.

    network  one appliance or several
    near     what was found for nearly the same, to go on from
    cold     the fires are lit in a flue where nothing burned, instead of burning in a warm one
    -> what was found; `left_over` says how well the junctions agree
    """
    start = [one.connector.flow for one in near.appliances] if near else (cold_flows if cold else _hot)(network)
    flows, gases, laws, change = _rested(network, start, PART)
    if not cold and min(gases.up) < 0.0:
        flows, gases, laws, change = _rested(network, start, CAREFUL)
    loops = _Loops(network, laws)
    left = max(map(abs, loops.left_over(flows)))
    appliances = []
    for index, (one, junction) in enumerate(zip(network.attached, loops.junctions(flows), strict=True)):
        law, flow, gas = laws[index], flows[index], gases.connector(index)[0]
        opening = junction - law.lift + law.resistance * flow * abs(flow)
        against = opening - network.around.in_room(one.height)
        drawn = flow - one.burnt.flow
        appliances.append(AtAppliance(one.words, opening, against, drawn, gas, opening + law.lift, junction))
    reaches = [gases.reach(index) for index in range(len(flows))]
    return Found(
        tuple(appliances), tuple(gas for gas, _, _ in reaches), tuple(end for _, _, end in reaches), max(left, change)
    )
