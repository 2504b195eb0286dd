"""The table [tune]: the curve walked, the margin of the year, the steps taken and the next turn."""

import math
from collections.abc import Mapping
from functools import partial
from typing import Any, cast, get_args

from fluewright.evidence import papers
from fluewright.evidence.gas_change import swing_of
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.fuels.figures import figures
from fluewright.fuels.record import FuelRecord
from fluewright.tune import curve_set
from fluewright.tune.advise import Lever, Signs
from fluewright.tune.curve import Direction
from fluewright.tune.curve_set import CurveSet
from fluewright.tune.margin import AT, Mechanism
from fluewright.tune.set_told import CurveSetGiven
from fluewright.tune.turn import NextTurn, Stand, StepTaken
from fluewright.tune.walked import CurveWalked, WalkedStep
from fluewright.tune.year import Season, YearAhead
from fluewright.visit import fuel_of
from fluewright.visit.parts import gas_typed
from fluewright.visit.parts.gas_change import GROUPS
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

STAND: Mapping[str, str] = {
    "o2": "oxygen_dry",
    "co": "carbon_monoxide_dry",
    "stack": "flue_temperature",
    "air": "air_temperature",
}
"""Keys of readings at one moment, papers apart."""
SEASON: Mapping[str, str] = {"air": "air_temperature", "outdoors": "outdoor_temperature", "oil": "oil_temperature"}
OF_TURN: Mapping[str, str] = {
    "target": "oxygen_dry",
    "least": "oxygen_dry",
    "gas_pressure": "gas_pressure",
    "pump_pressure": "oil_pressure",
    "draft": "draft",
    "water": "supply_water_temperature",
    "over_fire_oxygen": "oxygen_dry",
    "breech_oxygen": "oxygen_dry",
    "input_share": "input_of_plate",
}
FLAGS = ("spills", "rising", "sooty", "draft_off")
OF_YEAR: Mapping[str, str] = {
    **SEASON,
    "o2": "oxygen_dry",
    "least": "oxygen_dry",
    "barometer_low": "barometer",
    "barometer_high": "barometer",
    "wobbe_low": "wobbe_swing",
    "wobbe_high": "wobbe_swing",
    "play": "oxygen_play",
    "chimney": "mean_flue_temperature",
}
NETWORKS = ("", "published", *GROUPS)

CURVES = ("curves", "curves_before")
"""Keys that name a set of curves in a file beside the visit."""

FORM = Form(
    tables={
        "tune": (
            "curves",
            "curves_before",
            "rate",
            "lever",
            *STAND,
            "papers",
            *OF_TURN,
            *FLAGS,
            "point",
            "step",
            "year",
            "season",
        ),
        "tune.point": ("time", "way", "o2", "co", "papers"),
        "tune.step": ("time", "lever", "moved", "of", "expected", *STAND, "papers"),
        "tune.year": ("mechanism", *OF_YEAR, "network", "other_gas"),
        "tune.season": ("words", *SEASON),
    },
    required={
        "tune.point": ("o2",),
        "tune.step": ("lever", "o2"),
        "tune.year": ("mechanism", "air"),
        "tune.season": ("words", "air"),
    },
    lists=("tune.point", "tune.step", "tune.season"),
)


def _readings(file: Source, place: str, table: Mapping[str, Any], keys: Mapping[str, str]) -> dict[str, Reading]:
    read = {key: file.reading(place, table, key, quantity) for key, quantity in keys.items()}
    return {key: reading for key, reading in read.items() if reading is not None}


def _papers(file: Source, place: str, table: Mapping[str, Any]) -> Reading | None:
    if "papers" not in table:
        return None
    text = papers.listed(table["papers"])
    return file.asked(f"{place}, papers", lambda: papers.reading_of(text))


