"""What was read, where, with what: the evidence of a visit before anything is worked out from it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Literal

from fluewright.appliance import load
from fluewright.appliance.points import OF_KIND, Cell, Kind, PointClass, validity
from fluewright.appliance.record import ApplianceClass
from fluewright.fuels.record import FuelRecord
from fluewright.quantity.meaning import Typed
from fluewright.rules.shop import PROGRAM, Shop

if TYPE_CHECKING:
    from fluewright.evidence.checked import Check
    from fluewright.evidence.happened import Happened
    from fluewright.evidence.part import Measured

PointKind = Kind
Boundary = Literal["appliance in room", "collar to collar", "terminal to outdoors", "with economiser"]
Where = Literal["", "room", "collar", "outdoors", "terminal", "after economiser"]
Basis = Literal["dry", "wet", "dried to trap"]
Stream = Literal["", "known", "unknown"]


EMERGENCY, SUPPLIER = "the local emergency number", "the gas or fuel supplier"
"""Who is called where a visit does not say it."""


@dataclass(frozen=True, slots=True)
class Point:
    """A sampling point: its name on the appliance, what the gas there is, and its class in the table of validity.

    place  class of the point, the usual one of its kind when empty
    """

    name: str
    kind: PointKind = "undiluted"
    place: str = ""

    @property
    def point_class(self) -> PointClass:
        """The class of the point."""
        return validity().points[self.place or OF_KIND[self.kind]]

    def worth(self, quantity: str) -> Cell:
        """What a quantity is worth at this point."""
        return validity().cell(quantity, self.point_class.name)


@dataclass(frozen=True, slots=True)
class Reading:
    """One observed value with the words it was typed in.

    source  typed, from a trace, from the plate, assumed
    """

    quantity: str
    typed: Typed
    source: str = "typed"

    @property
    def figure(self) -> float | None:
        """The value, the middle of a range, the edge of a bound; None for a trend word alone. Canonical unit."""
        typed = self.typed
        if typed.kind == "range" and typed.low is not None and typed.high is not None:
            return (typed.low + typed.high) / 2.0
        if typed.kind == "bound":
            return typed.low if typed.low is not None else typed.high
        return typed.value

    @property
    def least(self) -> float | None:
        """The smallest value that was read: the low end of a range or bound; None where nothing is said."""
        typed = self.typed
        return typed.low if typed.kind in ("range", "bound") else typed.value

    @property
    def half_width(self) -> float:
        """Half the width of a range, 0 for anything else."""
        typed = self.typed
        if typed.kind != "range" or typed.low is None or typed.high is None:
            return 0.0
        return (typed.high - typed.low) / 2.0

    @property
    def bound(self) -> Literal["", "at least", "at most"]:
        """Whether the figure is only an edge that the truth lies beyond."""
        if self.typed.kind != "bound":
            return ""
        return "at least" if self.typed.low is not None else "at most"

    @property
    def rising(self) -> bool:
        """Whether it was seen to rise or to hunt."""
        return self.typed.trend in ("rising", "hunting")


@dataclass(frozen=True, slots=True)
class Instrument:
    """A measuring device and its condition on the day.

    accuracy        name of an accuracy class of quantity.uncertain
    due             last day its calibration is in date, None when nobody has said
    zero            where the fresh-air zero was taken: outdoors, doorway, inside, or empty when not said
    hydrogen        whether its carbon monoxide cell is compensated for hydrogen: yes, no or unknown
    over_range_ppm  top of the carbon monoxide cell, mol/mol
    trap            temperature of its water trap in K, None when not said
    oxygen_cell     how its oxygen cell works: partial pressure, capillary, or unknown, which counts as the former
    checks          what was tried on it during the visit, in order: zero, leak, response, another instrument beside it
    """

    words: str = "instrument not named"
    accuracy: str = "service"
    due: date | None = None
    zero: str = ""
    hydrogen: Literal["yes", "no", "unknown"] = "unknown"
    over_range_ppm: float | None = None
    trap: float | None = None
    oxygen_cell: Literal["partial pressure", "capillary", "unknown"] = "unknown"
    checks: "tuple[Check, ...]" = ()


@dataclass(frozen=True, slots=True)
class Appliance:
    """One fuel-burning device as far as the flue side needs to know it.

    burner       kind of burner, key of the burner windows in the rule books
    condensing   whether it is made to condense, None when nobody has said
    output       nominal heat output in W, None when the plate is not read
    plate_input  W, gross, None when the plate is not read
    plate_basis  which the plate itself states, empty when nobody has said and plate_input took it as gross
    carrier      what takes the heat: water or air
    kind         class of appliance, empty when nobody has said
    """

    words: str
    burner: str = "unknown"
    condensing: bool | None = None
    serial: str = ""
    output: float | None = None
    plate_input: float | None = None
    plate_basis: Literal["", "gross", "net"] = ""
    carrier: Literal["water", "air"] = "water"
    kind: str = ""

    @property
    def of_class(self) -> ApplianceClass | None:
        """Its class with all that belongs to it; None when nobody has said."""
        return load.load(self.kind) if self.kind else None


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The day and the place: pressure in Pa and humidity, each with how it is known."""

    pressure: float = 101_325.0
    pressure_spread: float = 1_000.0
    pressure_source: str = "assumed, sea level"
    relative_humidity: float | None = None
    altitude: float | None = None


