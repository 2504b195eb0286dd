"""Reads a visit described in one TOML or JSON file; all problems are found in one pass and shown together."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Literal, cast, get_args

from fluewright.appliance.record import ApplianceClass
from fluewright.errors import Problems
from fluewright.evidence import checked, judge
from fluewright.evidence.lit import moment
from fluewright.evidence.reading import (
    EMERGENCY,
    SUPPLIER,
    Account,
    Appliance,
    Basis,
    Boundary,
    Instrument,
    Reading,
    Step,
    Stream,
    Stretch,
    Surroundings,
    TraceFile,
    Where,
)
from fluewright.fuels import plate
from fluewright.fuels.record import FuelRecord
from fluewright.quantity import bare, uncertain
from fluewright.record.draft import Draft
from fluewright.record.entry import Source as From
from fluewright.record.fold import Current, current
from fluewright.record.today import not_kept
from fluewright.visit import as_entries, from_entries, fuel_of, parts, traces
from fluewright.visit.named_points import class_in, events_in, point_in
from fluewright.visit.one_reading import WET
from fluewright.visit.parts import instrument as tried
from fluewright.visit.place import jacket_of, surroundings_of
from fluewright.visit.shape import check, form_of
from fluewright.visit.source import Source, tree_of
from fluewright.visit.traces import Steady

FORM = form_of(parts.FORMS)
"""Which tables and keys a visit may hold, those of every part of the job among them."""

System = Literal["us", "si"]
Texts = Mapping[str, Any]


def _surroundings(file: Source) -> Surroundings:
    place = file.table("place")
    typed = {key: file.text("place", place, key) for key in ("altitude", "barometer", "humidity") if key in place}
    return file.asked("place", lambda: surroundings_of(**typed)) or Surroundings()


def _above_nothing(file: Source, place: str, table: Texts, key: str, quantity: str) -> float | None:
    """A figure that must be more than nothing; None when it is absent or is not."""
    value = file.single(place, table, key, quantity)
    if value is None:
        return None
    matters, do = "limits and ends of a cell are found by it", "read the plate again, or leave it out"
    fine = file.above_nothing(f"{place}, {key}", value, f"{table[key]!r}", code="FW-V-017", matters=matters, do=do)
    return value if fine else None


def _instrument(file: Source) -> Instrument:
    table = file.table("instrument")
    compensated = file.choice("instrument", table, "hydrogen_compensated", ("unknown", "yes", "no"))
    zero = file.choice("instrument", table, "zero", ("", *checked.PLACES))
    cell = file.choice("instrument", table, "oxygen_cell", ("unknown", "partial pressure", "capillary"))
    checks = tried.checks_of(file)
    return Instrument(
        words=file.text("instrument", table, "words", "instrument not named"),
        accuracy=file.choice("instrument", table, "accuracy", ("service", *uncertain.class_names())),
        due=file.day("instrument", table, "calibration_due"),
        zero=checked.zero_place(zero, checks, _first(file)),
        hydrogen=cast(Literal["yes", "no", "unknown"], compensated),
        over_range_ppm=_above_nothing(file, "instrument", table, "over_range", "carbon_monoxide_dry"),
        trap=file.single("instrument", table, "trap", "trap_temperature"),
        oxygen_cell=cast(Literal["partial pressure", "capillary", "unknown"], cell),
        checks=checks,
    )


def _first(file: Source) -> str:
    """The time of the first readings, empty where one of them has none."""
    rows = [row for _, row in file.rows("stretch")] + [row for _, row in file.rows("reading", file.table("room"))]
    times = [str(row.get("time", "")) for row in rows]
    known = [(seconds, time) for time in times if (seconds := moment(time)) is not None]
    return min(known)[1] if known and len(known) == len(rows) else ""


MADE_TO = {"yes": True, "no": False, "unknown": None}
"""Whether a class is made to condense."""


def _burner(of_class: ApplianceClass | None) -> str:
    """The burner where none is said: the one that a class has, where it has only one."""
    return of_class.burners[0] if of_class is not None and len(of_class.burners) == 1 else "unknown"


def _plate(file: Source, fuel: FuelRecord | None) -> tuple[float | None, Literal["", "gross", "net"]]:
    """The gross input of the plate, and which of gross and net the plate itself states; empty where it may be both."""
    table = file.table("appliance")
    if "input" in table and "input_net" in table:
        file.gathered.add(
            code="FW-V-049",
            place="appliance, input",
            read="a gross and a net input of one plate",
            expected="the one that the plate states: input where it is gross, input_net where it is net",
            matters="of two inputs that do not belong together nobody knows which is the plate's",
            do="keep the one on the plate",
        )
    if fuel is None:
        return None, ""
    if "input_net" in table:
        power = _above_nothing(file, "appliance", table, "input_net", "fuel_input_net")
        return (None if power is None else plate.heat_input_from_net(power, fuel)), "net"
    if "input" not in table:
        return None, ""
    text = file.text("appliance", table, "input")
    power = file.asked("appliance, input", lambda: plate.heat_input_from(text, fuel))
    return power, "gross" if power is not None and plate.says_gross(text) else ""


def _appliance(file: Source, fuel: FuelRecord | None) -> Appliance:
    table, of_class = file.table("appliance"), class_in(file)
    condensing = file.flag("appliance", table, "condensing")
    plate_input, basis = _plate(file, fuel)
    return Appliance(
        words=file.text("appliance", table, "words"),
        burner=file.choice("appliance", table, "burner", (_burner(of_class), *judge.burners())),
        condensing=condensing if condensing is not None or of_class is None else MADE_TO[of_class.condensing],
        serial=file.text("appliance", table, "serial"),
        output=_above_nothing(file, "appliance", table, "output", "heat_output"),
        plate_input=plate_input,
        plate_basis=basis,
        carrier=cast(Literal["water", "air"], file.choice("appliance", table, "carrier", ("water", "air"))),
        kind=of_class.name if of_class is not None else "",
    )


def _jacket(file: Source) -> float:
    table = file.table("appliance")
    if "jacket" not in table:
        return 0.0
    text = file.text("appliance", table, "jacket")
    return file.asked("appliance, jacket", lambda: jacket_of(text)) or 0.0


def _trace(file: Source, place: str, row: Texts) -> TraceFile | None:
    """The trace of a stretch with its mapping; both stand beside the visit file."""
    if "trace" not in row:
        return None
    folder = file.path.parent
    mapping = str(folder / file.text(place, row, "mapping")) if "mapping" in row else ""
    return TraceFile(str(folder / file.text(place, row, "trace")), mapping)


def _recorded(file: Source, place: str, row: Texts, instrument: Instrument, system: System) -> Steady | None:
    """What the trace of a stretch gives; None where there is none."""
    trace = _trace(file, place, row)
    if trace is None:
        return None
    return file.asked(f"{place}, trace", lambda: traces.last_steady(trace, instrument, system=system))


def _fits(file: Source, place: str, row: Texts, basis: str, instrument: Instrument) -> None:
    """A sample behind a trap is not wet, and a mapping belongs to a trace."""
    if basis == "wet" and instrument.trap is not None:
        file.gathered.add(
            code="FW-V-015",
            place=f"{place}, basis",
            read="a wet sample, and an instrument with a water trap",
            expected="one of them",
            matters="a sample that passed a trap is no longer wet, and every gas counts differently",
            do='leave out the trap, or write basis = "dried to trap"',
        )
    if "mapping" in row and "trace" not in row:
        file.gathered.add(
            code="FW-V-016",
            place=f"{place}, mapping",
            read="a mapping without a trace",
            expected="the trace whose columns it names",
            matters="it would be left unread in silence",
            do='add trace = "...", or take the mapping out',
        )


def undried(reading: Reading) -> Reading:
    """A gas reading of a sample that was not dried, under its own name."""
    name = WET.get(reading.quantity, reading.quantity)
    return Reading(name, replace(reading.typed, quantity=name), reading.source)


def _stretch(file: Source, place: str, row: Texts, instrument: Instrument, system: System) -> Stretch:
    readings = file.readings(place, row.get("readings", {}))
    taken = _recorded(file, place, row, instrument, system)
    basis: str = "dried to trap" if instrument.trap is not None else "dry" if taken is None else taken.basis
    if "basis" in row:
        basis = file.choice(place, row, "basis", get_args(Basis))
    _fits(file, place, row, basis, instrument)
    if basis == "wet":
        readings = {WET.get(name, name): undried(reading) for name, reading in readings.items()}
    return Stretch(
        word=file.text(place, row, "word"),
        time=file.clock(place, row),
        point=point_in(file, place, row),
        readings=readings if taken is None else {**taken.readings, **readings},
        note=file.text(place, row, "note"),
        steady=file.text(place, row, "steady") or ("" if taken is None else taken.steady),
        bursts=() if taken is None else taken.bursts,
        boundary=cast(Boundary, file.choice(place, row, "boundary", get_args(Boundary))),
        basis=cast(Basis, basis),
        air_at=cast(Where, file.choice(place, row, "air_at", get_args(Where))),
        flue_at=cast(Where, file.choice(place, row, "flue_at", get_args(Where))),
        stream=cast(Stream, file.choice(place, row, "stream", get_args(Stream))),
    )


def _stretches(file: Source, instrument: Instrument, system: System) -> tuple[Stretch, ...]:
    """All stretches; there must be one, and each by a word of its own."""
    found = tuple(_stretch(file, place, row, instrument, system) for place, row in file.rows("stretch"))
    words = [stretch.word for stretch in found]
    twice = sorted({word for word in words if words.count(word) > 1})
    if twice or not (found or parts.any_in(file.tree)):
        file.gathered.add(
            code="FW-V-014",
            place="stretch",
            read=f"two stretches called {twice[0]!r}" if twice else "no stretch of readings",
            expected="one or more, each by a word of its own: as found, as left, low fire, ...",
            matters="findings and workings say by that word which readings they mean",
            do="add [[stretch]], or give each another word",
        )
    return found


def _words(file: Source, key: str) -> tuple[str, ...]:
    found = file.tree.get(key, [])
    rows = found if isinstance(found, list) else [found]
    return tuple(words for row in rows if (words := file.text("top level", {key: row}, key)))


def _steps(file: Source, name: str) -> tuple[Step, ...]:
    return tuple(
        Step(file.clock(place, row), file.text(place, row, "word"), file.text(place, row, "meant"))
        for place, row in file.rows(name)
    )


def named_in(path: Path) -> tuple[Path, ...]:
    """The files that a visit file names besides its traces: the fuel's own."""
    fuel = tree_of(path).get("fuel")
    named = fuel.get("file") if isinstance(fuel, Mapping) else None
    return (path.parent / str(named),) if named is not None else ()