def _point(file: Source, place: str, row: Mapping[str, Any]) -> WalkedStep | None:
    """One point of the curve, with carbon monoxide or with smoke."""
    if ("co" in row) == ("papers" in row):
        file.gathered.add(
            code="FW-V-320",
            place=place,
            read="both carbon monoxide and smoke" if "co" in row else "neither carbon monoxide nor smoke",
            expected='one of them, such as co = "35 ppm" or papers = "1, 1, 2"',
            matters="a curve is drawn of one of them, the same at every point",
            do="write the one that the curve is walked by: carbon monoxide for gas, smoke for oil",
        )
        return None
    oxygen = file.reading(place, row, "o2", "oxygen_dry")
    made = file.reading(place, row, "co", "carbon_monoxide_dry") if "co" in row else _papers(file, place, row)
    way = cast(Direction, file.choice(place, row, "way", get_args(Direction)))
    if oxygen is None or made is None:
        return None
    return WalkedStep(oxygen, made, way, file.clock(place, row))


def _curve(file: Source, table: Mapping[str, Any]) -> CurveWalked | None:
    rows = file.rows("point", table, "tune")
    points = [point for place, row in rows if (point := _point(file, place, row)) is not None]
    if len({point.made.quantity for point in points}) > 1:
        file.gathered.add(
            code="FW-V-321",
            place="tune, point",
            read="points with carbon monoxide and points with smoke in one curve",
            expected="one of the two at every point",
            matters="they begin to rise at different oxygen, and a knee between them would be none",
            do="write two curves in two files, or leave one of them out",
        )
        return None
    rate = file.reading("tune", table, "rate", "firing_rate")
    return CurveWalked(tuple(points), rate) if points else None


def _stand(file: Source, place: str, row: Mapping[str, Any]) -> Stand:
    read = _readings(file, place, row, STAND)
    made = read.get("co") or _papers(file, place, row)
    time = file.clock(place, row) if "time" in row else ""
    return Stand(read.get("o2"), made, read.get("stack"), read.get("air"), time)


def _moved(file: Source, place: str, row: Mapping[str, Any]) -> float | None:
    """How far a lever was moved, below zero the other way; None when absent or not understood."""
    if "moved" not in row:
        return None
    text = file.text(place, row, "moved").strip().replace("−", "-")
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if math.isfinite(value) and value != 0.0:
        return value
    file.gathered.add(
        code="FW-V-323",
        place=f"{place}, moved",
        read=f"moved = {text!r}",
        expected='a plain number, below zero the other way, with its unit in `of`: moved = -0.25, of = "turn"',
        matters="how far the next step goes is reckoned from how far this one went",
        do="write the number alone, or leave it out",
    )
    return None


def _taken(file: Source, table: Mapping[str, Any]) -> tuple[StepTaken, ...]:
    found = []
    for place, row in file.rows("step", table, "tune"):
        lever = cast(Lever, file.choice(place, row, "lever", get_args(Lever)))
        moved = _moved(file, place, row)
        expected = file.reading(place, row, "expected", "oxygen_dry")
        found.append(StepTaken(lever, _stand(file, place, row), moved, file.text(place, row, "of"), expected))
    return tuple(found)


def _figure(reading: Reading | None) -> float | None:
    return None if reading is None else reading.figure


def _turn(file: Source, table: Mapping[str, Any], curve: CurveWalked | None) -> NextTurn | None:
    taken = _taken(file, table)
    if "lever" not in table and not taken:
        return None
    lever = cast(Lever, file.choice("tune", table, "lever", get_args(Lever))) if "lever" in table else taken[-1].lever
    read = _readings(file, "tune", table, OF_TURN)
    told = {key: file.flag("tune", table, key) for key in FLAGS}
    signs = Signs(
        **told,
        over_fire=_figure(read.get("over_fire_oxygen")),
        breech=_figure(read.get("breech_oxygen")),
        input_share=_figure(read.get("input_share")),
    )
    pressure = read.get("pump_pressure") if lever == "pump pressure" else read.get("gas_pressure")
    stand = _stand(file, "tune", table)
    return NextTurn(
        lever,
        stand,
        taken,
        read.get("target"),
        signs,
        pressure,
        read.get("draft"),
        read.get("water"),
        read.get("least"),
        curve,
    )


