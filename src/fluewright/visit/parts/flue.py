"""The tables of a visit file about a flue and what hangs on it."""

from collections.abc import Mapping
from typing import Any, cast, get_args

from fluewright.evidence.flue_given import WALLS, Building, FlueGiven, Hung, Kind, Point, State
from fluewright.evidence.flue_group import FlueGroup
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

Table = Mapping[str, Any]

FORM = Form(
    tables={
        "flue": (
            "height", "diameter", "wall", "outdoors", "room", "room_pressure", "fans_pressure", "ground", "floors",
            "eaves", "ridge", "foot", "cap", "appliance", "measured",
        ),
        "flue.appliance": (
            "words", "kind", "state", "input", "oxygen", "outlet", "height", "joins", "diameter", "length", "opening",
            "bends", "set",
        ),
        "flue.measured": ("place", "height", "draft", "fans", "at"),
    },
    required={
        "flue": ("height", "diameter", "wall", "appliance"),
        "flue.appliance": ("words", "kind", "height", "joins", "diameter", "length"),
        "flue.measured": ("place", "height", "draft"),
    },
    lists=("flue.appliance", "flue.measured"),
)  # fmt: skip

FIRED = ("input", "oxygen", "outlet")
QUANTITIES = {"input": "fuel_input", "oxygen": "oxygen_dry", "outlet": "flue_temperature"}


def read(file: Source) -> tuple[Measured, ...]:
    """The flue of a visit; nothing where the file has none. Problems are noted in the source."""
    if "flue" not in file.tree:
        return ()
    table = file.table("flue")
    top = file.reading("flue", table, "height", "flue_height")
    diameter = _wide(file, "flue", table)
    found = [_hung(file, place, row) for place, row in file.rows("appliance", table, "flue")]
    hung = sorted((one for one in found if one is not None), key=lambda one: one.joins.figure or 0.0)
    read_at = [_point(file, place, row) for place, row in file.rows("measured", table, "flue")]
    points = [point for point in read_at if point is not None]
    wall = file.choice("flue", table, "wall", tuple(WALLS))
    if top is None or diameter is None or not _fits(file, top, hung, points):
        return ()

    def made() -> FlueGiven:
        return FlueGiven(
            top=top,
            diameter=diameter,
            wall=wall,
            hung=tuple(hung),
            outdoors=file.reading("flue", table, "outdoors", "outdoor_temperature"),
            room=file.reading("flue", table, "room", "room_temperature"),
            room_pressure=file.reading("flue", table, "room_pressure", "house_pressure"),
            fans_pressure=file.reading("flue", table, "fans_pressure", "house_pressure"),
            points=tuple(points),
            cap=_factor(file, "flue", table, "cap", 1.5),
            building=_building(file, table),
        )

    given = file.asked("flue", made)
    return () if given is None else (FlueGroup(given),)


def _factor(file: Source, place: str, table: Table, key: str, default: float) -> float:
    """A loss factor, a bare number of 0 or more."""
    value = table.get(key, default)
    if isinstance(value, int | float) and not isinstance(value, bool) and 0.0 <= value <= 50.0:
        return float(value)
    file.gathered.add(
        code="FW-V-076",
        place=f"{place}, {key}",
        read=repr(value),
        expected="a loss factor from 0 to 50, a bare number",
        matters="bends, tees and the mouth take that share of the dynamic pressure",
        do="write the sum of their factors, or leave it out",
    )
    return default


def _wide(file: Source, place: str, table: Table) -> Reading | None:
    """An inside diameter of more than nothing."""
    reading = file.reading(place, table, "diameter", "flue_diameter")
    if reading is None:
        return None
    here, do = f"{place}, diameter", "measure it again and correct it"
    fine = file.above_nothing(
        here, reading.figure, reading.typed.text, code="FW-V-075", matters="gas needs a way", do=do
    )
    return reading if fine else None


