"""A browser that has come in."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pages_kit import Pages


@pytest.fixture
def pages(tmp_path: Path) -> Iterator[Pages]:
    found = Pages(tmp_path)
    yield found.come_in()
    found.close()
