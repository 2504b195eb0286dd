"""Which visits an appliance, an instrument or a flue group has had, so that its page finds them among millions."""

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Column, Index, Table, Text, func, select
from sqlalchemy.engine import Connection, RowMapping

from fluewright.record.tables import ENTRY
from fluewright.record.views.frame import NUMBER, VIEWS, Taken, Unit, parts, replaced
from fluewright.record.views.notices import CLOSING, NOTICE
from fluewright.record.views.visits import STRUCK, VISIT

NAME = "visited"
VERSION = 1

VISITED = Table(
    "view_visited",
    VIEWS,
    Column("arrival", NUMBER, primary_key=True, autoincrement=False, comment="of the visit"),
    Column("thing", Text, primary_key=True, comment="id of the appliance or the instrument"),
    Column("day", Text, nullable=False),
)
Index("view_visited_thing", VISITED.c.thing, VISITED.c.day)
TABLES = (VISITED,)
KINDS = frozenset({"visit", "stretch", "reading", "line", "step", "event", "notice"})

FIELDS = ("appliance", "instrument")


def _things(unit: Unit, visit: Taken) -> set[str]:
    """Ids of everything that the entries of a visit name."""
    named = visit.current.body.get("appliances")
    found = {each for each in named if isinstance(each, str)} if isinstance(named, list | tuple) else set()
    for each in unit.counting(*KINDS):
        found |= {each.words(field) for field in FIELDS}
    return found - {""}


def take(connection: Connection, units: Sequence[Unit]) -> None:
    """Fold units into the table."""
    rows = [
        {"arrival": visit.arrival, "thing": thing, "day": visit.words("day")}
        for unit in units
        for visit in unit.counting("visit")
        for thing in sorted(_things(unit, visit))
    ]
    replaced(connection, VISITED, units, rows)


def _wanted(where: Mapping[str, Sequence[str]]) -> Any:
    """Visits of some things, customers or sites; struck-out ones left out."""
    asked = select(VISIT).where(VISIT.c.state != STRUCK)
    if things := where.get("thing"):
        held = select(VISITED.c.arrival).where(VISITED.c.thing.in_(things))
        asked = asked.where(VISIT.c.arrival.in_(held))
    for field in ("customer", "site"):
        if ids := where.get(field):
            asked = asked.where(VISIT.c[field].in_(ids))
    return asked


def of_these(
    connection: Connection, where: Mapping[str, Sequence[str]], *, most: int, after: int = 0
) -> Sequence[RowMapping]:
    """The visits of some things, customers or sites, the newest first.

    where  ids by thing, customer or site
    most   how many
    after  how many newer ones are left out, for the next page
    """
    asked = _wanted(where).order_by(VISIT.c.day.desc(), VISIT.c.arrival.desc()).limit(most).offset(after)
    found: Sequence[RowMapping] = connection.execute(asked).mappings().all()
    return found


def count_of(connection: Connection, where: Mapping[str, Sequence[str]]) -> int:
    """How many visits these have had."""
    return int(connection.scalar(select(func.count()).select_from(_wanted(where).subquery())) or 0)


def dangers_of(connection: Connection, where: Mapping[str, Sequence[str]]) -> Sequence[RowMapping]:
    """Open notices of visits that these have had, the oldest first."""
    closed = select(CLOSING.c.arrival).where(CLOSING.c.of == NOTICE.c.id).exists()
    visits = _wanted(where).subquery()
    asked = select(NOTICE).where(NOTICE.c.visit.in_(select(visits.c.id)), ~closed).order_by(NOTICE.c.at)
    return connection.execute(asked).mappings().all()


def days_of(connection: Connection, where: Mapping[str, Sequence[str]]) -> tuple[str, str]:
    """The first and the last day on which somebody was there; empty when nobody was."""
    visits = _wanted(where).subquery()
    row = connection.execute(select(func.min(visits.c.day), func.max(visits.c.day))).one()
    return str(row[0] or ""), str(row[1] or "")


def reached(connection: Connection, visits: Sequence[str]) -> dict[str, tuple[int, int]]:
    """By visit how many entries belong to it and the last of them: what was worked out of it stands until this moves.

    Amendments and strike-outs belong to the visit of what they change.
    """
    found: dict[str, tuple[int, int]] = {}
    for some in parts(visits):
        asked = select(ENTRY.c.subject, func.count(), func.max(ENTRY.c.arrival)).where(ENTRY.c.subject.in_(some))
        rows = connection.execute(asked.group_by(ENTRY.c.subject)).all()
        found.update({str(row[0]): (int(row[1]), int(row[2])) for row in rows})
    return found
