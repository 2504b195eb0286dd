"""The tables of a visit file about draft and venting: readings, house, worst case, spillage, the vent."""

from collections.abc import Mapping
from typing import Any, get_args

from fluewright.evidence.draft import readings, spillage, vent
from fluewright.evidence.draft.baseline import Baseline, Hose
from fluewright.evidence.draft.chimney import Chimney
from fluewright.evidence.draft.hood import Hood
from fluewright.evidence.draft.house import Fan, HousePressure, Leaks, Warmth, Zone
from fluewright.evidence.draft.readings import Draft, DraftReading
from fluewright.evidence.draft.refusals import need_a_climate, need_a_flue
from fluewright.evidence.draft.spillage import Spillage, Spillages
from fluewright.evidence.draft.vent import Vent
from fluewright.evidence.draft.worst_case import ROUTE, Done, WorstCase
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.rules import routes
from fluewright.visit.draft_typed import FINEST, asks_of
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

Table = Mapping[str, Any]

_BASELINE = ("values", "span", "over", "doubt", "hose", "gauge")
_HOOD = (
    ("oxygen_before", "oxygen_dry"),
    ("oxygen_after", "oxygen_dry"),
    ("carbon_dioxide_before", "carbon_dioxide_dry"),
    ("carbon_dioxide_after", "carbon_dioxide_dry"),
    ("flue", "flue_temperature"),
    ("mixed", "diluted_temperature"),
    ("room", "room_temperature"),
)
_CHIMNEY = ("height", "flue", "outdoors", "oxygen", "wind", "wind_coefficient", "drawn_down")

FORM = Form(
    tables={
        "draft": ("pushes_by_design", "standing_pilot", "outdoors", "reading", "baseline", "chimney", "hood"),
        "draft.reading": ("place", "draft", "pushes", "state", "fans", "since_lit", "time"),
        "draft.baseline": _BASELINE,
        "draft.chimney": _CHIMNEY,
        "draft.hood": tuple(key for key, _ in _HOOD),
        "worst_case": (
            "room_carbon_monoxide",
            "flame_left_burner",
            "zone",
            "fans_on",
            "baseline",
            "fan",
            "leakage",
            "warmth",
            "step",
            "restore",
        ),
        "worst_case.baseline": _BASELINE,
        "worst_case.fan": ("words", "flow"),
        "worst_case.leakage": ("flow", "pressure", "air_changes", "volume", "exponent"),
        "worst_case.warmth": ("distance", "outdoors", "room", "low_opening", "high_opening"),
        "worst_case.step": ("step", "done", "because", "seen", "time"),
        "worst_case.restore": ("step", "done", "because", "seen", "time"),
        "spillage": ("appliance", "stopped_after", "vent", "fans", "state", "started_by", "how", "time"),
        "vent": (
            "category",
            "material",
            "marked_limit",
            "flue",
            "water",
            "hottest_water",
            "pressure",
            "condensing",
            "trap",
            "neutraliser",
            "freezing",
            "test_port",
            "drilled",
            "joints",
            "end",
            "end_words",
            "clearances",
            "time",
        ),
    },
    required={
        "draft.reading": ("place", "draft"),
        "draft.chimney": ("height", "flue", "outdoors"),
        "worst_case.fan": ("words",),
        "worst_case.warmth": ("distance", "outdoors", "room"),
        "worst_case.step": ("step", "done"),
        "worst_case.restore": ("step", "done"),
        "spillage": ("appliance",),
    },
    lists=("draft.reading", "worst_case.fan", "worst_case.step", "worst_case.restore", "spillage"),
)


def _values(file: Source, place: str, table: Table, quantity: str) -> tuple[Reading, ...]:
    """The values of a baseline, a list of texts."""
    given = table.get("values", [])
    if not isinstance(given, list):
        file.gathered.add(
            code="FW-V-072",
            place=f"{place}, values",
            read=f"{given!r}",
            expected='a list of readings, such as values = ["0 Pa", "-1 Pa", "0 Pa", "-1 Pa", "-2 Pa"]',
            matters="the scatter of single values says how much a small pressure is worth",
            do="write each value that was read in the list",
        )
        return ()
    named = {f"values {index}": value for index, value in enumerate(given, 1)}
    found = (file.reading(place, named, key, quantity) for key in named)
    return tuple(one for one in found if one is not None)


