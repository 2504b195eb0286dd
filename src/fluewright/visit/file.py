"""Reads a visit described in one TOML or JSON file; all problems are found in one pass and shown together."""

import json
import tomllib
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any, Literal, cast, get_args

from fluewright.errors import FluewrightError, Problems, VisitError
from fluewright.evidence.reading import (
    Account,
    Appliance,
    Basis,
    Boundary,
    Instrument,
    Point,
    PointKind,
    Reading,
    Step,
    Stretch,
    Surroundings,
    Where,
)
from fluewright.fuels.record import FuelRecord
from fluewright.kernel.air import pressure_at_altitude
from fluewright.quantity import names, parse, uncertain
from fluewright.visit import fuel_of, traces
from fluewright.visit.shape import Gathered, check

System = Literal["us", "si"]


def _tree(path: Path) -> Mapping[str, Any]:
    """The file as nested tables, whatever of the two forms it is in."""
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise VisitError(
            code="FW-V-006",
            where=str(path),
            read=f"the file cannot be read: {error.strerror or error}",
            expected="a visit file in TOML or JSON",
            matters="there is nothing to judge",
            do="check the path and its permissions",
        ) from error
    try:
        text = raw.decode("utf-8-sig")
        tree = json.loads(text) if path.suffix.lower() == ".json" else tomllib.loads(text)
    except (UnicodeDecodeError, tomllib.TOMLDecodeError, json.JSONDecodeError, RecursionError) as error:
        raise VisitError(
            code="FW-V-007",
            where=str(path),
            read=f"the file does not hold together: {error}",
            expected="TOML, or JSON in a file ending .json, in UTF-8",
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


class _File:
    """One visit file being read: hands out values, notes problems, never stops at the first."""

    def __init__(self, path: Path, tree: Mapping[str, Any]) -> None:
        self.path = path
        self.tree = tree
        self.gathered = Gathered(path.name)

    def table(self, name: str) -> Mapping[str, Any]:
        """A table by name, empty when it is missing or no table."""
        found = self.tree.get(name, {})
        return found if isinstance(found, Mapping) else {}

    def rows(self, name: str) -> list[tuple[str, Mapping[str, Any]]]:
        """The tables of a list with their places."""
        found = self.tree.get(name, [])
        rows = found if isinstance(found, list) else []
        return [(f"{name} {i}", row) for i, row in enumerate(rows, 1) if isinstance(row, Mapping)]

    def quantity(self, place: str, table: Mapping[str, Any], key: str, quantity: str) -> float | None:
        """A typed value in its canonical unit; None when absent or not understood."""
        if key not in table:
            return None
        try:
            typed = parse.parse(str(table[key]), quantity=quantity)
        except FluewrightError as error:
            self.gathered.keep(f"{place}, {key}", error)
            return None
        return typed.value

    def choice(self, place: str, table: Mapping[str, Any], key: str, choices: tuple[str, ...]) -> str:
        """One of a few words; the first when absent."""
        word = str(table.get(key, choices[0]))
        if word not in choices:
            self.gathered.add(
                code="FW-V-009",
                place=f"{place}, {key}",
                read=f"{word!r}",
                expected="one of " + ", ".join(choices),
                matters="it decides what may be concluded",
                do="write one of these words",
            )
            return choices[0]
        return word

    def day(self, place: str, table: Mapping[str, Any], key: str) -> date | None:
        """A date, as TOML date or in ISO form."""
        value = table.get(key)
        if value is None or (isinstance(value, date)):
            return value
        try:
            return date.fromisoformat(str(value)[:10])
        except ValueError:
            self.gathered.add(
                code="FW-V-010",
                place=f"{place}, {key}",
                read=f"the date {value!r}",
                expected="year-month-day, such as 2026-11-25",
                matters="which rules apply and whether an instrument is in date hang on it",
                do="write it as year-month-day",
            )
            return None

    def readings(self, place: str, table: Any) -> dict[str, Reading]:
        """All readings of one stretch by registry name."""
        found: dict[str, Reading] = {}
        for key, value in table.items() if isinstance(table, Mapping) else ():
            try:
                quantity = names.named(str(key))
                found[quantity.name] = Reading(quantity.name, parse.parse(str(value), quantity=quantity.name))
            except FluewrightError as error:
                self.gathered.keep(f"{place}, readings, {key}", error)
        return found


def _surroundings(file: _File) -> Surroundings:
    place = file.table("place")
    altitude = file.quantity("place", place, "altitude", "altitude")
    barometer = file.quantity("place", place, "barometer", "barometer")
    humidity = file.quantity("place", place, "humidity", "relative_humidity")
    if barometer is not None:
        return Surroundings(barometer, 100.0, "typed", humidity, altitude)
    if altitude is not None:
        pressure = float(pressure_at_altitude(altitude=altitude))
        return Surroundings(pressure, 1_000.0, "from the altitude", humidity, altitude)
    return Surroundings(relative_humidity=humidity)


def _instrument(file: _File) -> Instrument:
    table = file.table("instrument")
    return Instrument(
        words=str(table.get("words", "instrument not named")),
        accuracy=file.choice("instrument", table, "accuracy", ("service", *uncertain.class_names())),
        due=file.day("instrument", table, "calibration_due"),
        zero=file.choice("instrument", table, "zero", ("", "outdoors", "doorway", "inside")),
        hydrogen=cast(
            Literal["yes", "no", "unknown"],
            file.choice("instrument", table, "hydrogen_compensated", ("unknown", "yes", "no")),
        ),
        over_range_ppm=file.quantity("instrument", table, "over_range", "carbon_monoxide_dry"),
        trap=file.quantity("instrument", table, "trap", "trap_temperature"),
    )


def _appliance(file: _File) -> Appliance:
    table = file.table("appliance")
    return Appliance(
        words=str(table.get("words", "")),
        burner=str(table.get("burner", "unknown")),
        condensing=bool(table.get("condensing", False)),
        serial=str(table.get("serial", "")),
        output=file.quantity("appliance", table, "output", "heat_output"),
        plate_input=file.quantity("appliance", table, "input", "fuel_input"),
        carrier=cast(Literal["water", "air"], file.choice("appliance", table, "carrier", ("water", "air"))),
    )


def _stretch(file: _File, place: str, row: Mapping[str, Any]) -> Stretch:
    readings = file.readings(place, row.get("readings", {}))
    steady = str(row.get("steady", ""))
    if "trace" in row:
        try:
            taken = traces.last_steady(file.path.parent / str(row["trace"]), mapping=row.get("mapping"))
        except FluewrightError as error:
            file.gathered.keep(f"{place}, trace", error)
        else:
            readings = {**taken.readings, **readings}
            steady = steady or taken.steady
    kind = file.choice(place, row, "point_kind", get_args(PointKind))
    basis = "dried to trap" if "basis" not in row and file.table("instrument").get("trap") else "dry"
    if "basis" in row:
        basis = file.choice(place, row, "basis", get_args(Basis))
    return Stretch(
        word=str(row.get("word", "")),
        time=str(row.get("time", "")),
        point=Point(str(row.get("point", "the flue")), cast(PointKind, kind)),
        readings=readings,
        note=str(row.get("note", "")),
        steady=steady,
        boundary=cast(Boundary, file.choice(place, row, "boundary", get_args(Boundary))),
        basis=cast(Basis, basis),
        air_at=cast(Where, file.choice(place, row, "air_at", get_args(Where))),
        flue_at=cast(Where, file.choice(place, row, "flue_at", get_args(Where))),
    )


def _fuel(file: _File) -> FuelRecord | None:
    try:
        return fuel_of.from_table(file.table("fuel"), folder=file.path.parent)
    except FluewrightError as error:
        file.gathered.keep("fuel", error)
        return None


def _words(file: _File, key: str) -> tuple[str, ...]:
    found = file.tree.get(key, ())
    return tuple(str(word) for word in found) if isinstance(found, list) else (str(found),) if found else ()


def read(path: Path) -> Account:
    """The account of a visit from its file.

    path  TOML, or JSON when it ends .json; form in docs/visit-file.md
    -> account; Problems with every fault found, or VisitError when the file does not hold together
    """
    file = _File(path, _tree(path))
    check(file.tree, file.gathered)
    visit = file.table("visit")
    fuel = _fuel(file)
    day = file.day("visit", visit, "date")
    stretches = tuple(_stretch(file, place, row) for place, row in file.rows("stretch"))
    account_parts = {
        "appliance": _appliance(file),
        "instrument": _instrument(file),
        "surroundings": _surroundings(file),
        "jacket": file.quantity("appliance", file.table("appliance"), "jacket", "loss_jacket") or 0.0,
        "system": file.choice("visit", visit, "units", get_args(System)),
    }
    if file.gathered.errors or fuel is None or day is None:
        raise Problems(subject=path.name, errors=file.gathered.errors)
    return Account(
        title=str(visit["title"]),
        customer=str(visit.get("customer", "")),
        site=str(visit.get("site", "")),
        day=day,
        technician=str(visit.get("technician", "")),
        fuel=fuel,
        stretches=stretches,
        jurisdiction=str(visit.get("jurisdiction", "")),
        steps=tuple(
            Step(str(r.get("time", "")), str(r.get("word", "")), str(r.get("meant", ""))) for _, r in file.rows("step")
        ),
        notes=tuple(Step(str(r.get("time", "")), str(r.get("word", ""))) for _, r in file.rows("note")),
        done=_words(file, "done"),
        next=_words(file, "next"),
        emergency=str(visit.get("emergency", "the local emergency number")),
        supplier=str(visit.get("supplier", "the gas or fuel supplier")),
        route=str(visit.get("route", "annual")),
        invented=bool(visit.get("invented", False)),
        traces={
            str(r["word"]): str(file.path.parent / str(r["trace"])) for _, r in file.rows("stretch") if "trace" in r
        },
        **cast(Any, account_parts),
    )
