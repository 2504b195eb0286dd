"""An invented shop whose one instrument came back 18 % low: visits whose flips are known because they were put there.

Ordinary visits lie where 18 % more carbon monoxide answers no limit otherwise: far below all of them, or far beyond.
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from fluewright.record.draft import Draft
from fluewright.record.journal import Journal
from fluewright.visit import as_entries, file, shelf
from fluewright.visit.source import Source

ERROR = -0.18
GOOD, BACK = date(2025, 10, 1), date(2026, 9, 30)
"""Days of the last good calibration, and of the one that found it off."""

QUIET = (0, 2, 3, 5, 8, 11, 14, 17, 20, 24)
"""ppm in the flue at 4 to 6 % oxygen: inside every limit with its doubt, and 22 % more too."""
LOUD = (1000, 1100, 1200)
"""ppm far beyond every limit, and short of the end of the cell."""
FLIPPING = ((66, 0), (70, 0), (75, 1), (270, 0), (285, 0), (300, 2), (8, 8))
"""ppm in the flue at 5.0 % oxygen, and in the room. In the flue free of air 86 to 98, or 354 to 393: 22 % more lies on
the other side of 100 or of 400 ppm. In the room 22 % more than 8 is beyond 9 ppm."""


@dataclass(slots=True)
class Doubted:
    """The shop as it was made.

    instrument  id
    flips       ids of the visits that were made to flip
    visits      ids of all visits in between
    """

    instrument: str
    flips: list[str]
    visits: list[str]


def tree(number: int, day: date, monoxide: int, oxygen: str, *, room: int = 0) -> dict[str, Any]:
    """One visit as tables."""
    return {
        "visit": {"title": f"invented visit {number}", "date": day.isoformat(), "jurisdiction": "US",
                  "route": "annual", "invented": True, "site": f"{number} Nowhere Row"},
        "appliance": {"words": "invented furnace"},
        "fuel": {"name": "natural gas"},
        "instrument": {"words": "the grey meter", "calibration_due": "2026-12-31", "zero": "outdoors",
                       "hydrogen_compensated": "yes"},
        "stretch": [{"word": "as found", "time": "10:05", "steady": "steady for 120 s",
                     "readings": {"o2": oxygen, "co": str(monoxide), "stack": "190 C", "air": "20 C"}}],
        "room": {"symptoms": "no", "reading": [{"time": "10:00", "monoxide": f"{room} ppm"}]},
    }  # fmt: skip


def drafts(number: int, found: dict[str, Any], instrument: str) -> list[Draft]:
    """The entries of one visit, not kept yet."""
    read = Source(Path(f"visit {number}"), found)
    file.taken(read)
    return list(as_entries.drafts_of(read, file.FORM, about={"instrument": instrument}))


def _ordinary(noise: random.Random) -> tuple[int, str, int]:
    """Carbon monoxide, oxygen and the room of a visit that does not flip."""
    monoxide = noise.choice(LOUD) if noise.random() < 0.02 else noise.choice(QUIET)
    return monoxide, noise.choice(("4.0", "4.5", "5.0", "5.5", "6.0")), noise.choice((0, 0, 0, 1, 2))


def _made(count: int, flips: int, noise: random.Random, instrument: str) -> Iterator[tuple[bool, list[Draft]]]:
    chosen = set(noise.sample(range(count), flips))
    for number in range(count):
        day = GOOD + timedelta(days=1 + number * ((BACK - GOOD).days - 1) // count)
        flip = number in chosen
        near, room_near = noise.choice(FLIPPING)
        monoxide, oxygen, room = (near, "5.0", room_near) if flip else _ordinary(noise)
        yield flip, drafts(number, tree(number, day, monoxide, oxygen, room=room), instrument)


def made(journal: Journal, *, count: int, flips: int, seed: int = 7) -> Doubted:
    """A shop in a journal: an instrument, a good calibration, visits, and the calibration that found it off.

    count  visits between the two, some before and after beside them
    flips  how many of them flip
    -> what was made
    """
    noise = random.Random(seed)
    instrument = shelf.entered(journal, "the grey meter", serial="NOT-REAL-18").id
    shelf.calibrated(journal, instrument, day=GOOD.isoformat(), due="2026-09-30", found={"carbon_monoxide": "-1 %"})
    found, visits, portion = [], [], []
    for flip, some in _made(count, flips, noise, instrument):
        visits.append(some[0].id)
        found += [some[0].id] if flip else []
        portion += some
        if len(portion) > 5_000:
            journal.add_all(portion)
            portion = []
    for number, day in ((-1, GOOD - timedelta(days=9)), (-2, BACK + timedelta(days=9))):
        portion += drafts(number, tree(number, day, 76, "5.0"), instrument)
    journal.add_all(portion)
    shelf.calibrated(journal, instrument, day=BACK.isoformat(), found={"carbon_monoxide": "100 ppm read 82 ppm"})
    return Doubted(instrument, found, visits)