def _baseline(file: Source, within: str, quantity: str) -> Baseline:
    table = file.table("baseline", file.table(within))
    place = f"{within}, baseline"
    hose: Any = file.choice(place, table, "hose", get_args(Hose))
    doubt = file.reading(place, table, "doubt", quantity)
    if file.asked(f"{place}, doubt", lambda: Baseline(doubt=doubt)) is None:
        doubt = None
    return Baseline(
        values=_values(file, place, table, quantity),
        span=file.reading(place, table, "span", quantity),
        seconds=file.reading(place, table, "over", "duration"),
        doubt=doubt,
        hose=hose,
        gauge=file.text(place, table, "gauge"),
    )


def _ask(file: Source, place: str, asks: Mapping[str, str], *, slipped: bool) -> None:
    """Note what has to be asked back: a unit that slipped, or a sign."""
    parts = {key: asks[key] for key in ("expected", "matters", "do")}
    if slipped:
        file.gathered.add(code="FW-V-071", place=place, read=asks["read"], **parts)
    else:
        file.gathered.add(code="FW-V-070", place=place, read=asks["read"], **parts)


def _draft_reading(file: Source, place: str, row: Table, by_design: bool) -> DraftReading | None:
    spot: Any = file.choice(place, row, "place", readings.SPOTS)
    state: Any = file.choice(place, row, "state", readings.STATES)
    fans: Any = file.choice(place, row, "fans", readings.FANS)
    lit = file.reading(place, row, "since_lit", "minutes_since_lit")
    pushes = bool(file.flag(place, row, "pushes"))
    reading = file.reading(place, row, "draft", "draft")
    if reading is None:
        return None
    file.asked(f"{place}, draft", lambda: need_a_flue((reading,), pushes_by_design=by_design))
    asks = asks_of(reading, pushes=pushes, by_design=by_design)
    if asks:
        _ask(file, f"{place}, draft", asks, slipped=reading.typed.unit == "Pa" and (reading.figure or 0.0) < FINEST)
    return DraftReading(spot, reading, state, fans, lit, file.clock(place, row))


def _draft(file: Source) -> list[Measured]:
    table = file.table("draft")
    by_design = bool(file.flag("draft", table, "pushes_by_design"))
    pilot = bool(file.flag("draft", table, "standing_pilot"))
    rows = file.rows("reading", table, "draft")
    read = [one for place, row in rows if (one := _draft_reading(file, place, row, by_design)) is not None]
    outdoors = file.reading("draft", table, "outdoors", "outdoor_temperature")
    baseline = _baseline(file, "draft", "draft")
    found: list[Measured] = [Draft(tuple(read), baseline, by_design, outdoors, pilot)] if rows else []
    if "chimney" in table:
        found += _chimney(file, file.table("chimney", table))
    if "hood" in table:
        hood = file.table("hood", table)
        gases = [file.reading("draft, hood", hood, key, quantity) for key, quantity in _HOOD]
        given = Hood(*gases)
        file.asked("draft, hood", given.need)
        found.append(given)
    if not found:
        _nothing(file, "draft", "a [[draft.reading]], a [draft.chimney] or a [draft.hood]")
    return found


def _chimney(file: Source, table: Table) -> list[Measured]:
    place = "draft, chimney"
    height = file.reading(place, table, "height", "chimney_height")
    flue = file.reading(place, table, "flue", "mean_flue_temperature")
    outdoors = file.reading(place, table, "outdoors", "outdoor_temperature")
    rest = [
        file.reading(place, table, key, quantity)
        for key, quantity in (
            ("oxygen", "oxygen_dry"),
            ("wind", "wind_speed"),
            ("wind_coefficient", "wind_coefficient"),
            ("drawn_down", "depressurisation"),
        )
    ]
    if height is None or flue is None or outdoors is None:
        return []
    file.asked(place, lambda: need_a_climate(flue, outdoors))
    made = file.asked(place, lambda: Chimney(height, flue, outdoors, *rest))
    return [] if made is None else [made]


def _nothing(file: Source, place: str, expected: str) -> None:
    file.gathered.add(
        code="FW-V-074",
        place=place,
        read="a table with nothing to judge in it",
        expected=expected,
        matters="it would look as if draft had been tested",
        do="write what was read, or take the table out",
    )


def _done(file: Source, place: str, row: Table, steps: tuple[str, ...]) -> Done:
    done = bool(file.flag(place, row, "done"))
    because = file.text(place, row, "because")
    if not done and not because:
        file.gathered.add(
            code="FW-V-073",
            place=place,
            read="done = false without a reason",
            expected="because = the reason",
            matters="whoever comes next has to know what was left, and why",
            do="add because",
        )
    step = file.choice(place, row, "step", steps)
    return Done(step, done, because, file.text(place, row, "seen"), file.clock(place, row))


