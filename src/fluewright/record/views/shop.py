"""Customers, sites, their appliances and vents, and instruments as they stand now; what was struck out is gone."""

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Boolean, Column, Table, func, select
from sqlalchemy.engine import Connection, RowMapping

from fluewright.record.views.frame import Unit, replaced, text, view, written
from fluewright.record.views.visits import utc

NAME = "shop"
VERSION = 2

BODY = "body"
OURS = ("arrival", "id", "at", "retired", BODY)
"""Columns that are no field of an entry."""


def _view(name: str, *fields: str, index: Sequence[str] = ()) -> Table:
    columns = [text(field, index=field in index) for field in fields]
    return view(f"view_{name}", text("id", index=True), *columns, text("at"), Column("retired", Boolean), text(BODY))


CUSTOMER = _view("customer", "name", "street", "phone", "email", "reference")
SITE = _view("site", "address", "customer", "jurisdiction", "reference", index=("customer",))
SPACE = _view("space", "name", "site", index=("site",))
APPLIANCE = _view("appliance", "words", "site", "space", "class", "serial", index=("site",))
GROUP = _view("flue_group", "words", "site", index=("site",))
VENT = _view("vent", "words", "group", "appliance", "category", "material", index=("group", "appliance"))
INSTRUMENT = _view("instrument", "words", "serial", "accuracy", "made")
CALIBRATION = _view("calibration", "instrument", "day", "due", "by", index=("instrument",))
SETTINGS = _view("settings", "name", "value", "person")
CHECK = _view("check", "instrument", "what", "result", "visit", "day", index=("instrument",))

OF_KIND: Mapping[str, Table] = {
    "customer": CUSTOMER,
    "site": SITE,
    "space": SPACE,
    "appliance": APPLIANCE,
    "flue group": GROUP,
    "vent": VENT,
    "instrument": INSTRUMENT,
    "calibration": CALIBRATION,
    "check": CHECK,
    "settings": SETTINGS,
}
TABLES = tuple(OF_KIND.values())
KINDS = frozenset(OF_KIND)


def _days(unit: Unit) -> dict[str, str]:
    """The day of each check: its own, else that of its visit, else that on which it was entered."""
    visit = next((each.words("day") for each in unit.counting("visit")), "")
    return {each.id: each.words("day") or visit or each.at()[:10] for each in unit.counting("check")}


def take(connection: Connection, units: Sequence[Unit]) -> None:
    """Fold units into the tables."""
    days = {entry: day for unit in units for entry, day in _days(unit).items()}
    for kind, table in OF_KIND.items():
        fields = [column.name for column in table.columns if column.name not in OURS]
        rows = [
            {"arrival": each.arrival, "id": each.id, "at": utc(each.at()), BODY: written(dict(each.current.body)),
             "retired": each.current.body.get("retired") is True, **{field: each.words(field) for field in fields},
             **({"day": days[each.id]} if each.id in days else {})}
            for unit in units for each in unit.counting(kind)
        ]  # fmt: skip
        replaced(connection, table, units, rows)


def one(connection: Connection, kind: str, id: str) -> RowMapping | None:
    """One thing of the shop by its id, or by the last digits of it; None when it is not here, or not the only one."""
    table = OF_KIND[kind]
    asked = select(table).where(table.c.id == id) if len(id) == 36 else select(table).where(table.c.id.endswith(id))
    found = connection.execute(asked.limit(2)).mappings().all()
    return found[0] if len(found) == 1 else None


def all_of(connection: Connection, kind: str, *, most: int, **fields: str | bool) -> Sequence[RowMapping]:
    """Things of a kind with these fields, those out of use last; in the order in which they came."""
    table = OF_KIND[kind]
    wanted = [table.c[name] == value for name, value in fields.items()]
    asked = select(table).where(*wanted).order_by(table.c.retired, table.c.arrival).limit(most)
    return connection.execute(asked).mappings().all()


def settled(connection: Connection) -> dict[str, str]:
    """What is settled for the shop, by name; of several the last that was entered, whatever device entered it."""
    asked = select(SETTINGS).where(SETTINGS.c.person == "").order_by(SETTINGS.c.at, SETTINGS.c.id)
    return {str(row["name"]): str(row["value"]) for row in connection.execute(asked).mappings()}


def listed(connection: Connection, kind: str, most: int) -> Sequence[RowMapping]:
    """Customers, sites, appliances or others of one kind that are in use, the newest first.

    kind  of `OF_KIND`
    most  how many
    """
    table = OF_KIND[kind]
    wanted = [column for column in table.columns if column.name not in ("arrival", "retired", BODY)]
    asked = select(*wanted).where(table.c.retired.is_(False)).order_by(table.c.arrival.desc()).limit(most)
    return connection.execute(asked).mappings().all()


def instruments(connection: Connection) -> Sequence[RowMapping]:
    """All instruments that are in use: words, serial, and the day of the last calibration and of the next."""
    newest = (
        select(CALIBRATION.c.instrument, func.max(CALIBRATION.c.day).label("day"))
        .group_by(CALIBRATION.c.instrument)
        .subquery()
    )
    due = (
        select(func.max(CALIBRATION.c.due))
        .where(CALIBRATION.c.instrument == newest.c.instrument, CALIBRATION.c.day == newest.c.day)
        .scalar_subquery()
    )
    each = CHECK.alias()
    checked = (
        select(func.max(each.c.arrival))
        .where(each.c.instrument == INSTRUMENT.c.id)
        .correlate(INSTRUMENT)
        .scalar_subquery()
    )
    asked: Any = (
        select(INSTRUMENT.c.id, INSTRUMENT.c.words, INSTRUMENT.c.serial, INSTRUMENT.c.accuracy,
               func.coalesce(newest.c.day, "").label("calibrated"), func.coalesce(due, "").label("due"),
               func.coalesce(CHECK.c.what, "").label("check"), func.coalesce(CHECK.c.result, "").label("result"))
        .select_from(INSTRUMENT)
        .outerjoin(newest, newest.c.instrument == INSTRUMENT.c.id)
        .outerjoin(CHECK, CHECK.c.arrival == checked)
        .where(INSTRUMENT.c.retired.is_(False))
        .order_by(INSTRUMENT.c.words, INSTRUMENT.c.arrival)
    )  # fmt: skip
    return connection.execute(asked).mappings().all()


def instrument(connection: Connection, id: str) -> RowMapping | None:
    """One instrument; None when it is not here."""
    return connection.execute(select(INSTRUMENT).where(INSTRUMENT.c.id == id)).mappings().first()


def _of_instrument(connection: Connection, table: Table, instrument: str) -> Sequence[RowMapping]:
    asked = select(table).where(table.c.instrument == instrument).order_by(table.c.day, table.c.arrival)
    return connection.execute(asked).mappings().all()


def calibrations(connection: Connection, instrument: str) -> Sequence[RowMapping]:
    """The calibrations of an instrument, oldest first."""
    return _of_instrument(connection, CALIBRATION, instrument)


def checks(connection: Connection, instrument: str) -> Sequence[RowMapping]:
    """Its zeros, leak checks and other checks, oldest first; those of visits too."""
    return _of_instrument(connection, CHECK, instrument)
