"""B8: a CSV of readings brought into the journal, against the same rows put into one table as they are.

Two ways: as a trace, which is how recorded readings are meant to come, in one block of columns with one entry; and as
an entry for each reading, every one chained, which is the most that anybody could ask for. The peer parses the same
CSV and writes its texts by `executemany` in one transaction into one table without units, hashes or indexes.
"""

import csv
import itertools
import random
import sqlite3
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from benchmarks import measure
from benchmarks.measure import Aim, Report, Work, alternate
from benchmarks.shops import folder
from fluewright import clock
from fluewright.record.blocks import Block, Channel, fields_of, packed, unpacked
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings

CHANNELS = (("oxygen_dry", "%", 430, 2), ("carbon_monoxide_dry", "ppm", 38, 0), ("flue_temperature", "C", 1962, 1),
            ("draft", "inwc", -25, 3))  # fmt: skip
_NEW = itertools.count()


def source() -> Path:
    """A CSV of invented readings, four to a row with their time: 100,000 readings, or with --full a million."""
    path = folder() / "readings.csv"
    if path.exists():
        return path
    chance = random.Random(8)
    figures = [middle for _, _, middle, _ in CHANNELS]
    with path.open("w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(["time", *(f"{name} [{unit}]" for name, unit, _, _ in CHANNELS)])
        for at in range(250_000 if measure.FULL else 25_000):
            figures = [figure + chance.choice((-1, 0, 0, 1)) for figure in figures]
            texts = [f"{f / 10**places:.{places}f}" for f, (_, _, _, places) in zip(figures, CHANNELS, strict=True)]
            rows.writerow([str(at), *texts])
    return path


def readings() -> int:
    """How many readings the CSV has."""
    with source().open(encoding="utf-8") as file:
        return (sum(1 for _ in file) - 1) * len(CHANNELS)


def _journal() -> tuple[Journal, str]:
    journal = made(Settings(str(folder() / f"import {next(_NEW)}.db")), device_name="a device of the benches")
    return journal, journal.add(Draft("visit", {"title": "import", "day": "2026-11-25"})).id


def _block(path: Path) -> Block:
    with path.open(newline="", encoding="utf-8") as file:
        rows = csv.reader(file)
        next(rows)
        times, *columns = zip(*rows, strict=True)
    channels = [Channel(c[0], c[1], values, times) for c, values in zip(CHANNELS, columns, strict=True)]
    return Block("2026-11-25T08:00:00+00:00", "", tuple(channels))


def as_trace() -> Journal:
    """The CSV as one block of columns beside the journal, and its entry."""
    journal, visit = _journal()
    block = _block(source())
    data = packed(block)
    body = fields_of(block, data)
    (folder() / body["file"]).write_bytes(data)
    journal.add(Draft("trace block", {"visit": visit, **body}, source="imported"))
    return journal


def as_entries() -> Journal:
    """The CSV as one entry for each reading, in transactions of ten thousand rows."""
    journal, visit = _journal()
    with source().open(newline="", encoding="utf-8") as file:
        rows = csv.reader(file)
        next(rows)
        while some := list(itertools.islice(rows, 10_000)):
            drafts = [
                Draft("reading", {"visit": visit, "name": c[0], "point": row[0],
                                  "value": {"typed": f"{text} {c[1]}", "quantity": c[0]}},
                      source="imported", id=clock.new_id())
                for row in some for c, text in zip(CHANNELS, row[1:], strict=True)
            ]  # fmt: skip
            journal.add_all(drafts)
    return journal


def plainly(*, long: bool) -> Callable[[], sqlite3.Connection]:
    """The CSV in one table by `executemany`: a row for each row, or, long, a row for each reading."""

    def write() -> sqlite3.Connection:
        connection = sqlite3.connect(folder() / f"plain {next(_NEW)}.db", isolation_level=None)
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        with source().open(newline="", encoding="utf-8") as file:
            rows = csv.reader(file)
            names = next(rows)
            connection.execute("BEGIN")
            if long:
                connection.execute("CREATE TABLE reading (time TEXT, name TEXT, typed TEXT)")
                each = ((row[0], name, text) for row in rows for name, text in zip(names[1:], row[1:], strict=True))
                connection.executemany("INSERT INTO reading VALUES (?, ?, ?)", each)
            else:
                connection.execute("CREATE TABLE reading (time TEXT, a TEXT, b TEXT, c TEXT, d TEXT)")
                connection.executemany("INSERT INTO reading VALUES (?, ?, ?, ?, ?)", rows)
            connection.execute("COMMIT")
        return connection

    return write


def _hashed() -> None:
    sha256(source().read_bytes()).digest()


def run() -> list[Report]:
    """Time both ways."""
    units = readings()
    works = {
        "ours, a block": Work(as_trace, units), "a row for each row": Work(plainly(long=False), units),
        "ours, entries": Work(as_entries, units), "a row for each reading": Work(plainly(long=True), units),
        "hash of the file": Work(_hashed, units),
    }  # fmt: skip
    times = alternate(works, rounds=3)
    block = _block(source())
    data = packed(block)
    same = unpacked(data) == block
    size = f"{len(data) / units:.2f} bytes a reading, the CSV {source().stat().st_size / units:.1f}"
    limit = "SHA-256 of the CSV, once"
    found = []
    for ours, peer, most in (
        ("ours, a block", "a row for each row", 2.0),
        ("ours, entries", "a row for each reading", 0),
    ):
        slower = times[ours].best / times[peer].best
        words = f"at most twice the time of a plain table: {slower:.2f}"
        aims = (Aim(words, slower <= most), Aim("every text comes back", same)) if most else ()
        said = size if most else "each with its own id, hash, place in the chain and three indexes"
        found.append(Report("B8", f"{units:,} readings of a CSV: {ours}", "reading", times[ours], {peer: times[peer]},
                            times["hash of the file"].best / times[ours].best, limit, said, aims))  # fmt: skip
    return found
