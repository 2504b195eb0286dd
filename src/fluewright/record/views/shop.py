"""Customers, sites, spaces, appliances and instruments as they stand now; what was struck out is gone."""

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Boolean, Column, Table, func, select
from sqlalchemy.engine import Connection, RowMapping

from fluewright.record.views.frame import Unit, replaced, text, view, written

NAME = "shop"
VERSION = 1

BODY = "body"


def _view(name: str, *fields: str, index: Sequence[str] = ()) -> Table:
    columns = [text(field, index=field in index) for field in fields]
    return view(f"view_{name}", text("id", index=True), *columns, Column("retired", Boolean), text(BODY))


CUSTOMER = _view("customer", "name", "street", "phone", "email", "reference")
SITE = _view("site", "address", "customer", "jurisdiction", "reference", index=("customer",))
SPACE = _view("space", "name", "site", index=("site",))
APPLIANCE = _view("appliance", "words", "site", "space", "class", "serial", index=("site",))
INSTRUMENT = _view("instrument", "words", "serial", "accuracy", "made")
CALIBRATION = _view("calibration", "instrument", "day", "due", "by", index=("instrument",))
CHECK = _view("check", "instrument", "what", "result", "visit", index=("instrument",))

OF_KIND: Mapping[str, Table] = {
    "customer": CUSTOMER,
    "site": SITE,
    "space": SPACE,
    "appliance": APPLIANCE,
    "instrument": INSTRUMENT,
    "calibration": CALIBRATION,
    "check": CHECK,
}
TABLES = tuple(OF_KIND.values())
KINDS = frozenset(OF_KIND)


def take(connection: Connection, units: Sequence[Unit]) -> None:
    """Fold units into the tables."""
    for kind, table in OF_KIND.items():
        fields = [column.name for column in table.columns if column.name not in ("arrival", "id", "retired", BODY)]
        rows = [
            {"arrival": each.arrival, "id": each.id, "retired": each.current.body.get("retired") is True,
             BODY: written(dict(each.current.body)), **{field: each.words(field) for field in fields}}
            for unit in units for each in unit.counting(kind)
        ]  # fmt: skip
        replaced(connection, table, units, rows)


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
