"""The evidence of a visit as numbered sentences, in the order of the job."""

from collections.abc import Iterable, Mapping
from datetime import date

from fluewright.evidence.flue import Worked
from fluewright.evidence.inputs import OF_THE_FUEL
from fluewright.evidence.origins import spread_of
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.quantity import names, show, units
from fluewright.quantity.meaning import Spread
from fluewright.report.tree import Line, Mark, Opened, Section, Span

GASES = {
    "oxygen_dry": "oxygen",
    "oxygen_wet": "oxygen, wet",
    "oxygen_intake": "oxygen at the intake",
    "carbon_dioxide_dry": "carbon dioxide",
    "carbon_monoxide_dry": "carbon monoxide",
    "carbon_monoxide_wet": "carbon monoxide, wet",
    "nitric_oxide_dry": "nitric oxide",
    "nitrogen_dioxide_dry": "nitrogen dioxide",
    "sulfur_dioxide_dry": "sulfur dioxide",
}
TEMPERATURES = {
    "flue_temperature": "stack",
    "air_temperature": "combustion air",
    "room_temperature": "room",
    "return_water_temperature": "return water",
    "supply_water_temperature": "supply water",
}


_MONTHS = "January February March April May June July August September October November December"
MONTHS = tuple(_MONTHS.split())


def day_words(day: date) -> str:
    """A day as a person writes it, the same in every locale and on every line end."""
    return f"{day.day}\u00a0{MONTHS[day.month - 1]}\u00a0{day.year}"


def plate_words(value: float, quantity: str, system: show.System) -> str:
    """A figure from a plate with the digits it has there."""
    meant = names.of(quantity)
    symbol = show.unit_of(meant, system)
    return f"{units.in_unit(value, unit=units.unit_named(symbol, quantity=meant), quantity=meant):.6g}\u202f{symbol}"


def key_of(stretch: Stretch, name: str) -> str:
    """The key under which a derived value finds its working."""
    return f"{stretch.word} {name}".replace(" ", "-").replace("_", "-").lower()


NEARLY_EVEN = 1.4
"""Two sides of a doubt that differ by less than this are printed as one, the larger."""


def sides(*, below: float, above: float) -> Spread:
    """A doubt as it is printed: even where its two sides hardly differ."""
    small, large = sorted((below, above))
    return Spread(large, large, "") if large < NEARLY_EVEN * small else Spread(below, above, "")


def said(result: Result, system: show.System) -> str:
    """A result with its doubt and unit, "at least" where the cell was at its end, a band where only that is known."""
    if result.value is None:
        return "not to be had"
    if result.low is not None and result.high is not None:
        low = show.number(result.low, quantity=result.name, system=system)
        return f"{low} to {show.shown(result.high, quantity=result.name, system=system)}"
    words = show.shown(result.value, sides(below=result.below, above=result.above), quantity=result.name, system=system)
    return f"{result.bound} {words}" if result.bound else words


