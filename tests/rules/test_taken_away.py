"""A visit never becomes better because something was not read: every reading taken away in turn."""

from pathlib import Path

import pytest
from taken_away import VISITS, taken_from

LONG = {"whole": 12, "gas-line": 2, "common-flue": 8}
"""Long visits, of which only every n-th reading is taken away."""


@pytest.mark.parametrize("path", VISITS, ids=lambda path: path.stem)
def test_nothing_becomes_fine_because_a_reading_is_missing(path: Path) -> None:
    seen = 0
    for one in taken_from(path, each=LONG.get(path.stem, 1)):
        seen += 1
        assert not one.became_fine, f"without {one.way}: {one.became_fine}"
        assert not one.vanished or one.told, f"without {one.way}: {one.vanished} is said no more, and nothing says why"
    assert seen
