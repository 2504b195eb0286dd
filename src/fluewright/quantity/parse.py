"""What a technician types, understood: 3.5 inwc, -.02", 385F, 4,3 %, 40..120 rising, >2000.

The typed text is kept byte for byte. What can be understood in two ways is settled by the quantity asked for, or
refused with the choices; what is merely strange is kept and asked about (plausible).
"""

import math
import re
from dataclasses import dataclass

from fluewright.quantity import bare as bare_number
from fluewright.quantity import refusals
from fluewright.quantity.digits import band
from fluewright.quantity.figures import NUMBER, Figure, figures, thousands
from fluewright.quantity.meaning import Kind, Quantity, Typed
from fluewright.quantity.names import of
from fluewright.quantity.units import Unit, candidates, canonical, per_unit, unit_named

LONGEST = 80
"""characters; no value needs more"""

MARKS = str.maketrans(
    {
        **dict.fromkeys("\u2010\u2011\u2012\u2212\ufe63\uff0d", "-"),
        **dict.fromkeys("\u2013\u2014", "–"),
        **dict.fromkeys("\u00a0\u202f\u2007\u2009\u2002\u2003\u2005\u2006\u2008\u200a\u3000\t\n\r", " "),
        **dict.fromkeys("\u2033\u201c\u201d", '"'),
        **dict.fromkeys("\u2032\u2018\u2019", "'"),
        **dict.fromkeys("\u00ba\u02da", "°"),
        "\u2103": "°C",
        "\u2109": "°F",
        "％": "%",
        "，": ",",
        "．": ".",
        "＞": ">",
        "＜": "<",
        "≥": ">=",
        "≤": "<=",
        "…": "..",
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
        "⁄": "/",
    }
)

TRENDS = {
    "rising": "rising",
    "climbing": "rising",
    "falling": "falling",
    "dropping": "falling",
    "hunting": "hunting",
    "swinging": "hunting",
    "steady": "steady",
    "stable": "steady",
}

_BOUNDS = {
    ">=": "low",
    "=>": "low",
    ">": "low",
    "over": "low",
    "above": "low",
    "more than": "low",
    "at least": "low",
    "<=": "high",
    "=<": "high",
    "<": "high",
    "under": "high",
    "below": "high",
    "less than": "high",
    "at most": "high",
}

_BASES = {
    "dry": "dry",
    "wet": "wet",
    "air-free": "air-free",
    "airfree": "air-free",
    "air free": "air-free",
    "gross": "gross",
    "net": "net",
}

_TREND = re.compile(rf"(?:^|[\s,;]+)({'|'.join(TRENDS)})$", re.IGNORECASE)
_LEADING_TREND = re.compile(rf"^({'|'.join(TRENDS)})[\s,;]+", re.IGNORECASE)
_BOUND = re.compile(rf"^({'|'.join(_BOUNDS)})\s*(?=[-+–.,\d])", re.IGNORECASE)
_BASIS = re.compile(rf"(?:^|\s+|(?<=%))({'|'.join(_BASES)})$", re.IGNORECASE)
_RANGE = re.compile(
    r"^(?P<unit>(?:[^\d]|(?<=[a-z])\d)*?)(?P<mark>\s*\.{2,}\s*|\s+to\s+|\s+[-–]\s+|[-–])(?P<rest>[-+–]?\s?[.,]?\d.*)$",
    re.IGNORECASE,
)
_SECOND = re.compile(r"(?<![a-z\d])[-+–.,]*\d", re.IGNORECASE)
_PER = re.compile(r"^1[/·](?=[a-z])", re.IGNORECASE)
_ENDLESS = re.compile(r"^[-+–]?\s*(?:(?:nan|inf|infinity)\b|∞)", re.IGNORECASE)
_AFTER_LABEL = re.compile(r"\s*[:=]\s*|\s*(?=[<>])|\s+(?=[-+–.,\d])|$")
_DOUBT = re.compile(r"±|\+\s*/?\s*-")
_SUPERSCRIPT = re.compile(r"\d\s*[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]")


