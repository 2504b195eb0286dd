"""Timing: alternating rounds, best and median, the machine, and what no program on it can beat."""

import atexit
import os
import platform
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any

ROUNDS = 5

FULL = False
"""Whether the benches of the journal run at full size; set by --full."""
KEPT: Path | None = None
"""A shop kept from run to run; set by --shop."""


@dataclass(frozen=True, slots=True)
class Times:
    """Seconds for one unit of work, once for each round."""

    rounds: tuple[float, ...]

    @property
    def best(self) -> float:
        """The round that other programs disturbed least."""
        return min(self.rounds)

    @property
    def median(self) -> float:
        """The round in the middle."""
        return statistics.median(self.rounds)


@dataclass(frozen=True, slots=True)
class Work:
    """What is timed: a call, and how many units of work one call does.

    calls  calls in one round, so that a round is long against the clock's step
    """

    call: Callable[[], object]
    units: int = 1
    calls: int = 1


@dataclass(frozen=True, slots=True)
class Aim:
    """A promise and what was reached."""

    words: str
    met: bool


@dataclass(frozen=True, slots=True)
class Report:
    """One line of a bench: our time, the peers' times, the limit.

    unit       what the times are for: row, reading, start
    share      our best as a share of the physical limit, 0..1
    limit      that limit in words
    agreement  in words, how far our result and the peers' differ
    """

    bench: str
    work: str
    unit: str
    ours: Times
    peers: Mapping[str, Times]
    share: float
    limit: str
    agreement: str
    aims: tuple[Aim, ...] = field(default=())

    def ratio(self, peer: str) -> float:
        """How many times longer a peer takes, best against best."""
        return self.peers[peer].best / self.ours.best


def alternate(works: Mapping[str, Work], *, rounds: int = ROUNDS) -> dict[str, Times]:
    """Time several works by turns, so that a busy moment of the machine falls on all of them.

    works   by name; each is called once before the clock starts
    rounds  times that everybody has a turn
    -> seconds for one unit of work, by name
    """
    for work in works.values():
        work.call()
    taken: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(rounds):
        for name, work in works.items():
            start = time.perf_counter()
            for _ in range(work.calls):
                work.call()
            taken[name].append((time.perf_counter() - start) / (work.units * work.calls))
    return {name: Times(tuple(seconds)) for name, seconds in taken.items()}


COPY = "copy"
"""The name under which copying takes its turn among the works."""


@cache
def copying() -> Work:
    """One core copying 128 MB, the unit being a byte read or written: the limit of anything that works on columns."""
    import numpy

    source = numpy.ones(16_000_000)
    target = numpy.empty_like(source)
    return Work(lambda: numpy.copyto(target, source), units=2 * source.nbytes)


def share_of_copying(times: Mapping[str, Times], *, name: str, row_bytes: int) -> float:
    """What copying the bytes of a row takes as a share of what a work takes for it, from the same rounds."""
    return row_bytes * times[COPY].best / times[name].best


@cache
def interpreter_start() -> float:
    """Seconds that `python -c pass` takes, best of nine."""
    return alternate({"start": Work(lambda: run_python("-c", "pass"))}, rounds=9)["start"].best


def run_python(*arguments: str) -> str:
    """Run this Python anew; what it prints. Fails if it fails."""
    return run_program(sys.executable, *arguments)


def run_program(*command: str, allowed: tuple[int, ...] = (0,)) -> str:
    """Run a program and give back what it prints; it must end with one of the allowed exit codes."""
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=environment())
    if done.returncode not in allowed:
        raise RuntimeError(f"{' '.join(command)} ended with {done.returncode}: {done.stderr[-500:]}")
    return done.stdout


@cache
def environment() -> dict[str, str]:
    """Surroundings of a timed start: all modules compiled, in a folder of the bench's own, as after an install."""
    compiled = tempfile.mkdtemp(prefix="fluewright-bench-")
    atexit.register(shutil.rmtree, compiled, ignore_errors=True)
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPYCACHEPREFIX": compiled}


def cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def machine() -> dict[str, Any]:
    """Processor, cores, system, and the versions of everything that is timed."""
    names = ("numpy", "pandas", "cantera", "uncertainties")
    return {
        "processor": _processor(),
        "cores": cores(),
        "system": f"{platform.system()} {platform.release()}",
        "python": platform.python_version(),
        "versions": {name: metadata.version(name) for name in names},
        "load": round(_load(), 2),
        "copy_GB_per_s": round(1e-9 / alternate({COPY: copying()}, rounds=9)[COPY].best, 1),
        "interpreter_start_ms": round(interpreter_start() * 1e3, 1),
    }


def _load() -> float:
    return os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0


def _processor() -> str:
    described = Path("/proc/cpuinfo")
    if described.is_file():
        for line in described.read_text(encoding="utf-8").splitlines():
            if line.startswith("model name"):
                return line.partition(":")[2].strip()
    return platform.processor() or platform.machine()
