"""What the drawings are made from: immutable values with no layout. Lengths on paper come from these numbers alone."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from fluewright.errors import UseError
from fluewright.quantity.meaning import Spread

How = Literal["measured", "derived", "plate", "unknown", "band"]


@dataclass(frozen=True, slots=True)
class Knot:
    """One step on the operating plane.

    oxygen                    percent dry
    carbon_monoxide_air_free  ppm; may be 0
    spread_oxygen, spread_co  standard uncertainty, percent points and ppm
    spread_down               of the carbon monoxide towards smaller values, None where both sides are alike
    word, note                what was done, and a quieter second line
    lingered                  the flame stayed here long enough to be steady
    over_range                the cell was at its end: the true value is at least this
    smoke                     smoke spot number 0..9 for the oil form, None where it was not taken
    """

    oxygen: float
    carbon_monoxide_air_free: float
    spread_oxygen: float = 0.0
    spread_co: float = 0.0
    word: str = ""
    note: str = ""
    lingered: bool = True
    over_range: bool = False
    smoke: float | None = None
    spread_down: float | None = None


@dataclass(frozen=True, slots=True)
class Window:
    """The region a rule book asks for: oxygen low..high in percent, at most so much carbon monoxide (or smoke)."""

    low: float
    high: float
    carbon_monoxide: float
    label: str
    citation: str
    smoke: float | None = None


@dataclass(frozen=True, slots=True)
class LossCurve:
    """Points (oxygen percent, air-free ppm) at which the stack loss would be this many percent."""

    percent: float
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Plane:
    """Oxygen against air-free carbon monoxide, or against smoke for oil.

    excess_air_ticks  (excess air percent, oxygen percent) pairs for the top edge, from the same law as the path
    cell_floor_ppm    air-free ppm below which this cell cannot tell one value from another
    trail             (oxygen, ppm) samples between the knots; without them the knots are joined straight
    knee              oxygen interval in which smoke or carbon monoxide begins to rise, None where it was not looked for
    live              (oxygen, ppm) of the last minutes while it is watched, the latest last; drawn in pen
    live_words        what stands beside its end
    """

    knots: tuple[Knot, ...]
    window: Window | None = None
    losses: tuple[LossCurve, ...] = ()
    excess_air_ticks: tuple[tuple[float, float], ...] = ()
    cell_floor_ppm: float = 5.0
    oxygen_limit: float = 11.0
    co_limit: float = 2000.0
    smoke: bool = False
    trail: tuple[tuple[float, float], ...] = ()
    knee: tuple[float, float] | None = None
    live: tuple[tuple[float, float], ...] = ()
    live_words: str = ""


@dataclass(frozen=True, slots=True)
class Shed:
    """One strip that the heat ribbon sheds, in the ribbon's unit.

    spread  standard uncertainty
    how     derived: drawn full. plate: hatched. band: broken outline, hatched. unknown: dotted outline, blank
    folded  how much of it condensed and folds back into the ribbon
    note    what kind of knowledge it is, in words; empty: the word for how
    words   how much in words, where the figures do not say it; empty: value and spread
    least   the narrow end of a band whose wide end is the value, None for anything else
    """

    name: str
    value: float
    spread: float = 0.0
    how: How = "derived"
    folded: float = 0.0
    note: str = ""
    words: str = ""
    least: float | None = None


@dataclass(frozen=True, slots=True)
class Ribbon:
    """Where the fuel's heat went at one moment, in absolute units so that two ribbons share one scale.

    fuel         heat that went in
    useful       heat that arrived, useful_how says whether it was measured or is the remainder
    gap          what does not close (fuel - strips - useful), None when useful is the remainder
    gap_spread   standard uncertainty of the gap
    basis        heating value basis, written on the edge
    useful_words how much arrived in words; empty: useful and useful_spread
    """

    heading: str
    fuel: float
    unit: str
    strips: tuple[Shed, ...]
    useful: float
    useful_word: str
    gap: float | None = None
    gap_spread: float = 0.0
    useful_spread: float = 0.0
    useful_how: How = "derived"
    basis: str = ""
    useful_words: str = ""


@dataclass(frozen=True, slots=True)
class Channel:
    """One line of a strip: times in seconds, values (None breaks the line), and the scale it stands on.

    live  whether it still grows; its last value is then drawn in pen
    said  that value as it is said beside it; empty for three digits of it
    """

    name: str
    unit: str
    times: Sequence[float]
    values: Sequence[float | None]
    low: float
    high: float
    live: bool = False
    said: str = ""

    def __post_init__(self) -> None:
        for name in ("times", "values"):  # what is drawn is kept by its content, and a list could still change
            object.__setattr__(self, name, tuple(getattr(self, name)))


@dataclass(frozen=True, slots=True)
class Strip:
    """Channels over time, at most three scales.

    stretches  (start, end, word) in the seconds of the channels: steady stretches
    steps      (time, word)
    zero       the local clock at time 0; without it the axis counts from the start
    """

    channels: tuple[Channel, ...]
    stretches: tuple[tuple[float, float, str], ...] = ()
    steps: tuple[tuple[float, str], ...] = ()
    zero: datetime | None = None

    def __post_init__(self) -> None:
        if len(self.channels) > 3:
            raise UseError(
                code="FW-U-301",
                read=f"a strip of {len(self.channels)} channels",
                expected="one to three",
                matters="more than three scales side by side cannot be read",
                do="draw a second strip",
            )


Height = tuple[float, float]
"""Height above the floor the appliances stand on in m, and pressure there in Pa against outdoors at the same height."""


@dataclass(frozen=True, slots=True)
class Branch:
    """The way of one appliance's gas to the flue it joins.

    words   the appliance
    way     from its opening to the room up to where it joins the flue
    spills  gas comes out into the room here
    opens   it stands open to the room where it begins
    """

    words: str
    way: tuple[Height, ...]
    spills: bool = False
    opens: bool = True


@dataclass(frozen=True, slots=True)
class Case:
    """The pressures of one condition: as it stands, or every fan on.

    room      pressure of the room at its floor and at its ceiling
    branches  of the appliances, in their order
    flue      from the lowest opening into it up to its top
    """

    words: str
    room: tuple[Height, Height]
    branches: tuple[Branch, ...]
    flue: tuple[Height, ...]


@dataclass(frozen=True, slots=True)
class Pin:
    """One measured pressure: where, how much, its standard uncertainty, and which case it belongs to."""

    height: float
    pressure: float
    spread: float
    words: str
    case: int = 0


@dataclass(frozen=True, slots=True)
class Firing:
    """One appliance in the elevation.

    top     of its jacket, m above the floor
    outlet  where its gas leaves, m
    joins   where its connector meets the flue, m
    hood    whether it stands open to the room at its outlet
    lit     whether it burns
    """

    words: str
    top: float
    outlet: float
    joins: float
    hood: bool = True
    lit: bool = True


@dataclass(frozen=True, slots=True)
class House:
    """What stands around the flue, heights in m above the floor the appliances stand on.

    ground   of the ground outside
    floors   of the storeys above
    eaves    where the roof begins
    ridge    top of the roof
    foot, top   of the flue
    """

    ground: float
    floors: tuple[float, ...]
    eaves: float
    ridge: float
    foot: float
    top: float


@dataclass(frozen=True, slots=True)
class PressureSection:
    """House, appliances and flue, and beside them the pressure on the same scale of heights.

    feet  whether the table beside it counts heights in feet; all here is in m
    """

    house: House
    firings: tuple[Firing, ...]
    cases: tuple[Case, ...]
    pins: tuple[Pin, ...] = ()
    feet: bool = False


@dataclass(frozen=True, slots=True)
class Value:
    """One value of a history in the unit of its field, with its standard uncertainty."""

    value: float
    spread: float = 0.0

    def doubt(self) -> Spread:
        """Both sides of its doubt."""
        return Spread(self.spread, self.spread, "")


@dataclass(frozen=True, slots=True)
class Seen:
    """What one visit saw of one quantity.

    found, left  None where it was not read
    compared     read at the load that the newest was read at
    """

    day: date
    found: Value | None = None
    left: Value | None = None
    compared: bool = True

    def points(self) -> tuple[Value, ...]:
        """What was read, as found first."""
        return tuple(each for each in (self.found, self.left) if each is not None)

    def last(self) -> Value:
        """How it was left, else how it was found."""
        return self.points()[-1]


@dataclass(frozen=True, slots=True)
class Past:
    """One quantity over the years, in the order of its days.

    drifts       the last three compared values moved one way by more than their doubt
    logarithmic  drawn in powers of ten
    """

    name: str
    unit: str
    seen: tuple[Seen, ...]
    drifts: bool = False
    logarithmic: bool = False

    def missing(self, years: tuple[int, int]) -> tuple[int, ...]:
        """Years without a value."""
        had = {one.day.year for one in self.seen if one.points()}
        return tuple(year for year in range(years[0], years[1] + 1) if year not in had)


@dataclass(frozen=True, slots=True)
class History:
    """What one appliance showed over years.

    words  the appliance
    days   of all its visits, those without readings too
    """

    words: str
    pasts: tuple[Past, ...]
    days: tuple[date, ...]

    def years(self) -> tuple[int, int]:
        """The first and the last year with a visit."""
        found = [day.year for day in self.days]
        return min(found, default=0), max(found, default=0)


@dataclass(frozen=True, slots=True)
class Pull:
    """The draft of one appliance while it is watched, Pa from the room: below nothing it pulls.

    now          None where nobody reads it
    least, most  in the last minute
    said         how much it is now, with its unit; empty where nobody reads it
    words        how it stands
    """

    appliance: str
    now: float | None
    least: float
    most: float
    said: str
    words: str


@dataclass(frozen=True, slots=True)
class Pulls:
    """The drafts of all appliances of one flue on one scale, with the room as the line that none may cross.

    unit   that the scale counts
    per    Pa of one unit
    """

    pulls: tuple[Pull, ...]
    unit: str = "Pa"
    per: float = 1.0


Drawing = Plane | Ribbon | tuple[Ribbon, ...] | Strip | PressureSection | History | Pulls
