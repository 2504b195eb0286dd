"""Dangers that were told and are still open; the list only shrinks by an entry that says the danger is no more.

A notice that was struck out stays on it, marked: a danger does not end because its paper was wrong.
"""

from collections.abc import Sequence

from sqlalchemy import Boolean, Column, select
from sqlalchemy.engine import Connection, RowMapping

from fluewright.record.views.frame import Unit, replaced, text, view
from fluewright.record.views.visits import utc

NAME = "notices"
VERSION = 1

NOTICE = view(
    "view_notice",
    text("id"),
    text("visit"),
    text("appliance"),
    text("words"),
    text("consent"),
    text("told"),
    text("at"),
    Column("struck", Boolean, nullable=False),
)
CLOSING = view("view_notice_closed", text("id"), text("of", index=True), text("at"))
TABLES = (NOTICE, CLOSING)
KINDS = frozenset({"notice", "notice closed"})


def take(connection: Connection, units: Sequence[Unit]) -> None:
    """Fold units into the tables."""
    notices = [
        {"arrival": each.arrival, "id": each.id, "at": utc(each.at()), "struck": not each.current.counts,
         **{field: each.words(field) for field in ("visit", "appliance", "words", "consent", "told")}}
        for unit in units for each in unit.entries if each.kind == "notice"
    ]  # fmt: skip
    closings = [
        {"arrival": each.arrival, "id": each.id, "of": each.words("of"), "at": utc(each.at())}
        for unit in units
        for each in unit.counting("notice closed")
    ]
    replaced(connection, NOTICE, units, notices)
    replaced(connection, CLOSING, units, closings)


def still_open(connection: Connection) -> Sequence[RowMapping]:
    """Notices that nobody has closed, the oldest first."""
    closed = select(CLOSING.c.arrival).where(CLOSING.c.of == NOTICE.c.id).exists()
    return connection.execute(select(NOTICE).where(~closed).order_by(NOTICE.c.at, NOTICE.c.arrival)).mappings().all()
