"""A visit file being read: its tables and values, with every problem noted and none of them in the way of the next."""

import json
import math
import tomllib
from collections.abc import Callable, Mapping
from datetime import date, datetime, time
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from fluewright.errors import FluewrightError, VisitError
from fluewright.evidence import papers
from fluewright.evidence.lit import moment
from fluewright.evidence.reading import Reading
from fluewright.quantity import names, parse
from fluewright.quantity.meaning import Typed
from fluewright.visit.place import FIRST_YEAR, LAST_YEAR, day_of
from fluewright.visit.shape import Gathered

Answer = TypeVar("Answer")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """A JSON object whose keys stand once each."""
    table = dict(pairs)
    if len(table) != len(pairs):
        keys = [key for key, _ in pairs]
        raise ValueError(f"the key {next(k for k in keys if keys.count(k) > 1)!r} stands there twice")
    return table


def tree_of(path: Path) -> Mapping[str, Any]:
    """The file as nested tables, whatever of the two forms it is in.

    path  TOML, or JSON when it ends .json
    -> tables; VisitError when it cannot be read or does not hold together
    """
    try:
        raw = path.read_bytes()
    except (OSError, ValueError) as error:
        raise VisitError(
            code="FW-V-006",
            where=repr(str(path)) if "\0" in str(path) else str(path),
            read=f"the file cannot be read: {getattr(error, 'strerror', None) or error}",
            expected="a visit file in TOML or JSON",
            matters="there is nothing to judge",
            do="check the path and its permissions",
        ) from error
    try:
        text = raw.decode("utf-8-sig")
        as_json = path.suffix.lower() == ".json"
        tree = json.loads(text, object_pairs_hook=_once) if as_json else tomllib.loads(text)
        repr(tree)  # an integer of thousands of digits cannot be said, not even in an error
    except (ValueError, RecursionError) as error:
        raise VisitError(
            code="FW-V-007",
            where=str(path),
            read=f"the file does not hold together: {error}",
            expected="TOML, or JSON in a file ending .json, in UTF-8, every key once",
            matters="a file understood in part would lose readings in silence",
            do="mend the line named and run the command again",
        ) from error
    if not isinstance(tree, dict):
        raise VisitError(
            code="FW-V-008",
            where=str(path),
            read=f"the file holds {type(tree).__name__} at its top",
            expected="tables named visit, appliance, fuel, stretch, ...",
            matters="there is no telling what belongs to what",
            do="see docs/visit-file.md for a complete example",
        )
    return tree


def _reading(key: str, text: str) -> Reading:
    quantity = names.named(key)
    if quantity.name == papers.QUANTITY:
        return papers.reading_of(text)
    return Reading(quantity.name, parse.parse(text, quantity=quantity.name))


