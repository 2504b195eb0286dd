"""Looks at what a journal stands on: the disk, the settings really in force, who can read it, room, and the clock."""

import os
import statistics
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from sqlalchemy import select

from fluewright import clock
from fluewright.errors import FluewrightError
from fluewright.record.clocks import clock_doubts
from fluewright.record.entry import entry_from
from fluewright.record.store import SYNCHRONOUS, Store
from fluewright.record.tables import ENTRY

FLUSHES = 50
HONEST = 50e-6
"""Seconds below which a flush has hardly reached a medium that survives a power cut. Common practice, no source: the
fastest drives whose memory is buffered against power cuts take about this long."""
SLOW = 50e-3
"""Seconds above which a person notices each entry."""
ROOM = 200 * 2**20
"""Free bytes below which it is time to act: some thousand photos or a year of entries."""
OLDEST = (3, 39)
NETWORKS = frozenset(("nfs", "nfs4", "cifs", "smb3", "smbfs", "9p", "afs", "fuse.sshfs", "glusterfs", "ceph", "vboxsf"))
LOUD = 0o077


@dataclass(frozen=True, slots=True)
class Look:
    """One thing that was looked at.

    name     of it
    found    what it is, in words
    good     whether it is as it should be
    matters  why, when it is not
    do       what to do, when it is not
    """

    name: str
    found: str
    good: bool = True
    matters: str = ""
    do: str = ""


def flush_seconds(folder: Path, times: int = FLUSHES) -> float:
    """The median time of a small write with its flush, in seconds; OSError when the folder cannot be written."""
    taken = []
    with tempfile.NamedTemporaryFile(dir=folder, prefix=".flush-") as file:
        for _ in range(times):
            start = time.perf_counter()
            file.write(bytes(4096))
            file.flush()
            os.fsync(file.fileno())
            taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def _flush(folder: Path) -> Look:
    try:
        taken = flush_seconds(folder)
    except OSError as error:
        return Look("flush", f"not measured: {error.strerror}", False, "nothing can be written where the journal lies",
                    "free some space, or make the folder writable for you")  # fmt: skip
    told = f"{taken * 1e3:.3f} ms, median of {FLUSHES}"
    if taken < HONEST:
        return Look("flush", told, False,
                    "that is too good to be true: a disk that only says that it has written loses the last entries "
                    "when the power goes",
                    "if this is a virtual machine or a memory disk, move the journal, or have its cache written "
                    "through; else see whether the drive has a cache without a battery")  # fmt: skip
    if taken > SLOW:
        return Look("flush", told, False, "each entry keeps a person waiting that long",
                    "put the journal on another disk; an SD card or a share is often the cause")  # fmt: skip
    return Look("flush", told)


def _settings(store: Store) -> Iterator[Look]:
    import sqlite3

    version = sqlite3.sqlite_version
    yield (
        Look("SQLite", version)
        if sqlite3.sqlite_version_info[:2] >= OLDEST
        else Look(
            "SQLite", version, False, "what the journal asks of it is only promised from 3.39 on", "take a later Python"
        )
    )
    with store.reading() as connection:
        mode = str(connection.exec_driver_sql("PRAGMA journal_mode").scalar()).lower()
    asked = store.settings.mode
    # Read without writing: a rollback mode is asked for anew by each connection, and WAL stands in the file.
    told = f"{mode}, flushed {SYNCHRONOUS.get(mode, 'EXTRA')}"
    if asked == "wal" and mode != "wal":
        yield Look(
            "writing",
            told,
            False,
            "the file does not take the way of writing that was asked for",
            "open it once for writing; if it stays so, the disk cannot share memory: use the mode delete",
        )
    else:
        yield Look("writing", told)


def _readers(path: Path) -> Look:
    """Who else on this machine can read the names and addresses in it."""
    name = "readers"
    if os.name != "posix":
        return Look(name, "not looked at on this system")
    wide = path.stat().st_mode & LOUD and path.parent.stat().st_mode & 0o011
    if not wide:
        return Look(name, "only you")
    return Look(name, f"others of this machine too (file {path.stat().st_mode & 0o777:o})", False,
                "names, addresses and telephone numbers stand in it", f"chmod 700 '{path.parent}'")  # fmt: skip


def _room(folder: Path) -> Look:
    import shutil

    free = shutil.disk_usage(folder).free
    told = f"{free / 2**20:,.0f} MB free"
    if free >= ROOM:
        return Look("room", told)
    return Look("room", told, False, "a full disk takes no entry; what is kept stays", "free some space on this disk")


def file_system(path: Path) -> str:
    """The kind of file system that a path lies on; empty where the system does not tell."""
    mounts = Path("/proc/self/mounts")
    if not mounts.is_file():
        return ""
    best, kind = "", ""
    for line in mounts.read_text("utf-8", "replace").splitlines():
        _, point, found, *_ = line.split(" ")
        point = point.replace("\\040", " ")
        if len(point) >= len(best) and path.resolve().is_relative_to(point):
            best, kind = point, found
    return kind


def _disk(path: Path, mode: str) -> Look:
    kind = file_system(path)
    if kind in NETWORKS and mode == "wal":
        return Look("disk", f"a network share ({kind})", False,
                    "programs on two machines do not see each other's locks and memory there; entries can be lost",
                    "keep the journal on a disk of this machine and exchange it, or use a server")  # fmt: skip
    if kind in ("tmpfs", "ramfs"):
        return Look("disk", f"memory ({kind})", False, "it is empty after the machine was off", "use a real disk")
    return Look("disk", kind or "the system does not tell")


def _clock(store: Store) -> Look:
    now = clock.now()
    with store.reading() as connection:
        last = connection.execute(select(ENTRY.c.text).order_by(ENTRY.c.arrival.desc()).limit(200)).scalars().all()
    entries = [entry_from(text) for text in reversed(last)]
    doubts = clock_doubts(entries)
    newest = max((datetime.fromisoformat(entry.entered) for entry in entries), default=now)
    if store.settings.is_sqlite():
        newest = max(newest, datetime.fromtimestamp(store.settings.path().stat().st_mtime, now.tzinfo))
    if now < newest - timedelta(minutes=2):
        doubts.append(f"it says {now.isoformat()}, which is before the last entry or change, {newest.isoformat()}")
    if not doubts:
        return Look("clock", now.isoformat())
    return Look("clock", "; ".join(doubts[-3:]), False,
                "days and hours on sheets would be wrong; the order of entries is not touched by it",
                "set the clock and its zone, and say in a note which entries it concerns")  # fmt: skip


def looks(store: Store) -> list[Look]:
    """All that can be looked at without writing an entry; what cannot be looked at says so."""
    found: list[Look] = []
    if store.settings.is_sqlite():
        path = store.settings.path()
        found += [_flush(path.parent), _disk(path, store.settings.mode), _room(path.parent), _readers(path)]
    try:
        found += _settings(store) if store.settings.is_sqlite() else []
        found.append(_clock(store))
    except FluewrightError as error:
        found.append(Look("journal", error.read, False, error.matters, error.do))
    return found
