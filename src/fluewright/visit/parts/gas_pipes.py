"""The tables about gas supply: pressures, regulator, pipes and appliances on them."""

import difflib
from collections.abc import Mapping
from functools import partial
from typing import Any, cast, get_args

from fluewright.evidence.gas_given import At, LinePressure, State
from fluewright.evidence.gas_lines import GasLine, Load, Segment
from fluewright.evidence.gas_pressures import GasSupply
from fluewright.evidence.reading import Reading
from fluewright.evidence.sizes import need_rising
from fluewright.kernel.pipe_sizes import FITTINGS
from fluewright.visit import gas_typed
from fluewright.visit.gas_typed import Pipe
from fluewright.visit.place import surroundings_of
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

FORM = Form(
    tables={
        "gas_supply": ("set_point", "least", "most", "dwelling", "pressure", "segment", "load"),
        "gas_supply.pressure": ("at", "with", "pressure", "time"),
        "gas_supply.segment": ("name", "pipe", "inner_diameter", "length", "fittings", "feeds"),
        "gas_supply.load": ("name", "input", "here"),
    },
    required={
        "gas_supply.pressure": ("at", "with", "pressure"),
        "gas_supply.segment": ("name", "length", "feeds"),
        "gas_supply.load": ("name", "input"),
    },
    lists=("gas_supply.pressure", "gas_supply.segment", "gas_supply.load"),
)
DWELLINGS = ("", "single dwelling", "other building", "manufactured home")
Table = Mapping[str, Any]


def barometer_of(file: Source) -> float:
    """Pa at the place as the file has it, sea level where it has none or cannot be read."""
    table = file.table("place")
    typed = {key: str(table[key]) for key in ("altitude", "barometer") if key in table}
    try:
        return surroundings_of(**typed).pressure
    except Exception:
        return surroundings_of().pressure


def pressure(file: Source, place: str, table: Table, key: str, quantity: str = "line_pressure") -> Reading | None:
    """A gauge pressure with its unit; None when absent or not understood."""
    if key not in table:
        return None
    text = file.text(place, table, key)
    if gas_typed.unitless(text):
        file.gathered.add(
            code="FW-V-050",
            place=f"{place}, {key}",
            read=f"the gas pressure {text!r} without a unit",
            expected='a figure with its unit, such as "7.1 in w.c." or "20.3 mbar"',
            matters="inches of water and millibar differ by two and a half times, enough to hide an over-pressure",
            do="write the unit the gauge shows",
        )
        return None
    ask = partial(gas_typed.line_reading, text, barometer=barometer_of(file), quantity=quantity)
    return file.asked(f"{place}, {key}", ask)


def pipe(file: Source, place: str, table: Table) -> Pipe | None:
    """The pipe of a table, by its name or by its inside diameter; a problem is noted when it is neither or both."""
    inner = file.single(place, table, "inner_diameter", "inner_diameter")
    name = file.text(place, table, "pipe")
    known = gas_typed.pipe_named(name) if name else None
    if inner is not None and inner > 0.0 and not name:
        return gas_typed.pipe_of(inner)
    if known is not None and inner is None:
        return known
    near = difflib.get_close_matches(name, gas_typed.PIPES, 3, 0.3)
    file.gathered.add(
        code="FW-V-051",
        place=f"{place}, pipe",
        read=f"the pipe {name!r}"
        + (f" and the inside diameter {table['inner_diameter']!r}" if inner is not None else ""),
        expected="a pipe on file, near it are " + ", ".join(near or list(gas_typed.PIPES)[:3]) + "; or inner_diameter "
        "alone",
        matters="the drop goes with the fifth power of the inside diameter",
        do="write pipe or inner_diameter, not both",
    )
    return None


def _ratio(file: Source, place: str, table: Table) -> float:
    """Length over diameter of all fittings of a piece."""
    found = table.get("fittings", {})
    total = 0.0
    for name, count in found.items() if isinstance(found, Mapping) else [("fittings", found)]:
        whole = isinstance(count, int) and not isinstance(count, bool) and count >= 0
        if name in FITTINGS and whole:
            total += FITTINGS[name] * count
            continue
        file.gathered.add(
            code="FW-V-052",
            place=f"{place}, fittings",
            read=f"{name} = {count!r}",
            expected="how many of each, out of " + ", ".join(FITTINGS),
            matters="fittings can cost more than the pipe between them",
            do='write such as { "90 elbow" = 3, "ball valve" = 1 }',
        )
    return total


