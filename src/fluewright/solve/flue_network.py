"""Several appliances on one flue: flows and pressures in which every junction balances.

Each appliance feeds its gas to an opening (a draft hood or damper) that stands open to the room, goes on through a
connector and joins the flue at a height. Gas or air may run either way: a hood spills, an appliance that is off lets
air fall back into the room. Pressures are counted against outdoors at the same height, so that still outdoor air is 0
everywhere and a room that is warmer than outdoors leans.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from fluewright.kernel import flue_flow, pipe_friction
from fluewright.kernel.air import MOLAR_MASS as AIR
from fluewright.kernel.constants import GRAVITY
from fluewright.solve.linear_system import solved

AIR_HEAT_CAPACITY = 1006.0
"""J/(kg K), dry air near room temperature (CoolProp 8.0.0, computed)."""
SMOOTH = 0.02
"""Pa below which the flow through an opening is drawn straight through zero, so that the search has a slope there."""
NEARLY = 1e-7
"""Pa of disagreement at the junctions that is left."""
TRICKLE = 1e-7
"""kg/s: less than this is no flow; it keeps the cooling of standing gas finite."""


@dataclass(frozen=True, slots=True)
class Pipe:
    """A length of connector or flue.

    length, rise   m; rise is what it climbs
    diameter       m, inside
    u_value        W/(m2 K) of its wall, on the inside
    surroundings   K around it
    loss_factor    sum of the factors of bends, entries, caps, -
    roughness      m of its wall
    """

    length: float
    rise: float
    diameter: float
    u_value: float
    surroundings: float
    loss_factor: float
    roughness: float

    @property
    def area(self) -> float:
        """Inside area, m2."""
        return 0.7853981633974483 * self.diameter**2

    @property
    def surface(self) -> float:
        """Inside wall, m2."""
        return 3.141592653589793 * self.diameter * self.length


@dataclass(frozen=True, slots=True)
class Gas:
    """A flow of gas: kg/s, K, kg/mol, J/(kg K)."""

    flow: float
    temperature: float
    molar_mass: float = AIR
    heat_capacity: float = AIR_HEAT_CAPACITY


@dataclass(frozen=True, slots=True)
class Attached:
    """One appliance as the flue sees it.

    burnt       what leaves its heat exchanger; no flow when it is off
    opening     m2 of the hood or damper, free area times discharge coefficient; 0 for none
    height      m above the floor, of the opening
    connector   from there to the flue
    """

    words: str
    burnt: Gas
    opening: float
    height: float
    connector: Pipe


@dataclass(frozen=True, slots=True)
class Surrounding:
    """Room and weather.

    room, outdoors  K
    pressure        Pa of the barometer
    at_floor        Pa, room against outdoors at the floor the appliances stand on
    at_top          Pa that wind adds at the top of the flue
    """

    room: float
    outdoors: float
    pressure: float
    at_floor: float = 0.0
    at_top: float = 0.0

    def density(self, molar_mass: float, temperature: float) -> float:
        """kg/m3 of a gas here."""
        return float(flue_flow.gas_density(molar_mass=molar_mass, temperature=temperature, pressure=self.pressure))

    def in_room(self, height: float) -> float:
        """Pa, room against outdoors at a height above that floor."""
        lean = self.density(AIR, self.outdoors) - self.density(AIR, self.room)
        return self.at_floor + GRAVITY * lean * height


@dataclass(frozen=True, slots=True)
class Network:
    """Appliances in the order in which they join from below, and the flue above each junction to the next or the top.

    flue  one pipe for each appliance: from where it joins to where the next one does, the last to the top
    """

    attached: tuple[Attached, ...]
    flue: tuple[Pipe, ...]
    around: Surrounding


@dataclass(frozen=True, slots=True)
class AtAppliance:
    """What was found for one appliance; pressures in Pa against outdoors at the same height.

    opening     pressure inside the opening
    against_room  the same against the room there: below 0 it draws, above 0 it spills
    diluting    kg/s of room air drawn in; below 0 what comes out into the room
    connector   gas in the connector; flow below 0 runs back into the room
    lifted      pressure at the end of the connector before its losses are taken off
    junction    pressure of the flue where it joins
    """

    words: str
    opening: float
    against_room: float
    diluting: float
    connector: Gas
    lifted: float
    junction: float

    @property
    def spills(self) -> bool:
        """Whether anything comes out into the room."""
        return self.diluting < -TRICKLE


@dataclass(frozen=True, slots=True)
class Found:
    """The balance of a network.

    appliances  in their order
    flue        gas in each pipe of the flue, as it enters
    tops        K at the end of each
    left_over   Pa of disagreement that is left, the largest
    """

    appliances: tuple[AtAppliance, ...]
    flue: tuple[Gas, ...]
    tops: tuple[float, ...]
    left_over: float


def mixed(parts: Sequence[Gas], otherwise: float) -> Gas:
    """Flows run together: mass and heat are kept.

    parts      flows of 0 or more
    otherwise  K where nothing flows
    """
    flow = sum(part.flow for part in parts)
    if flow <= TRICKLE:
        return Gas(max(flow, 0.0), otherwise)
    carried = sum(part.flow * part.heat_capacity for part in parts)
    heat = sum(part.flow * part.heat_capacity * part.temperature for part in parts)
    moles = sum(part.flow / part.molar_mass for part in parts)
    return Gas(flow, heat / carried, flow / moles, carried / flow)


def _through(opening: float, difference: float, density: float) -> float:
    """kg/s through an opening by a pressure difference, signed; straight through zero within SMOOTH."""
    return float(opening * (2.0 * density) ** 0.5 * difference / (difference**2 + SMOOTH**2) ** 0.25)


def _along(pipe: Pipe, gas: Gas, around: Surrounding) -> tuple[float, float, float]:
    """What a pipe does to the pressure: Pa it lifts, Pa it takes, and K at its end; gas as it enters, flow signed."""
    carried = max(abs(gas.flow), TRICKLE) * gas.heat_capacity
    cooling = {
        "temperature": gas.temperature,
        "surrounding_temperature": pipe.surroundings,
        "heat_loss_rate": max(pipe.u_value * pipe.surface, 1e-9),
        "heat_flow_rate": carried,
    }
    mean = float(flue_flow.temperature_over_length(**cooling))
    end = float(flue_flow.temperature_at_end(**cooling))
    density = around.density(gas.molar_mass, mean)
    lift = GRAVITY * (around.density(AIR, around.outdoors) - density) * pipe.rise
    if abs(gas.flow) <= TRICKLE:
        return lift, 0.0, end
    reynolds = pipe_friction.reynolds_number(
        gas_flow=abs(gas.flow) / density,
        inner_diameter=pipe.diameter,
        density=density,
        dynamic_viscosity=flue_flow.gas_viscosity(temperature=mean),
    )
    rough = min(pipe.roughness / pipe.diameter, 0.05)
    factor = pipe_friction.friction_factor(reynolds=reynolds, relative_roughness=rough)
    dynamic = flue_flow.dynamic_pressure(mass_flow=gas.flow, density=density, area=pipe.area)
    taken = float((factor * pipe.length / pipe.diameter + pipe.loss_factor) * dynamic)
    return lift, taken if gas.flow > 0.0 else -taken, end


@dataclass(frozen=True, slots=True)
class _Walk:
    """One walk through the network for pressures at its openings."""

    gaps: tuple[float, ...]
    appliances: tuple[AtAppliance, ...]
    flue: tuple[Gas, ...]
    tops: tuple[float, ...]


def _opening(one: Attached, pressure: float, around: Surrounding) -> tuple[float, Gas]:
    """Room air drawn in at an opening, and the gas behind it."""
    difference = around.in_room(one.height) - pressure
    air = around.density(AIR, around.room)
    burnt = around.density(one.burnt.molar_mass, one.burnt.temperature)
    drawn = _through(one.opening, difference, air if difference > 0.0 else burnt)
    behind = one.burnt.flow + drawn
    if drawn >= 0.0:
        return drawn, mixed((one.burnt, Gas(drawn, around.room)), around.room)
    return drawn, replace(one.burnt, flow=behind)


def _flows(network: Network, behind: Sequence[Gas]) -> list[Gas]:
    """Gas in each pipe of the flue as it enters: upwards from the junctions, or down from the top."""
    around = network.around
    total, signed = 0.0, []
    for gas in behind:
        total += gas.flow
        signed.append(total)
    gases: list[Gas] = []
    for index, flow in enumerate(signed):
        joining = [gas for gas in behind[index : index + 1] if gas.flow > 0.0]
        below = [gases[-1]] if gases and gases[-1].flow > 0.0 else []
        arrived = [replace(gas, temperature=_along(network.flue[index - 1], gas, around)[2]) for gas in below]
        run = mixed([*joining, *arrived], around.outdoors)
        falling = Gas(flow, around.outdoors)
        gases.append(replace(run, flow=flow) if flow > 0.0 else falling)
    return gases


def _walk(network: Network, openings: Sequence[float]) -> _Walk:
    """What a set of pressures at the openings leads to, and by how much the junctions disagree."""
    around = network.around
    met = [_opening(one, pressure, around) for one, pressure in zip(network.attached, openings, strict=True)]
    flue = _flows(network, [gas for _, gas in met])
    at, tops = around.at_top, []
    junctions: list[float] = []
    for pipe, gas in zip(reversed(network.flue), reversed(flue), strict=True):
        lift, taken, end = _along(pipe, gas, around)
        at = at - lift + taken
        junctions.append(at)
        tops.append(end)
    junctions.reverse()
    appliances, gaps = [], []
    for index, one in enumerate(network.attached):
        drawn, gas = met[index]
        falling = replace(flue[index], flow=gas.flow) if flue[index].flow > 0.0 else Gas(gas.flow, around.outdoors)
        inside = gas if gas.flow >= 0.0 else falling
        lift, taken, _ = _along(one.connector, inside, around)
        lifted = openings[index] + lift
        gaps.append(lifted - taken - junctions[index])
        against = openings[index] - around.in_room(one.height)
        appliances.append(AtAppliance(one.words, openings[index], against, drawn, inside, lifted, junctions[index]))
    return _Walk(tuple(gaps), tuple(appliances), tuple(flue), tuple(reversed(tops)))


def _slopes(network: Network, openings: list[float], here: _Walk) -> list[list[float]]:
    """How each disagreement moves with each pressure."""
    step = 1e-5
    columns = []
    for index in range(len(openings)):
        moved = [*openings]
        moved[index] += step
        there = _walk(network, moved)
        columns.append([(b - a) / step for a, b in zip(here.gaps, there.gaps, strict=True)])
    return [list(row) for row in zip(*columns, strict=True)]


def _one_by_one(network: Network, openings: list[float]) -> list[float]:
    """Settle each opening by halving while the others wait: slow and sure, for each gap rises with its own pressure."""
    for index in range(len(openings)):
        low, high = -400.0, 400.0
        for _ in range(50):
            openings[index] = 0.5 * (low + high)
            if _walk(network, openings).gaps[index] < 0.0:
                low = openings[index]
            else:
                high = openings[index]
    return openings


def balanced(network: Network) -> Found:
    """The flows and pressures at which a network rests.

    network  one appliance or several
    -> what was found; `left_over` says how well the junctions agree

    Newton's steps, held short where they would make things worse; where they do not arrive, halving takes over.
    """
    openings = [network.around.in_room(one.height) - 2.0 for one in network.attached]
    here = _walk(network, openings)
    for _ in range(60):
        worst = max(map(abs, here.gaps))
        if worst < NEARLY:
            break
        wanted = solved(_slopes(network, openings, here), [-gap for gap in here.gaps])
        size = 1.0
        while wanted is not None and size > 1e-3:
            tried = [one + size * step for one, step in zip(openings, wanted, strict=True)]
            there = _walk(network, tried)
            if max(map(abs, there.gaps)) < worst:
                openings, here = tried, there
                break
            size *= 0.5
        else:
            openings = _one_by_one(network, openings)
            here = _walk(network, openings)
    return Found(here.appliances, here.flue, here.tops, max(map(abs, here.gaps)))


def with_room_at(network: Network, at_floor: float) -> Network:
    """The same with another pressure in the room."""
    return replace(network, around=replace(network.around, at_floor=at_floor))


def spills_at(network: Network, words: str, at_floor: float) -> bool:
    """Whether an appliance would spill with that pressure in the room."""
    found = balanced(with_room_at(network, at_floor))
    return next(one.against_room for one in found.appliances if one.words == words) > 0.0


def spills_below(network: Network, words: str, *, least: float = -60.0, most: float = 30.0) -> float | None:
    """Pressure of the room, at the floor against outdoors, below which an appliance spills.

    network  as it stands
    words    of the appliance
    least    Pa, how far down it is looked for
    most     Pa, how far up
    -> Pa, within 0.05; None where it does not spill down to the least; the most where it spills even there
    """
    if not spills_at(network, words, least):
        return None
    low, high = least, most
    if spills_at(network, words, high):
        return high
    while high - low > 0.05:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if spills_at(network, words, middle) else (low, middle)
    return high


def pressure_at(network: Network, found: Found, height: float, words: str = "") -> float:
    """Pressure against outdoors at a height: on an appliance's way to the flue, or in the flue.

    words  of the appliance; empty for the flue
    -> Pa, straight between the ends of that way
    """
    for one, hung in zip(found.appliances, network.attached, strict=True):
        if one.words == words:
            rise = hung.connector.rise
            share = min(max((height - hung.height) / rise, 0.0), 1.0) if rise > 0.0 else 1.0
            return one.opening + share * (one.junction - one.opening)
    joins = [hung.height + hung.connector.rise for hung in network.attached]
    ends = [*joins, joins[-1] + network.flue[-1].rise]
    values = [*(one.junction for one in found.appliances), network.around.at_top]
    for index, (low, high) in enumerate(pairwise(ends)):
        if height <= high or index == len(joins) - 1:
            share = min(max((height - low) / (high - low), 0.0), 1.0)
            return values[index] + share * (values[index + 1] - values[index])
    return values[-1]
