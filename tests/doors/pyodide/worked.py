"""A visit worked in a journal, the same here and in the Python of a web page."""

import json
import tempfile
from pathlib import Path

from fluewright.record.check import every
from fluewright.record.opening import made, opened
from fluewright.record.settings import Settings
from fluewright.report.text import text
from fluewright.visit import adding, changing, kept, work

DOOR = {
    "visit": {
        "title": "Made-up visit",
        "date": "2026-11-25",
        "jurisdiction": "US",
        "customer": "Ms. Madeup (invented)",
    },
    "appliance": {"words": "boiler that does not exist", "class": "natural-draft-boiler", "serial": "NOT-REAL-1"},
    "fuel": {"name": "natural-gas"},
    "instrument": {"words": "analyser NOT-REAL", "accuracy": "statutory", "zero": "outdoors"},
}
LINES = (
    "lit 09:41",
    "room co 2 at hall",
    "o2 7.4 co2 7.7 co 160 stack 402F air 66F at below hood, left of baffle",
    "draft -0.02 at above hood",
    "step burner bars brushed",
    "o2 7.6 co2 7.5 co 24 stack 398F air 66F steady 90 s at below hood, left of baffle",
    "note the dryer is new",
)


def answer() -> str:
    """Work it, close the journal, open it again, and print the sheet from what was kept, as JSON."""
    settings = Settings(str(Path(tempfile.mkdtemp()) / "journal.db"), mode="truncate")
    journal = made(settings, device_name="a phone")
    visit = kept.begun(journal, DOOR).id
    for line in LINES:
        adding.added(journal, visit, line, time="10:20")
    wrong = adding.added(journal, visit, "co2 19").entries[-1]
    changing.struck_out(journal, visit, wrong.id, because="misread")
    journal.store.close()
    again = opened(settings)
    entries = kept.entries_of(again.journal, visit)
    sheet = text(work.judged(kept.account_of(again.journal, visit)).sheet(), plain=True)
    checked = every(again.journal.store)
    kinds = [each.read.entry.kind for each in entries]
    cut = sheet.index("Kept as visit")
    return json.dumps({"wrong": [*again.wrong, *map(str, checked.wrong)], "kinds": kinds, "sheet": sheet[:cut]})
