"""A steady stretch as readings of a visit: what every door hands to the one path of judgement."""

from collections.abc import Mapping

from fluewright.evidence.reading import Basis, Burst, Reading
from fluewright.evidence.trace.edges import Side
from fluewright.evidence.trace.peaks import Peaks
from fluewright.evidence.trace.stretch import Accuracy, Stretch
from fluewright.evidence.trace.trace import Trace
from fluewright.quantity import names, show, units
from fluewright.quantity.meaning import Typed

SOURCE = "from the trace"
SIGNS = {"at least": ">", "at most": "<"}


def reading(name: str, value: float, *, side: Side = "", rising: bool = False, system: show.System = "si") -> Reading:
    """One mean as a reading; a floor or a ceiling as a bound.

    name    registry name
    value   canonical unit
    side    what the mean is
    rising  whether it climbed throughout
    system  units in which its text is written
    -> Reading
    """
    quantity = names.of(name)
    unit = show.unit_of(quantity, system)
    step = 0.1 * units.per_unit(unit=units.unit_named(unit, quantity=quantity), quantity=quantity)
    trend = "rising" if rising else ""
    text = f"{SIGNS.get(side, '')}{show.shown(value, quantity=name, system=system)} {trend}".strip()
    typed = Typed(
        text,
        name,
        "bound" if side else "value",
        None if side else value,
        value if side == "at least" else None,
        value if side == "at most" else None,
        unit,
        trend,
        1,
        step,
    )
    return Reading(name, typed, SOURCE)


def readings(stretch: Stretch, trace: Trace, *, system: show.System = "si") -> dict[str, Reading]:
    """All means of one stretch as readings, by registry name.

    Carbon monoxide that climbed all along stands as it stood at the end, and is said to be rising.
    Beside wet oxygen, carbon dioxide that is dry by guess alone is left out: the two would be compared on one basis.

    stretch  of this trace
    trace    for which of its channels are quantities of the registry
    system   units in which their texts are written
    -> readings
    """
    known = {channel.name for channel in trace.channels if channel.quantity}
    left_out = {"oxygen_wet"} if "oxygen_dry" in stretch.means else set()
    if "oxygen_wet" in stretch.means and not left_out:
        left_out = {"carbon_dioxide_dry"}
    return {
        name: reading(
            name,
            mean + 0.5 * stretch.climbs.get(name, 0.0),
            side=stretch.side(name),
            rising=name in stretch.climbs,
            system=system,
        )
        for name, mean in stretch.means.items()
        if name in known - left_out
    }


def basis_of(read: Mapping[str, Reading]) -> Basis:
    """Wet where oxygen was read undried, else dry."""
    return "wet" if "oxygen_wet" in read else "dry"


def steady_words(stretch: Stretch, trace: Trace) -> str:
    """How it was known to be steady, as a visit says it."""
    seconds = stretch.end - stretch.start
    words = f"{stretch.kind} for {seconds:.0f} s, mean of {stretch.count} samples ending {clock(trace, stretch.end)}"
    climb = max(stretch.climbs.values(), default=0.0)
    return f"{words}; carbon monoxide rose by {climb * 1e6:.0f} ppm meanwhile" if climb else words


def clock(trace: Trace, moment: float) -> str:
    """A moment of a trace as the clock shows it, or as the trace counts where it knows no day."""
    text = trace.shown(moment)
    return text[11:] if text[4:5] == "-" else text


def bursts(found: Peaks, trace: Trace, accuracy: Accuracy) -> tuple[Burst, ...]:
    """The peaks of carbon monoxide that are no lighting, as a visit takes them.

    found     peaks of the trace
    trace     for its clock
    accuracy  of the instrument
    -> bursts in order of time
    """
    return tuple(
        Burst(
            f"the peak at {trace.shown(peak.at)}",
            peak.mean,
            accuracy("carbon_monoxide_dry", peak.mean),
            peak.seconds,
            peak.bound,
        )
        for peak in found.over
        if not peak.ignition
    )