class Source:
    """One visit file being read: hands out values, notes problems, never stops at the first.

    read_as  what each value was understood as, by the table it stands in and its key; for the journal
    """

    def __init__(self, path: Path, tree: Mapping[str, Any]) -> None:
        self.path = path
        self.tree = tree
        self.gathered = Gathered(path.name)
        self.read_as: dict[tuple[int, str], Typed] = {}

    def table(self, name: str, within: Mapping[str, Any] | None = None) -> Mapping[str, Any]:
        """A table by name, at the top or within another one; empty when it is missing or no table."""
        found = (self.tree if within is None else within).get(name, {})
        return found if isinstance(found, Mapping) else {}

    def rows(
        self, name: str, within: Mapping[str, Any] | None = None, place: str = ""
    ) -> list[tuple[str, Mapping[str, Any]]]:
        """The tables of a list with their places; place: that of the table they stand in."""
        found = (self.tree if within is None else within).get(name, [])
        rows = found if isinstance(found, list) else []
        head = f"{place}, {name}" if place else name
        return [(f"{head} {i}", row) for i, row in enumerate(rows, 1) if isinstance(row, Mapping)]

    def asked(self, place: str, ask: Callable[[], Answer]) -> Answer | None:
        """What another room makes of a value; None, with its problem noted, when it refuses."""
        try:
            return ask()
        except FluewrightError as error:
            self.gathered.keep(place, error)
            return None

    def single(self, place: str, table: Mapping[str, Any], key: str, quantity: str) -> float | None:
        """One figure in its canonical unit; None when absent or not understood."""
        if key not in table:
            return None
        text = self.text(place, table, key)
        typed = self.asked(f"{place}, {key}", lambda: parse.single(text, quantity=quantity))
        return None if typed is None else self._noted(table, key, typed).value

    def _noted(self, table: Mapping[str, Any], key: str, typed: Typed) -> Typed:
        self.read_as[id(table), key] = typed
        return typed

    def reading(self, place: str, table: Mapping[str, Any], key: str, quantity: str) -> Reading | None:
        """One reading of a stated quantity, whatever its key; ranges, bounds and trend words too; None when absent."""
        if key not in table:
            return None
        text = self.text(place, table, key)
        typed = self.asked(f"{place}, {key}", lambda: parse.parse(text, quantity=quantity))
        return None if typed is None else Reading(quantity, self._noted(table, key, typed))

    def above_nothing(
        self, place: str, figure: float | None, read: str, *, code: str, matters: str, do: str, expected: str = ""
    ) -> bool:
        """Whether a figure is more than nothing; noted when it is not, or when there is none."""
        if figure is not None and figure > 0.0:
            return True
        said = expected or "a figure above zero"
        self.gathered.add(code=code, place=place, read=read, expected=said, matters=matters, do=do)
        return False

    def text(self, place: str, table: Mapping[str, Any], key: str, default: str = "") -> str:
        """A text or a number as text; the default when absent."""
        value = table.get(key, default)
        plain = isinstance(value, str | int | float | date) and not isinstance(value, bool)
        plain = plain and not (isinstance(value, float) and not math.isfinite(value))
        if plain and all(sign.isprintable() or sign in "\n\t" for sign in str(value)):
            return str(value)
        self.gathered.add(
            code="FW-V-011",
            place=f"{place}, {key}",
            read=f"{value!r}",
            expected="a text in quotes, or a number, without control characters",
            matters="it is printed on the record as it stands",
            do="write it as plain text in quotes",
        )
        return default

    def clock(self, place: str, table: Mapping[str, Any], key: str = "time") -> str:
        """A time of day as typed; empty when absent."""
        value = table.get(key)
        typed = value.isoformat() if isinstance(value, time) else self.text(place, table, key)
        if not typed or moment(typed) is not None:
            return typed
        self.gathered.add(
            code="FW-V-018",
            place=f"{place}, {key}",
            read=f"{typed!r}",
            expected="a time of day, 00:00 to 23:59, such as 09:41 or 09:41:30",
            matters="it says what came first, and how long after lighting a reading was taken",
            do="write hours and minutes with a colon, or leave it out",
        )
        return ""

    def flag(self, place: str, table: Mapping[str, Any], key: str) -> bool | None:
        """True or false; None when absent."""
        value = table.get(key)
        if value is None or isinstance(value, bool):
            return value
        self.gathered.add(
            code="FW-V-012",
            place=f"{place}, {key}",
            read=f"{value!r}",
            expected="true or false, without quotes",
            matters="a word in its place would count as true, whatever it says",
            do="write true or false",
        )
        return None

    def choice(self, place: str, table: Mapping[str, Any], key: str, choices: tuple[str, ...]) -> str:
        """One of a few words; the first when absent."""
        word = self.text(place, table, key, choices[0])
        if word not in choices:
            self.gathered.add(
                code="FW-V-009",
                place=f"{place}, {key}",
                read=f"{word!r}",
                expected="one of " + ", ".join(one or repr(one) for one in choices),
                matters="it decides what may be concluded",
                do="write one of these words",
            )
            return choices[0]
        return word

    def day(self, place: str, table: Mapping[str, Any], key: str) -> date | None:
        """A date, as TOML date or in ISO form."""
        value = table.get(key)
        if value is None:
            return None
        found = day_of(value.date() if isinstance(value, datetime) else value)
        if found is None:
            self.gathered.add(
                code="FW-V-010",
                place=f"{place}, {key}",
                read=f"the date {str(value)!r}",
                expected=f"year-month-day, {FIRST_YEAR} to {LAST_YEAR}, such as 2026-11-25",
                matters="which rules apply and whether an instrument is in date hang on it",
                do="write it as year-month-day",
            )
        return found

    def readings(self, place: str, table: Any) -> dict[str, Reading]:
        """All readings of one stretch by registry name."""
        found: dict[str, Reading] = {}
        if not isinstance(table, Mapping):
            self._misread(place, repr(table), 'a table such as { o2 = "5.0 %", stack = "400 F" }')
            return found
        for key in table:
            here = f"{place}, readings, {key}"
            listed = isinstance(table[key], list) and str(key) in papers.KEYS
            text = papers.listed(table[key]) if listed else self.text(f"{place}, readings", table, key)
            reading = self.asked(here, partial(_reading, str(key), text))
            if reading is not None and reading.quantity in found:
                words = names.of(reading.quantity).words
                self._misread(here, f"{key}, after the same under another name", f"{words} once")
            elif reading is not None:
                found[reading.quantity] = reading
                self._noted(table, str(key), reading.typed)
        return found

    def _misread(self, place: str, read: str, expected: str) -> None:
        self.gathered.add(
            code="FW-V-013",
            place=place,
            read=read,
            expected=expected,
            matters="one of two readings would be lost in silence",
            do="keep the one that was read, under one name",
        )
