"""Trust test 13: devices that wrote apart and met in any order hold the same, and all of it."""

import os
from random import Random

from histories import Count, InMemory, tried
from on_store import OnStore

from fluewright.record.opening import opened
from postgres import NewPlace
from trust import told

CASES = int(os.environ.get("FLUEWRIGHT_MERGES", "10000"))
ON_STORES = CASES // 500


def test_any_history_in_any_order_ends_in_the_same_store() -> None:
    count = Count()
    for number in range(CASES):
        chance = Random(number)
        devices = [InMemory() for _ in range(chance.choice((2, 2, 3, 3, 4, 5)))]
        tried(chance, devices, count, steps=chance.randrange(2, 15))
    assert count.lost == 0 and count.cases == CASES
    told(13, "merge in any order, with repeats and cuts, stores in memory", acknowledged=count.written,
         lost=count.lost, histories=count.cases, messages=count.messages, erased=count.erased)  # fmt: skip


def test_the_same_on_real_stores(new_place: NewPlace) -> None:
    count, kind = Count(), ""
    for number in range(ON_STORES):
        chance = Random(-1 - number)
        devices = [OnStore(new_place()) for _ in range(chance.choice((2, 3)))]
        tried(chance, devices, count, steps=chance.randrange(4, 20))
        for device in devices:
            assert not opened(device.journal.store.settings).wrong
            kind = "SQLite" if device.journal.store.settings.is_sqlite() else "PostgreSQL"
            device.journal.store.close()
    assert count.lost == 0
    told(13, f"merge in any order, with repeats and cuts, {kind}", acknowledged=count.written, lost=count.lost,
         histories=count.cases, messages=count.messages, erased=count.erased)  # fmt: skip
