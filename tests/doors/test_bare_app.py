"""Both doors as inside a page: one journey here, without threads, sockets and compiled libraries, and in Pyodide."""

import json
import os
import re
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from test_pyodide import INSIDE, SOURCE, node  # noqa: F401

LOCK = SOURCE.parent.parent / "requirements.lock"
WHEELS = INSIDE / "node_modules" / "wheels"
PLATFORM = "pyemscripten_2026_0_wasm32"


@cache
def here() -> dict[str, Any]:
    """The journey in a process of this Python in which what a page has not raises."""
    command = [sys.executable, str(INSIDE / "journey.py")]
    environment = {**os.environ, "PYTHONPATH": str(SOURCE.parent)}
    done = subprocess.run(command, capture_output=True, text=True, env=environment, check=False, timeout=180)
    assert done.returncode == 0, done.stderr[-3000:]
    told: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return told


def test_the_whole_journey_without_threads_sockets_or_compiled_libraries() -> None:
    told = here()
    assert told["opened"] == told["notice"] == 200
    assert told["lines"] == [[200, True]] * 15
    assert told["stops"] and told["open"] == 1
    assert told["closed"] == 201 and told["twice"] == [201, 0]
    assert told["pages"] == [200] * 4 and told["plan"] > 5
    assert told["findings"] and "Oxygen 7.6" in told["sheet"]
    assert told["whole"] is True


def test_a_seal_without_a_key_is_refused_in_words() -> None:
    """A page keeps its key in the browser, which signs by itself; until it does, nothing is sealed there."""
    told = here()
    assert told["seal"] == 409 and told["why not"] == ["FW-N-106"]


def test_nothing_that_is_not_there_was_needed() -> None:
    """What is asked for and not found has a way without it; a photograph is skipped."""
    assert set(here()["asked for"]) <= {"greenlet", "multiprocessing", "orjson"}


def wheel() -> Path:
    """The one library that is not Python alone, built for pages: fetched as it is locked, by its hash."""
    found = re.search(
        r"^pydantic-core==(\S+) \\\n((?:    --hash=\S+(?: \\)?\n)+)", LOCK.read_text("utf-8"), re.MULTILINE
    )
    assert found is not None
    kept = next(iter(WHEELS.glob(f"pydantic_core-{found[1]}-*{PLATFORM}.whl")), None)
    if kept is not None:
        return kept
    WHEELS.mkdir(parents=True, exist_ok=True)
    wanted = WHEELS / "wanted.txt"
    wanted.write_text(found[0], encoding="utf-8")
    fetch = [sys.executable, "-m", "pip", "download", "-q", "--no-deps", "--require-hashes", "--only-binary=:all:",
             "--platform", PLATFORM, "--python-version", "3.14", "-d", str(WHEELS), "-r", str(wanted)]  # fmt: skip
    done = subprocess.run(fetch, capture_output=True, text=True, timeout=120, check=False)
    if done.returncode:
        pytest.skip(f"pip could not fetch pydantic-core for pages: {done.stderr.strip()[-200:]}")
    return next(WHEELS.glob(f"pydantic_core-{found[1]}-*{PLATFORM}.whl"))


def test_the_same_journey_in_the_python_of_a_page(node: list[str]) -> None:  # noqa: F811
    import sqlalchemy

    site = Path(sqlalchemy.__file__).parent.parent
    command = [*node, str(INSIDE / "app.mjs"), str(SOURCE), str(site), str(wheel())]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr[-3000:]
    page = json.loads(done.stdout.splitlines()[-1])
    assert page.pop("platform") == "emscripten", "this was to run in another Python"
    page.pop("asked for")
    assert page == {name: value for name, value in here().items() if name not in ("platform", "asked for")}
