"""What a number stands for: a registry entry, the scales entries share, a typed reading, a spread."""

from dataclasses import dataclass
from typing import Literal

ZERO_CELSIUS = 273.15
"""K (exact, SI Brochure 9th edition 2.3.1)."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """One thing that can be read, typed, computed or shown.

    name         registry name, also the key in every output of the program
    words        as a person says it
    dimension    which units fit, see units.py
    unit         canonical unit; everything inside the program is in it
    basis        dry, wet, dried-to, air-free, gross, net or none
    low, high    plausible range in the canonical unit; outside it a question is asked, nothing is refused
    why          reason for that range, one sentence
    shown_us     unit shown and assumed for a bare number, US custom
    shown_si     the same, SI
    aliases      trade names that mean this quantity, lower case
    kernel       names under which kernel functions take or give it
    least, most  values beyond these cannot be and are refused; None where nothing is impossible
    cannot       reason for least and most, one sentence
    exclusive    whether least itself cannot be either: a bore, a heating value, a step of a meter
    """

    name: str
    words: str
    dimension: str
    unit: str
    basis: str
    low: float
    high: float
    why: str
    shown_us: str
    shown_si: str
    aliases: tuple[str, ...] = ()
    kernel: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    cannot: str = ""
    exclusive: bool = False


@dataclass(frozen=True, slots=True)
class Possible:
    """What a quantity can be at all, where that is narrower than its scale; what lies beyond is refused as it is typed.

    least, most, cannot, exclusive   as in Quantity
    """

    least: float | None
    most: float | None
    cannot: str
    exclusive: bool = False


Kind = Literal["value", "range", "bound", "trend"]
"""A reading as people meet it."""


@dataclass(frozen=True, slots=True)
class Typed:
    """A typed reading, understood.

    text        byte for byte as typed
    quantity    registry name
    kind        value, range, bound (one end known) or trend (a word alone)
    value       canonical unit; None unless kind is value
    low, high   canonical unit; both for a range, one for a bound, None otherwise
    unit        symbol of the unit as understood
    trend       rising, falling, hunting, steady or empty
    decimals    digits typed after the decimal mark; for a fraction those that write it exactly
    resolution  one step of the last typed digit, canonical unit
    """

    text: str
    quantity: str
    kind: Kind
    value: float | None
    low: float | None
    high: float | None
    unit: str
    trend: str
    decimals: int
    resolution: float


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard uncertainty with two sides, because some instruments err one way only.

    below  towards smaller values, canonical unit
    above  towards larger values, canonical unit
    why    what it was built from, one sentence
    """

    below: float
    above: float
    why: str


@dataclass(frozen=True, slots=True)
class Scale:
    """What many quantities share: dimension, canonical unit, units shown, and what cannot be.

    dimension, unit, shown_us, shown_si, least, most, cannot   as in Quantity
    """

    dimension: str
    unit: str
    shown_us: str
    shown_si: str
    least: float | None = None
    most: float | None = None
    cannot: str = ""

    def quantity(
        self,
        name: str,
        words: str,
        band: tuple[float, float],
        why: str,
        *,
        basis: str = "none",
        aliases: tuple[str, ...] = (),
        kernel: tuple[str, ...] = (),
        possible: Possible | None = None,
    ) -> Quantity:
        """One registry entry on this scale.

        band      plausible range in the canonical unit; outside it a question is asked
        possible  what it can be at all, where that is narrower than the scale; outside it a reading is refused
        """
        hard = possible or Possible(self.least, self.most, self.cannot)
        return Quantity(
            name=name,
            words=words,
            dimension=self.dimension,
            unit=self.unit,
            basis=basis,
            low=band[0],
            high=band[1],
            why=why,
            shown_us=self.shown_us,
            shown_si=self.shown_si,
            aliases=aliases,
            kernel=kernel or (name,),
            least=hard.least,
            most=hard.most,
            cannot=hard.cannot,
            exclusive=hard.exclusive,
        )


_SHARE = "a share of a gas lies between nothing and all of it, and a drifting zero shows at most {} below nothing"
_NEGATIVE = "it cannot be less than nothing"
_VACUUM = "no gauge can show less than full vacuum"

NOT_NEGATIVE = Possible(0.0, None, _NEGATIVE)
MORE_THAN_NOTHING = Possible(0.0, None, "with none of it there is nothing to reckon with", exclusive=True)
ON_EARTH = Possible(
    ZERO_CELSIUS - 90.0,
    ZERO_CELSIUS + 300.0,
    "no air on earth has been colder than -89.2 °C (from memory), and fuel so hot would burn in its pipe",
)
"""Of fuel and its pipes."""