@dataclass(frozen=True, slots=True)
class _End:
    value: float
    unit: Unit
    decimals: int
    resolution: float


def parse(text: str, *, quantity: str | Quantity, default_unit: str | None = None) -> Typed:
    """A typed text as a reading of one quantity.

    text          as typed; kept
    quantity      registry name or entry; settles what a bare inch or a comma means
    default_unit  unit of a bare number; when not given that of the system stated (`bare.stated`), else the US unit
    -> Typed, in the canonical unit
    Fails         QuantityError with four parts, codes FW-Q-001 to FW-Q-014, and FW-Q-020
    """
    meant = of(quantity) if isinstance(quantity, str) else quantity
    bare = bare_number.unit_of(meant) if default_unit is None else unit_named(default_unit, quantity=meant)
    other = bare_number.other_unit(meant) if default_unit is None else None
    if len(text) > LONGEST:
        raise refusals.too_long(len(text), meant)
    clean = text.translate(MARKS).strip()
    if not clean:
        raise refusals.empty(meant)
    if _SUPERSCRIPT.search(clean):
        raise refusals.muddled_number(text, meant)
    if _DOUBT.search(clean):
        raise refusals.two_values(text, meant)
    clean, trend = _without_trend(clean)
    clean = _without_label(clean, meant)
    if not clean and trend:
        return Typed(text, meant.name, "trend", None, None, None, bare.symbol, trend, 0, 0.0)
    bound = _BOUND.match(clean)
    side = _BOUNDS[bound[1].lower()] if bound else ""
    return _Reader(text, meant, bare, other).read(clean[bound.end() :] if bound else clean, side, trend)


def single(text: str, *, quantity: str | Quantity, default_unit: str | None = None) -> Typed:
    """A typed text as one figure, where a range, a bound or a trend word would leave nothing to reckon with.

    text          as typed; kept
    quantity      registry name or entry
    default_unit  unit of a bare number, as in parse()
    -> Typed of the kind value, in the canonical unit; its value is never None
    Fails         QuantityError FW-Q-018 when it is not one figure, and all that parse() refuses
    """
    typed = parse(text, quantity=quantity, default_unit=default_unit)
    if typed.kind != "value":
        raise refusals.not_one_figure(text, typed.kind, of(typed.quantity))
    return typed


def plausible(typed: Typed) -> str | None:
    """The question to ask about a reading outside its plausible range; None when there is nothing to ask.

    typed -> a sentence ending with a question mark, or None
    """
    meant = of(typed.quantity)
    for value in (typed.value, typed.low, typed.high):
        if value is not None and not meant.low - 1e-12 <= value <= meant.high * (1.0 + 1e-9) + 1e-12:
            usual = band(quantity=meant, unit=unit_named(typed.unit, quantity=meant))
            return (
                f'"{typed.text}" for {meant.words} lies outside {usual}: {meant.why}. Is it what the instrument showed?'
            )
    return None


def _without_label(clean: str, meant: Quantity) -> str:
    """The text without the name of the quantity in front: O2: 4.3 %."""
    lower = clean.lower()
    for label in (*meant.aliases, meant.name):
        if lower.startswith(label) and _AFTER_LABEL.match(clean, len(label)):
            return clean[len(label) :].lstrip(" :=")
    return clean


def _without_trend(clean: str) -> tuple[str, str]:
    found = _TREND.search(clean)
    if found:
        return clean[: found.start()].strip(), TRENDS[found[1].lower()]
    found = _LEADING_TREND.match(clean)
    if found:
        return clean[found.end() :].strip(), TRENDS[found[1].lower()]
    return clean, ""


def _choices(token: str, mark: str) -> list[str]:
    """Both meanings of a figure with one mark before three digits, each so that it can be typed."""
    decimal = token.strip().replace(mark, ".")
    if mark == ".":
        decimal = decimal.rstrip("0").rstrip(".") if decimal.endswith("0") else decimal + "0"
    return [token.strip().replace(mark, ""), decimal]


