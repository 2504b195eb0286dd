"""Brings the views up to the last entry, before they are read and never while something is written down."""

import gc
import re
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager

from sqlalchemy import create_engine, delete, func, insert, select, update
from sqlalchemy.engine import Connection, RowMapping
from sqlalchemy.pool import StaticPool

from fluewright.errors import OurFault
from fluewright.record.personal import KEY, erased_by
from fluewright.record.store import Store
from fluewright.record.tables import ENTRY, SECRET
from fluewright.record.views.frame import ERASING, STATE, UNREAD, VIEWS, parts
from fluewright.record.views.states import ALL, FRAME_NAME, VERSIONS, finished, is_behind, readied, states_of
from fluewright.record.views.units import Gathering, Got, got

ERASURE = "erasure"
_COMMITMENT = re.compile(r"[0-9a-f]{64}")
PORTION = 10_000
"""Entries folded in one transaction, about a second; between two, someone who wants to write gets a turn."""
REST = 0.11
"""s between two portions: SQLite asks again for its turn at most every tenth of a second."""

ROOM = 96_000
"""KiB of pages at hand during a rebuild."""

Progress = Callable[[int, int], None]
"""Told after each portion: entries done, entries in all."""


def _last(source: Connection) -> int:
    return int(source.scalar(select(func.max(ENTRY.c.arrival))) or 0)


def _count_unread(target: Connection, portion: Sequence[Got]) -> None:
    """Count what this version does not understand."""
    found: Counter[tuple[str, int]] = Counter()
    for each in portion:
        if each.read is None:
            found[each.kind, each.version] += 1
        elif not each.read.known:
            found[each.read.entry.kind, each.read.entry.version] += 1
    for (kind, version), entries in found.items():
        here = (UNREAD.c.kind == kind) & (UNREAD.c.version == version)
        if not target.execute(update(UNREAD).where(here).values(entries=UNREAD.c.entries + entries)).rowcount:
            target.execute(insert(UNREAD).values(kind=kind, version=version, entries=entries))


def _erased(portion: Sequence[Got]) -> list[str]:
    """Commitments of which a portion says that they were erased."""
    bodies = [each.read.body for each in portion if each.read is not None and each.read.entry.kind == ERASURE]
    return [each for body in bodies for each in erased_by(body)]


def _step(source: Connection, target: Connection, states: dict[str, int], last: int, gathering: Gathering) -> bool:
    """Fold one portion into the views that are furthest behind; -> whether there was one."""
    low = min(states.values())
    if low >= last:
        return False
    behind = [name for name, arrival in states.items() if arrival == low]
    upto = min([last, *(arrival for arrival in states.values() if arrival > low)])
    portion = got(source, (ENTRY.c.arrival > low) & (ENTRY.c.arrival <= upto), PORTION)
    reached = portion[-1].arrival if len(portion) == PORTION else upto
    if FRAME_NAME in behind:
        _count_unread(target, portion)
    if portion:
        units = gathering.units(portion, note=FRAME_NAME in behind)
        erased = _heeded(source, target, portion, reached)
        again = gathering.of_arrivals(erased) if erased else []
        for view in ALL:
            if view.NAME in behind:
                view.take(target, units)
                if again:
                    view.take(target, again)
    target.execute(update(STATE).where(STATE.c.name.in_(behind)).values(arrival=reached))
    states.update(dict.fromkeys(behind, reached))
    return True


def _arrivals_with(source: Connection, commitments: Iterable[str], last: int) -> list[int]:
    """Entries that hold one of these commitments; every entry about people is looked through."""
    wanted = set(commitments)
    if not wanted:
        return []
    asked = select(ENTRY.c.arrival, ENTRY.c.text).where(
        ENTRY.c.text.contains(f'"{KEY}"'), ENTRY.c.kind != ERASURE, ENTRY.c.arrival <= last
    )
    rows = source.execute(asked.execution_options(yield_per=1000))
    return [int(row.arrival) for row in rows if wanted.intersection(_COMMITMENT.findall(row.text))]


def _still_here(source: Connection, commitments: Sequence[str]) -> set[str]:
    """Those of some commitments whose values are in the store."""
    found: set[str] = set()
    for some in parts(commitments):
        found.update(source.scalars(select(SECRET.c.commitment).where(SECRET.c.commitment.in_(some))))
    return found


