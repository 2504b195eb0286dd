"""B18: how long the command line takes to say anything, beside an empty Python."""

import os
import subprocess
import sys
from pathlib import Path

from benchmarks.measure import Aim, Report, Work, alternate, run_program, run_python

HEAVY = ("numpy", "pandas", "pyarrow", "typst", "scipy", "pint", "cantera")


def command() -> list[str]:
    """The installed command, or the same through this Python where it is not installed."""
    beside = Path(sys.executable).parent / "fluewright"
    if os.access(beside, os.X_OK):
        return [str(beside)]
    return [sys.executable, "-c", "from fluewright.cli.main import run; run()"]


def imported(*arguments: str) -> set[str]:
    """Every module that a command imports, from Python's own import log."""
    code = f"import sys; sys.argv = ['fluewright', *{arguments!r}]; from fluewright.cli.main import run; run()"
    done = subprocess.run([sys.executable, "-X", "importtime", "-c", code], capture_output=True, text=True, check=True)
    lines = [line for line in done.stderr.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip() for line in lines}


def heavy(*arguments: str) -> list[str]:
    """Compiled or large libraries among what a command imports."""
    return sorted({name.partition(".")[0] for name in imported(*arguments)} & set(HEAVY))


def run() -> list[Report]:
    """Time it."""
    times = alternate(
        {
            "ours": Work(lambda: run_program(*command(), "--help")),
            "python -c pass": Work(lambda: run_python("-c", "pass")),
            "import numpy": Work(lambda: run_python("-c", "import numpy")),
            "import pandas": Work(lambda: run_python("-c", "import pandas")),
        },
        rounds=7,
    )
    best = times["ours"].best
    loaded = heavy("--help")
    aims = (
        Aim(f"100 ms: {best * 1e3:.0f} ms", best <= 0.1),
        Aim(f"no numpy in the import log: {', '.join(loaded) or 'nothing heavy'}", not loaded),
    )
    peers = {name: seconds for name, seconds in times.items() if name != "ours"}
    share = peers["python -c pass"].best / best
    return [
        Report("B18", "fluewright --help", "start", times["ours"], peers, share, "python -c pass", "-", aims),
    ]
