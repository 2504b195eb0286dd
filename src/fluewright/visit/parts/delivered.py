"""The tables of a visit file about heat delivered: air side, water side, cycling, and whether it adds up."""

from collections.abc import Mapping
from typing import Any, get_args

from fluewright.evidence.air_ways import BlowerTable, Traverse
from fluewright.evidence.closure import Closure
from fluewright.evidence.delivered_air import AirPlate, AirSide, Between, Motor, Plane
from fluewright.evidence.delivered_cycling import Cycling
from fluewright.evidence.delivered_water import Liquid, Place, WaterSide
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.visit import delivered_typed as typed
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

AIR, WATER, CYCLES, BALANCE = "air_side", "water_side", "cycling", "adds_up"

_AIR_WORDS = ("motor", "blower_between", "flow_at", "compared")
_AIR_PLATE = ("plate_rise", "plate_static", "plate_flow", "filter_budget", "coil_budget")

FORM = Form(
    tables={
        AIR: (*typed.AIR_READINGS, *_AIR_WORDS, *_AIR_PLATE, "blower_table", "traverse"),
        f"{AIR}.blower_table": ("tap", "row"),
        f"{AIR}.blower_table.row": ("static", "flow"),
        f"{AIR}.traverse": ("points", "area", "side", "other_side", "diameter", "method"),
        WATER: (*typed.WATER_READINGS, "liquid", "meter_at", "compared"),
        CYCLES: tuple(typed.CYCLING_READINGS),
        BALANCE: tuple(typed.BALANCE_READINGS),
    },
    required={
        f"{AIR}.blower_table": ("row",),
        f"{AIR}.blower_table.row": ("static", "flow"),
        f"{AIR}.traverse": ("points",),
        WATER: ("return", "supply"),
        CYCLES: ("on", "off"),
    },
    lists=(f"{AIR}.blower_table.row",),
)


def _readings(file: Source, name: str, meant: Mapping[str, str]) -> dict[str, Reading]:
    """The readings of one table by registry name."""
    table = file.table(name)
    found = {quantity: file.reading(name, table, key, quantity) for key, quantity in meant.items()}
    return {quantity: reading for quantity, reading in found.items() if reading is not None}


def _plate(file: Source, table: Mapping[str, Any]) -> AirPlate:
    """What the plate says."""
    low: float | None = None
    high: float | None = None
    if "plate_rise" in table:
        text = file.text(AIR, table, "plate_rise")
        found = file.asked(f"{AIR}, plate_rise", lambda: typed.range_of(text, "air_rise"))
        low, high = found or (None, None)
    return AirPlate(
        low,
        high,
        file.single(AIR, table, "plate_static", "external_static"),
        file.single(AIR, table, "plate_flow", "air_flow"),
        file.single(AIR, table, "filter_budget", "filter_drop"),
        file.single(AIR, table, "coil_budget", "coil_drop"),
    )


def _blower_table(file: Source, air: Mapping[str, Any]) -> BlowerTable | None:
    if "blower_table" not in air:
        return None
    place = f"{AIR}, blower_table"
    table = file.table("blower_table", air)
    rows = file.rows("row", table, place)
    pairs = [(file.text(here, row, "static"), file.text(here, row, "flow")) for here, row in rows]
    tap = file.text(place, table, "tap")
    return file.asked(place, lambda: typed.table_of(pairs, tap=tap))


def _traverse(file: Source, air: Mapping[str, Any]) -> Traverse | None:
    if "traverse" not in air:
        return None
    place = f"{AIR}, traverse"
    table = file.table("traverse", air)
    given = table.get("points", ())
    points = [str(each) for each in given] if isinstance(given, list) else []
    method: Any = file.choice(place, table, "method", ("not said", *typed.METHODS[:2]))
    area, side, other, across = (file.text(place, table, key) for key in ("area", "side", "other_side", "diameter"))

    def made() -> Traverse:
        size = typed.area_of(area=area, side=side, other_side=other, diameter=across)
        return typed.traverse_of(points, area=size, method=method)

    return file.asked(place, made)


def _air(file: Source) -> AirSide:
    table = file.table(AIR)
    motor: Any = file.choice(AIR, table, "motor", get_args(Motor))
    between: Any = file.choice(AIR, table, "blower_between", get_args(Between))
    plane: Any = file.choice(AIR, table, "flow_at", get_args(Plane))
    return AirSide(
        _readings(file, AIR, typed.AIR_READINGS),
        _plate(file, table),
        motor,
        between,
        plane,
        _blower_table(file, table),
        _traverse(file, table),
        file.flag(AIR, table, "compared") is True,
    )


def _water(file: Source) -> WaterSide:
    table = file.table(WATER)
    liquid: Any = file.choice(WATER, table, "liquid", get_args(Liquid))
    meter: Any = file.choice(WATER, table, "meter_at", get_args(Place))
    compared = file.flag(WATER, table, "compared") is True
    return WaterSide(_readings(file, WATER, typed.WATER_READINGS), liquid, meter, compared)


def _balance(file: Source) -> Closure:
    table = file.table(BALANCE)
    found = {
        typed.BALANCE_KEYS[key]: file.reading(BALANCE, table, key, quantity)
        for key, quantity in typed.BALANCE_READINGS.items()
    }
    return Closure({key: reading for key, reading in found.items() if reading is not None})


def read(file: Source) -> tuple[Measured, ...]:
    """What the file tells of heat delivered; with any of it comes the question whether it adds up."""
    made: list[Measured] = []
    if AIR in file.tree:
        made.append(_air(file))
    if WATER in file.tree:
        made.append(_water(file))
    if CYCLES in file.tree:
        cycles = file.asked(CYCLES, lambda: Cycling(_readings(file, CYCLES, typed.CYCLING_READINGS)))
        made += [] if cycles is None else [cycles]
    if {AIR, WATER, BALANCE} & set(file.tree):
        made.append(_balance(file))
    return tuple(made)