@dataclass(frozen=True, slots=True)
class Burst:
    """A time in a trace, steady or not, when carbon monoxide stood beyond the shut-off value of the trade.

    words     when, as a person says it
    mean      of its rows as read, mol/mol
    spread    standard uncertainty of the instrument there, mol/mol
    seconds   how long it lasted
    at_least  whether a row read only "more than"
    """

    words: str
    mean: float
    spread: float
    seconds: float
    at_least: bool = False


@dataclass(frozen=True, slots=True)
class Stretch:
    """A moment that stands for one condition: as found, as left, or a rate.

    readings  by registry name
    steady    in words, how it was known to be steady; empty when not said
    air_at, flue_at  where the two temperatures were read, empty when not said
    bursts    carbon monoxide beyond all limits elsewhere in the same trace, lighting left out
    stream    where its samples came in live: known where their sender was proven, unknown where it could be anybody;
              empty for what was typed or recorded
    happened  what changed while its trace was recorded, in order of time
    """

    word: str
    time: str
    point: Point
    readings: Mapping[str, Reading]
    note: str = ""
    steady: str = ""
    boundary: Boundary = "appliance in room"
    basis: Basis = "dry"
    air_at: Where = ""
    flue_at: Where = ""
    bursts: tuple[Burst, ...] = ()
    stream: Stream = ""
    happened: "tuple[Happened, ...]" = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One adjustment: when, what, what it was meant to do."""

    time: str
    word: str
    meant: str = ""


Happening = Literal["lit", "off", "blower on", "blower off", "fan on", "fan off", "pilot only"]


@dataclass(frozen=True, slots=True)
class Event:
    """Something the burner or a fan did, and when, as typed."""

    time: str
    word: Happening


@dataclass(frozen=True, slots=True)
class TraceFile:
    """The recorded trace that a stretch was taken from, and the file that maps its columns, empty for none."""

    path: str
    mapping: str = ""


@dataclass(frozen=True, slots=True)
class Notice:
    """A danger told on this visit that nobody has said is over.

    words    what was found, as typed
    consent  to shutting down: yes, refused or absent
    told     who was told; empty for nobody
    done     what was done
    calls    whom one rang, when, what they said
    struck   whether it was struck out, which ends no danger
    """

    words: str
    consent: Literal["yes", "refused", "absent"]
    told: str = ""
    done: tuple[str, ...] = ()
    calls: tuple[str, ...] = ()
    struck: bool = False


How = Literal["tested out", "made safe", "escalated"]
"""How a dangerous cause was closed: a test excludes it, it was made safe, or it was handed on by name."""


@dataclass(frozen=True, slots=True)
class Closing:
    """A dangerous cause of this visit that somebody closed.

    danger  name of the cause
    words   which test, what was done, or why it was handed on
    to      to whom it was handed on; empty for the others
    when    when that was, in words
    since   readings and looks that came, or were changed, after it: names in the registry or in the list of looks
    """

    danger: str
    how: How
    words: str
    to: str = ""
    when: str = ""
    since: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Account:
    """Everything one visit knows, before judgement.

    jurisdiction  country code of the law that applies: US, DE, GB, ...
    invented      true for the demonstration and for training
    jacket        heat lost through the jacket, fraction of gross heat, 0 when nobody has said
    traces        trace that a stretch was taken from, by the stretch's word
    events        when the burner was lit and what else ran, in order of time
    shop          rule books of the shop: clauses it entered, and its house book over those of the program
    kept          where the visit is kept and how it was sealed, in sentences; empty when it is not kept
    notices       dangers told on this visit that are still open
    closings      dangerous causes that somebody closed, in the order of their entries
    practice      whether it is kept in a journal for practice: every page of its sheets says so
    """

    title: str
    customer: str
    site: str
    day: date
    technician: str
    appliance: Appliance
    fuel: FuelRecord
    instrument: Instrument
    surroundings: Surroundings
    stretches: tuple[Stretch, ...]
    jurisdiction: str = ""
    steps: tuple[Step, ...] = ()
    notes: tuple[Step, ...] = ()
    done: tuple[str, ...] = ()
    next: tuple[str, ...] = ()
    emergency: str = EMERGENCY
    supplier: str = SUPPLIER
    route: str = ""
    invented: bool = False
    system: Literal["us", "si"] = "us"
    jacket: float = 0.0
    traces: Mapping[str, TraceFile] = field(default_factory=dict)
    parts: "tuple[Measured, ...]" = ()
    events: tuple[Event, ...] = ()
    kept: tuple[str, ...] = ()
    notices: tuple[Notice, ...] = ()
    closings: tuple[Closing, ...] = ()
    practice: bool = False
    shop: Shop = PROGRAM
