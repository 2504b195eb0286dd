"""What has to be done by a day: said as such, the next of a visit, the end of a calibration or of a ticket."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import select
from sqlalchemy.engine import Connection, RowMapping

from fluewright.record.views.frame import Taken, Unit, replaced, text, view

NAME = "due"
VERSION = 1

DUE = view(
    "view_due",
    text("id"),
    text("kind"),
    text("day", index=True),
    text("made"),
    text("what"),
    text("customer"),
    text("site"),
    text("appliance"),
    text("instrument", index=True),
    text("person"),
    text("visit"),
)
TABLES = (DUE,)
KINDS = frozenset({"due", "next", "calibration", "ticket"})


def _row(each: Taken) -> dict[str, Any] | None:
    day = each.words("expires") if each.kind == "ticket" else each.words("due")
    if not day:
        return None
    what = {"due": each.words("what"), "next": each.words("word"), "calibration": "calibrate again",
            "ticket": f"{each.words('words')}: runs out"}[each.kind]  # fmt: skip
    fields = ("customer", "site", "appliance", "instrument", "person", "visit")
    return {"arrival": each.arrival, "id": each.id, "kind": each.kind, "day": day, "made": each.words("day"),
            "what": what, **{field: each.words(field) for field in fields}}  # fmt: skip


def take(connection: Connection, units: Sequence[Unit]) -> None:
    """Fold units into the table."""
    found = (_row(each) for unit in units for each in unit.counting(*KINDS))
    replaced(connection, DUE, units, [row for row in found if row is not None])


def until(connection: Connection, day: str = "9999-12-31", most: int = 10_000) -> Sequence[RowMapping]:
    """What is due up to a day, the first first; a calibration that was done again is left out."""
    later = DUE.alias()
    again = (
        select(later.c.arrival)
        .where(later.c.kind == "calibration", later.c.instrument == DUE.c.instrument, later.c.made > DUE.c.made)
        .exists()
    )
    asked = (
        select(DUE)
        .where(DUE.c.day <= day, (DUE.c.kind != "calibration") | ~again)
        .order_by(DUE.c.day, DUE.c.arrival)
        .limit(most)
    )
    return connection.execute(asked).mappings().all()


def of_these(connection: Connection, field: str, ids: Sequence[str], most: int = 40) -> Sequence[RowMapping]:
    """What is due for some things, by the field that names them, the first first."""
    asked = select(DUE).where(DUE.c[field].in_(ids)).order_by(DUE.c.day, DUE.c.arrival).limit(most)
    return connection.execute(asked).mappings().all()
