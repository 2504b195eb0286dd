"""How surely an instrument knows what it shows: accuracy class and resolution to standard uncertainty.

The classes are data in classes/*.toml, each channel with its citation and how it is known.
"""

import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

from fluewright.quantity import refusals
from fluewright.quantity.meaning import Quantity, Spread
from fluewright.quantity.names import REGISTRY, of

__all__ = [
    "Band",
    "Channel",
    "Distribution",
    "InstrumentClass",
    "Spread",
    "class_names",
    "instrument_class",
    "limit_of_error",
    "load_class",
    "saturated",
    "spread_from_limits",
    "standard_uncertainty",
]

Distribution = Literal["uniform", "triangular", "arcsine"]

DIVISORS: dict[Distribution, float] = {
    "uniform": math.sqrt(3.0),
    "triangular": math.sqrt(6.0),
    "arcsine": math.sqrt(2.0),
}
"""Half-width over standard deviation: JCGM 100:2008 (GUM) 4.3.7 and 4.3.9; arcsine JCGM 101:2008 6.4.6."""

HYDROGEN_PER_CARBON_MONOXIDE = 0.83
"""mol H2 per mol CO in rich methane products frozen at 1500 K (computed; checks RICH and RED-H2X)."""

_FOLDER = Path(__file__).parent / "classes"
_GASES_WITH_HYDROGEN = "carbon_monoxide_"


@dataclass(frozen=True, slots=True)
class Band:
    """Limits of error in one part of the range: the larger of an absolute and a relative part.

    up_to     canonical unit, top of this part
    absolute  canonical unit
    relative  share of the value counted from the channel's zero
    """

    up_to: float
    absolute: float
    relative: float


@dataclass(frozen=True, slots=True)
class Channel:
    """One channel of an instrument class, for one or several quantities.

    quantities   registry names
    bands        limits of error from low to high
    low, high    range shown, canonical unit
    zero         canonical value from which the relative part counts (273.15 K where a class counts in °C)
    resolution   one step of the display, canonical unit
    t90          s until 90 % of a step is shown
    principle    how it measures
    hydrogen     whether the cell is compensated for hydrogen; "none" where hydrogen does not matter
    cross_share  share of the hydrogen that an uncompensated cell shows as its own gas
    citation     document, clause or page
    known        read, from memory, or common practice without source
    """

    quantities: tuple[str, ...]
    bands: tuple[Band, ...]
    low: float
    high: float
    zero: float
    resolution: float
    t90: float
    principle: str
    hydrogen: Literal["yes", "no", "unknown", "none"]
    cross_share: float
    citation: str
    known: str


@dataclass(frozen=True, slots=True)
class InstrumentClass:
    """A class of instruments that share their limits of error.

    name      as in class_names()
    words     as a person says it
    channels  what it reads
    """

    name: str
    words: str
    channels: tuple[Channel, ...]

    def channel(self, quantity: str | Quantity) -> Channel:
        """The channel that reads a quantity; QuantityError FW-Q-016 when there is none."""
        meant = of(quantity) if isinstance(quantity, str) else quantity
        for channel in self.channels:
            if meant.name in channel.quantities:
                return channel
        raise refusals.no_channel(meant, self.name, [name for channel in self.channels for name in channel.quantities])


def class_names() -> tuple[str, ...]:
    """The instrument classes that come with the program."""
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


@cache
def instrument_class(name: str) -> InstrumentClass:
    """An instrument class that comes with the program; QuantityError FW-Q-015 when there is none of this name."""
    if name not in class_names():
        raise refusals.unknown_class(name, class_names())
    return load_class(_FOLDER / f"{name}.toml")


def load_class(path: Path) -> InstrumentClass:
    """An instrument class from a file, for a shop that describes its own instrument.

    path -> class; QuantityError FW-Q-017 names the field that is missing, unknown or unusable
    """
    import tomllib

    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise refusals.class_damaged(path.stem, str(fault)) from None
    _keys(table, {"words", "channel"}, set(), path.stem, "the head")
    channels = tuple(_channel(row, path.stem) for row in table["channel"])
    return InstrumentClass(name=path.stem, words=str(table["words"]), channels=channels)


def spread_from_limits(*, half_width: float, distribution: Distribution = "uniform") -> float:
    """Standard uncertainty of a value known to lie within limits.

    half_width    half the distance between the limits, 0 or more
    distribution  uniform: anywhere alike; triangular: middle likelier; arcsine: swings between the limits
    -> standard uncertainty, same unit

    Holds   limits that are sure; a maker's limit of error is taken as such
    Fails   a drifting or poisoned sensor leaves its limits without telling
    Source  JCGM 100:2008 (GUM) 4.3.7, 4.3.9; JCGM 101:2008 6.4.6
    """
    return half_width / DIVISORS[distribution]


