"""The evidence of a visit as numbered sentences, in the order of the job: all but the flame."""

from collections.abc import Iterable, Mapping, Sequence

from fluewright.evidence.reading import Account, Instrument, Stretch, Surroundings
from fluewright.evidence.result import Result
from fluewright.quantity import names, show
from fluewright.quantity.emission_names import GASES
from fluewright.report.pen import Pen, day_words, joined, typed_words
from fluewright.report.tree import Line, Mark, Section, Span

ZEROS = {"outdoors": "outdoors", "doorway": "in the doorway", "inside": "indoors"}


def _due(account: Account) -> str:
    """Until when the calibration holds, or since when it does not."""
    due = account.instrument.due
    if due is None:
        return "nobody has said when its calibration runs out"
    return f"in date until {day_words(due)}" if due >= account.day else f"out of date since {day_words(due)}"


def _instrument_line(pen: Pen) -> Line:
    """What it was read with, until when that is in date, where it was zeroed."""
    instrument: Instrument = pen.account.instrument
    zero = f"zero taken {ZEROS[instrument.zero]}" if instrument.zero else "where it was zeroed is not said"
    sound = instrument.due is not None and instrument.due >= pen.account.day and bool(instrument.zero)
    spans = [Span("Read with "), Span(instrument.words, "hand"), Span(f", {_due(pen.account)}; {zero}.")]
    return pen.line(
        spans, mark="measured" if sound else "unknown", margin=[Span(f"accuracy class {instrument.accuracy}")]
    )


def _air_line(pen: Pen) -> Line:
    """Pressure, height and humidity of the place."""
    place: Surroundings = pen.account.surroundings
    system = pen.account.system
    pressure = show.shown(place.pressure, place.pressure_spread, quantity="barometer", system=system)
    known: Mark = "measured" if place.pressure_source == "typed" else "plate"
    parts = [[Span("barometer "), Span(pressure, "measured" if known == "measured" else "plate")]]
    if known != "measured":
        parts[0].append(Span(f" ({place.pressure_source})"))
    if place.altitude is not None:
        height = show.shown(place.altitude, quantity="altitude", system=system)
        parts.append([Span("altitude "), Span(height, "measured")])
    if place.relative_humidity is not None:
        damp = show.shown(place.relative_humidity, quantity="relative_humidity", system=system)
        parts.append([Span("relative humidity "), Span(damp, "measured")])
    else:
        parts.append([Span("humidity not read", "unknown")])
    return pen.line(joined(parts), mark=known)


def before_lighting(pen: Pen, number: int) -> Section:
    """Who came with what, on what day, at what height."""
    account, lines = pen.account, [_instrument_line(pen)]
    trap = account.instrument.trap
    if trap is not None:
        warmth = show.shown(trap, quantity="trap_temperature", system=account.system)
        lines.append(pen.line([Span("The sample was dried in a trap at "), Span(warmth, "measured"), Span(".")]))
    lines.append(_air_line(pen))
    fuel = account.fuel
    lines.append(
        pen.line(
            [Span("Burns "), Span(fuel.words, "plate"), Span(".")],
            mark="plate",
            margin=[Span(f"{fuel.source}; {fuel.known}")],
        )
    )
    lines += [pen.line([Span(note.word, "hand")], time=note.time) for note in account.notes]
    lines += [pen.line([Span(f"{event.word.capitalize()}.")], time=event.time) for event in account.events]
    return Section(number, "Before lighting", tuple(lines))


ROOM = "carbon_monoxide_room"


def room_air(pen: Pen, number: int, stretches: Iterable[Stretch]) -> Section | None:
    """Carbon monoxide in the room, raw as read: it comes before the flame, because people breathe it."""
    lines = [
        pen.line(
            joined([[Span(f"{stretch.word}: carbon monoxide in the room "), pen.measured(stretch, ROOM)]]),
            time=stretch.time,
            margin=typed_words(stretch, [ROOM]),
        )
        for stretch in stretches
        if ROOM in stretch.readings
    ]
    return Section(number, "Room air", tuple(lines)) if lines else None


def adjusting(pen: Pen, number: int) -> Section | None:
    """The steps, with what each was meant to do."""
    steps = pen.account.steps
    if not steps:
        return None
    lines = tuple(
        pen.line(
            [Span(f"{index} · {step.word}", "hand")],
            time=step.time,
            margin=[Span(f"meant: {step.meant}")] if step.meant else (),
        )
        for index, step in enumerate(steps, 1)
    )
    return Section(number, "Adjusting", lines)


FORMS = {
    "at_reference_oxygen": "at the reference oxygen",
    "mass_concentration": "of dry flue gas",
    "mass_per_heat": "of gross heat",
    "mass_per_heat_net": "of net heat",
    "mass_per_heat_output": "of heat delivered",
    "method_19": "by Method 19",
}
"""The forms of a trace gas, by the end of their names."""


def _gas_and_form(name: str) -> tuple[str, str]:
    """The gas and the form of a trace-gas result; empty for any other result."""
    for gas in sorted(GASES, key=len, reverse=True):
        form = name.removeprefix(f"{gas}_")
        if form != name and form in FORMS:
            return gas, form
    return "", ""


def _of_one_gas(pen: Pen, stretch: Stretch, gas: str, results: Sequence[Result]) -> Line:
    """Every form of one trace gas in one line."""
    parts = [[pen.derived(stretch, one), Span(f" {FORMS[_gas_and_form(one.name)[1]]}")] for one in results]
    parts[0].insert(0, Span(f"{GASES[gas][0]}: "))
    basis = max((one.basis for one in results if one.basis.startswith("dry, ")), key=len, default="")
    return pen.line(joined(parts), mark="derived", margin=[Span(basis)] if basis else ())


def in_units_of_rules(pen: Pen, number: int, stretch: Stretch, extra: Mapping[str, Result]) -> Section | None:
    """Results in the forms that rules ask for: one line for each trace gas, one for each short form."""
    gases: dict[str, list[Result]] = {}
    others = []
    for result in extra.values():
        gas, _ = _gas_and_form(result.name)
        if result.value is not None and gas:
            gases.setdefault(gas, []).append(result)
        elif result.value is not None:
            others.append(result)
    lines = [_of_one_gas(pen, stretch, gas, results) for gas, results in gases.items()]
    for result in others:
        spans = joined([[Span(f"{names.of(result.name).words} "), pen.derived(stretch, result)]])
        lines.append(pen.line(spans, mark="derived", margin=[Span(result.basis)] if result.basis else ()))
    lines += refused(pen, extra.values())
    return Section(number, "In the units of rules", tuple(lines), f"Of {stretch.word}.") if lines else None


def refused(pen: Pen, results: Iterable[Result]) -> list[Line]:
    """One line for each reason why something cannot be given, with all that it takes away."""
    reasons: dict[str, list[str]] = {}
    for result in results:
        if result.refused:
            reasons.setdefault(result.refused.rstrip("."), []).append(names.of(result.name).words)
    return [
        pen.line(
            [Span(f"Refused: {'; '.join(words)}.", "unknown"), Span(f" {reason[0].upper()}{reason[1:]}.")],
            mark="unknown",
        )
        for reason, words in reasons.items()
    ]
