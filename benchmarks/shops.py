"""Invented shops that the benches of the journal share, made once a run in a folder that is taken away at the end."""

import atexit
import shutil
import tempfile
from functools import cache
from pathlib import Path

from benchmarks import measure
from fluewright.record.journal import Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.simulate.shop import Invented, Size

WHOLE = 120_000
"""Visits of the whole shop; without --full a fortieth of it is made."""


@cache
def folder() -> Path:
    """A folder for this run."""
    found = Path(tempfile.mkdtemp(prefix="fluewright-bench-"))
    atexit.register(shutil.rmtree, found, ignore_errors=True)
    return found


def visits() -> int:
    """How many visits are made."""
    return WHOLE if measure.FULL else WHOLE // 40


def sized(number: int) -> Size:
    """A shop with its share of customers and appliances."""
    share = number / WHOLE
    return Size(customers=max(12, int(5_000 * share)), appliances=max(30, int(12_000 * share)), visits=number)


@cache
def shop() -> Journal:
    """The shop, written down; no view is made yet."""
    if measure.KEPT is not None and measure.KEPT.exists():
        from fluewright.record.opening import opened

        return opened(Settings(str(measure.KEPT))).journal
    journal = made(Settings(str(measure.KEPT or folder() / "shop.db")), device_name="a device of the benches")
    for portion in Invented(sized(visits())).portions():
        journal.add_all(portion)
    return journal
