"""Visits: when, for whom, by whom, and whether they are open, sealed, or changed since."""

from collections.abc import Sequence
from datetime import UTC
from functools import lru_cache
from typing import Any

from sqlalchemy import Column, Index, Integer, select
from sqlalchemy.engine import Connection, RowMapping

from fluewright.record.fold import in_order, moment
from fluewright.record.views.frame import Taken, Unit, parts, replaced, text, view

NAME = "visits"
VERSION = 2

OPEN, SEALED, CHANGED, STRUCK = "open", "sealed", "sealed, with amendments", "struck out"

VISIT = view(
    "view_visit",
    text("id", index=True),
    text("title"),
    text("day", index=True),
    text("customer", index=True),
    text("site", index=True),
    text("technician"),
    text("customer_name"),
    text("site_words"),
    text("state"),
    Column("readings", Integer, nullable=False),
    Column("lines", Integer, nullable=False),
    text("last"),
)
Index("view_visit_state", VISIT.c.state, VISIT.c.day)
TABLES = (VISIT,)
KINDS = frozenset({"visit"})


@lru_cache(maxsize=4096)
def utc(kept: str) -> str:
    """A kept moment at Greenwich, so that texts stand in the order of time."""
    return moment(kept).astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ") if kept else ""


def _state(unit: Unit, visit: Taken) -> str:
    if not visit.current.counts:
        return STRUCK
    seals = [each.current.read for each in unit.counting("seal")]
    if not seals:
        return OPEN
    order = in_order([*seals, *unit.changes])
    last = max(order.index(each) for each in seals)
    return CHANGED if last + 1 < len(order) else SEALED


def _row(unit: Unit, visit: Taken) -> dict[str, Any]:
    fields = ("title", "day", "customer", "site", "technician", "customer_name", "site_words")
    return {
        "arrival": visit.arrival,
        "id": visit.id,
        **{field: visit.words(field) for field in fields},
        "state": _state(unit, visit),
        "readings": len(unit.counting("reading")),
        "lines": len(unit.counting("line")),
        "last": max((utc(each.current.read.entry.entered) for each in unit.entries), default=""),
    }


def take(connection: Connection, units: Sequence[Unit]) -> None:
    """Fold units into the table."""
    rows = [_row(unit, each) for unit in units for each in unit.entries if each.kind == "visit"]
    replaced(connection, VISIT, units, rows)


def newest(connection: Connection, most: int = 40, *, state: str = "") -> Sequence[RowMapping]:
    """The newest visits by day, struck-out ones left out unless asked for."""
    wanted = VISIT.c.state == state if state else VISIT.c.state != STRUCK
    asked = select(VISIT).where(wanted).order_by(VISIT.c.day.desc(), VISIT.c.arrival.desc()).limit(most)
    return connection.execute(asked).mappings().all()


def planned(connection: Connection, day: str, most: int = 40) -> Sequence[RowMapping]:
    """Visits that were opened for a later day, the nearest first."""
    asked = select(VISIT).where(VISIT.c.state == OPEN, VISIT.c.day > day).order_by(VISIT.c.day, VISIT.c.arrival)
    return connection.execute(asked.limit(most)).mappings().all()


def begun(connection: Connection, day: str, most: int = 40) -> Sequence[RowMapping]:
    """Open visits of a day and of those before it, the newest first."""
    asked = select(VISIT).where(VISIT.c.state == OPEN, VISIT.c.day <= day)
    return connection.execute(asked.order_by(VISIT.c.day.desc(), VISIT.c.arrival.desc()).limit(most)).mappings().all()


def ending(connection: Connection, digits: str, most: int = 3) -> list[str]:
    """Ids of visits that end with these digits, since people name a visit by the end of its id."""
    asked = select(VISIT.c.id).where(VISIT.c.id.endswith(digits, autoescape=True)).order_by(VISIT.c.id).limit(most)
    return list(connection.scalars(asked))


def of_ids(connection: Connection, ids: Sequence[str]) -> list[RowMapping]:
    """Visits by their ids, in no order."""
    found: list[RowMapping] = []
    for some in parts(ids):
        found += connection.execute(select(VISIT).where(VISIT.c.id.in_(some))).mappings().all()
    return found
