"""Trust test 4: a small disk is written full, makes room, and goes on."""

import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from fluewright.errors import EntryError
from fluewright.record.check import every
from fluewright.record.journal import Draft
from fluewright.record.opening import made, opened
from record_example import VISIT, reading, settings_in
from trust import told

SIZE = 3


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of a few megabytes in memory."""
    folder = tmp_path / "disk"
    folder.mkdir()
    if os.geteuid() != 0:
        pytest.skip("only the superuser may mount a small disk; trust test 3 fails each write with ENOSPC instead")
    done = subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={SIZE}m", "tmpfs", str(folder)],
                          capture_output=True, text=True, check=False)  # fmt: skip
    if done.returncode:
        pytest.skip(f"a small disk cannot be mounted here: {done.stderr.strip()}")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=False)


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="this system mounts no small disk")
@pytest.mark.parametrize("mode", ["wal", "delete"])
def test_a_full_disk_loses_nothing_and_goes_on_when_there_is_room(small_disk: Path, mode: str) -> None:
    spare = small_disk / "photos"
    spare.write_bytes(bytes(1 << 20))
    journal = made(settings_in(small_disk, mode=mode), device_name="tablet")
    acknowledged, refused = [journal.device], 0
    while refused < 5:
        try:
            big = Draft("reading", {"visit": VISIT, "name": "o2", "value": {"typed": "x" * 3000, "quantity": "oxygen"}})
            acknowledged.append(journal.add(big if len(acknowledged) % 3 else reading()).id)
        except EntryError as error:
            assert error.code == "FW-J-004"
            refused += 1
    assert [read.entry.id for read in journal.of_kind("reading")] == acknowledged[1:], "it is read when full"
    spare.unlink()
    for _ in range(20):
        acknowledged.append(journal.add(reading()).id)
    journal.store.close()
    found = opened(settings_in(small_disk, mode=mode))
    there = {read.entry.id for read in found.journal.of_kind("device", "reading")}
    told(4, f"full disk, {mode}", acknowledged=len(acknowledged), lost=len(set(acknowledged) - there), refused=refused)
    assert found.wrong == () and there == set(acknowledged)
    assert every(found.journal.store).holds()
    found.journal.store.close()