def standard_uncertainty(
    *,
    quantity: str | Quantity,
    value: float,
    instrument_class: str | InstrumentClass,
    resolution: float = 0.0,
    hydrogen_ratio: float = HYDROGEN_PER_CARBON_MONOXIDE,
) -> Spread:
    """Standard uncertainty of one reading from the class of its instrument.

    A class states limits, not a deviation, so the truth may lie anywhere between them; a carbon monoxide cell that
    also answers to hydrogen errs one way only, it reads high, so that side alone grows.

    quantity          registry name or entry
    value             reading, canonical unit
    instrument_class  name or class
    resolution        one step of the reading as typed, canonical unit; the coarser of it and the display's counts
    hydrogen_ratio    mol H2 per mol CO, 0 or more
    -> Spread, canonical unit, below and above the reading

    Holds   instrument in date, zeroed in fresh air, reading steady
    Fails   a saturated channel (see saturated): the truth may be any amount higher
    Source  JCGM 100:2008 (GUM) 4.3.7, F.2.2.1; hydrogen: computed shares, see HYDROGEN_PER_CARBON_MONOXIDE
    """
    meant = of(quantity) if isinstance(quantity, str) else quantity
    kind = _class(instrument_class)
    channel = kind.channel(meant)
    half = limit_of_error(channel, value)
    step = max(resolution, channel.resolution)
    both = math.hypot(spread_from_limits(half_width=half), spread_from_limits(half_width=step / 2.0))
    why = f"limits of the class {kind.name} ({channel.citation}; {channel.known}), evenly spread, and one display step"
    excess = _hydrogen_excess(channel, meant, value, hydrogen_ratio)
    if excess <= 0.0:
        return Spread(both, both, why)
    below = math.hypot(both, spread_from_limits(half_width=excess))
    return Spread(below, both, f"{why}; the cell also answers to hydrogen, which can only make it read high")


def saturated(*, quantity: str | Quantity, value: float, instrument_class: str | InstrumentClass) -> bool:
    """Whether a reading stands at the top of its channel, so that the truth may be any amount higher.

    quantity          registry name or entry
    value             reading, canonical unit
    instrument_class  name or class
    -> True from one display step below the top
    """
    channel = _class(instrument_class).channel(quantity)
    return value >= channel.high - channel.resolution * (1.0 + 1e-9)


def _class(given: str | InstrumentClass) -> InstrumentClass:
    return instrument_class(given) if isinstance(given, str) else given


def limit_of_error(channel: Channel, value: float) -> float:
    """How far a channel may be off at a value by its class: the limit, not a deviation.

    channel  of a class
    value    reading, canonical unit
    -> half width, canonical unit
    """
    band = next((band for band in channel.bands if value <= band.up_to), channel.bands[-1])
    return max(band.absolute, band.relative * abs(value - channel.zero))


def _hydrogen_excess(channel: Channel, meant: Quantity, value: float, ratio: float) -> float:
    """The most by which the reading can be too high because of hydrogen: value - value / (1 + share x ratio)."""
    if channel.hydrogen in ("yes", "none") or not meant.name.startswith(_GASES_WITH_HYDROGEN):
        return 0.0
    shown = channel.cross_share * ratio
    return max(value, 0.0) * shown / (1.0 + shown)


_NEEDED = {"quantities", "bands", "range", "resolution", "t90", "principle", "citation", "known"}
_FREE = {"zero", "hydrogen", "cross_share"}
_KNOWN = ("read", "from memory", "common practice, no source")


def _keys(table: dict[str, Any], needed: set[str], free: set[str], name: str, place: str) -> None:
    for field in sorted(needed - table.keys()):
        raise refusals.class_damaged(name, f"no {field} in {place}")
    for field in sorted(table.keys() - needed - free):
        raise refusals.class_damaged(name, f"an unknown field {field} in {place}")


def _channel(row: dict[str, Any], name: str) -> Channel:
    place = f"the channel of {', '.join(map(str, row.get('quantities', ['?'])))}"
    _keys(row, _NEEDED, _FREE, name, place)
    try:
        channel = Channel(
            quantities=tuple(row["quantities"]),
            bands=tuple(_band(band, row, name, place) for band in row["bands"]),
            low=float(row["range"][0]),
            high=float(row["range"][1]),
            zero=float(row.get("zero", 0.0)),
            resolution=float(row["resolution"]),
            t90=float(row["t90"]),
            principle=str(row["principle"]),
            hydrogen=row.get("hydrogen", "none"),
            cross_share=float(row.get("cross_share", 0.0)),
            citation=str(row["citation"]),
            known=str(row["known"]),
        )
    except (TypeError, ValueError, IndexError) as fault:
        raise refusals.class_damaged(name, f"{fault} in {place}") from None
    for wrong, what in (
        (channel.known not in _KNOWN, "known"),
        (channel.hydrogen not in ("yes", "no", "unknown", "none"), "hydrogen"),
        (not channel.citation, "citation"),
        (not channel.bands, "bands"),
        (any(quantity not in REGISTRY for quantity in channel.quantities), "quantities"),
        (not channel.low < channel.high, "range"),
    ):
        if wrong:
            raise refusals.class_damaged(name, f"{what} in {place}")
    return channel


def _band(band: dict[str, Any], row: dict[str, Any], name: str, place: str) -> Band:
    _keys(band, set(), {"up_to", "absolute", "relative"}, name, f"a band of {place}")
    made = Band(
        up_to=float(band.get("up_to", row["range"][1])),
        absolute=float(band.get("absolute", 0.0)),
        relative=float(band.get("relative", 0.0)),
    )
    if made.absolute <= 0.0 and made.relative <= 0.0:
        raise refusals.class_damaged(name, f"a band without limits in {place}")
    return made