def _mistake(file: Source, place: str, read: str, expected: str, matters: str) -> None:
    file.gathered.add(
        code="FW-V-075",
        place=place,
        read=read,
        expected=expected,
        matters=matters,
        do="measure it again and correct it",
    )


def _hung(file: Source, place: str, row: Table) -> Hung | None:
    """One appliance on the flue."""
    words = file.text(place, row, "words")
    kind = cast(Kind, file.choice(place, row, "kind", get_args(Kind)))
    state = cast(State, file.choice(place, row, "state", get_args(State)))
    height = file.reading(place, row, "height", "flue_height")
    joins = file.reading(place, row, "joins", "flue_height")
    diameter = _wide(file, place, row)
    length = file.reading(place, row, "length", "connector_length")
    fired = {key: file.reading(place, row, key, QUANTITIES[key]) for key in FIRED}
    opening = file.reading(place, row, "opening", "hood_opening")
    missing = [key for key in FIRED if fired[key] is None and key not in row] if state == "lit" else []
    if missing:
        file.gathered.add(
            code="FW-V-077",
            place=place,
            read=f"{words or 'an appliance'} that is lit, without {', '.join(missing)}",
            expected="input, oxygen and outlet of each appliance that burns",
            matters="how much gas goes up, and how warm, hangs on them",
            do='add them, or write state = "pilot" or "off"',
        )
        return None
    if height is None or joins is None or diameter is None or length is None:
        return None
    bends, draft_set = _factor(file, place, row, "bends", 2.0), file.reading(place, row, "set", "draft")
    way = {"opening": opening, "draft_set": draft_set}
    return file.asked(
        place,
        lambda: Hung(
            words,
            kind,
            state,
            **fired,
            height=height,
            joins=joins,
            diameter=diameter,
            length=length,
            bends=bends,
            **way,
        ),
    )


def _point(file: Source, place: str, row: Table) -> Point | None:
    """One measured draft."""
    height = file.reading(place, row, "height", "flue_height")
    draft = file.reading(place, row, "draft", "draft")
    if height is None or draft is None or draft.figure is None:
        return None
    fans = bool(file.flag(place, row, "fans"))
    return Point(file.text(place, row, "place"), height, draft, fans, file.text(place, row, "at"))


def _fits(file: Source, top: Reading, hung: list[Hung], points: list[Point]) -> bool:
    """Whether heights stand in order, names are told apart and each point belongs somewhere."""
    words = [one.words for one in hung]
    good = bool(hung)
    for one in hung:
        low, high = one.height.figure or 0.0, one.joins.figure or 0.0
        if high < low - 0.5 or high >= (top.figure or 0.0):
            good = False
            expected = "the opening no higher than where it joins, and that below the mouth of the flue"
            _mistake(file, f"flue, {one.words}", f"joins at {one.joins.typed.text}", expected, "gas goes up by height")
    twice = sorted({each for each in words if words.count(each) > 1})
    for each in twice:
        good = False
        _mistake(
            file, "flue, appliance", f"{each!r} twice", "each appliance by words of its own", "results are told by them"
        )
    for point in points:
        if point.at and point.at not in words:
            good = False
            file.gathered.add(
                code="FW-V-078",
                place="flue, measured, at",
                read=repr(point.at),
                expected="one of " + ", ".join(words),
                matters="the measured draft is held beside the prediction for that appliance",
                do="write the words of the appliance, or leave it out for a point in the flue",
            )
    return good


def _building(file: Source, table: Table) -> Building:
    """Heights of the house for the drawing."""
    heights = {
        key: file.single("flue", table, key, "flue_height") or 0.0 for key in ("ground", "eaves", "ridge", "foot")
    }
    given = table.get("floors", [])
    rows = given if isinstance(given, list) else [given]
    floors = [file.single("flue", {"floors": row}, "floors", "flue_height") for row in rows]
    return Building(floors=tuple(each for each in floors if each is not None), **heights)
