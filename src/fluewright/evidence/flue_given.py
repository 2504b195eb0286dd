"""A flue and what hangs on it, as a person described it: heights, diameters, walls, appliances, weather."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from fluewright.evidence.reading import Reading
from fluewright.evidence.sizes import Size, need

Kind = Literal["hood", "damper", "double damper", "closed"]
State = Literal["lit", "pilot", "off"]


@dataclass(frozen=True, slots=True)
class Wall:
    """What a flue is built of.

    u_value    W/(m2 K) on the inside surface, warm and steady
    roughness  m
    """

    u_value: float
    roughness: float


WALLS: Mapping[str, Wall] = {
    "masonry, no liner": Wall(3.5, 0.005),
    "masonry, clay liner": Wall(2.8, 0.0015),
    "metal liner in masonry": Wall(3.0, 0.001),
    "double-wall metal": Wall(2.2, 0.0005),
    "single-wall metal": Wall(6.0, 0.0005),
    "insulated metal": Wall(0.9, 0.0005),
}
"""Order of magnitude of what walls let through and how rough they are: from memory of EN 13384-1 and handbooks."""
WALL_DOUBT = 0.35
"""Relative standard uncertainty of a U-value nobody measured (common practice, no source)."""

BENDS_DOUBT = 0.30
"""Relative standard uncertainty of the loss factors of bends, tees and caps (common practice, no source)."""
DISCHARGE = 0.6
"""Share of the ideal flow through the opening of a hood (handbooks, from memory)."""
OPENING_PER_CONNECTOR = 0.5
"""Opening of a hood over the area of its connector where nobody measured it: so small that a flue which draws as usual
takes in about as much room air as there is burnt gas (common practice, no source)."""
DAMPER_SET = 5.0
"""Pa of draft at which a damper opens where nobody read its setting (-0.02 in w.c.; common practice, no source)."""
OPENING_DOUBT = 0.40
"""Relative standard uncertainty of the opening of a hood, discharge and shape together (common practice, no source)."""
PILOT = (260.0, 0.19)
"""W gross and oxygen of a pilot's gas, mol/mol, where only the pilot burns (900 Btu/h, from memory)."""


_NO_FLUE = "the balance of flows is sought between sizes that flues of buildings have, and finds none beyond"
TOP = Size("height of the flue", _NO_FLUE, most=150.0)
WIDTH = Size("inside diameter of a flue or connector", _NO_FLUE, 0.02, 4.0, above=False)
LENGTH = Size("length of a connector", _NO_FLUE, most=60.0, above=False)
OPENING = Size("opening of a hood or damper", _NO_FLUE, most=10.0)
INPUT = Size("heat input of an appliance on the flue", _NO_FLUE, most=20e6)
HEIGHT = Size("height of an appliance or a junction", _NO_FLUE, -20.0, 150.0, above=False)
ROOM = Size("pressure of the room against outdoors", "no fan of a house makes more", -250.0, 250.0, above=False)


@dataclass(frozen=True, slots=True)
class Hung:
    """One appliance on the flue.

    input       gross heat input while it burns
    oxygen      in dry flue gas before any dilution
    outlet      temperature of that gas
    height      of its opening above the floor
    joins       height where its connector meets the flue
    diameter, length   of the connector
    opening     free area of the hood or damper, None where nobody measured it
    draft_set   draft at which a damper opens, None where nobody read it
    bends       loss factor of the connector, its entry into the flue included
    """

    words: str
    kind: Kind
    state: State
    input: Reading | None
    oxygen: Reading | None
    outlet: Reading | None
    height: Reading
    joins: Reading
    diameter: Reading
    length: Reading
    opening: Reading | None = None
    bends: float = 2.0
    draft_set: Reading | None = None

    def __post_init__(self) -> None:
        """Refuse sizes that nothing on a flue has."""
        sizes = ((self.diameter, WIDTH), (self.length, LENGTH), (self.opening, OPENING), (self.input, INPUT),
                 (self.height, HEIGHT), (self.joins, HEIGHT))  # fmt: skip
        for reading, size in sizes:
            need(reading, size)

    @property
    def damped(self) -> bool:
        """Whether its opening is a damper that holds a draft, not a hood that stands open."""
        return self.kind in ("damper", "double damper")


@dataclass(frozen=True, slots=True)
class Building:
    """What the drawing shows of the house, m above the floor the appliances stand on."""

    ground: float = 0.0
    floors: tuple[float, ...] = ()
    eaves: float = 0.0
    ridge: float = 0.0
    foot: float = 0.0


@dataclass(frozen=True, slots=True)
class Point:
    """A draft that was measured.

    place   in words
    height  m above the floor
    at      appliance whose opening or connector it was read at, empty for the flue
    draft   against the room at the same height
    fans    whether every fan was on
    """

    place: str
    height: Reading
    draft: Reading
    fans: bool = False
    at: str = ""


@dataclass(frozen=True, slots=True)
class FlueGiven:
    """The flue, its appliances, the room and the weather.

    top            height of its mouth
    diameter       inside
    wall           key of WALLS
    cap            loss factor of mouth and bends of the flue itself
    room_pressure  at the floor, against outdoors, fans off; None where nobody read it
    fans_pressure  the same with every fan on
    """

    top: Reading
    diameter: Reading
    wall: str
    hung: tuple[Hung, ...]
    outdoors: Reading | None
    room: Reading | None
    room_pressure: Reading | None = None
    fans_pressure: Reading | None = None
    points: tuple[Point, ...] = ()
    cap: float = 1.5
    building: Building = field(default_factory=Building)

    def __post_init__(self) -> None:
        """Refuse sizes that no flue has: beyond them the search for its flows takes minutes and finds nothing."""
        for reading, size in ((self.top, TOP), (self.diameter, WIDTH), (self.room_pressure, ROOM),
                              (self.fans_pressure, ROOM)):  # fmt: skip
            need(reading, size)

    @property
    def late(self) -> bool:
        """It rests on nothing but itself."""
        return False
