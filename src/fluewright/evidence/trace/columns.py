"""What each column is: quantity and unit guessed from its name, its unit and its numbers, always with the reason.

A guess is shown before anything is taken and can be corrected by a mapping. Where a unit is left open and the numbers
allow two, the column refuses the file with the choices: kelvin and fahrenheit must never be guessed between.
"""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.evidence.trace import measure
from fluewright.evidence.trace.survey import quantiles_of

_TEMPERATURE = r"\b(?:temp(?:eratur(?:e)?)?|temps)\b"
_RULES: tuple[tuple[str, str, str], ...] = (
    (
        r"set ?point|sollwert|target|limit|alarm|calibrat|serial|status|flag|battery",
        "",
        "a setting or a state, not a reading",
    ),
    (r"\b(?:o2|oxygen|sauerstoff)\b.*\b(?:wet|in situ|feucht)\b", "oxygen_wet", "oxygen, wet"),
    (r"\b(?:o2|oxygen|sauerstoff)\b", "oxygen_dry", "oxygen"),
    (r"\b(?:co2|carbon dioxide|kohlendioxid)\b", "carbon_dioxide_dry", "carbon dioxide"),
    (
        r"\b(?:room|ambient|raum|space)\b.*\b(?:co|carbon monoxide)\b",
        "carbon_monoxide_room",
        "carbon monoxide in the room",
    ),
    (
        r"\b(?:co|carbon monoxide|kohlenmonoxid)\b.*\b(?:air free|undiluted|unverdünnt|corrected)\b",
        "carbon_monoxide_air_free",
        "carbon monoxide, air-free",
    ),
    (r"\b(?:co|carbon monoxide|kohlenmonoxid)\b", "carbon_monoxide_dry", "carbon monoxide"),
    (r"\bnox\b|nitrogen oxides|stickoxide", "nitrogen_oxides_dry", "nitrogen oxides"),
    (r"\bno2\b|nitrogen dioxide", "nitrogen_dioxide_dry", "nitrogen dioxide"),
    (r"nitric oxide|\bno\b(?=$| ppm| dry)", "nitric_oxide_dry", "nitric oxide"),
    (
        rf"\b(?:flue|stack|exhaust|abgas|chimney|breech(?:ing)?|vent)\b.*{_TEMPERATURE}|{_TEMPERATURE}.*\b(?:flue|stack|exhaust|abgas)"
        r"|abgastemperatur|\bflue gas t\b|\bt (?:flue|stack|exhaust)\b",
        "flue_temperature",
        "flue temperature",
    ),
    (
        rf"\b(?:outdoors?|outside|ambient|außen|weather)\b.*{_TEMPERATURE}|außentemperatur|{_TEMPERATURE}.*\b(?:outdoors?|outside)\b",
        "outdoor_temperature",
        "outdoor temperature",
    ),
    (
        rf"\b(?:leaving|supply|flow|outlet|vorlauf)\b.*{_TEMPERATURE}|vorlauftemperatur",
        "supply_water_temperature",
        "water leaving",
    ),
    (
        rf"\b(?:entering|return|inlet|rücklauf)\b.*\bwater\b.*{_TEMPERATURE}|\b(?:return|entering|rücklauf)\b.*{_TEMPERATURE}"
        r"|rücklauftemperatur",
        "return_water_temperature",
        "water returning",
    ),
    (
        rf"\b(?:air|combustion|intake|room|zuluft|raum|burner)\b.*{_TEMPERATURE}|lufttemperatur|{_TEMPERATURE}.*\b(?:air|room)\b",
        "air_temperature",
        "combustion-air temperature",
    ),
    (r"firing rate|modulation|burner load|brennerleistung|\bload\b", "firing_rate", "firing rate"),
    (
        r"(?:efficiency|wirkungsgrad).*\b(?:net|lhv|lcv|hi|ncv)\b|\bnet\b.*efficiency",
        "efficiency_net",
        "efficiency on the net basis",
    ),
    (r"efficiency|wirkungsgrad", "efficiency_gross", "efficiency"),
    (r"\bdr(?:aft|aught)\b|\bzug\b", "draft", "draft"),
    (r"humidity|\brh\b|feuchte", "relative_humidity", "relative humidity"),
    (r"air ratio|lambda|luftzahl", "air_ratio", "air ratio"),
    (r"excess air|luftüberschuss", "excess_air", "excess air"),
)
_DRY = re.compile(r"\b(?:dry|trocken)\b")
_GASES = {
    "oxygen_dry",
    "carbon_dioxide_dry",
    "carbon_monoxide_dry",
    "nitrogen_oxides_dry",
    "nitric_oxide_dry",
    "nitrogen_dioxide_dry",
}
_BRACKET = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_TAILS = {
    "percent": "%",
    "pct": "%",
    "ppm": "ppm",
    "degc": "°C",
    "celsius": "°C",
    "c": "°C",
    "degf": "°F",
    "fahrenheit": "°F",
    "f": "°F",
    "k": "K",
    "kelvin": "K",
    "pa": "Pa",
    "kpa": "kPa",
    "mbar": "mbar",
    "fraction": "fraction",
    "inwc": "inwc",
}
_OPEN_UNITS = {
    "temperature": (("°C", -30.0, 900.0), ("°F", -20.0, 1700.0), ("K", 240.0, 1200.0)),
    "share": (("fraction", 0.0, 0.25), ("%", 0.3, 25.0), ("ppm", 3000.0, 250_000.0)),
    "trace": (("ppm", 0.0, 1e6),),
    "rate": (("fraction", 0.0, 1.05), ("%", 1.05, 130.0)),
}
"""Units a column without one may have, with the range of its 5th and 95th percentile (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Guess:
    """What a column is taken for. quantity: "" when not understood. choices: units that cannot be told apart."""

    quantity: str
    unit: str
    reason: str
    sure: bool = True
    choices: tuple[str, ...] = ()
    wrong_unit: str = ""


def plain(header: str) -> str:
    """A header in small letters with subscripts and separators undone: "Exhaust O₂_dry" -> "exhaust o2 dry"."""
    text = unicodedata.normalize("NFKC", header).casefold().replace("ß", "ss").replace("aussen", "außen")
    return re.sub(r"[\s_\-./,:;#|°%]+", " ", text).strip()


def slug(header: str) -> str:
    """A header as a plain name for a channel whose quantity is not known."""
    return re.sub(r"[^0-9a-z]+", "_", unicodedata.normalize("NFKD", header).lower()).strip("_") or "column"


def guess(
    header: str, *, unit_row: str = "", cell_unit: str = "", numbers: Sequence[float] = (), peer_unit: str = ""
) -> Guess:
    """What one column is.

    header     its name
    unit_row   what a line of units says below it, "" when there is none
    cell_unit  the unit most of its cells carry, "" when none
    numbers    a sample of its numbers as written
    peer_unit  the unit of other temperature columns of this file, "" when they have none or differ
    -> Guess
    """
    quantity, why = quantity_of(header)
    if not quantity:
        ambient = _ambient(header, unit_row or cell_unit or peer_unit, numbers)
        return ambient or Guess("", _bracketed(header) or unit_row or cell_unit, why or "the name tells no quantity")
    for source, unit in (("header", unit_in(header, quantity)), ("line of units", unit_row), ("cells", cell_unit)):
        if unit and measure.line(quantity, unit) is not None:
            return Guess(quantity, unit, f"{why}; unit {unit} from the {source}")
        if unit and source != "cells":
            return Guess(quantity, unit, why, sure=False, wrong_unit=unit)
    return _without_unit(quantity, why, numbers, peer_unit)


def quantity_of(header: str) -> tuple[str, str]:
    """The quantity a name tells, and why; "" with the reason why not when it is a setting or unknown here."""
    exact = measure.registered(slug(header))
    if exact:
        return exact, "registry name"
    words = plain(_BRACKET.sub(lambda m: f" {m[1]} " if not _is_unit(m[1]) else " ", header))
    for pattern, quantity, why in _RULES:
        match = re.search(pattern, words)
        if match is None:
            continue
        if quantity and not measure.known(quantity):
            return "", f"{why}: not a quantity of the registry"
        if quantity in _GASES and not _DRY.search(words):
            why += ", taken as dry because nothing says wet"
        if quantity == "efficiency_gross" and not re.search(r"gross|hhv|hcv|brennwert|hs\b", words):
            why += ", taken as gross because no basis is named"
        return quantity, f'"{match[0].strip()}" in the name: {why}' if quantity else why
    return "", ""


def unit_in(header: str, quantity: str) -> str:
    """The unit a header names for its quantity: in brackets, or behind the name as in oxygen_dry_percent."""
    bracketed = _bracketed(header)
    if bracketed:
        return bracketed
    tail = slug(header).rpartition("_")[2]
    if tail in _TAILS and "_" in slug(header):
        return _TAILS[tail]
    last = re.split(r"[\s,]+", header.strip())[-1]
    return last if len(last) < 8 and last != header and measure.line(quantity, last) is not None else ""


def _bracketed(header: str) -> str:
    return next((text.strip() for text in reversed(_BRACKET.findall(header)) if _is_unit(text)), "")


def _is_unit(text: str) -> bool:
    return measure.is_unit(text.strip())


def _ambient(header: str, unit: str, numbers: Sequence[float]) -> Guess | None:
    """A temperature that names no place, with outdoor values: most likely weather; marked as a guess."""
    if (
        not re.search(_TEMPERATURE, plain(_BRACKET.sub(" ", header)))
        or not numbers
        or not measure.known("outdoor_temperature")
    ):
        return None
    unit = _bracketed(header) or unit
    line = measure.line("outdoor_temperature", unit) if unit else None
    if line is None:
        return None
    low, high = quantiles_of([number * line[0] + line[1] for number in numbers], (0.05, 0.95))
    if not 230.0 < low <= high < 318.0:
        return None
    return Guess(
        "outdoor_temperature",
        unit,
        "a temperature of no named place with outdoor values: taken for outdoors",
        sure=False,
    )


def _without_unit(quantity: str, why: str, numbers: Sequence[float], peer_unit: str) -> Guess:
    """The unit from the numbers when only one is possible, else the choices."""
    kind = measure.kind(quantity)
    if kind == "number":
        return Guess(quantity, measure.canonical(quantity), f"{why}; it has no unit")
    if kind == "temperature" and peer_unit:
        return Guess(
            quantity, peer_unit, f"{why}; unit {peer_unit} as in the other temperatures of this file", sure=False
        )
    if not numbers or kind not in _OPEN_UNITS:
        return Guess(quantity, "", f"{why}; no unit", sure=False, choices=measure.choices(quantity))
    low, high = quantiles_of(list(numbers), (0.05, 0.95))
    possible = [
        unit
        for unit, least, most in _OPEN_UNITS[kind]
        if least <= high <= most and (kind != "temperature" or low >= least)
    ]
    if len(possible) == 1:
        return Guess(quantity, possible[0], f"{why}; {low:g} to {high:g} can only be {possible[0]}", sure=False)
    return Guess(quantity, "", f"{why}; no unit", sure=False, choices=tuple(possible) or measure.choices(quantity))


def shared_prefix(headers: Sequence[str]) -> str:
    """The words that most headers begin with, so that a table can leave them out; "" when there are none worth it."""
    best = ""
    for header in headers:
        words = header.split(" ")
        for count in range(1, len(words)):
            prefix = " ".join(words[:count]) + " "
            shared = sum(other.startswith(prefix) for other in headers)
            if shared >= 0.6 * len(headers) and shared > 2 and len(prefix) > len(best):
                best = prefix
    return best