def _feeds(file: Source, place: str, table: Table, names: list[str]) -> tuple[str, ...]:
    found = table.get("feeds", [])
    rows = found if isinstance(found, list) else [found]
    strange = [each for each in rows if each not in names]
    if strange or not rows:
        file.gathered.add(
            code="FW-V-053",
            place=f"{place}, feeds",
            read=f"{strange[0]!r}, which no load is called" if strange else "no appliance behind this piece",
            expected="names out of " + (", ".join(names) or "[[gas_supply.load]], of which there is none"),
            matters="the flow in a piece of pipe is that of all appliances behind it",
            do="write the names of the loads that this piece feeds",
        )
        return ()
    return tuple(map(str, rows))


def _segment(file: Source, place: str, table: Table, names: list[str]) -> Segment | None:
    known, length = pipe(file, place, table), file.reading(place, table, "length", "length")
    ratio, feeds = _ratio(file, place, table), _feeds(file, place, table, names)
    if known is None or length is None or not feeds or not _positive(file, f"{place}, length", length):
        return None
    return Segment(
        file.text(place, table, "name"), known.words, length, known.inner_diameter, known.roughness, known.source,
        ratio, feeds, known.size,
    )  # fmt: skip


def _positive(file: Source, place: str, reading: Reading) -> bool:
    """Whether a reading is a figure above zero; noted when it is not."""
    return file.above_nothing(
        place,
        reading.figure,
        f"{reading.typed.text!r}",
        code="FW-V-054",
        matters="the drop along the pipe is worked out from it",
        do="measure it, or leave this piece out",
    )


def _line(file: Source, table: Table) -> GasLine | None:
    loads = []
    for place, row in file.rows("load", table, "gas_supply"):
        reading = file.reading(place, row, "input", "fuel_input")
        if reading is not None and _positive(file, f"{place}, input", reading):
            loads.append(Load(file.text(place, row, "name"), reading, bool(file.flag(place, row, "here"))))
    names = [load.name for load in loads]
    rows = file.rows("segment", table, "gas_supply")
    made = [_segment(file, place, row, names) for place, row in rows]
    segments = tuple(one for one in made if one is not None)
    for named, what in ((names, "load"), ([one.name for one in segments], "segment")):
        _once(file, named, f"gas_supply.{what}")
    if not segments or not loads or len(segments) != len(rows):
        return None
    line = GasLine(segments, tuple(loads))
    if line.way_to(line.here):
        return line
    file.gathered.add(
        code="FW-V-055",
        place="gas_supply.segment",
        read=f"no piece of pipe that feeds {line.here.name}",
        expected="the pieces from the meter to the appliance of this visit",
        matters="the drop to it would be nothing",
        do="add its name to feeds, or mark another load with here = true",
    )
    return None


def _once(file: Source, names: list[str], place: str) -> None:
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        file.gathered.add(
            code="FW-V-056",
            place=place,
            read=f"{twice!r} twice",
            expected="each once",
            matters="one of the two would be lost, or counted for the other",
            do="give each its own name, place, state or purpose",
        )


def _plate(file: Source, table: Table, key: str) -> Reading | None:
    """A pressure of a plate or a spring, which is above nothing."""
    found = pressure(file, "gas_supply", table, key)
    return found if found is not None and _positive(file, f"gas_supply, {key}", found) else None


def read(file: Source) -> tuple[GasSupply, ...]:
    """The gas supply of a visit file; nothing where it has none."""
    if "gas_supply" not in file.tree:
        return ()
    table = file.table("gas_supply")
    pressures = []
    for place, row in file.rows("pressure", table, "gas_supply"):
        at, state = (file.choice(place, row, key, get_args(kind)) for key, kind in (("at", At), ("with", State)))
        reading = pressure(file, place, row, "pressure")
        if reading is not None:
            pressures.append(LinePressure(cast(At, at), cast(State, state), reading, file.clock(place, row)))
    _once(file, [one.key for one in pressures], "gas_supply.pressure")
    set_point, least, most = (_plate(file, table, key) for key in ("set_point", "least", "most"))
    file.asked("gas_supply, least", lambda: need_rising(least, most, "pressures of the plate"))
    return (
        GasSupply(
            tuple(pressures),
            set_point,
            least,
            most,
            file.choice("gas_supply", table, "dwelling", DWELLINGS),
            _line(file, table),
        ),
    )