def _seasons(file: Source, table: Mapping[str, Any]) -> tuple[Season, ...]:
    found = []
    for place, row in file.rows("season", table, "tune"):
        read = _readings(file, place, row, SEASON)
        if "air" in read:
            words = file.text(place, row, "words")
            found.append(Season(words, read["air"], read.get("outdoors"), read.get("oil")))
    return tuple(found)


def _wobbe(
    file: Source, row: Mapping[str, Any], read: Mapping[str, Reading], fuel: FuelRecord | None
) -> tuple[float, float, str] | None:
    """The band of the Wobbe index about today's gas: typed as changes, or of the network."""
    low, high = _figure(read.get("wobbe_low")), _figure(read.get("wobbe_high"))
    if low is not None and high is not None:
        return (min(low, high), max(low, high), "as typed")
    network = file.choice("tune, year", row, "network", NETWORKS)
    if not network or fuel is None:
        return None
    band = swing_of("" if network == "published" else network, fuel)
    now = None if fuel.kind != "gas" else figures(fuel, reference=AT)["wobbe_gross"].value
    if band is None or now is None:
        file.gathered.add(
            code="FW-V-322",
            place="tune, year, network",
            read=f"{network!r}, and {fuel.name} has no such band",
            expected=f"a gas with a published band, or one of {', '.join(GROUPS)}",
            matters="a richer gas takes air away, and nobody knows how much",
            do="name the group of the network, or type wobbe_low and wobbe_high",
        )
        return None
    return (band.low / now - 1.0, band.high / now - 1.0, f"{band.words}; {band.source}")


def _gases(file: Source, row: Mapping[str, Any]) -> tuple[FuelRecord, ...]:
    if "other_gas" not in row:
        return ()
    name = file.text("tune, year", row, "other_gas")
    found = file.asked("tune, year, other_gas", lambda: fuel_of.chosen(name=name, inline=None, file=None))
    return () if found is None else (found,)


def _year(file: Source, table: Mapping[str, Any]) -> YearAhead | None:
    row = file.table("year", table)
    if not row:
        return None
    place = "tune, year"
    read = _readings(file, place, row, OF_YEAR)
    if "air" not in read:
        return None
    fuel = file.asked("fuel", lambda: gas_typed.fuel_named(file)) if "fuel" in file.tree else None
    low, high = read.get("barometer_low"), read.get("barometer_high")
    return YearAhead(
        cast(Mechanism, file.choice(place, row, "mechanism", get_args(Mechanism))),
        Season("today", read["air"], read.get("outdoors"), read.get("oil")),
        _seasons(file, table),
        read.get("o2"),
        read.get("least"),
        None if low is None or high is None else (low, high),
        _wobbe(file, row, read, fuel),
        _gases(file, row),
        read.get("play"),
        read.get("chimney"),
    )


def _set(file: Source, table: Mapping[str, Any]) -> CurveSetGiven | None:
    """The set of curves that lies in a file beside the visit, and the set before the work."""
    found: dict[str, CurveSet] = {}
    for key in CURVES:
        if key in table:
            path = file.path.parent / file.text("tune", table, key)
            read_in = file.asked(f"tune, {key}", partial(curve_set.read, path))
            found |= {key: read_in} if read_in is not None else {}
    if "curves_before" in table and "curves" not in table:
        file.gathered.add(
            code="FW-V-326",
            place="tune, curves_before",
            read="the curves before the work without those after it",
            expected='both: curves = "after.csv", curves_before = "before.csv"',
            matters="what moved is told by holding one against the other",
            do="name the table as it was left, or take curves_before out",
        )
    return CurveSetGiven(found["curves"], found.get("curves_before")) if "curves" in found else None


def read(file: Source) -> tuple[Measured, ...]:
    """What was adjusted, as far as the file tells of it."""
    table = file.table("tune")
    if not table:
        return ()
    curve = _curve(file, table)
    found = (_set(file, table), curve, _year(file, table), _turn(file, table, curve))
    return tuple(measured for measured in found if measured is not None)
