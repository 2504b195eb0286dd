"""B9: every entry of a journal verified, against SHA-256 over the same bytes."""

import hashlib
import os
import sqlite3
import tempfile
from pathlib import Path

from benchmarks.b07_append import reading
from benchmarks.measure import Aim, Report, Work, alternate
from fluewright import clock
from fluewright.record.chain import breaks
from fluewright.record.check import every
from fluewright.record.opening import made
from fluewright.record.reading import rows_of
from fluewright.record.settings import Settings
from fluewright.record.store import Store

ENTRIES = int(os.environ.get("FLUEWRIGHT_BENCH_ENTRIES", "100000"))
"""A million take a minute to write; the time for one entry is the same."""

BATCH = 5000


def filled(path: Path) -> None:
    """A journal of so many readings, a hundred to a visit."""
    journal = made(Settings(str(path)), device_name="bench")
    written = 1
    while written < ENTRIES:
        drafts = [reading(visit) for visit in (clock.new_id() for _ in range(BATCH // 100)) for _ in range(100)]
        drafts = drafts[: ENTRIES - written]
        journal.add_all(drafts)
        written += len(drafts)
    journal.store.close()


def chain(store: Store) -> int:
    """Every hash, number, id and the tie to the entry before; how many hold not."""
    with store.reading() as connection:
        device = store.mark(connection, "device")
        return sum(1 for _ in breaks(rows_of(connection, device), fully=False))


def wholly(store: Store) -> None:
    """What `fluewright journal check --all` does."""
    if every(store).wrong:
        raise RuntimeError("the journal of the bench is not whole")


def hashed(texts: list[bytes]) -> None:
    """SHA-256 of each text, all in memory already."""
    for text in texts:
        hashlib.sha256(text).digest()


def read_and_hashed(path: Path) -> None:
    """The rows read by the driver alone, each text hashed."""
    with sqlite3.connect(path) as raw:
        for _, text in raw.execute("SELECT sequence, text FROM entry ORDER BY device, sequence"):
            hashlib.sha256(text.encode()).hexdigest()


def run() -> list[Report]:
    """Time it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.db"
        filled(path)
        with sqlite3.connect(path) as raw:
            texts = [row[0].encode() for row in raw.execute("SELECT text FROM entry")]
        store = Store(Settings(str(path)))
        if chain(store):
            raise RuntimeError("the chain of the bench does not hold")
        times = alternate(
            {
                "ours": Work(lambda: chain(store), units=ENTRIES),
                "check --all": Work(lambda: wholly(store), units=ENTRIES),
                "SHA-256 alone, in memory": Work(lambda: hashed(texts), units=ENTRIES),
                "sqlite3 and SHA-256": Work(lambda: read_and_hashed(path), units=ENTRIES),
            },
            rounds=3,
        )
        store.close()
    least = times["SHA-256 alone, in memory"].best
    ratio, all_of_it = times["ours"].best / least, times["check --all"].best / least
    size = sum(map(len, texts)) / len(texts)
    aims = (
        Aim(f"a chain at most 5 x SHA-256 over the same bytes: {ratio:.1f} x", ratio <= 5),
        Aim(f"check --all, with build, columns and indexes, at most 10 x: {all_of_it:.1f} x", all_of_it <= 10),
    )
    peers = {name: found for name, found in times.items() if name != "ours"}
    return [
        Report("B9", f"a chain of {ENTRIES:,} entries of {size:.0f} bytes verified", "entry", times["ours"], peers,
               least / times["ours"].best, "SHA-256", "both find nothing wrong", aims)
    ]  # fmt: skip