def taken(file: Source) -> Account:
    """The account that a visit's tables tell, with every problem found in one pass.

    file  the tables of a visit; it notes what each value was understood as
    -> account; Problems with every fault found
    """
    check(file.tree, file.gathered, parts.FORMS)
    said = file.table("visit").get("units")
    with bare.stated(said if said in get_args(System) else None):
        return _account(file)


def _account(file: Source) -> Account:
    visit = file.table("visit")
    fuel = file.asked("fuel", lambda: fuel_of.from_table(file.table("fuel"), folder=file.path.parent))
    day = file.day("visit", visit, "date")
    instrument = _instrument(file)
    system = cast(System, file.choice("visit", visit, "units", get_args(System)))
    keys = ("title", "customer", "site", "technician", "jurisdiction")
    held: dict[str, Any] = {
        **{key: file.text("visit", visit, key) for key in keys},
        "appliance": _appliance(file, fuel),
        "instrument": instrument,
        "surroundings": _surroundings(file),
        "stretches": _stretches(file, instrument, system),
        "jacket": _jacket(file),
        "steps": _steps(file, "step"),
        "notes": _steps(file, "note"),
        "done": _words(file, "done"),
        "next": _words(file, "next"),
        "emergency": file.text("visit", visit, "emergency", EMERGENCY),
        "supplier": file.text("visit", visit, "supplier", SUPPLIER),
        "route": file.text("visit", visit, "route"),
        "system": system,
        "invented": bool(file.flag("visit", visit, "invented")),
        "traces": {
            file.text(place, row, "word"): trace
            for place, row in file.rows("stretch")
            if (trace := _trace(file, place, row)) is not None
        },
        "parts": parts.read(file),
        "events": events_in(file),
    }
    if file.gathered.errors or fuel is None or day is None:
        raise Problems(subject=file.path.name, errors=file.gathered.errors)
    return _watched(Account(fuel=fuel, day=day, **held))


