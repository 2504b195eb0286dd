"""Values of the gas side as people write them: dials and pulses, drills, tables of heights, plates by volume."""

import itertools
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from fluewright.evidence.gas_holes import Hole
from fluewright.evidence.reading import Reading
from fluewright.evidence.sizes import Size, need
from fluewright.fuels import plate
from fluewright.fuels.record import FuelRecord
from fluewright.quantity import parse
from fluewright.rules import drills
from fluewright.visit import fuel_of
from fluewright.visit.source import Source

Table = Mapping[str, Any]

_BARE = re.compile(r"\s*[-+]?[\d.,]+\s*")
_ATMOSPHERE = (80_000.0, 115_000.0)
"""Pa: a gauge reading in this span is likely the barometer with it (common practice, no source)."""


def number(file: Source, place: str, table: Table, key: str) -> float | None:
    """A plain number above zero, such as a count of turns; None when absent or not understood."""
    if key not in table:
        return None
    text = file.text(place, table, key).strip()
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if 0.0 < value < 1e9:
        return value
    file.gathered.add(
        code="FW-V-040",
        place=f"{place}, {key}",
        read=f"{key} = {text!r}",
        expected="a number above zero, without unit",
        matters="the volume counted or the gas passed is multiplied by it",
        do="write it as a number, such as 2",
    )
    return None


def figured(file: Source, place: str, table: Table, key: str, quantity: str) -> Reading | None:
    """A reading with a figure: a trend word alone leaves nothing to reckon with."""
    reading = file.reading(place, table, key, quantity)
    if reading is None or reading.figure is not None:
        return reading
    file.gathered.add(
        code="FW-V-048",
        place=f"{place}, {key}",
        read=f"{reading.typed.text!r} without a figure",
        expected="a figure, a range or a bound, with a trend word behind it where it moved",
        matters="heat input is reckoned from it",
        do="write what the gauge showed, such as 3.2..3.8 inwc hunting",
    )
    return None


def gauge(file: Source, place: str, table: Table, key: str) -> Reading | None:
    """A gas pressure above the barometer; one that looks absolute is asked about."""
    reading = figured(file, place, table, key, "gas_pressure")
    value = (reading.figure or 0.0) if reading is not None else 0.0
    if reading is None or reading.typed.unit in ("psig", "barg"):
        return reading
    if _ATMOSPHERE[0] <= value <= _ATMOSPHERE[1]:
        file.gathered.add(
            code="FW-V-041",
            place=f"{place}, {key}",
            read=f"{reading.typed.text!r}, which looks like an absolute pressure",
            expected="pressure above the barometer, such as 7 inwc or 20 mbar",
            matters="the barometer would be counted twice, and the input doubled",
            do="take the barometer off, or write psig or barg if the gauge really shows that",
        )
        return None
    return reading


def above_room(file: Source, place: str, table: Table, key: str) -> Reading | None:
    """A gas pressure that must be above that of the room."""
    reading = gauge(file, place, table, key)
    if reading is None or (reading.figure or 0.0) > 0.0:
        return reading
    file.gathered.add(
        code="FW-V-039",
        place=f"{place}, {key}",
        read=f"{reading.typed.text!r}",
        expected="a pressure above that of the room, such as 3.5 inwc",
        matters="gas flows towards the room, so a line at or below its pressure has no gas, or the gauge is off",
        do="zero the gauge with its hose open and read again; a burner that draws its gas has no manifold pressure: "
        "leave both out",
    )
    return None


def need_height_with_unit(file: Source) -> None:
    """Height without a unit: 1600 may be feet or metres."""
    typed = str(file.table("place").get("altitude", "1 m"))
    if _BARE.fullmatch(typed):
        file.gathered.add(
            code="FW-V-042",
            place="place, altitude",
            read=f"an altitude of {typed.strip()} without a unit",
            expected=f"{typed.strip()} ft or {typed.strip()} m",
            matters="a metre is three feet: the gas in the meter and the input allowed would be those of another place",
            do="write the unit",
        )


def counted(file: Source, place: str, table: Table) -> Reading | None:
    """The volume counted: as such, by turns of a dial, by pulses, or between two readings of the index."""
    ways = [way for way in ("volume", "dial", "pulse", "from") if way in table]
    if len(ways) != 1:
        file.gathered.add(
            code="FW-V-043",
            place=place,
            read="no volume counted" if not ways else f"the volume counted in several ways: {', '.join(ways)}",
            expected="one of volume; dial and turns; pulse and pulses; from and to",
            matters="everything that follows is proportional to it",
            do="keep the way it was counted",
        )
        return None
    if ways[0] == "from":
        return _between(file, place, table)
    unit = figured(file, place, table, ways[0], "metered_volume")
    if unit is None or ways[0] == "volume":
        return _some(file, place, ways[0], unit)
    key = {"dial": "turns", "pulse": "pulses"}[ways[0]]
    times = number(file, place, table, key)
    if times is None and key not in table:
        times = 1.0
    if times is None:
        return None
    return _some(file, place, ways[0], _times(unit, times, key))


def _times(unit: Reading, times: float, key: str) -> Reading:
    """So many turns or pulses of one volume."""
    typed = unit.typed
    value = None if typed.value is None else typed.value * times
    low, high = (None if end is None else end * times for end in (typed.low, typed.high))
    return replace(unit, typed=replace(typed, text=f"{times:g} {key} of {typed.text}", value=value, low=low, high=high))


