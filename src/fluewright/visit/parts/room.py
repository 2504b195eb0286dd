"""The tables [room] and [[unvented]] of a visit file: people, alarms, the air of a room, appliances without a flue."""

from collections.abc import Mapping
from functools import partial
from typing import Any, cast

from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.evidence.room import Place, RoomGiven, Zero
from fluewright.evidence.room_balance import DecayGiven, RiseGiven
from fluewright.evidence.room_means import Timed
from fluewright.evidence.room_people import Alarm, Said, Standard, Symptoms
from fluewright.evidence.unvented import BUILDINGS, KINDS, MOMENTS, Building, Kind, Moment, UnventedGiven
from fluewright.visit import room_typed
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

Table = Mapping[str, Any]

ROOM = "carbon_monoxide_room"
OUTDOOR = "carbon_monoxide_outdoor"
SYMPTOMS = ("not asked", "no", "yes")
ZEROS = ("", "outdoors", "doorway", "inside")
PLACES = ("dwelling", "work space", "parking garage", "outdoors")
SAID = ("", "yes", "no")
STANDARDS = ("", "UL 2034", "EN 50291-1")

FORM = Form(
    tables={
        "room": (
            "symptoms",
            "where",
            "zero",
            "entry",
            "outdoor",
            "personal",
            "personal_zero",
            "without_alarm",
            "trace",
            "reading",
            "alarm",
            "rise",
            "decay",
        ),
        "room.reading": ("time", "place", "monoxide"),
        "room.alarm": ("place", "standard", "tested", "sounded", "made"),
        "room.rise": ("from", "to", "over", "volume", "air_changes", "outdoor"),
        "room.decay": ("from", "to", "over", "outdoor"),
        "unvented": (
            "kind",
            "words",
            "moment",
            "monoxide",
            "oxygen",
            "room_before",
            "room_after",
            "delivered",
            "building",
            "inputs",
            "room_volume",
        ),
    },
    required={
        "room.reading": ("time", "monoxide"),
        "room.alarm": ("place",),
        "room.rise": ("from", "to", "over", "volume"),
        "room.decay": ("from", "to", "over"),
        "unvented": ("kind",),
    },
    lists=("room.reading", "room.alarm", "unvented"),
)


def _alarms(file: Source, table: Table) -> tuple[Alarm, ...]:
    return tuple(
        Alarm(
            place=file.text(place, row, "place"),
            standard=cast(Standard, file.choice(place, row, "standard", STANDARDS)),
            tested=cast(Said, file.choice(place, row, "tested", SAID)),
            sounded=cast(Said, file.choice(place, row, "sounded", SAID)),
            made=file.day(place, row, "made"),
        )
        for place, row in file.rows("alarm", table, "room")
    )


def _readings(file: Source, table: Table) -> tuple[Timed, ...]:
    typed: list[tuple[str, Reading, str]] = []
    for place, row in file.rows("reading", table, "room"):
        reading = file.reading(place, row, "monoxide", ROOM)
        if reading is not None and "time" in row:
            typed.append((file.text(place, row, "time"), reading, file.text(place, row, "place")))
    if "trace" not in table:
        return file.asked("room, reading", lambda: room_typed.in_order(typed)) or ()
    if typed:
        file.gathered.add(
            code="FW-V-020",
            place="room, trace",
            read="a trace, and readings typed one by one",
            expected="one of them",
            matters="two clocks in one mean would count some minutes twice",
            do="keep the trace, and put what was typed beside it into notes",
        )
        return ()
    path = file.path.parent / file.text("room", table, "trace")
    return file.asked("room, trace", lambda: room_typed.recorded(path)) or ()


def _need_one_word(file: Source, table: Table, alarms: tuple[Alarm, ...]) -> bool:
    """Whether somebody looked and found no alarm; not beside an alarm."""
    without = file.flag("room", table, "without_alarm") or False
    if without and alarms:
        file.gathered.add(
            code="FW-V-021",
            place="room, without_alarm",
            read="no alarm, and an alarm",
            expected="one of them",
            matters="whether somebody is warned at night hangs on it",
            do="take out without_alarm, or the alarm that is not there",
        )
    return without


