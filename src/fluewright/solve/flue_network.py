"""Several appliances on one flue: flows and pressures in which every junction balances.

Each appliance feeds its gas to an opening (a draft hood or damper) that stands open to the room, goes on through a
connector and joins the flue at a height. Gas or air may run either way: a hood spills, an appliance that is off lets
air fall back into the room. Pressures are counted against outdoors at the same height, so that still outdoor air is 0
everywhere and a room that is warmer than outdoors leans.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from fluewright.kernel import flue_flow
from fluewright.kernel.air import MOLAR_MASS as AIR
from fluewright.kernel.constants import GRAVITY, PI

AIR_HEAT_CAPACITY = 1006.0
"""J/(kg K), dry air near room temperature (CoolProp 8.0.0, computed)."""
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
        return PI / 4.0 * self.diameter**2

    @property
    def surface(self) -> float:
        """Inside wall, m2."""
        return PI * self.diameter * self.length


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
    draft_set   Pa of draft beyond which a damper opens; 0 for a hood, which stands open
    both_ways   whether a damper opens outwards too
    """

    words: str
    burnt: Gas
    opening: float
    height: float
    connector: Pipe
    draft_set: float = 0.0
    both_ways: bool = False


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


def with_room_at(network: Network, at_floor: float) -> Network:
    """The same with another pressure in the room."""
    return replace(network, around=replace(network.around, at_floor=at_floor))


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