def _heeded(source: Connection, target: Connection, portion: Sequence[Got], reached: int) -> list[int]:
    """Entries that must be folded again since a portion says that something in them was erased.

    What is still here is written down, for `forget_erased` to come back to.
    """
    said = list(dict.fromkeys(_erased(portion)))
    here = _still_here(source, said)
    noted = set(target.scalars(select(ERASING.c.commitment)))
    if here - noted:
        target.execute(insert(ERASING), [{"commitment": each} for each in sorted(here - noted)])
    return _arrivals_with(source, set(said) - here, reached)


def catch_up(store: Store, told: Progress | None = None) -> None:
    """Bring all views of a store up to its last entry.

    store  open for writing
    told   after each portion
    """
    with store.reading() as connection:
        last = _last(connection)
        if not is_behind(store, connection, last):
            return
    done = 0
    while done < last:
        with _uncollected(), store.writing() as connection:
            states = readied(connection)
            _roomy(connection, last - min(states.values()) > PORTION)
            _step(connection, connection, states, last, Gathering(connection, connection, last))
            done = min(states.values())
            if done >= last:
                finished(connection)
        if told is not None:
            told(min(done, last), last)
        if done < last and store.settings.mode == "wal":
            time.sleep(REST)


@contextmanager
def _uncollected() -> Iterator[None]:
    """Keep Python from looking for circles among thousands of entries that have none: a quarter of the time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _roomy(connection: Connection, much: bool) -> None:
    """Let SQLite keep more pages at hand while many entries are folded, since words are written all over the index."""
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql(f"PRAGMA cache_size = {-ROOM if much else -2_000}")


def rebuild(store: Store, told: Progress | None = None) -> int:
    """Throw all views away and make them anew from the entries.

    -> how many entries were read
    """
    with store.writing() as connection:
        VIEWS.drop_all(connection)
        readied(connection)
    catch_up(store, told)
    with store.reading() as connection:
        return int(connection.scalar(select(func.count()).select_from(ENTRY)) or 0)


def forget(connection: Connection, commitments: Sequence[str]) -> None:
    """Fold everything again that showed one of these values, after the values are gone.

    Within the transaction that erases, so that no view is ever left with what was erased.

    connection   writes to the store
    commitments  of the values that were taken away
    """
    if not connection.dialect.has_table(connection, STATE.name):
        return
    states = states_of(connection)
    if set(states) != set(VERSIONS):
        VIEWS.drop_all(connection)
        readied(connection)
        return
    arrivals = _arrivals_with(connection, commitments, max(states.values()))
    gathering = Gathering(connection, connection, max(states.values()))
    for some in parts(arrivals):
        units = gathering.of_arrivals(some)
        for view in ALL:
            view.take(connection, units)


def forget_erased(store: Store) -> None:
    """Make sure that no view shows what an entry says is erased, as far as its value is gone.

    store  open for writing, after the values were taken away
    """
    catch_up(store)
    with store.writing() as connection:
        asked = list(connection.scalars(select(ERASING.c.commitment)))
        gone = sorted(set(asked) - _still_here(connection, asked))
        forget(connection, gone)
        for some in parts(gone):
            connection.execute(delete(ERASING).where(ERASING.c.commitment.in_(some)))


@contextmanager
def _aside(store: Store) -> Iterator[Connection]:
    """Views in memory, for a store that may not be written to."""
    engine = create_engine("sqlite://", poolclass=StaticPool)
    with store.reading() as source, engine.begin() as target:
        states, last = readied(target), _last(source)
        gathering = Gathering(source, target, last)
        while _step(source, target, states, last, gathering):
            pass
        finished(target)
        yield target
    engine.dispose()


@contextmanager
def looked_at(store: Store) -> Iterator[Connection]:
    """A connection for reading in which every view is up to the last entry.

    store  open for writing; the views of one that is not are made in memory, which takes its time
    """
    if store.settings.read_only:
        with _aside(store) as connection:
            yield connection
        return
    last: int | None = None
    for _ in range(20):
        with store.reading() as connection:
            if not is_behind(store, connection, last):
                yield connection
                return
            last = _last(connection) if last is None else last
        catch_up(store)
    raise OurFault(
        code="FW-Z-090",
        where=store.where,
        read="views that another program threw away twenty times while they were to be read",
        expected="views of one form, made by one version of the program",
        matters="what is shown would lack entries",
        do="let the same version of the program run everywhere, then try again",
    )


def unread(connection: Connection) -> Sequence[RowMapping]:
    """What this version does not understand: kind, form and how many entries."""
    return connection.execute(select(UNREAD).order_by(UNREAD.c.kind, UNREAD.c.version)).mappings().all()
