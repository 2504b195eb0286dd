"""Numbers as the sheet says them, and the pen that writes its numbered lines."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date

from fluewright.evidence.inputs import OF_THE_FUEL
from fluewright.evidence.origins import class_for, spread_of
from fluewright.evidence.reading import Account, Reading, Stretch
from fluewright.evidence.result import Input, Result
from fluewright.quantity import names, show, units
from fluewright.quantity.meaning import Spread
from fluewright.report.tree import Line, Mark, Opened, Span
from fluewright.words import pieces

_MONTHS = "January February March April May June July August September October November December"
MONTHS = tuple(_MONTHS.split())

NEARLY_EVEN = 1.4
"""Two sides of a doubt that differ by less than this are printed as one, the larger."""

AS_THEY_STAND = ("flue_temperature", "air_temperature", "room_temperature", "return_water_temperature",
                 "supply_water_temperature")  # fmt: skip
"""Temperatures typed by a person are printed without their doubt: it is in the results."""


def day_words(day: date) -> str:
    """A day as a person writes it, the same in every locale and on every line end."""
    return f"{day.day}\u00a0{MONTHS[day.month - 1]}\u00a0{day.year}"


def plate_words(value: float, quantity: str, system: show.System) -> str:
    """A figure from a plate with the digits it has there."""
    meant = names.of(quantity)
    symbol = show.unit_of(meant, system)
    return f"{units.in_unit(value, unit=units.unit_named(symbol, quantity=meant), quantity=meant):.4g}\u202f{symbol}"


def key_of(word: str, name: str) -> str:
    """The key under which a derived value of a stretch or a part finds its working."""
    return f"{word} {name}".replace(" ", "-").replace("_", "-").lower()


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


def read_words(reading: Reading, account: Account) -> str:
    """A reading with its doubt; a range, a bound or a trend word as typed, and what no class reads in its own unit."""
    typed = reading.typed
    if class_for(reading.quantity, account.instrument) is None:
        return show.as_typed(typed)
    if (
        typed.kind != "value"
        or typed.value is None
        or (reading.quantity in AS_THEY_STAND and reading.source == "typed")
    ):
        return show.converted(typed, system=account.system)
    below, above = spread_of(reading, account.instrument, record=account.fuel)
    doubt = sides(below=below, above=above)
    words = show.shown(typed.value, doubt, quantity=reading.quantity, system=account.system)
    return f"{words}, {typed.trend}" if typed.trend else words


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
        """A worked-out value of a stretch that opens its working."""
        return self.worked_out(stretch.word, result.name, result, stretch.readings)

    def worked_out(self, word: str, name: str, result: Result, readings: Mapping[str, Reading]) -> Span:
        """A worked-out value that opens its working.

        word      stretch or part of the job it belongs to
        name      its key there
        readings  readings of that stretch or part, by key
        """
        key = key_of(word, name)
        words = said(result, self.account.system)
        if result.value is None:
            return Span(words, "unknown")
        if result.working is not None and all(one.key != key for one in self.opened):
            values = tuple(self._went_in(one, readings) for one in result.working.inputs)
            heading = f"{names.of(result.name).words}, {word}: {words}"
            self.opened.append(Opened(key, heading, self.number + 1, result, values))
        self.where[(word, name)] = self.number + 1
        return Span(words, "derived", key)

    def _went_in(self, one: Input, readings: Mapping[str, Reading]) -> str:
        """An input of a working with its doubt, one-sided where the reading's is."""
        if one.words == OF_THE_FUEL:
            return "its analysis"
        reading = readings.get(one.name)
        doubt = sides(below=one.below, above=one.above)
        if reading is not None and reading.figure is not None:
            below, above = spread_of(reading, self.account.instrument, record=self.account.fuel)
            doubt = sides(below=below, above=above)
        return show.shown(one.value, doubt, quantity=one.name, system=self.account.system)

    def measured(self, stretch: Stretch, name: str) -> Span:
        """A reading with its doubt, or as it was typed where it is a range or a bound."""
        return self.seen(stretch.word, name, stretch.readings[name])

    def seen(self, word: str, name: str, reading: Reading) -> Span:
        """A reading of a stretch or a part, by its key there."""
        self.where[(word, name)] = self.number + 1
        return Span(read_words(reading, self.account), "measured")


def worded(template: str, **fields: str | Span | list[Span]) -> list[Span]:
    """A sentence from its template, with fields that keep their own voice.

    template  English, a literal, as fluewright.words.say takes it
    fields    words, a span, or several
    -> spans in the order of the language
    """
    spans: list[Span] = []
    for part in pieces(template, **fields):
        spans += part if isinstance(part, list) else [part if isinstance(part, Span) else Span(part)]
    return spans


def joined(parts: Iterable[Iterable[Span]], *, stop: str = ".") -> list[Span]:
    """Parts of a sentence with commas between, a capital first and a full stop."""
    spans: list[Span] = []
    for part in parts:
        if spans:
            spans.append(Span(", "))
        spans += part
    if spans and not spans[-1].text.endswith(stop):
        spans.append(Span(stop))
    return capital(spans)


def capital(spans: list[Span]) -> list[Span]:
    """A sentence with a capital first."""
    return [
        replace(each, text=each.text[:1].upper() + each.text[1:]) if not i else each for i, each in enumerate(spans)
    ]


def typed_words(stretch: Stretch, chosen: Iterable[str]) -> list[Span]:
    """The readings of a line as a person typed them, for its margin."""
    words = " · ".join(stretch.readings[n].typed.text for n in chosen if stretch.readings[n].source == "typed")
    return [Span("typed "), Span(words, "hand")] if words else [Span("from the trace")]
