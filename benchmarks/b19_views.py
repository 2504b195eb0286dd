"""B19: all views of an invented shop made anew; words looked for; any visit opened; the journal opened again."""

import json
import random
import sqlite3
import time
from collections.abc import Callable, Sequence

from sqlalchemy import select

from benchmarks.measure import Aim, Report, Times
from benchmarks.shops import shop
from fluewright.record.journal import Journal
from fluewright.record.opening import opened
from fluewright.record.views import catching_up
from fluewright.record.views.catching_up import looked_at, rebuild
from fluewright.record.views.looking_up import found
from fluewright.record.views.search import DOC
from fluewright.record.views.visits import VISIT

LOOKS = 200


def each(call: Callable[[str], object], asked: Sequence[str]) -> Times:
    """Seconds of each call."""
    taken = []
    for one in asked:
        start = time.perf_counter()
        call(one)
        taken.append(time.perf_counter() - start)
    return Times(tuple(taken))


def p95(times: Times) -> float:
    """The time that nineteen in twenty stay below."""
    return sorted(times.rounds)[int(len(times.rounds) * 0.95)]


def _bare(journal: Journal) -> sqlite3.Connection:
    return sqlite3.connect(journal.store.settings.database)


def rebuilt(journal: Journal) -> Report:
    """Every view from every entry."""
    start = time.perf_counter()
    entries = rebuild(journal.store)
    ours = Times(((time.perf_counter() - start) / entries,))
    start = time.perf_counter()
    for (text,) in _bare(journal).execute("SELECT text FROM entry ORDER BY arrival"):
        json.loads(text)
    bare = Times(((time.perf_counter() - start) / entries,))
    rest = entries // catching_up.PORTION * catching_up.REST
    said = f"{entries:,} entries in {ours.best * entries:.1f} s, of them {rest:.1f} s rest so that others can write"
    aim = Aim(f"a million entries within 90 s: {ours.best * 1e6:.0f} s", ours.best * 1e6 <= 90)
    return Report("B19", f"all views of {entries:,} entries", "entry", ours, {"read and parse alone": bare},
                  bare.best / ours.best, "the entries read and parsed", said, (aim,))  # fmt: skip


def typed(journal: Journal) -> list[str]:
    """What people would type: a name, half a name with a slip, a street, a serial, two words of different things."""
    chance = random.Random(19)
    with journal.store.reading() as connection:
        rows = connection.execute(select(DOC.c.kind, DOC.c.title).where(DOC.c.kind != "visit")).all()
    titles = {kind: [row.title for row in rows if row.kind == kind] for kind in ("customer", "site", "appliance")}
    asked = []
    for number in range(LOOKS):
        name, street = chance.choice(titles["customer"]), chance.choice(titles["site"])
        slip = name[:3] + name[4:]
        kinds = (name, name[:6], slip, street, street.split()[1], f"{name.split()[1]} soot", "soot hood", "new filter",
                 f"{number:05}", "furnace gasket cellar")  # fmt: skip
        asked.append(kinds[number % len(kinds)])
    return asked


def looked_for(journal: Journal) -> Report:
    """Words, looked for in everything."""
    asked = typed(journal)

    def ours(words: str) -> object:
        with looked_at(journal.store) as connection:
            return found(connection, words)

    bare = _bare(journal)

    def scanned(words: str) -> object:
        likes = " AND ".join("title LIKE ?" for _ in words.split())
        return bare.execute(f"SELECT * FROM view_doc WHERE {likes} LIMIT 40",
                            [f"%{word}%" for word in words.split()]).fetchall()  # fmt: skip

    for call in (ours, scanned):
        call("soot")
    times, peer = each(ours, asked), each(scanned, asked)
    hits = sum(bool(ours(words)) for words in asked)
    aim = Aim(f"95 of 100 within 50 ms: {p95(times) * 1e3:.1f} ms", p95(times) <= 0.05)
    return Report("B19", f"{LOOKS} times words, slips among them", "look", times, {"titles gone through": peer},
                  peer.best / times.best, "titles gone through, without slips", f"{hits} of {LOOKS} found something",
                  (aim,))  # fmt: skip


def visits_opened(journal: Journal) -> Report:
    """Visits drawn by lot, with all that belongs to them."""
    with looked_at(journal.store) as connection:
        ids = connection.scalars(select(VISIT.c.id)).all()
    asked = random.Random(20).choices(ids, k=LOOKS)
    bare = _bare(journal)
    times = each(journal.of_subject, asked)
    peer = each(lambda one: bare.execute("SELECT text FROM entry WHERE subject = ?", (one,)).fetchall(), asked)
    aim = Aim(f"95 of 100 within 50 ms: {p95(times) * 1e3:.1f} ms", p95(times) <= 0.05)
    return Report("B19", f"any of {len(ids):,} visits opened", "visit", times, {"its texts alone": peer},
                  peer.best / times.best, "its texts alone", "", (aim,))  # fmt: skip


def opened_again(journal: Journal) -> Report:
    """The journal opened, the end of each chain walked."""
    times = each(lambda _: opened(journal.store.settings).journal.store.close(), ["x"] * 5)
    peer = each(lambda _: _bare(journal).execute("SELECT count(*) FROM mark").fetchall(), ["x"] * 5)
    worst = max(times.rounds)
    aim = Aim(f"within a second: {worst:.2f} s", worst <= 1.0)
    return Report("B19", "the journal opened again", "opening", times, {"the file opened": peer},
                  peer.best / times.best, "the file opened", "", (aim,))  # fmt: skip


def run() -> list[Report]:
    """All of it on one shop."""
    journal = shop()
    return [rebuilt(journal), looked_for(journal), visits_opened(journal), opened_again(journal)]
