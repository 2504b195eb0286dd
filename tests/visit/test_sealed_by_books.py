"""Seal, page, paper and check are of one judgement: the one by the books of the shop, which the seal names."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from visit_door import DOOR

from fluewright.errors import EntryError
from fluewright.record.draft import Draft
from fluewright.record.journal import Journal
from fluewright.record.keys_ed25519 import FileKey, made_in
from fluewright.record.opening import made
from fluewright.record.seal import Signer
from fluewright.record.settings import Settings
from fluewright.report.text import text
from fluewright.visit import adding, changing, kept, own_books, sealed_sheet, sealing, shown, work

ME = Signer(who="", recognised="sat before this machine", name="T. Placeholder (invented)")
BOOK = """
[book]
version = "1"
shop = "A made-up shop"

[[limit]]
"""


@pytest.fixture
def place(tmp_path: Path) -> Iterator[tuple[Journal, FileKey]]:
    settings = Settings(str(tmp_path / "journal.db"))
    key = made_in(settings.keys_folder())
    journal = made(settings, device_name="test", key=key.public)
    yield journal, key
    journal.store.close()
