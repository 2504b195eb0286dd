"""Trust test 13: devices that wrote apart and met in any order hold the same, and all of it."""

import os
from random import Random

from histories import Count, InMemory, tried

from trust import told

CASES = int(os.environ.get("FLUEWRIGHT_MERGES", "10000"))


def test_any_history_in_any_order_ends_in_the_same_store() -> None:
    count = Count()
    for number in range(CASES):
        chance = Random(number)
        devices = [InMemory() for _ in range(chance.choice((2, 2, 3, 3, 4, 5)))]
        tried(chance, devices, count, steps=chance.randrange(2, 13))
    assert count.lost == 0 and count.cases == CASES
    told(13, "merge in any order, with repeats (stores in memory)", acknowledged=count.written, lost=count.lost,
         histories=count.cases, messages=count.messages, erased=count.erased)  # fmt: skip
