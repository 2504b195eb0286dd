"""B7: one reading kept and on the disk, against a bare insert and commit with the same settings and indexes."""

import os
import sqlite3
import tempfile
from pathlib import Path
from typing import Any

from benchmarks.measure import Aim, Report, Times, Work, alternate
from fluewright import clock
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings

CALLS = 10
ROUNDS = 150
"""Short turns, many of them: a disk that others use is slow for seconds at a time."""
COLUMNS = "device, sequence, id, kind, subject, hash, text"


def reading(visit: str) -> Draft:
    """A reading as a technician types it."""
    value = {"typed": "4.3 %", "quantity": "oxygen_dry_fraction", "unit": "%", "si": "0.043"}
    return Draft("reading", {"visit": visit, "name": "oxygen_dry_fraction", "value": value, "point": "stack"})


class Bare:
    """The same tables, guards and settings in a file of its own, and nothing around them."""

    def __init__(self, path: Path, like: Path, text: str) -> None:
        self.raw = sqlite3.connect(path, isolation_level=None)
        self.raw.execute("PRAGMA journal_mode = WAL")
        self.raw.execute("PRAGMA synchronous = FULL")
        with sqlite3.connect(like) as source:
            names = "SELECT sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite%' ORDER BY rowid"
            for (statement,) in source.execute(names).fetchall():
                self.raw.execute(statement)
        self.text, self.sequence, self.device = text, 0, clock.new_id()

    def append(self) -> None:
        """One row and its commit."""
        self.sequence += 1
        row = (self.device, self.sequence, f"{self.sequence:036d}", "reading", self.device, "0" * 64, self.text)
        self.raw.execute("BEGIN IMMEDIATE")
        self.raw.execute(f"INSERT INTO entry ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?)", row)
        self.raw.execute("COMMIT")


def appended(folder: Path) -> tuple[Journal, Any]:
    """A journal and the call that keeps one reading in it."""
    journal = made(Settings(str(folder / "journal.db")), device_name="bench")
    draft = reading(clock.new_id())
    return journal, lambda: journal.add(draft)


def flushed(folder: Path) -> Work:
    """A page appended to a file and flushed: what no keeper of records can go below on this disk."""
    file = (folder / "flush").open("wb", buffering=0)

    def flush() -> None:
        file.write(bytes(4096))
        os.fdatasync(file.fileno())

    return Work(flush, calls=CALLS)


def report(where: str, folder: Path) -> Report:
    """Ours, the bare insert and the flush by turns, in one folder."""
    journal, add = appended(folder)
    bare = Bare(folder / "bare.db", folder / "journal.db", add().text())
    works = {"ours": Work(add, calls=CALLS), "bare sqlite3": Work(bare.append, calls=CALLS), "flush": flushed(folder)}
    times = alternate(works, rounds=ROUNDS)
    journal.store.close()
    ratio = times["ours"].median / times["bare sqlite3"].median
    own: float = times["ours"].best - times["bare sqlite3"].best
    aims = (Aim(f"at most 1.3 x a bare insert: {ratio:.2f} x (medians), {own * 1e6:.0f} us of our own", ratio <= 1.3),)
    peers: dict[str, Times] = {name: found for name, found in times.items() if name != "ours"}
    return Report("B7", f"one reading kept, {where}", "entry", times["ours"], peers,
                  times["flush"].best / times["ours"].best, "one flush", "the same columns, guards and settings",
                  aims if where == "on the disk" else ())  # fmt: skip


def run() -> list[Report]:
    """Time it on the disk, and in memory, where our own share shows."""
    found = []
    memory = Path("/dev/shm")
    for where, base in (("on the disk", None), ("in memory", memory if memory.is_dir() else None)):
        with tempfile.TemporaryDirectory(dir=base) as folder:
            found.append(report(where, Path(folder)))
    return found