def _between(file: Source, place: str, table: Table) -> Reading | None:
    first = file.reading(place, table, "from", "metered_volume")
    last = file.reading(place, table, "to", "metered_volume")
    if first is None or last is None or first.typed.value is None or last.typed.value is None:
        if first is not None:
            _moved(file, place, "from and to", None, "the index of the meter not read at both ends")
        return None
    text = f"{first.typed.text} to {last.typed.text}"
    value = last.typed.value - first.typed.value
    return _some(file, place, "from and to", replace(last, typed=replace(last.typed, text=text, value=value)))


def _some(file: Source, place: str, key: str, reading: Reading | None) -> Reading | None:
    counted = reading is not None and _moved(
        file, place, key, reading.figure, f"{reading.typed.text!r}, which is no gas counted"
    )
    return reading if counted else None


def _moved(file: Source, place: str, key: str, figure: float | None, read: str) -> bool:
    """Whether the meter moved; noted when it did not."""
    return file.above_nothing(
        f"{place}, {key}",
        figure,
        read,
        code="FW-V-044",
        expected="a volume above zero; with an index, the later reading the larger one",
        matters="nothing counted says nothing about the burner",
        do="write what the meter moved while the burner ran",
    )


def timed(file: Source, place: str, table: Table) -> Reading | None:
    """The time counted, above zero."""
    reading = figured(file, place, table, "time", "duration")
    if reading is None:
        return None
    fine = file.above_nothing(
        f"{place}, time",
        reading.figure,
        f"{reading.typed.text!r} for the time counted",
        code="FW-V-045",
        expected="a time above zero, such as 76 s",
        matters="the flow is the volume over the time",
        do="write how long the meter was watched",
    )
    return reading if fine else None


def holes(file: Source, place: str, table: Table) -> Hole | None:
    """The orifices as fitted: a drill or a diameter, and how many."""
    if "orifice" not in table:
        return None
    text = file.text(place, table, "orifice")
    diameter = file.asked(f"{place}, orifice", lambda: diameter_of(text))
    many = number(file, place, table, "orifices") if "orifices" in table else 1.0
    share = discharge(file, place, table)
    return None if diameter is None or many is None else Hole(diameter, round(many), text.strip(), share)


DISCHARGE = Size(
    "discharge coefficient of the orifice", "no hole passes more than all of the ideal flow", 0.3, 1.0, False
)


def discharge(file: Source, place: str, table: Table) -> float | None:
    """A discharge coefficient as stated; None when absent or no hole has it."""
    reading = file.reading(place, table, "discharge", "orifice_discharge")
    if reading is None:
        return None
    file.asked(f"{place}, discharge", lambda: need(reading, DISCHARGE))
    return file.single(place, table, "discharge", "orifice_discharge")


def diameter_of(text: str) -> float:
    """The diameter that a drill or a length means, m; RuleError or QuantityError when it means none."""
    drill = drills.drill(text)
    if drill is not None:
        return drill.diameter
    return float(parse.single(text, quantity="orifice_diameter").value or 0.0)


def heights(file: Source, place: str, table: Table, key: str) -> Sequence[tuple[float, float]]:
    """A maker's table: pairs of a height and the share of the sea-level input, in rising order."""
    rows = table.get(key, [])
    found = [_pair(file, f"{place}, {key}", row) for row in (rows if isinstance(rows, list) else [rows])]
    good = len(found) > 1 and all(left[0] < right[0] and right[1] > 0.0 for left, right in itertools.pairwise(found))
    if rows and not good:
        file.gathered.add(
            code="FW-V-046",
            place=f"{place}, {key}",
            read=f"{rows!r}",
            expected='two rows or more, rising, such as [["0 ft", "100 %"], ["2000 ft", "93.6 %"]]',
            matters="the input allowed is read off between the rows",
            do="copy the maker's table, a unit at every height",
        )
        return ()
    return tuple(found)


def _pair(file: Source, place: str, row: object) -> tuple[float, float]:
    """A height and a share; two noughts, which no table holds, where they are not understood."""
    pair = [str(part) for part in row] if isinstance(row, list) else []
    if len(pair) != 2 or _BARE.fullmatch(pair[0]):
        return 0.0, 0.0
    height = file.asked(place, lambda: parse.single(pair[0], quantity="altitude").value)
    share = file.asked(place, lambda: parse.single(pair[1], quantity="altitude_share").value)
    return (0.0, 0.0) if height is None or share is None else (height, share)


def fuel_named(file: Source) -> FuelRecord | None:
    """The fuel of the file, where it can be found; its own reader tells what is wrong with it."""
    return fuel_of.from_table(file.table("fuel"), folder=file.path.parent) if file.table("fuel") else None


def plate_input(file: Source, place: str, table: Table, key: str) -> float | None:
    """Gross heat input from a plate in whichever way it states it; `key` with _net behind it for a net one."""
    net = f"{key}_net"
    fuel = file.asked("fuel", lambda: fuel_named(file)) if key in table or net in table else None
    if fuel is None:
        return None
    if key in table:
        text = file.text(place, table, key)
        return file.asked(f"{place}, {key}", lambda: plate.heat_input_from(text, fuel))
    power = file.single(place, table, net, "fuel_input_net")
    return None if power is None else plate.heat_input_from_net(power, fuel)
