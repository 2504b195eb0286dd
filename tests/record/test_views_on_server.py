"""The same entries give the same rows and the same finds on SQLite and on PostgreSQL."""

from pathlib import Path
from typing import Any

import pytest
from test_views import filled
from views_kit import copied, new_journal, rows

from fluewright.record.opening import made
from fluewright.record.views.catching_up import looked_at, rebuild
from fluewright.record.views.looking_up import found

pytest.importorskip("postgres")


def test_views_are_the_same_on_a_server(on_postgres: Any, tmp_path: Path) -> None:
    here = new_journal(tmp_path)
    count = filled(here)
    there = made(on_postgres(), device_name="a server of the tests")
    copied(here, there, list(range(1, count)))
    assert rows(there) == rows(here)
    rebuild(there.store)
    assert rows(there) == rows(here)
    with looked_at(here.store) as ours, looked_at(there.store) as theirs:
        for typed in ("invented", "soot hood", "filtr", "cellra damp", "00003", "wug"):
            assert [hit.id for hit in found(theirs, typed)] == [hit.id for hit in found(ours, typed)]
