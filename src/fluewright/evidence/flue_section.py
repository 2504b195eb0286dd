"""What the pressure section is drawn from: heights in m above the floor, pressures in Pa against outdoors there."""

from dataclasses import dataclass

from fluewright.evidence.flue_given import Building, FlueGiven
from fluewright.solve.flue_network import Found, Network

Place = tuple[float, float]
"""Height and pressure."""


@dataclass(frozen=True, slots=True)
class Way:
    """The way of one appliance's gas from its opening to the flue."""

    words: str
    places: tuple[Place, ...]
    spills: bool


@dataclass(frozen=True, slots=True)
class Condition:
    """The pressures of one condition."""

    words: str
    room: tuple[Place, Place]
    ways: tuple[Way, ...]
    flue: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Measured:
    """One measured pressure, with its standard uncertainty; fans: in which condition."""

    place: str
    height: float
    pressure: float
    spread: float
    fans: bool


@dataclass(frozen=True, slots=True)
class Standing:
    """One appliance: its opening, where it joins, whether it is open to the room there, whether it burns."""

    words: str
    outlet: float
    joins: float
    hood: bool
    lit: bool


@dataclass(frozen=True, slots=True)
class FlueSection:
    """House, appliances, predicted conditions and measured points."""

    building: Building
    top: float
    standing: tuple[Standing, ...]
    conditions: tuple[Condition, ...]
    measured: tuple[Measured, ...]


def condition_of(words: str, network: Network, found: Found, given: FlueGiven) -> Condition:
    """One condition as lines of pressure over height.

    Along a connector the gas is first lifted by its own warmth and then loses what its walls and bends take.
    """
    room = network.around
    ceiling = min(given.building.floors, default=2.4)
    ways = tuple(
        Way(
            one.words,
            ((hung.height, one.opening), (joins, one.lifted), (joins, one.junction)),
            one.spills,
        )
        for one, hung, joins in zip(found.appliances, network.attached, _joins(network, given), strict=True)
    )
    joints = [(joins, one.junction) for joins, one in zip(_joins(network, given), found.appliances, strict=True)]
    top = float(given.top.figure or 0.0)
    return Condition(
        words,
        ((0.0, room.in_room(0.0)), (ceiling, room.in_room(ceiling))),
        ways,
        (*joints, (top, room.at_top)),
    )


def _joins(network: Network, given: FlueGiven) -> list[float]:
    return [one.height + one.connector.rise for one in network.attached]


def standing_of(given: FlueGiven) -> tuple[Standing, ...]:
    """The appliances in the order in which they join the flue from below."""
    return tuple(
        Standing(
            one.words,
            float(one.height.figure or 0.0),
            float(one.joins.figure or 0.0),
            one.kind != "closed",
            one.state == "lit",
        )
        for one in given.hung
    )
