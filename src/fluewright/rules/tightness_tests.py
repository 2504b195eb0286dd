"""How gas pipes are to be tested for tightness: pressure, time, what the gauge may do; by country, edition and volume.

A test is more than one limit, so these have a form of their own, read as strictly as the rule books.
"""

import datetime
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, Literal, get_args

from fluewright.errors import FluewrightError, Problems, QuantityError, RuleError
from fluewright.quantity import parse
from fluewright.rules import currency
from fluewright.rules.schema import CURRENT, OPEN, UNKNOWN, Citation, Known, Layer, Severity, line_of

Purpose = Literal["load", "tightness", "let-by", "meter", "bubbles"]
"""load: strength before fittings; tightness: the gauge must stand; let-by: a shut valve; meter: its dial must stand;
bubbles: soap water on each connection."""

Pipes = Literal["new", "in use", "any"]
Appliances = Literal["off", "on", "any"]

Edge = Literal["to", "from"]

NONE = "none"
"""Where a row sets no such bound."""


@dataclass(frozen=True, slots=True)
class TightnessTest:
    """One test as its text has it; pressures in Pa, times in s, volumes in m3.

    gases            "natural gas", "propane", "butane"; empty for any
    pipes            new or in use
    appliances       shut off from the test, or connected
    dwellings        kinds of house or plant it is for; empty for any
    meters           kinds of meter in the section; empty for any
    dial_to          largest turn of the dial, for the meter; None for any
    volume_over      of the section, least; None for any
    volume_to        greatest
    volume_edge      which of the two ends belongs to the band: "to", or "from"
    pressure_from    least test pressure, gauge; None where the text sets none
    pressure_to      greatest
    times_working    least share of the working pressure
    working_over     Pa working pressure that the text begins above, None for none; then it has to be known
    working_to       Pa up to which it speaks, None for any
    settle           s to wait before the first reading
    duration         s between the readings, at least
    duration_volume  m3 for each of which the duration is asked once; None where it is fixed
    duration_most    s, cap
    fall             Pa allowed; 0 where none may be perceptible
    perceptible      Pa that counts as movement
    gauge_step       Pa that the gauge must show; None where the text says nothing
    times_known      how settle and duration are known
    current          whether the text read is the one in force
    only             conditions in words that a person has to judge
    """

    id: str
    layer: Layer
    jurisdiction: str
    purpose: Purpose
    words: str
    medium: str
    gases: tuple[str, ...]
    pipes: Pipes
    appliances: Appliances
    dwellings: tuple[str, ...]
    meters: tuple[str, ...]
    dial_to: float | None
    volume_over: float | None
    volume_to: float | None
    volume_edge: Edge
    pressure_from: float | None
    pressure_to: float | None
    times_working: float
    working_over: float | None
    working_to: float | None
    settle: float
    duration: float
    duration_volume: float | None
    duration_most: float | None
    fall: float
    perceptible: float
    gauge_step: float | None
    citation: Citation
    known: Known
    times_known: Known
    current: currency.Current
    valid_from: datetime.date | None
    valid_until: datetime.date | None
    only: str
    text: str
    severity: Severity

    def of_volume(self, volume: float) -> bool:
        """Whether a section of this volume lies in the band of the text."""
        low, high = self.volume_over or 0.0, self.volume_to or float("inf")
        return low <= volume < high if self.volume_edge == "from" else low < volume <= high

    def duration_for(self, volume: float | None) -> float:
        """s between the readings, at least, for a section of this volume; without a volume the least that is asked."""
        if self.duration_volume is None or volume is None:
            return self.duration
        asked = self.duration * max(1.0, volume / self.duration_volume)
        return asked if self.duration_most is None else min(asked, self.duration_most)

    def pressure_least(self, working: float | None) -> float | None:
        """Pa gauge, the least test pressure for a line that works at this; None where the text sets none."""
        if self.pressure_from is None or working is None:
            return self.pressure_from
        return max(self.pressure_from, self.times_working * working)

    def clears(self) -> bool:
        """Whether passing it may be called fine: text of the place, in force, that somebody has read, its times too."""
        read = self.known == "read" == self.times_known and self.layer in ("law", "programme")
        return read and currency.stands(self.current)


_QUANTITIES = {
    "dial_to": "meter_dial", "volume_over": "pipe_volume", "volume_to": "pipe_volume",
    "working_over": "test_pressure", "working_to": "test_pressure",
    "pressure_from": "test_pressure", "pressure_to": "test_pressure", "settle": "duration", "duration": "duration",
    "duration_volume": "pipe_volume", "duration_most": "duration", "fall": "pressure_fall",
    "perceptible": "pressure_fall", "gauge_step": "pressure_fall",
}  # fmt: skip
_NEVER_NONE = ("settle", "duration", "fall", "perceptible")
_LISTS = ("gases", "dwellings", "meters")
_DATES = {"valid_from": UNKNOWN, "valid_until": OPEN}
_CHOICES: Mapping[str, tuple[str, ...]] = {
    "layer": get_args(Layer),
    "purpose": get_args(Purpose),
    "pipes": get_args(Pipes),
    "appliances": get_args(Appliances),
    "known": get_args(Known),
    "times_known": get_args(Known),
    "severity": get_args(Severity),
    "volume_edge": get_args(Edge),
}
_FIELDS = tuple(TightnessTest.__dataclass_fields__)


