"""Trust tests 1 and 16: a process is killed while it appends, and eight append at once."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import fluewright
from fluewright.record.check import every
from fluewright.record.doctor import flush_seconds
from fluewright.record.store import Store
from record_example import settings_in
from trust import told

WRITERS = Path(__file__).with_name("writers.py")

EACH = 2000
"""Entries of each of the eight."""

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot split a process")


def run(*arguments: object) -> dict[str, int]:
    surroundings = {**os.environ, "PYTHONPATH": str(Path(fluewright.__file__).parents[1])}
    command = [sys.executable, str(WRITERS), *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=surroundings)
    assert done.returncode == 0, done.stderr[-2000:]
    found: dict[str, int] = json.loads(done.stdout)
    return found


def flush_us(folder: Path) -> int:
    """The flush time of the disk of a folder, in microseconds: stands beside every claim about durability."""
    return round(flush_seconds(folder) * 1e6)


def test_nothing_acknowledged_is_lost_by_a_kill(in_memory: Path) -> None:
    found = run("kill", in_memory, 200, 20)
    told(1, "kill -9 while appending", acknowledged=found["acknowledged"], killed=found["killed"], lost=found["lost"],
         slowest_reopening_ms=found["slowest_ms"], flush_us=flush_us(in_memory))  # fmt: skip
    assert found["lost"] == found["wrong"] == 0
    assert found["acknowledged"] > found["killed"] > 20
    # Of each kill at most one entry may be kept whose acknowledgement was cut off.
    assert 0 <= found["kept"] - found["acknowledged"] <= found["killed"]
    assert found["slowest_ms"] <= 1000
    assert every(Store(settings_in(in_memory))).holds()


def test_eight_processes_write_one_chain(in_memory: Path) -> None:
    found = run("together", in_memory, 8, EACH)
    told(16, "eight writers, one file", acknowledged=found["acknowledged"], lost=8 * EACH - found["kept"],
         busy=found["errors"], chains=found["chains"], flush_us=flush_us(in_memory))  # fmt: skip
    assert found == {"acknowledged": 8 * EACH, "errors": 0, "wrong": 0, "kept": 8 * EACH, "chains": 1,
                     "numbers": 8 * EACH}  # fmt: skip
    assert every(Store(settings_in(in_memory))).holds()