class Pen:
    """Writes numbered lines and remembers which reading and which working stands in which line."""

    def __init__(self, account: Account) -> None:
        self.account = account
        self.number = 0
        self.where: dict[tuple[str, str], int] = {}
        self.opened: list[Opened] = []

    def line(
        self, spans: Iterable[Span], *, mark: Mark = "measured", time: str = "", margin: Iterable[Span] = ()
    ) -> Line:
        """The next line."""
        self.number += 1
        return Line(self.number, mark, time, tuple(spans), tuple(margin))

    def derived(self, stretch: Stretch, result: Result) -> Span:
        """A worked-out value that opens its working."""
        key = key_of(stretch, result.name)
        words = said(result, self.account.system)
        if result.value is None:
            return Span(words, "unknown")
        if result.working is not None and all(one.key != key for one in self.opened):
            values = tuple(
                "its analysis"
                if one.words == OF_THE_FUEL
                else show.shown(one.value, one.spread, quantity=one.name, system=self.account.system)
                for one in result.working.inputs
            )
            heading = f"{names.of(result.name).words}, {stretch.word}: {words}"
            self.opened.append(Opened(key, heading, self.number + 1, result, values))
        self.where[(stretch.word, result.name)] = self.number + 1
        return Span(words, "derived", key)

    def measured(self, stretch: Stretch, name: str) -> Span:
        """A reading with its doubt, or as it was typed where it is a range or a bound."""
        reading = stretch.readings[name]
        self.where[(stretch.word, name)] = self.number + 1
        system = self.account.system
        if reading.typed.kind != "value" or reading.typed.value is None:
            return Span(show.converted(reading.typed, system=system), "measured")
        if name in TEMPERATURES and reading.source == "typed":
            return Span(show.converted(reading.typed, system=system), "measured")
        below, above = spread_of(reading, self.account.instrument)
        return Span(
            show.shown(reading.typed.value, sides(below=below, above=above), quantity=name, system=system), "measured"
        )


def _joined(parts: list[list[Span]]) -> list[Span]:
    """Parts of a sentence with commas between and a full stop."""
    spans: list[Span] = []
    for part in parts:
        if spans:
            spans.append(Span(", "))
        spans += part
    if spans:
        spans.append(Span("."))
        first = spans[0]
        spans[0] = Span(first.text[:1].upper() + first.text[1:], first.voice, first.ref)
    return spans


def _typed(stretch: Stretch, chosen: Iterable[str]) -> list[Span]:
    words = " · ".join(stretch.readings[n].typed.text for n in chosen if stretch.readings[n].source == "typed")
    return [Span("typed "), Span(words, "hand")] if words else [Span("from the trace")]


def _gas_line(pen: Pen, stretch: Stretch, results: Mapping[str, Result]) -> Line:
    chosen = [name for name in GASES if name in stretch.readings]
    parts = [[Span(f"{GASES[name]} "), pen.measured(stretch, name)] for name in chosen]
    free = results.get("carbon_monoxide_air_free")
    if free is not None and free.value is not None:
        parts.append([Span("that is "), pen.derived(stretch, free), Span(" air-free")])
    return pen.line(_joined(parts), time=stretch.time, margin=_typed(stretch, chosen))


def _temperature_line(pen: Pen, stretch: Stretch) -> Line | None:
    chosen = [name for name in TEMPERATURES if name in stretch.readings]
    if not chosen:
        return None
    parts = [[Span(f"{TEMPERATURES[name]} "), pen.measured(stretch, name)] for name in chosen]
    return pen.line(_joined(parts), time=stretch.time, margin=_typed(stretch, chosen))


def _derived_lines(pen: Pen, stretch: Stretch, results: Mapping[str, Result]) -> list[Line]:
    """What follows from the readings: air, then heat, then the dew point."""
    lines = []
    air = [
        [pen.derived(stretch, results[name]), Span(f" {words}")]
        for name, words in (("excess_air", "excess air"), ("carbon_dioxide_dry", "carbon dioxide"))
        if name in results and results[name].value is not None and name not in stretch.readings
    ]
    if air:
        lines.append(pen.line(_joined(air), mark="derived"))
    loss = results.get("loss_gross")
    if loss is not None and loss.value is not None:
        shed = [
            [Span(f"{words} "), pen.derived(stretch, results[name])]
            for name, words in (
                ("loss_dry_gas", "dry gas"),
                ("loss_vapour", "water vapour"),
                ("loss_carbon_monoxide", "unburned gas"),
            )
            if results[name].value is not None
        ]
        spans = [pen.derived(stretch, loss), Span(" of the fuel's gross heat left by the flue at that moment: ")]
        inner = _joined(shed)[:-1]
        inner[0] = shed[0][0]
        lines.append(pen.line([*spans, *inner, Span(".")], mark="derived", margin=[Span(loss.boundary)]))
        gross, net = results["efficiency_gross"], results["efficiency_net"]
        lines.append(
            pen.line(
                [
                    Span("Combustion efficiency at this moment "),
                    pen.derived(stretch, gross),
                    Span(" of the gross heat, "),
                    pen.derived(stretch, net),
                    Span(" of the net."),
                ],
                mark="derived",
                margin=[Span("a moment, not a season")],
            )
        )
    return [*lines, *_dew_line(pen, stretch, results)]