def _problem(where: str, read: str, expected: str) -> RuleError:
    return RuleError(
        code="FW-B-020",
        read=read,
        expected=expected,
        matters="a tightness test that is half known would pass a leaking pipe",
        do="mend the row at this line; docs/method/gas-pipes.md lists the fields of a test",
        where=where,
    )


def _figure(table: Mapping[str, Any], name: str) -> float | None:
    """A field with a unit in canonical units, None for the word none."""
    text = str(table[name])
    return None if text == NONE else parse.single(text, quantity=_QUANTITIES[name]).value


def _of_words(table: Mapping[str, Any], where: str) -> Iterator[RuleError]:
    for name in _FIELDS:
        if name not in table:
            yield _problem(where, f"no {name}", f"{name}, and every other field of a test")
    for name in table:
        if name not in _FIELDS:
            yield _problem(where, f"the unknown field {name!r}", f"one of {', '.join(_FIELDS)}")
    for name, choices in _CHOICES.items():
        if name in table and table[name] not in choices:
            yield _problem(where, f"{name} = {table[name]!r}", f"one of {', '.join(choices)}")
    for name in _LISTS:
        if not isinstance(table.get(name, []), list):
            yield _problem(where, f"{name} = {table[name]!r}", "a list of words, empty for any")
    if "current" in table and not currency.is_one(table["current"]):
        yield _problem(where, f"current = {table['current']!r}", CURRENT)
    for name, word in _DATES.items():
        if name in table and table[name] != word and not isinstance(table[name], datetime.date):
            yield _problem(where, f"{name} = {table[name]!r}", f'a date, or the word "{word}"')


def _of_figures(table: Mapping[str, Any], where: str) -> Iterator[RuleError]:
    citation = table.get("citation")
    if "citation" in table and (not isinstance(citation, dict) or set(citation) != {"document", "clause", "edition"}):
        yield _problem(where, f"citation = {citation!r}", "document, clause and edition, no more")
    if not isinstance(table.get("times_working", 0.0), int | float):
        yield _problem(where, f"times_working = {table['times_working']!r}", "a number, 0 for none")
    for name in _QUANTITIES:
        if name not in table:
            continue
        try:
            value = _figure(table, name)
        except QuantityError as error:
            yield _problem(where, f"{name} = {table[name]!r}", error.expected)
            continue
        if value is None and name in _NEVER_NONE:
            yield _problem(where, f"{name} = {table[name]!r}", "a figure with its unit, 0 where it is nothing")


def _test(table: Mapping[str, Any]) -> TightnessTest:
    made = dict(table)
    made |= {name: _figure(table, name) for name in _QUANTITIES}
    made |= {name: tuple(table[name]) for name in _LISTS}
    made |= {name: None if isinstance(table[name], str) else table[name] for name in _DATES}
    made |= {"citation": Citation(**table["citation"]), "times_working": float(table["times_working"])}
    return TightnessTest(**made)


def tests_of(*, text: str, file: str) -> tuple[TightnessTest, ...]:
    """The tests of one file, strictly.

    text  TOML: title, and a list `tests`
    file  its name, for messages
    -> tests in the order of the file; RuleError for one problem, Problems for several, each with its line
    """
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _problem(file, str(error), "TOML without a repeated key") from error
    found: list[FluewrightError] = []
    seen: dict[str, int] = {}
    for key in set(document) - {"title", "tests"}:
        found.append(_problem(file, f"the unknown table {key!r}", "title and tests"))
    for table in document.get("tests", []):
        label = str(table.get("id", ""))
        seen[label] = seen.get(label, 0) + 1
        line = line_of(text=text, words=f'id = "{label}"', occurrence=seen[label])
        where = f"{file}:{line}"
        found += [*_of_words(table, where), *_of_figures(table, where)]
        if seen[label] > 1:
            found.append(_problem(where, f"{label} a second time", "an id of its own"))
    if len(found) == 1:
        raise found[0]
    if found:
        raise Problems(subject=file, errors=found)
    return tuple(map(_test, document.get("tests", [])))


@cache
def tests() -> tuple[TightnessTest, ...]:
    """Every test that came with the program."""
    folder = resources.files("fluewright.rules") / "tightness"
    files = sorted((one for one in folder.iterdir() if one.name.endswith(".toml")), key=lambda one: one.name)
    return tuple(
        test
        for one in files
        for test in tests_of(text=one.read_text(encoding="utf-8"), file=f"rules/tightness/{one.name}")
    )


def test_named(id: str) -> TightnessTest:
    """One test by id; RuleError when no file has it."""
    found = next((test for test in tests() if test.id == id), None)
    if found is None:
        raise RuleError(
            code="FW-B-021",
            read=f"the tightness test {id!r}",
            expected="one of " + ", ".join(test.id for test in tests()),
            matters="nothing can be judged by a test that is not written down",
            do="take one of these, or leave it out",
        )
    return found
