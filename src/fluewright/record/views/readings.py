"""Readings by appliance and time, so that the last forty are found among millions."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Index, Row, bindparam, select
from sqlalchemy.engine import Connection

from fluewright.record.views.frame import Taken, Unit, replaced, text, view, written
from fluewright.record.views.visits import utc

NAME = "readings"
VERSION = 1

READING = view(
    "view_reading",
    text("appliance"),
    text("name"),
    text("at"),
    text("visit"),
    text("point"),
    text("typed"),
    text("value"),
)
Index("view_reading_last", READING.c.appliance, READING.c.at)
TABLES = (READING,)
KINDS = frozenset({"visit", "stretch", "reading"})


def _only(visits: Sequence[Taken]) -> str:
    """The appliance of a visit that has but one."""
    found = visits[0].current.body.get("appliances") if visits else None
    return found[0] if isinstance(found, list | tuple) and len(found) == 1 and isinstance(found[0], str) else ""


def _row(each: Taken, appliance: str) -> dict[str, Any]:
    value = each.current.body.get("value")
    typed = value.get("typed") if isinstance(value, dict) else ""
    return {
        "arrival": each.arrival,
        "appliance": appliance,
        "name": each.words("name"),
        "at": utc(each.at()),
        "visit": each.words("visit"),
        "point": each.words("point"),
        "typed": typed if isinstance(typed, str) else "",
        "value": written(value),
    }


def take(connection: Connection, units: Sequence[Unit]) -> None:
    """Fold units into the table; a reading without an appliance of its own has that of its stretch or its visit."""
    rows = []
    for unit in units:
        readings = unit.counting("reading")
        if not readings:
            continue
        of_stretch = {each.id: each.words("appliance") for each in unit.counting("stretch")}
        only = _only(unit.counting("visit"))
        for each in readings:
            appliance = each.words("appliance") or of_stretch.get(each.words("stretch")) or only
            rows.append(_row(each, appliance))
    replaced(connection, READING, units, rows)


_LAST = (
    select(READING)
    .where(READING.c.appliance == bindparam("appliance"))
    .order_by(READING.c.at.desc())
    .limit(bindparam("most"))
)
_LAST_OF_NAME = _LAST.where(READING.c.name == bindparam("name"))


def last(connection: Connection, appliance: str, *, name: str = "", most: int = 40) -> Sequence[Row[Any]]:
    """The last readings of an appliance by the moment they were seen, newest first.

    name  a quantity, when only its readings are asked for
    """
    asked = {"appliance": appliance, "most": most}
    if name:
        return connection.execute(_LAST_OF_NAME, {**asked, "name": name}).all()
    return connection.execute(_LAST, asked).all()
