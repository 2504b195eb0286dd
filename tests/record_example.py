"""Invented entries and places for journals, used by the tests of the journal."""

from pathlib import Path
from typing import Any

from fluewright import clock
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings

VISIT = clock.new_id()
"""A visit that all readings here belong to."""


def settings_in(folder: Path, **more: Any) -> Settings:
    """A journal in a folder."""
    return Settings(str(folder / "journal.db"), **more)


def reading(number: int = 43, **more: Any) -> Draft:
    """A reading of oxygen; its figure tells it from others."""
    body = {"visit": VISIT, "name": "o2", "value": {"typed": f"{number / 10} %", "quantity": "oxygen", "unit": "%"}}
    return Draft("reading", body, **more)


def note(words: str) -> Draft:
    """A remark, which is a text about people and so kept as a commitment."""
    return Draft("note", {"visit": VISIT, "word": words})


def journal_in(folder: Path, entries: int, *, notes: bool = True, **more: Any) -> Journal:
    """A journal with so many entries, every fifth a remark."""
    journal = made(settings_in(folder, **more), device_name="tablet of the tests")
    drafts = [note(f"remark {at}") if notes and at % 5 == 0 else reading(at) for at in range(entries - 1)]
    if drafts:
        journal.add_all(drafts)
    return journal