def _room(file: Source, table: Table) -> RoomGiven:
    alarms = _alarms(file, table)
    return RoomGiven(
        symptoms=cast(Symptoms, file.choice("room", table, "symptoms", SYMPTOMS)),
        entry=file.reading("room", table, "entry", ROOM),
        readings=_readings(file, table),
        outdoor=file.reading("room", table, "outdoor", OUTDOOR),
        personal=file.reading("room", table, "personal", "carbon_monoxide_personal"),
        zero=cast(Zero, file.choice("room", table, "zero", ZEROS)),
        personal_zero=cast(Zero, file.choice("room", table, "personal_zero", ZEROS)),
        alarms=alarms,
        without_alarm=_need_one_word(file, table, alarms),
        where=cast(Place, file.choice("room", table, "where", PLACES)),
    )


def _decay(file: Source, table: Table) -> DecayGiven | None:
    place = "room, decay"
    given = [file.reading(place, table, key, name) for key, name in
             (("from", ROOM), ("to", ROOM), ("over", "time_between"))]  # fmt: skip
    first, later, over = given
    outdoor = file.reading(place, table, "outdoor", OUTDOOR)
    if first is None or later is None or over is None:
        return None
    return file.asked(place, lambda: DecayGiven(first, later, over, outdoor))


def _rise(file: Source, table: Table, decay: DecayGiven | None) -> RiseGiven | None:
    place = "room, rise"
    first = file.reading(place, table, "from", ROOM)
    later = file.reading(place, table, "to", ROOM)
    over = file.reading(place, table, "over", "time_between")
    volume = file.reading(place, table, "volume", "room_volume")
    changes = file.reading(place, table, "air_changes", "air_changes")
    outdoor = file.reading(place, table, "outdoor", OUTDOOR)
    if changes is not None and decay is not None:
        file.gathered.add(
            code="FW-V-022",
            place=f"{place}, air_changes",
            read="air changes as typed, and a room that was read clearing",
            expected="one of them",
            matters="the source is worked out from one air change, and the two may disagree",
            do="keep the decay, which was measured; or take it out",
        )
    if first is None or later is None or over is None or volume is None:
        return None
    return file.asked(place, lambda: RiseGiven(first, later, over, volume, changes, decay, outdoor))


def _unvented(file: Source) -> tuple[UnventedGiven, ...]:
    found: list[UnventedGiven] = []
    for place, row in file.rows("unvented"):
        read = partial(file.reading, place, row)
        given = UnventedGiven(
            kind=cast(Kind, file.choice(place, row, "kind", KINDS)),
            words=file.text(place, row, "words"),
            moment=cast(Moment, file.choice(place, row, "moment", MOMENTS)),
            monoxide=read("monoxide", "carbon_monoxide_dry"),
            oxygen=read("oxygen", "oxygen_dry"),
            room_before=read("room_before", ROOM),
            room_after=read("room_after", ROOM),
            delivered=read("delivered", "carbon_monoxide_delivered"),
            building=cast(Building, file.choice(place, row, "building", BUILDINGS)),
            inputs=read("inputs", "fuel_input"),
            room_volume=read("room_volume", "room_volume"),
        )
        if any(one.word == given.word for one in found):
            file.gathered.add(
                code="FW-V-023",
                place=place,
                read=f"{given.word} a second time",
                expected="words or a moment that tell them apart",
                matters="the second would take the place of the first in silence",
                do="give each its own words, such as oven in the kitchen",
            )
        found.append(given)
    return tuple(found)


def read(file: Source) -> tuple[Measured, ...]:
    """Room and appliances without a flue, as the file tells them; nothing where the tables are not there."""
    found: list[Measured] = []
    if "room" in file.tree:
        table = file.table("room")
        found.append(_room(file, table))
        decay = _decay(file, file.table("decay", table)) if "decay" in table else None
        rise = _rise(file, file.table("rise", table), decay) if "rise" in table else None
        found += [one for one in (rise, None if rise is not None else decay) if one is not None]
    return (*found, *_unvented(file))
