"""What is known of a live channel: its least step, its response, and the smallest change that is worth a sentence."""

from dataclasses import dataclass

from fluewright.live.sample import Trust
from fluewright.quantity import names, show, uncertain, units

RESPONSE = 60.0
"""s, T90 of a channel that nobody has said anything about (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Channel:
    """One quantity at one point of one appliance, as one source brings it.

    source      name of the source
    appliance   word for the appliance, empty where there is one
    quantity    registry name
    point       sampling point, empty where nobody named one
    instrument  word for the instrument
    step        least step that is shown, canonical unit
    t90         s until 90 % of a step is shown
    top         canonical unit, end of the range
    said        whether the T90 was said for this channel; else it is that of a class of instrument, or assumed
    trust       grade of the source: unknown may alarm and never clears
    """

    source: str
    appliance: str
    quantity: str
    point: str
    instrument: str = ""
    step: float = 0.0
    t90: float = RESPONSE
    top: float = float("inf")
    said: bool = False
    trust: Trust = "unknown"

    @property
    def words(self) -> str:
        """The channel as a person says it."""
        return f"{self.short} at {self.point}" if self.point else self.short

    @property
    def short(self) -> str:
        """Without the point, where that goes without saying."""
        return SHORT.get(self.quantity, names.of(self.quantity).words)

    @property
    def key(self) -> str:
        """A name for it that stays the same, for pages and programs."""
        return "/".join((self.source, self.appliance, self.quantity, self.point))


SHORT = {
    "oxygen_dry": "oxygen", "oxygen_wet": "oxygen, wet", "carbon_dioxide_dry": "carbon dioxide",
    "carbon_monoxide_dry": "carbon monoxide", "carbon_monoxide_wet": "carbon monoxide, wet",
    "carbon_monoxide_room": "carbon monoxide in the room", "flue_temperature": "flue temperature",
    "air_temperature": "air temperature", "supply_water_temperature": "supply water",
    "return_water_temperature": "return water", "gas_pressure": "gas pressure", "line_pressure": "supply pressure",
    "flame_current": "flame current", "firing_rate": "firing rate",
}  # fmt: skip
"""Shorter than in the registry, for sentences that are read while hands are busy."""


@dataclass(frozen=True, slots=True)
class Least:
    """The smallest change that is told: a fixed part and a share of the level, whichever is more."""

    fixed: float
    share: float = 0.0

    def at(self, level: float) -> float:
        """At a level, canonical unit."""
        return max(self.fixed, self.share * abs(level))


TELLABLE = {
    "oxygen_dry": Least(0.003), "oxygen_wet": Least(0.003), "carbon_dioxide_dry": Least(0.003),
    "carbon_monoxide_dry": Least(10e-6, 0.15), "carbon_monoxide_wet": Least(10e-6, 0.15),
    "carbon_monoxide_room": Least(3e-6, 0.15), "flue_temperature": Least(6.0), "air_temperature": Least(3.0),
    "supply_water_temperature": Least(3.0), "return_water_temperature": Least(3.0), "temperature": Least(6.0),
    "draft": Least(1.5, 0.25), "draft_over_fire": Least(1.5, 0.25), "draft_breech": Least(1.5, 0.25),
    "draft_above_hood": Least(1.5, 0.25), "draft_common_flue": Least(1.5, 0.25), "house_pressure": Least(1.0, 0.25),
    "gas_pressure": Least(30.0, 0.05), "line_pressure": Least(50.0, 0.05), "flame_current": Least(0.3e-6, 0.15),
    "firing_rate": Least(0.05),
}  # fmt: skip
"""Smallest change worth a sentence, canonical unit: common practice, no source. Below it, noise or not, nobody acts."""
GUSTS = 16.0
"""s over which a draft is averaged before it counts as moved by itself: wind comes and goes within seconds (no source).

What follows a mark, and a draft that is gone, waits for nothing of this.
"""


def gusty(quantity: str) -> bool:
    """Whether wind moves it for seconds at a time."""
    return quantity.startswith("draft") or quantity == "house_pressure"


OTHERWISE = Least(0.0, 0.10)


def tellable(quantity: str) -> Least:
    """The smallest change of a quantity that is told; a tenth of the level where nobody has thought of it."""
    return TELLABLE.get(quantity, OTHERWISE)


def of_class(quantity: str, instrument_class: str) -> uncertain.Channel | None:
    """What a class of instrument says of a quantity; None where it does not read it."""
    kind = uncertain.instrument_class(instrument_class)
    return next((one for one in kind.channels if quantity in one.quantities), None)


def channel(
    source: str, appliance: str, quantity: str, point: str, *, instrument: str = "", step: float = 0.0,
    t90: float = 0.0, instrument_class: str = "service", trust: Trust = "unknown",
) -> Channel:  # fmt: skip
    """A channel with what was said of it; the rest from a class of instrument.

    step              least step shown, canonical unit, 0 where nobody said
    t90               s, 0 where nobody said
    instrument_class  for what nobody said
    trust             grade of the source
    -> Channel
    """
    known = of_class(quantity, instrument_class) or of_class(quantity, "gauge")
    return Channel(
        source,
        appliance,
        quantity,
        point,
        instrument,
        step or (known.resolution if known else 0.0),
        t90 or (known.t90 if known else RESPONSE),
        known.high if known else float("inf"),
        t90 > 0.0,
        trust,
    )


def amount(quantity: str, change: float, system: show.System = "si", *, signed: bool = True) -> str:
    """A change in words: "+0.8 %", "-3.1 Pa", "+12 K"."""
    of = names.of(quantity)
    symbol = show.unit_of(of, system)
    per = units.per_unit(unit=units.unit_named(symbol, quantity=of), quantity=of)
    number = change / per
    if of.dimension == "temperature":
        symbol = "K" if symbol == "°C" else symbol
    size = abs(number)
    text = f"{size:.0f}" if size >= 9.95 else f"{size:.1f}" if size >= 0.095 else f"{size:.1g}"
    sign = ("+" if number >= 0.0 else "−") if signed else ""
    return f"{sign}{text}\N{NARROW NO-BREAK SPACE}{symbol}"
