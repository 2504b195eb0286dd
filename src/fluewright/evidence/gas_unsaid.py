"""What nobody said about meter and heating value: how low it may leave the input, and the questions it asks."""

from collections.abc import Iterator

from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.gas_count import (
    ASSUMED_PRESSURE,
    ASSUMED_TEMPERATURE,
    UNKNOWN_METER,
    Count,
    Numbers,
    reference_unsaid,
    reference_words,
)
from fluewright.evidence.reading import Surroundings
from fluewright.kernel.ops import value_of
from fluewright.quantity import show

WARMEST = 313.15
"""K: gas in a meter in the sun (common practice, no source)."""
THINNEST = 70_000.0
"""Pa: barometer of the highest houses, 10,000 ft (standard atmosphere)."""


def least_left(count: Count, place: Surroundings, correction: float) -> float:
    """The least that the input may come to for what nobody stated of its correction, over the input worked out.

    count       what was read
    place       barometer
    correction  as taken
    -> fraction, 1 where the correction was stated
    """
    meter = count.meter
    if meter.factor is not None or count.heat.counted_at == "as metered":
        return 1.0
    left = min(1.0, 1.0 / correction) if reference_unsaid(count, correction) else 1.0
    if meter.compensated == "both":
        return left
    if place.pressure_source.startswith("assumed"):
        left *= min(1.0, THINNEST / place.pressure)
    if meter.pressure is None:
        left *= place.pressure / (place.pressure + ASSUMED_PRESSURE)
    read = meter.temperature.figure if meter.temperature is not None else None
    kelvin = ASSUMED_TEMPERATURE if read is None else read
    if meter.compensated != "temperature" and read is None:
        left *= kelvin / WARMEST
    if meter.compensated == "unknown" and read is not None:
        left *= min(1.0, kelvin / ASSUMED_TEMPERATURE)
    return left


def questions(word: str, count: Count, numbers: Numbers, system: show.System) -> Iterator[Finding]:
    """What has to be asked before the input may clear anything."""
    correction = float(value_of(numbers.correction))
    if reference_unsaid(count, correction):
        yield _reference(word, count, numbers, correction, system)
    if not count.meter.vouched:
        lead = f"{word[:1].upper()}{word[1:]}: how far off the meter itself may be is not known."
        body = (
            f"Nobody named its class, age or last check; {UNKNOWN_METER:.0%} was allowed for. A worn meter passes gas "
            "that it does not count: the burner then gets more than it seems. The count may warn, and clears nothing."
        ).replace("%", " %")
        do = "say whether it is the sealed meter that bills are made by, within its date, or what its last check found"
        yield Finding("meter-not-vouched", "open", lead, body, ((word, "fuel_input"),), PRACTICE, do_next=(do,))


def _reference(word: str, count: Count, numbers: Numbers, correction: float, system: show.System) -> Finding:
    """Two readings of one heating value, and what the input is by each."""
    power = float(value_of(numbers.fuel_input))
    at = reference_words(count.heat.counted_at)
    taken, other = (show.shown(one, quantity="fuel_input", system=system) for one in (power, power / correction))
    said = count.heat.value.typed.text if count.heat.value is not None else ""
    return Finding(
        "heat-reference-unsaid",
        "open",
        f"{word[:1].upper()}{word[1:]}: at which pressure and temperature the heating value counts is not said.",
        f"If {said} counts at {at}, the input is {taken}, and that was taken. If it is already that of the gas as it "
        f"is metered here, the input is {other}: the gas would have been corrected twice. The doubt covers both.",
        ((word, "fuel_input"), (word, "volume_correction")),
        PRACTICE,
        do_next=(
            "ask the supplier at which pressure and temperature the heating value counts, or whether it is that of the "
            "gas as metered, and write it with the heating value",
        ),
    )