def _watched(account: Account) -> Account:
    """A visit with what its traces showed; how steady each was is asked at the last row of what is kept of it."""
    if not account.traces:
        return account
    from fluewright.visit import watched  # without a trace nothing of it is needed

    ends = {
        word: traces.last_steady(trace, account.instrument, system=account.system).until
        for word, trace in account.traces.items()
    }
    return watched.told(account, ends)


def source_of(path: Path) -> Source:
    """A visit file read without a problem, with what each of its values was understood as.

    path  TOML, or JSON when it ends .json; form in docs/visit-file.md
    -> the file; Problems with every fault found, VisitError when it does not hold together
    """
    file = Source(path, tree_of(path))
    taken(file)
    return file


def entries_of(path: Path, *, source: From = "typed") -> Sequence[Draft]:
    """A visit file as entries for the journal, the visit's own first; errors as of `source_of`."""
    return as_entries.drafts_of(source_of(path), FORM, source=source)


def files_of(file: Source) -> dict[str, Path]:
    """The files that a visit names, by the name it gives them: traces, mappings, curves, the fuel's own."""
    rows = [*(file.table(name) for name in from_entries.HOLDING), *(row for _, row in file.rows("stretch"))]
    named = [str(row[key]) for row in rows for key in from_entries.NAMING if key in row]
    return {name: file.path.parent / name for name in dict.fromkeys(named)}


def account_of(entries: Sequence[Current], path: Path, *, files: Path | None = None) -> Account:
    """The account of a visit from its entries: the one way from readings to a sheet.

    entries  entries of one visit as they stand now, in their order
    path     names the visit in errors; traces and fuel files stand beside it
    files    folder of the journal's files, where those of a kept visit lie
    -> account; Problems when what is there cannot be judged yet
    """
    return taken(Source(path, from_entries.tree_of(entries, FORM, files)))


def read(path: Path) -> Account:
    """The account of a visit from its file, which passes the journal's forms on its way.

    path  TOML, or JSON when it ends .json; form in docs/visit-file.md
    -> account; Problems with every fault found, or VisitError when the file does not hold together
    """
    return account_of(current(not_kept(entries_of(path))), path)
