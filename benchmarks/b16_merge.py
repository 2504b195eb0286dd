"""B16: two histories of 100,000 entries, 5 % of them on one side only, made one; against a set union in SQL."""

import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing
from hashlib import sha256
from pathlib import Path
from time import perf_counter

from benchmarks.measure import Aim, Report, Times
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.record.sync import answered, synced

ENTRIES, APART, ROUNDS = 100_000, 5_000, 3
"""Entries in each history before they part, entries of each after that, and turns of each."""

VALUE = {"typed": "4.3 %", "quantity": "oxygen", "unit": "%", "si": "0.043"}


def readings(journal: Journal, count: int) -> None:
    """Invented readings of one visit, by the thousand."""
    drafts = [Draft("reading", {"visit": journal.device, "name": "o2", "value": VALUE}) for _ in range(1000)]
    for _ in range(count // 1000):
        journal.add_all(drafts)


def met(one: Journal, other: Journal) -> int:
    """Both made one; -> entries that moved."""
    found = synced(one, lambda request: answered(other, request))
    return found.taken.new + found.sent


def copied(journal: Journal, path: Path) -> Journal:
    """The same journal in another place."""
    with closing(sqlite3.connect(journal.store.settings.path())) as source, closing(sqlite3.connect(path)) as target:
        source.backup(target)
    return Journal(type(journal.store)(Settings(str(path))), journal.device)


def in_sql(one: Path, other: Path) -> float:
    """Seconds of a set union of the bare rows, both ways, in one SQLite: nothing is checked, nothing is hashed."""
    columns = "device, sequence, id, kind, subject, hash, text"
    with closing(sqlite3.connect(one, isolation_level=None)) as raw:
        raw.execute("ATTACH ? AS far", (str(other),))
        raw.execute("PRAGMA synchronous = FULL")
        start = perf_counter()
        for here, there in (("main", "far"), ("far", "main")):
            raw.execute("BEGIN IMMEDIATE")
            raw.execute(
                f"INSERT INTO {here}.entry ({columns}) SELECT {columns} FROM {there}.entry AS t WHERE NOT EXISTS "
                f"(SELECT 1 FROM {here}.entry AS h WHERE h.device = t.device AND h.sequence = t.sequence)"
            )
            raw.execute("COMMIT")
        return perf_counter() - start


def hashed(text: bytes, count: int) -> float:
    """Seconds of SHA-256 over so many entries: each is looked at once on the side that takes it."""
    start = perf_counter()
    for _ in range(count):
        sha256(text)
    return perf_counter() - start


def prepared(folder: Path) -> tuple[Journal, Journal, int]:
    """Two journals that share a history and went apart; -> and bytes of one entry."""
    van = made(Settings(str(folder / "van.db")), device_name="van")
    office = made(Settings(str(folder / "office.db")), device_name="office")
    readings(van, ENTRIES // 2)
    readings(office, ENTRIES // 2)
    met(van, office)
    readings(van, APART)
    readings(office, APART)
    with van.store.reading() as connection:
        size = int(connection.exec_driver_sql("SELECT max(length(text)) FROM entry").scalar() or 0)
    return van, office, size


def turns(folder: Path, van: Journal, office: Journal, work: Callable[[Journal, Journal], float]) -> Times:
    """A work done on fresh copies, several times."""
    taken = []
    for turn in range(ROUNDS):
        name = f"{work.__name__}{turn}"
        one, other = copied(van, folder / f"{name}a.db"), copied(office, folder / f"{name}b.db")
        taken.append(work(one, other))
        for each in (one, other):
            each.store.close()
    return Times(tuple(taken))


def ours(one: Journal, other: Journal) -> float:
    """Seconds of our exchange."""
    start = perf_counter()
    moved = met(one, other)
    seconds = perf_counter() - start
    if moved != 2 * APART:
        raise RuntimeError(f"{moved} entries moved, not {2 * APART}")
    return seconds


def nothing(one: Journal, other: Journal) -> float:
    """Seconds of an exchange in which nothing differs any more."""
    met(one, other)
    start = perf_counter()
    met(one, other)
    return perf_counter() - start


def theirs(one: Journal, other: Journal) -> float:
    """Seconds of the union in SQL."""
    for each in (one, other):
        each.store.close()
    return in_sql(one.store.settings.path(), other.store.settings.path())


def run() -> list[Report]:
    """Time it on copies of one pair of histories."""
    with tempfile.TemporaryDirectory(prefix="fluewright-bench-") as name:
        folder = Path(name)
        van, office, size = prepared(folder)
        mine, union, equal = (turns(folder, van, office, work) for work in (ours, theirs, nothing))
        limit = hashed(b"x" * size, 2 * APART)
    aims = (
        Aim(f"at most 1 s: {mine.best:.2f} s", mine.best <= 1.0),
        Aim(f"what does not differ costs at most 2 %: {equal.best / mine.best:.2%}", equal.best <= 0.02 * mine.best),
    )
    said = "the same rows; ours checks each against its hash and its chain, the union checks nothing"
    work = f"2 x {ENTRIES:,} entries, {2 * APART:,} differ"
    peers = {"set union in SQL": union}
    return [Report("B16", work, "merge", mine, peers, limit / mine.best, "SHA-256 over what moves", said, aims)]