def _dew_line(pen: Pen, stretch: Stretch, results: Mapping[str, Result]) -> list[Line]:
    dew = results.get("water_dew_point")
    if dew is None or dew.value is None:
        return []
    spans = [Span("Water dew point "), pen.derived(stretch, dew)]
    condensed = results.get("condensed_fraction")
    if condensed is not None and (condensed.high or condensed.value):
        spans += [Span("; "), pen.derived(stretch, condensed), Span(" of the water can have condensed")]
    return [pen.line([*spans, Span(".")], mark="derived")]


def _refused_line(pen: Pen, results: Mapping[str, Result]) -> list[Line]:
    """One line that says what this sampling point or these readings cannot give."""
    reasons: dict[str, list[str]] = {}
    for result in results.values():
        if result.refused:
            reasons.setdefault(result.refused, []).append(names.of(result.name).words)
    return [
        pen.line(
            [Span(f"Refused: {', '.join(words)}", "unknown"), Span(f". {reason[0].upper()}{reason[1:]}.")],
            mark="unknown",
        )
        for reason, words in reasons.items()
    ]


def flame(pen: Pen, number: int, stretch: Stretch, worked: Worked | None) -> Section:
    """The readings of one stretch and what follows from them."""
    results = worked.results if worked else {}
    lines = [_gas_line(pen, stretch, results)]
    warm = _temperature_line(pen, stretch)
    if warm is not None:
        lines.append(warm)
    lines += _derived_lines(pen, stretch, results)
    lines += _refused_line(pen, results)
    about = [f"At {stretch.point.name}"]
    if stretch.point.kind != "undiluted":
        about.append(f"{stretch.point.kind} gas")
    if stretch.steady:
        about.append(stretch.steady)
    note = ", ".join(about) + "." + (f" {stretch.note}" if stretch.note else "")
    return Section(number, f"Flame, {stretch.word}", tuple(lines), note)


def before_lighting(pen: Pen, number: int) -> Section:
    """Who came with what, on what day, at what height."""
    account, lines = pen.account, []
    instrument = account.instrument
    due = (
        f"in date until {day_words(instrument.due)}"
        if instrument.due
        else "nobody has said when its calibration runs out"
    )
    zero = f"zero taken {instrument.zero}" if instrument.zero else "where it was zeroed is not said"
    lines.append(
        pen.line(
            [Span("Read with "), Span(instrument.words, "hand"), Span(f", {due}; {zero}.")],
            mark="measured" if instrument.due and instrument.zero else "unknown",
            margin=[Span(f"accuracy class {instrument.accuracy}")],
        )
    )
    place = account.surroundings
    pressure = show.shown(place.pressure, place.pressure_spread, quantity="barometer", system=account.system)
    known: Mark = "measured" if place.pressure_source == "typed" else "plate"
    spans = [Span("Barometer "), Span(pressure, "measured" if known == "measured" else "plate")]
    spans.append(Span("." if known == "measured" else f", {place.pressure_source}."))
    lines.append(pen.line(spans, mark=known))
    fuel = account.fuel
    lines.append(
        pen.line(
            [Span("Burns "), Span(fuel.words, "plate"), Span(".")],
            mark="plate",
            margin=[Span(f"{fuel.source}; {fuel.known}")],
        )
    )
    lines += [pen.line([Span(note.word, "hand")], time=note.time) for note in account.notes]
    return Section(number, "Before lighting", tuple(lines))


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
