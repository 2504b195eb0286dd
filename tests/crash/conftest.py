"""A folder in memory, for what is only simulated and has no need of a disk."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

MEMORY = Path("/dev/shm")


@pytest.fixture
def in_memory(tmp_path: Path) -> Iterator[Path]:
    """A folder that no real disk slows down, where the system has one; else an ordinary one."""
    if not (MEMORY.is_dir() and os.access(MEMORY, os.W_OK)):
        yield tmp_path
        return
    folder = Path(tempfile.mkdtemp(prefix="fluewright-", dir=MEMORY))
    yield folder
    shutil.rmtree(folder, ignore_errors=True)
