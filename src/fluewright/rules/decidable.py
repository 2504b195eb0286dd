"""Whether an instrument can decide a limit at all, said before anything is read.

An instrument decides a limit when half as much is told from it, and half as much again: both ends lie beyond twice the
standard uncertainty. So 9 ppm of nitrogen oxides is not decided by a cell that may err by 5 ppm, and 30 ppm is. That
measure is the house's own (common practice, no source); the doubt is that of the class of the instrument.
"""

from dataclasses import dataclass
from typing import Literal

from fluewright.kernel.air import DRY_AIR
from fluewright.quantity import names, show, uncertain, units
from fluewright.rules.apply import COVERAGE
from fluewright.rules.schema import Limit
from fluewright.words import number, say, spoken

HALF = 0.5
"""Share of a limit by which a reading must be told from it (common practice, no source)."""

OXYGEN_ASSUMED = 0.05
"""mol/mol in the flue gas where nobody says more, for what is taken to a reference (common practice, no source)."""

_READ_AS = {"carbon_monoxide_air_free": "carbon_monoxide_dry"}
"""What a quantity is read as by an instrument, where it is one reading taken to a reference."""

Can = Literal["yes", "no", "not said"]


@dataclass(frozen=True, slots=True)
class Decidable:
    """Whether a class of instrument decides a limit.

    can       yes, no, or not said where it is worked out from several readings
    doubt     twice the standard uncertainty at the limit, canonical unit; None where it cannot be said
    least     smallest limit of this kind that it decides, canonical unit; None where none was found
    sentence  what to print
    """

    can: Can
    doubt: float | None
    least: float | None
    sentence: str


@dataclass(frozen=True, slots=True)
class _Scale:
    """How a limit is read: the quantity on the instrument, and how much more the result is than the reading."""

    read_as: str
    factor: float


def _scale(rule: Limit, kind: uncertain.InstrumentClass, oxygen: float) -> _Scale | None:
    """The reading that stands behind a limit; None where there are several, or the instrument has no such channel."""
    name = _READ_AS.get(rule.quantity, rule.quantity)
    if not any(name in channel.quantities for channel in kind.channels):
        return None
    reference = rule.reference_oxygen
    if reference is None:
        return _Scale(name, 1.0)
    return _Scale(name, (DRY_AIR.oxygen - reference) / (DRY_AIR.oxygen - oxygen))


def _doubt(scale: _Scale, kind: uncertain.InstrumentClass, value: float) -> float:
    spread = uncertain.standard_uncertainty(quantity=scale.read_as, value=value / scale.factor, instrument_class=kind)
    return COVERAGE * max(spread.below, spread.above) * scale.factor


def _told_apart(scale: _Scale, kind: uncertain.InstrumentClass, limit: float) -> bool:
    """Whether readings half as large and half as large again are told from a limit."""
    apart = HALF * abs(limit)
    low, high = limit - apart, limit + apart
    channel = kind.channel(scale.read_as)
    inside = channel.low <= low / scale.factor and high / scale.factor < channel.high
    return inside and max(_doubt(scale, kind, low), _doubt(scale, kind, high)) <= apart


def _least(scale: _Scale, kind: uncertain.InstrumentClass, limit: float) -> float | None:
    """The smallest limit that is decided, to a hundredth of itself; None where the channel decides none."""
    top = kind.channel(scale.read_as).high * scale.factor / (1.0 + HALF)
    low, high = 0.0, limit
    while high < top and not _told_apart(scale, kind, high):
        low, high = high, high * 1.2
    if high >= top:
        return None
    while high - low > 0.01 * high:
        middle = (low + high) / 2.0
        low, high = (low, middle) if _told_apart(scale, kind, middle) else (middle, high)
    return high


def decidable(
    rule: Limit, instrument: str, *, oxygen: float = OXYGEN_ASSUMED, system: Literal["us", "si"] = "us"
) -> Decidable:
    """Whether a class of instrument can decide a limit.

    rule        of a book
    instrument  name of an accuracy class
    oxygen      mol/mol expected in the flue gas, for what is taken to a reference oxygen
    system      units of the sentence
    -> answer with its reason; QuantityError FW-Q-015 where there is no such class
    """
    kind = uncertain.instrument_class(instrument)
    quantity = names.of(rule.quantity)
    limit = units.canonical(rule.limit, unit=units.unit_named(rule.unit, quantity=quantity), quantity=quantity)
    scale = _scale(rule, kind, oxygen)
    edge = show.shown(limit, quantity=rule.quantity, system=system)
    if scale is None or limit == 0.0:
        said = say(
            "{quantity}, {limit}: worked out from several readings, or read with something else: its doubt is known "
            "once it was read.",
            quantity=spoken(quantity.words), limit=edge,
        )  # fmt: skip
        return Decidable("not said", None, None, said)
    doubt = _doubt(scale, kind, limit)
    there = show.shown(doubt, quantity=rule.quantity, system=system)
    if rule.reference_oxygen is not None:
        there = say("{doubt} at {oxygen} % oxygen", doubt=there, oxygen=number(oxygen * 100, "g"))
    told = {"instrument": spoken(kind.words), "limit": edge, "doubt": there}
    if _told_apart(scale, kind, limit):
        said = say("{instrument} can decide {limit}: its doubt there is {doubt}, twice the standard one.", **told)
        return Decidable("yes", doubt, limit, said)
    least = _least(scale, kind, limit)
    said = say("{instrument} cannot decide {limit}: its doubt there is {doubt}, twice the standard one.", **told)
    if least is not None:
        smallest = show.shown(least, quantity=rule.quantity, system=system)
        said = " ".join((said, say("It can decide {limit}.", limit=smallest)))
    return Decidable("no", doubt, least, said)
