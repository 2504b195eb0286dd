"""Where the doubt of a reading comes from: its instrument's class, the width of a range, hydrogen on its cell."""

import math
from dataclasses import replace

from fluewright.evidence import checked, refusals
from fluewright.evidence.doubt import Origin
from fluewright.evidence.reading import Instrument, Reading
from fluewright.fuels.record import FuelRecord
from fluewright.quantity import names, uncertain
from fluewright.quantity.meaning import Spread
from fluewright.quantity.uncertain import HYDROGEN_PER_CARBON_MONOXIDE, InstrumentClass

FALLBACKS = ("service", "portable", "in-situ", "gauge")
"""Classes asked in turn for a quantity that the instrument's own class does not read."""

SAME_CELL = {
    "carbon_monoxide_wet": "carbon_monoxide_dry",
    "oxygen_intake": "oxygen_dry",
    "oxygen_outdoor": "oxygen_dry",
    "carbon_monoxide_outdoor": "carbon_monoxide_room",
    "carbon_monoxide_personal": "carbon_monoxide_room",
    "carbon_monoxide_delivered": "carbon_monoxide_room",
}
"""Readings that one cell takes at another place or in another state of the sample."""

UNLISTED = 0.05
"""Relative limit of error of a reading that no class lists (common practice, no source)."""

HYDROGEN_FUEL = 0.02
"""mol/mol of hydrogen in a gas from which on the flue may hold more hydrogen than carbon monoxide (practice P10)."""

FAR_MORE_HYDROGEN = 1e3
"""mol H2 per mol CO to reckon with where hydrogen is in the fuel: the reading may then be hydrogen alone."""


def hydrogen_share(record: FuelRecord) -> float:
    """Hydrogen in the fuel gas, mol/mol."""
    return float((record.mole_fractions or {}).get("H2", 0.0))


def class_for(quantity: str, instrument: Instrument) -> InstrumentClass | None:
    """The accuracy class that reads this quantity, with the instrument's own word on hydrogen; None when none does."""
    meant = SAME_CELL.get(quantity, quantity)
    for name in (instrument.accuracy, *FALLBACKS):
        kind = uncertain.instrument_class(name)
        for channel in kind.channels:
            if meant in channel.quantities:
                known = replace(channel, hydrogen=instrument.hydrogen) if channel.hydrogen != "none" else channel
                return replace(kind, channels=(known,))
    return None


def origin_of(reading: Reading, instrument: Instrument, *, record: FuelRecord | None = None) -> Origin:
    """The doubt of one reading: accuracy class with its own display step, the width of a range, a zero that moved.

    The digits typed do not count: people leave out the zero of 5.0. A trend word alone has no origin.
    """
    value = reading.figure
    if value is None:
        raise refusals.no_figure(reading)
    kind = class_for(reading.quantity, instrument)
    if kind is None:
        limit = abs(value) * UNLISTED / math.sqrt(3.0)
        spread = Spread(limit, limit, "no class lists this reading")
    else:
        rich = record is not None and hydrogen_share(record) >= HYDROGEN_FUEL
        meant = SAME_CELL.get(reading.quantity, reading.quantity)
        ratio = FAR_MORE_HYDROGEN if rich else HYDROGEN_PER_CARBON_MONOXIDE
        spread = uncertain.standard_uncertainty(
            quantity=meant, value=value, instrument_class=kind, hydrogen_ratio=ratio
        )
    width = reading.half_width / math.sqrt(3.0)
    high, low = (side / math.sqrt(3.0) for side in checked.moved(reading, instrument))
    return Origin(
        reading.quantity,
        names.of(reading.quantity).words,
        value,
        math.hypot(spread.below, width, high),
        math.hypot(spread.above, width, low),
        reading.source,
        reading.bound,
    )


def spread_of(reading: Reading, instrument: Instrument, *, record: FuelRecord | None = None) -> tuple[float, float]:
    """Standard uncertainty of one reading towards smaller and larger values, canonical unit."""
    origin = origin_of(reading, instrument, record=record)
    return origin.below, origin.above


def at_its_end(reading: Reading, instrument: Instrument) -> bool:
    """Whether a reading stands at or beyond the end of its cell."""
    if reading.bound == "at least":
        return True
    value = reading.figure
    if value is None:
        return False
    if instrument.over_range_ppm is not None and reading.quantity.startswith("carbon_monoxide"):
        return value >= 0.98 * instrument.over_range_ppm
    kind = class_for(reading.quantity, instrument)
    meant = SAME_CELL.get(reading.quantity, reading.quantity)
    return kind is not None and uncertain.saturated(quantity=meant, value=value, instrument_class=kind)
