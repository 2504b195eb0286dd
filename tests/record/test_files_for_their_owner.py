"""Photographs and traces are for the eyes of whoever the journal belongs to, and of no other user of the machine."""

import os
import stat
from pathlib import Path

import pytest

from fluewright.record import files


@pytest.mark.skipif(os.name != "posix", reason="other systems keep no rights in the mode of a file")
def test_no_other_user_of_the_machine_reads_a_photograph(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        name = files.kept_in(tmp_path / "journal.files", b"a photograph of an invented cellar")
    finally:
        os.umask(before)
    path = files.path_of(tmp_path / "journal.files", name)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
