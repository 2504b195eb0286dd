"""B20: 5,000 visits looked back at from a calibration that found a cell 18 % low; 37 of them were made to flip."""

import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

from benchmarks.measure import ROUNDS, Aim, Report, Times
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.record.views import shown
from fluewright.record.views.catching_up import looked_at
from fluewright.visit import kept, reverse, shelf

VISITS, FLIPS, SAMPLE = 5_000, 37, 100
OXYGEN = -0.04
"""Share that an oxygen cell is taken to be off by, on the same visits."""

sys.path.append(str(Path(__file__).parent.parent / "tests" / "visit"))


def run() -> list[Report]:
    """The look back, five times; opening every visit, on a sample; the rows of the view alone."""
    import doubted_shop

    with tempfile.TemporaryDirectory(prefix="fluewright-bench-") as name:
        journal = made(Settings(str(Path(name) / "journal.db")), device_name="bench")
        shop = doubted_shop.made(journal, count=VISITS, flips=FLIPS)
        found = shelf.found_off(journal, shop.instrument)
        rounds, rows, traced = [], [], None
        for _ in range(ROUNDS):
            start = time.perf_counter()
            traced = reverse.traced(journal, found)
            rounds.append((time.perf_counter() - start) / VISITS)
            start = time.perf_counter()
            with looked_at(journal.store) as connection:
                shown.between(connection, found.instrument, found.since, found.day)
            rows.append((time.perf_counter() - start) / VISITS)
        start = time.perf_counter()
        by_oxygen = reverse.traced(journal, replace(found, errors={"oxygen": OXYGEN}))
        oxygen = time.perf_counter() - start
        start = time.perf_counter()
        for visit in shop.visits[:: VISITS // SAMPLE]:
            reverse.flips_of(kept.account_of(journal, visit), found.errors)
        each = Times(((time.perf_counter() - start) / SAMPLE,))
        journal.store.close()
    assert traced is not None  # there is at least one round
    ours, hits = Times(tuple(rounds)), {one.visit for one in traced.flips}
    missed, false = len(set(shop.flips) - hits), len(hits - set(shop.flips))
    aims = (
        Aim(f"at most 10 s: {ours.best * VISITS:.1f} s", ours.best * VISITS <= 10.0),
        Aim(f"oxygen cell, at most 10 s: {oxygen:.1f} s, {by_oxygen.opened} opened", oxygen <= 10.0),
        Aim(f"{FLIPS} flips: {missed} missed, {false} false", not missed and not false),
    )
    said = f"{traced.opened} of {traced.visits:,} visits opened"
    share = Times(tuple(rows)).best / ours.best
    return [Report("B20", f"{VISITS:,} visits looked back at", "visit", ours, {"every visit opened": each}, share,
                   "the rows of the view read", said, aims)]  # fmt: skip