class _Reader:
    """Reads the part of a text that holds numbers and units."""

    __slots__ = ("bare", "meant", "other", "text")

    def __init__(self, text: str, meant: Quantity, bare: Unit, other: Unit | None) -> None:
        self.text = text
        self.meant = meant
        self.bare = bare
        self.other = other

    def read(self, clean: str, side: str, trend: str) -> Typed:
        token, rest = self._number(clean)
        span = _RANGE.match(rest)
        if span and self._even(span["mark"], span["unit"]):
            if side:
                raise refusals.two_values(self.text, self.meant)
            return self._range(token, span["unit"], span["rest"], trend)
        if not side and rest.startswith("+"):
            side, rest = "low", rest[1:]
        end = self._end(token, self._unit_text(rest))
        if side:
            low, high = (end.value, None) if side == "low" else (None, end.value)
            return self._typed("bound", None, low, high, end, trend)
        return self._typed("value", end.value, None, None, end, trend)

    def _range(self, first: str, first_unit: str, rest: str, trend: str) -> Typed:
        second, tail = self._number(rest)
        if _RANGE.match(tail):
            raise refusals.two_values(self.text, self.meant)
        before, after = self._unit_text(first_unit), self._unit_text(tail)
        one, two = self._end(first, before or after), self._end(second, after or before)
        coarse = max(one, two, key=lambda end: end.resolution)
        low, high = sorted((one.value, two.value))
        decimals = max(one.decimals, two.decimals)
        return self._typed("range", None, low, high, _End(0.0, two.unit, decimals, coarse.resolution), trend)

    def _typed(
        self, kind: Kind, value: float | None, low: float | None, high: float | None, end: _End, trend: str
    ) -> Typed:
        return Typed(
            self.text, self.meant.name, kind, value, low, high, end.unit.symbol, trend, end.decimals, end.resolution
        )

    def _even(self, mark: str, unit: str) -> bool:
        """A lone hyphen joins a range only with the same space on both sides; "5 -2" is two values."""
        return mark.strip() not in "-–" or mark[0] == " " or not unit.endswith(" ")

    def _number(self, clean: str) -> tuple[str, str]:
        if _ENDLESS.match(clean):
            raise refusals.not_finite(self.text, self.meant)
        found = NUMBER.match(clean)
        if not found:
            raise refusals.no_number(self.text, self.meant)
        return found[0], clean[found.end() :]

    def _unit_text(self, rest: str) -> str:
        """What stands after the number, without basis and without the name of the quantity."""
        clean = rest.strip()
        if _SECOND.search(_PER.sub("/", clean)):  # the one of 1/h is no second value
            raise refusals.two_values(self.text, self.meant)
        return self._without_basis(self._without_name(self._without_basis(self._without_name(clean))))

    def _without_name(self, clean: str) -> str:
        lower = clean.lower()
        for label in self.meant.aliases:
            if lower == label or lower.endswith(f" {label}"):
                return clean[: len(clean) - len(label)].strip()
        return clean

    def _without_basis(self, clean: str) -> str:
        basis = _BASIS.search(clean)
        if not basis:
            return clean
        typed = _BASES[basis[1].lower()]
        if typed != self.meant.basis:
            raise refusals.other_basis(self.text, typed, self.meant)
        return clean[: basis.start()].strip()

    def _end(self, token: str, unit_text: str) -> _End:
        ends = self._ends(token, unit_text)
        if len({end.value for end in ends}) > 1:
            if len({end.unit.symbol for end in ends}) > 1:
                raise refusals.two_units(unit_text, self.meant, sorted({end.unit.symbol for end in ends}))
            raise refusals.two_numbers(self.text, self.meant, _choices(token, ","))
        end = ends[0]
        if self._perhaps_grouped(token, end.unit):
            raise refusals.two_numbers(self.text, self.meant, _choices(token, "."))
        if unit_text == "" and self._perhaps_share(figures(token)[0].value):
            raise refusals.share_or_percent(self.text, self.meant, figures(token)[0].value)
        if unit_text in ("", "°") and self._perhaps_other(figures(token)[0], end):
            raise refusals.two_degrees(self.text, self.meant, token.strip())
        if " " in token.strip("-+– ") and "/" not in token and not self._within(end):
            raise refusals.two_values(self.text, self.meant)
        self._check(end.value)
        return end

    def _ends(self, token: str, unit_text: str) -> list[_End]:
        """All ends the token can mean, narrowed by what the quantity makes likely."""
        found = figures(token)
        if not found:
            raise refusals.muddled_number(self.text, self.meant)
        units = [self.bare] if unit_text in ("", "°") else candidates(unit_text, quantity=self.meant)
        if not units:
            unit_named(unit_text, quantity=self.meant)
        ends = [self._of(figure, unit) for figure in found for unit in units]
        if not all(math.isfinite(end.value) and math.isfinite(end.resolution) for end in ends):
            raise refusals.not_finite(self.text, self.meant)
        exact = [end for end in ends if end.unit.symbol == unit_text]
        ends = exact or ends
        for likely in (self._coarse, self._usual, self._within):
            if len(ends) > 1:
                ends = [end for end in ends if likely(end)] or ends
        return ends

    def _of(self, figure: Figure, unit: Unit) -> _End:
        value = canonical(figure.value, unit=unit, quantity=self.meant)
        step = figure.step * per_unit(unit=unit, quantity=self.meant)
        return _End(value, unit, figure.decimals, step)

    def _perhaps_grouped(self, token: str, unit: Unit) -> bool:
        """Whether 1.200 may well be the twelve hundred of people who group thousands with points."""
        grouped = thousands(token)
        if grouped is None or not self._whole(unit):
            return False
        return self.meant.dimension == "fraction" or self._within(self._of(grouped, unit))

    def _perhaps_share(self, figure: float) -> bool:
        """Whether a bare 0.2 may well be a fifth and not 0.2 %."""
        return self.meant.name in SHARES and self.bare.symbol == "%" and 0.0 < figure < 1.0

    def _perhaps_other(self, figure: Figure, end: _End) -> bool:
        """Whether a bare figure may well be in the unit of the other system, and would then be another reading."""
        if self.other is None:
            return False
        one = self._of(figure, self.other)
        return self._within(one) and not math.isclose(one.value, end.value, abs_tol=1e-6)

    def _whole(self, unit: Unit) -> bool:
        return unit.symbol in WHOLE or (self.meant.name, unit.symbol) in WHOLE_OF

    def _coarse(self, end: _End) -> bool:
        return end.decimals < 3 or not self._whole(end.unit)

    def _usual(self, end: _End) -> bool:
        return end.unit.symbol in (self.bare.symbol, self.meant.shown_us, self.meant.shown_si)

    def _within(self, end: _End) -> bool:
        return self.meant.low <= end.value <= self.meant.high

    def _check(self, value: float) -> None:
        meant = self.meant
        if meant.dimension == "temperature" and value < -1e-12:
            raise refusals.absolute_zero(self.text, meant)
        below = meant.least is not None and (value < meant.least - 1e-12 or (meant.exclusive and value <= meant.least))
        if below or (meant.most is not None and value > meant.most + 1e-12):
            bounds = band(quantity=meant, unit=self.bare, hard=True)
            raise refusals.cannot_be(self.text, meant, bounds)


WHOLE = frozenset(
    (
        *("ppm", "ppb", "°F", "°C", "°R", "K", "Pa", "W", "J", "Btu", "Btu/h", "kcal/h", "ft", "cfh", "cfm", "mmHg"),
        *("mm w.c.", "mg/m3", "µg/m3", "mg/kWh", "ng/J", "Btu/ft3", "Btu/gal", "Btu/lb", "ft3/MMBtu"),
    )
)
"""Units in which no field instrument shows thousandths: three digits after a comma there are grouped thousands, and
three after a point may be: they are refused where a thousandfold value can be meant."""

WHOLE_OF = frozenset((("altitude", "m"), ("barometer", "mbar"), ("barometer", "hPa")))
"""The same for a unit of one quantity only."""

SHARES = frozenset(("moisture", "relative_humidity"))
"""Quantities whose values are never below 1 % in earnest and often written as a share: bare 0.2 is refused."""