GAS_PERCENT = Scale("fraction", "1", "%", "%", -0.005, 1.0, _SHARE.format("0.5 %"))
GAS_PPM = Scale("fraction", "1", "ppm", "ppm", -50e-6, 1.0, _SHARE.format("50 ppm"))
PERCENT = Scale("fraction", "1", "%", "%")
POSITIVE_PERCENT = Scale("fraction", "1", "%", "%", 0.0, None, _NEGATIVE)
SHARE = Scale("fraction", "1", "%", "%", 0.0, 1.0, "a share lies between nothing and all of it")
HUMIDITY = Scale(
    "fraction",
    "1",
    "%",
    "%",
    0.0,
    1.05,
    "air holds no more vapour than saturation, and sensors show at most 5 % above it",
)
RATIO = Scale("ratio", "1", "1", "1", 0.0, None, _NEGATIVE)
TEMPERATURE = Scale("temperature", "K", "°F", "°C", 0.0, None, "nothing is colder than absolute zero, -459.67 °F")
DIFFERENCE = Scale("temperature difference", "K", "°F", "K")
GAUGE = Scale("pressure", "Pa", "in w.c.", "Pa", -108500.0, None, _VACUUM)
GAUGE_HPA = Scale("pressure", "Pa", "in w.c.", "mbar", -108500.0, None, _VACUUM)
GAUGE_PSI = Scale("pressure", "Pa", "psi", "bar", -108500.0, None, _VACUUM)
VACUUM = Scale("pressure", "Pa", "inHg", "bar", -108500.0, None, _VACUUM)
ABSOLUTE = Scale("absolute pressure", "Pa", "inHg", "hPa", 0.0, None, _NEGATIVE)
POWER = Scale("power", "W", "kBtu/h", "kW", 0.0, None, _NEGATIVE)
ENERGY = Scale("energy", "J", "kBtu", "kWh", 0.0, None, _NEGATIVE)
GAS_FLOW = Scale("volume flow", "m3/s", "cfh", "m3/h", 0.0, None, _NEGATIVE)
OIL_FLOW = Scale("volume flow", "m3/s", "gph", "L/h", 0.0, None, _NEGATIVE)
WATER_FLOW = Scale("volume flow", "m3/s", "gpm", "L/min", 0.0, None, _NEGATIVE)
MASS_FLOW = Scale("mass flow", "kg/s", "lb/h", "kg/h", 0.0, None, _NEGATIVE)
CONDENSATE_FLOW = Scale("water mass flow", "kg/s", "lb/h", "kg/h", 0.0, None, _NEGATIVE)
CONDENSATE_MASS = Scale("water mass", "kg", "lb", "kg", 0.0, None, _NEGATIVE)
CONCENTRATION = Scale(
    "mass per volume", "kg/m3", "mg/m3", "mg/m3", -1e-4, None, "a drifting zero shows at most 100 mg/m3 below nothing"
)
PER_HEAT_LB = Scale("mass per heat", "kg/J", "lb/MMBtu", "mg/kWh", 0.0, None, _NEGATIVE)
CARBON = Scale("mass per heat", "kg/J", "lb/MMBtu", "g/MJ", 0.0, None, _NEGATIVE)
VOLUME_PER_HEAT = Scale("volume per heat", "m3/J", "ft3/MMBtu", "m3/kWh", 0.0, None, _NEGATIVE)
MOLAR_MASS = Scale("molar mass", "kg/mol", "g/mol", "g/mol", 0.0, None, _NEGATIVE)
DENSITY = Scale("mass per volume", "kg/m3", "lb/ft3", "kg/m3", 0.0, None, _NEGATIVE)
PER_VOLUME = Scale("heat per volume", "J/m3", "Btu/ft3", "MJ/m3", 0.0, None, _NEGATIVE)
PER_GALLON = Scale("heat per volume", "J/m3", "Btu/gal", "MJ/L", 0.0, None, _NEGATIVE)
PER_MASS = Scale("heat per mass", "J/kg", "Btu/lb", "MJ/kg", 0.0, None, _NEGATIVE)
MASS_RATIO = Scale("mass ratio", "kg/kg", "lb/lb", "kg/kg", 0.0, None, _NEGATIVE)
HUMIDITY_RATIO = Scale("mass ratio", "kg/kg", "gr/lb", "g/kg", 0.0, None, _NEGATIVE)
LENGTH = Scale("length", "m", "ft", "m")
TIME = Scale("time", "s", "s", "s", 0.0, None, _NEGATIVE)
LONG_TIME = Scale("time", "s", "min", "min", 0.0, None, _NEGATIVE)
CURRENT = Scale("current", "A", "µA", "µA")
SPOT = Scale("spot number", "1", "1", "1", 0.0, 9.0, "the smoke scale has ten spots, 0 to 9 (ASTM D2156, from memory)")
SMALL_LENGTH = Scale("length", "m", "in", "mm", 0.0, None, _NEGATIVE)
AREA = Scale("area", "m2", "in2", "cm2", 0.0, None, _NEGATIVE)
ROOM_VOLUME = Scale("volume", "m3", "ft3", "m3", 0.0, None, _NEGATIVE)
PIPE_VOLUME = Scale("volume", "m3", "ft3", "L", 0.0, None, _NEGATIVE)
OIL_VOLUME = Scale("volume", "m3", "gal", "L", 0.0, None, _NEGATIVE)
VELOCITY = Scale("velocity", "m/s", "ft/min", "m/s")
WIND = Scale("velocity", "m/s", "mph", "m/s", 0.0, None, _NEGATIVE)
PER_HOUR = Scale("per time", "1/s", "1/h", "1/h", 0.0, None, _NEGATIVE)
TURNS = Scale("per time", "1/s", "rpm", "rpm", 0.0, None, _NEGATIVE)
VISCOSITY = Scale("kinematic viscosity", "m2/s", "mm2/s", "mm2/s", 0.0, None, _NEGATIVE)
CONDUCTANCE = Scale("heat per temperature", "W/K", "Btu/h·°F", "W/K", 0.0, None, _NEGATIVE)
DEGREE_DAYS = Scale("temperature time", "K·d", "°F·d", "K·d", 0.0, None, _NEGATIVE)
PRICE = Scale("price per heat", "1/J", "1/MMBtu", "1/kWh", 0.0, None, _NEGATIVE)
EXPOSURE = Scale("fraction time", "1·s", "ppm·min", "ppm·min", 0.0, None, _NEGATIVE)
AIR_FLOW = Scale("volume flow", "m3/s", "cfm", "m3/h", 0.0, None, _NEGATIVE)
LEAK_FLOW = Scale("volume flow", "m3/s", "cfh", "L/h", 0.0, None, _NEGATIVE)
SMALL_GAUGE = Scale("pressure", "Pa", "Pa", "Pa", -108500.0, None, _VACUUM)
