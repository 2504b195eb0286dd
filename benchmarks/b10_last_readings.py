"""B10: the last forty readings of one appliance among millions, against the bare query on the same index.

The rows of the view are put in straight, as a rebuild leaves them, since ten million entries would be a bench of disks.
Ours is the whole way: that the views are up to the last entry is looked at first, then the rows are read by name.
"""

import random
import sqlite3
from collections.abc import Callable, Iterator
from typing import Any

from sqlalchemy import insert

from benchmarks import measure
from benchmarks.measure import Aim, Report, Times, Work, alternate
from benchmarks.shops import folder
from fluewright.record.journal import Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.record.views.catching_up import catch_up, looked_at
from fluewright.record.views.readings import READING, last

APPLIANCES = 12_000
BARE = "SELECT * FROM view_reading WHERE appliance = ? ORDER BY at DESC LIMIT 40"
LOOKS = 300


def rows() -> int:
    """Readings: 200,000, or with --full ten million."""
    return 10_000_000 if measure.FULL else 200_000


def _appliance(number: int) -> str:
    return f"018c0000-0000-7000-8000-{number:012x}"


def _some(start: int, count: int, chance: random.Random) -> Iterator[dict[str, Any]]:
    for number in range(start, start + count):
        day = number * 1825 // rows()
        at = f"{2021 + day // 365}-{day % 365 // 31 + 1:02}-{day % 28 + 1:02}T{number % 24:02}:{number % 60:02}:00Z"
        yield {"arrival": 1_000 + number, "appliance": _appliance(chance.randrange(APPLIANCES)), "name": "oxygen_dry",
               "at": at, "visit": _appliance(number // 8), "point": "", "typed": "4.3 %",
               "value": '{"quantity":"oxygen_dry","typed":"4.3 %"}'}  # fmt: skip


def filled() -> Journal:
    """A journal whose view of readings is as full as asked for."""
    journal = made(Settings(str(folder() / "readings.db")), device_name="a device of the benches")
    catch_up(journal.store)
    chance = random.Random(10)
    for start in range(0, rows(), 100_000):
        with journal.store.writing() as connection:
            connection.execute(insert(READING), list(_some(start, 100_000, chance)))
    return journal


def run() -> list[Report]:
    """Time looks at appliances drawn by lot, the same for everybody."""
    journal = filled()
    asked = [_appliance(random.Random(3).randrange(APPLIANCES)) for _ in range(LOOKS)]
    bare = sqlite3.connect(journal.store.settings.database)

    def ours() -> list[Any]:
        found = []
        for each in asked:
            with looked_at(journal.store) as connection:
                found.append(last(connection, each))
        return found

    def in_one_look() -> list[Any]:
        with looked_at(journal.store) as connection:
            return [last(connection, each) for each in asked]

    def barely() -> list[Any]:
        return [bare.execute(BARE, (each,)).fetchall() for each in asked]

    calls: dict[str, Callable[[], list[Any]]] = {"ours": ours, "ours, in one look": in_one_look, "bare query": barely}
    times = alternate({name: Work(call, LOOKS) for name, call in calls.items()})
    same = [sorted(each) for each in ours()] == [sorted(each) for each in barely()]
    slower = times["ours, in one look"].best / times["bare query"].best
    aims = (Aim(f"the query at most twice the bare one: {slower:.2f}", slower <= 2.0),
            Aim(f"the whole way below a millisecond: {times['ours'].best * 1e3:.2f} ms", times["ours"].best < 1e-3),
            Aim("the same rows", same))  # fmt: skip
    peers: dict[str, Times] = {name: times[name] for name in ("ours, in one look", "bare query")}
    share = times["bare query"].best / times["ours"].best
    return [Report("B10", f"last 40 readings of one of {APPLIANCES:,} appliances among {rows():,}", "look",
                   times["ours"], peers, share, "the bare query", "row by row", aims)]  # fmt: skip