def _house(file: Source, table: Table) -> HousePressure:
    leaks = file.table("leakage", table)
    warm = file.table("warmth", table)
    zone: Any = file.choice("worst_case", table, "zone", get_args(Zone))
    quantities = ("leak_flow", "depressurisation", "tested_air_changes", "room_volume", "leakage_exponent")
    keys = FORM.tables["worst_case.leakage"]
    place = "worst_case, warmth"
    distance = file.reading(place, warm, "distance", "chimney_height")
    outdoors = file.reading(place, warm, "outdoors", "outdoor_temperature")
    room = file.reading(place, warm, "room", "room_temperature")
    openings = [file.reading(place, warm, key, "opening_area") for key in ("low_opening", "high_opening")]
    given = HousePressure(
        on=file.reading("worst_case", table, "fans_on", "house_pressure"),
        off=_baseline(file, "worst_case", "house_pressure"),
        zone=zone,
        fans=tuple(
            Fan(file.text(place, row, "words"), file.reading(place, row, "flow", "exhaust_flow"))
            for place, row in file.rows("fan", table, "worst_case")
        ),
        leaks=Leaks(
            *(file.reading("worst_case, leakage", leaks, key, each) for key, each in zip(keys, quantities, strict=True))
        ),
        warmth=file.asked(place, lambda: Warmth(distance, outdoors, room, *openings))
        if distance and outdoors and room
        else None,
    )
    file.asked("worst_case, leakage", given.leaks.need)
    return given


def _worst_case(file: Source) -> WorstCase:
    table = file.table("worst_case")
    route = routes.route(ROUTE)
    every = tuple(step.id for step in route.steps)
    changed = tuple(step.id for step in route.steps if step.put_back)
    return WorstCase(
        steps=tuple(_done(file, place, row, every) for place, row in file.rows("step", table, "worst_case")),
        put_back=tuple(_done(file, place, row, changed) for place, row in file.rows("restore", table, "worst_case")),
        room=file.reading("worst_case", table, "room_carbon_monoxide", "carbon_monoxide_room"),
        flame_left=file.flag("worst_case", table, "flame_left_burner"),
        house=_house(file, table),
    )


def _spillage(file: Source, place: str, row: Table) -> Spillage:
    warm: Any = file.choice(place, row, "vent", spillage.WARMTHS)
    fans: Any = file.choice(place, row, "fans", readings.FANS)
    state: Any = file.choice(place, row, "state", readings.STATES)
    return Spillage(
        file.text(place, row, "appliance"),
        file.reading(place, row, "stopped_after", "spill_time"),
        warm,
        fans,
        state,
        file.text(place, row, "started_by"),
        file.text(place, row, "how"),
        file.clock(place, row),
    )


def _vent(file: Source) -> Vent:
    table = file.table("vent")
    choices: dict[str, Any] = {
        name: file.choice("vent", table, key, words)
        for name, key, words in (
            ("category", "category", vent.CATEGORIES),
            ("material", "material", vent.MATERIALS),
            ("pressure", "pressure", vent.PRESSURES),
            ("trap", "trap", vent.TRAPS),
            ("neutraliser", "neutraliser", vent.NEUTRALISERS),
            ("port", "test_port", vent.PORTS),
            ("joints", "joints", vent.JOINTS),
            ("end", "end", vent.ENDS),
        )
    }
    heats: dict[str, Any] = {
        key: file.reading("vent", table, key, quantity)
        for key, quantity in (
            ("marked_limit", "vent_limit_temperature"),
            ("flue", "flue_temperature"),
            ("water", "water_temperature"),
            ("hottest_water", "hottest_water_temperature"),
        )
    }
    flags: dict[str, Any] = {key: file.flag("vent", table, key) for key in ("condensing", "freezing", "drilled")}
    texts: dict[str, Any] = {key: file.text("vent", table, key) for key in ("end_words", "clearances")}
    texts["time"] = file.clock("vent", table)
    return Vent(**choices, **heats, **flags, **texts)


def read(file: Source) -> tuple[Measured, ...]:
    """Draft and venting as the file tells them; nothing for tables that are not there."""
    found: list[Measured] = _draft(file) if "draft" in file.tree else []
    if "worst_case" in file.tree:
        found.append(_worst_case(file))
    watched = tuple(_spillage(file, place, row) for place, row in file.rows("spillage"))
    if watched:
        found.append(Spillages(watched))
    if "vent" in file.tree:
        found.append(_vent(file))
    return tuple(found)
