"""Files that a visit names: only those that the journal holds, since a typed name would read any file of this machine.

Whoever sits at a page of a shop's server may add a line and must not be able to read the server's disk by it.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from fluewright.errors import VisitError
from fluewright.record.fold import Current
from fluewright.visit.from_entries import NAMING


def need_none_named(tables: Mapping[str, Any]) -> None:
    """Refuse tables of a new visit that name a file; VisitError naming it."""
    rows = [row for table in tables.values() for row in (table if isinstance(table, list) else [table])]
    _need(_named(rows), frozenset())


def need_held(before: Sequence[Current], bodies: Iterable[Mapping[str, Any]]) -> None:
    """Refuse a change that names a file which the visit does not hold; VisitError naming it.

    before  entries of the visit so far
    bodies  of the entries that are to be added, or of one as it would be amended
    """
    held = frozenset(str(e.body.get("place", "")) for e in before if e.read.entry.kind == "file" and e.counts)
    _need(_named([row for body in bodies for row in (body, body.get("typed", {}))]), held)


def _named(rows: Iterable[Any]) -> list[str]:
    tables = [row for row in rows if isinstance(row, Mapping)]
    return [row[key] for row in tables for key in NAMING if isinstance(row.get(key), str)]


def _need(named: Iterable[str], held: frozenset[str]) -> None:
    strange = next((name for name in named if name not in held), None)
    if strange is not None:
        raise VisitError(
            code="FW-V-160",
            read=f"the name of a file, {strange[:80]!r}, that this visit does not hold",
            expected="a file that was kept with the visit",
            matters="a name alone would read whatever lies under it on the machine that keeps the journal",
            do="take the file in with its visit: `fluewright visit new --from FILE`; nothing was kept",
        )
