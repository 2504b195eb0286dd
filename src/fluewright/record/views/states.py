"""Which views there are, of which form, up to which entry; and making their tables."""

from collections.abc import Mapping, Sequence
from types import ModuleType
from weakref import WeakSet

from sqlalchemy import delete, func, insert, select, update
from sqlalchemy.engine import Connection

from fluewright.record.canonical import canonical, digest
from fluewright.record.kinds import KINDS
from fluewright.record.store import Store
from fluewright.record.tables import ENTRY
from fluewright.record.views import due, frame, notices, readings, search, shop, shown, visited, visits
from fluewright.record.views.frame import STATE, VIEWS

ALL: Sequence[ModuleType] = (shop, visits, visited, readings, shown, due, notices, search)
"""Every view: NAME, VERSION, TABLES, the KINDS it is made of, and `take(connection, units)`."""

FRAME_NAME = "frame"
MAKING = "~"
"""Stands after the version of a view that has not yet been up to the last entry: its indexes are still to be made,
since one made at the end costs a third of one that grows with every row."""


def _version(of: int) -> str:
    """A view's version, with the forms of all kinds: what a newer program understands is folded again."""
    forms = canonical({kind.name: kind.version for kind in KINDS.values()})
    return f"{of}.{frame.VERSION}.{digest(forms)[:12]}"


VERSIONS: Mapping[str, str] = {
    FRAME_NAME: _version(frame.VERSION),
    **{view.NAME: _version(view.VERSION) for view in ALL},
}

_STATES = select(STATE.c.name, STATE.c.version, STATE.c.arrival)
_NOW = select(STATE.c.name, STATE.c.version, STATE.c.arrival, select(func.max(ENTRY.c.arrival)).scalar_subquery())

_made: "WeakSet[Store]" = WeakSet()
"""Stores in which the tables of the views were seen; they are never taken away without new ones in their place."""


def states_of(target: Connection) -> dict[str, int]:
    """By view the last entry that is in it; views of another form count as not there."""
    rows = target.execute(_STATES).all() if target.dialect.has_table(target, STATE.name) else []
    return {row.name: int(row.arrival) for row in rows if VERSIONS.get(row.name) == row.version.rstrip(MAKING)}


def is_behind(store: Store, connection: Connection, last: int | None) -> bool:
    """Whether some view is not there or lacks an entry, up to `last` when that is given."""
    if store not in _made and not connection.dialect.has_table(connection, STATE.name):
        return True
    _made.add(store)
    rows = connection.execute(_NOW).all()
    there = {name: arrival for name, version, arrival, _ in rows if VERSIONS.get(name) == version}
    return set(there) != set(VERSIONS) or min(there.values()) < (int(rows[0][3] or 0) if last is None else last)


def readied(target: Connection) -> dict[str, int]:
    """Views whose form has changed made empty; -> by view the last entry that is in it."""
    states = states_of(target)
    if set(states) == set(VERSIONS):
        return states
    if FRAME_NAME not in states:
        VIEWS.drop_all(target)
        states = {}
    new = [view for view in ALL if view.NAME not in states]
    for view in new:
        VIEWS.drop_all(target, tables=list(view.TABLES))
    VIEWS.create_all(target)
    for view in new:
        for table in view.TABLES:
            for index in table.indexes:
                index.drop(target)
    target.execute(delete(STATE).where(STATE.c.name.not_in(list(states))))
    names = [name for name in VERSIONS if name not in states]
    rows = [{"name": name, "version": VERSIONS[name] + MAKING, "arrival": 0} for name in names]
    target.execute(insert(STATE), rows)
    return states | dict.fromkeys(names, 0)


def finished(target: Connection) -> None:
    """Give the views that were made anew, and are now up to the last entry, their indexes."""
    made = [row.name for row in target.execute(_STATES) if row.version.endswith(MAKING)]
    for view in ALL:
        for table in view.TABLES if view.NAME in made else ():
            for index in table.indexes:
                index.create(target)
    for name in made:
        target.execute(update(STATE).where(STATE.c.name == name).values(version=VERSIONS[name]))
