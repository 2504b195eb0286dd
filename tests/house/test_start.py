"""What starting costs, and whether everything starts where there are no threads, sockets or compiled libraries."""

import os
import subprocess
import sys

import pytest
from rooms import LEAVES, PACKAGE, modules

SLOW = {"sqlalchemy", "cryptography", "psycopg", "fastapi", "starlette", "pydantic", "jinja2"}
"""Libraries that a store or the pages need and a question on the command line does not."""
HEAVY = {"numpy", "typst", "pyarrow", "pandas", "scipy", "pint", "uncertainties", "cantera", "CoolProp"}
FORBIDDEN = sorted(
    HEAVY
    | {
        "cryptography",
        "psycopg",
        "argon2",
        "apsw",
        "multiprocessing",
        "ssl",
        "resource",
        "pwd",
        "grp",
        "curses",
        "readline",
        "dbm",
    }
    | {"syslog", "tkinter", "requests", "httpx", "uvicorn", "fontTools", "playwright", "hypothesis", "pytest"}
)

BARE_PYTHON = """
import importlib, importlib.abc, socket, sys, threading

forbidden, wanted = set(sys.argv[1].split(",")), sys.argv[2].split(",")
for name in list(sys.modules):
    if name.split(".")[0] in forbidden:
        del sys.modules[name]


class Absent(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path, target=None):
        if name.split(".")[0] in forbidden:
            raise ModuleNotFoundError(f"{name} is not in this Python", name=name)


def refuse(*args, **kwargs):
    raise RuntimeError("there are no threads and no sockets in this Python")


sys.meta_path.insert(0, Absent())
threading.Thread.start = refuse
socket.socket.__init__ = refuse
failed = []
for name in wanted:
    try:
        importlib.import_module(name)
    except Exception as error:
        failed.append(f"{name}: {type(error).__name__}: {error}")
print("\\n".join(failed))
"""


def python(*arguments: str) -> subprocess.CompletedProcess[str]:
    """Run this Python anew with the package in reach."""
    environment = {**os.environ, "PYTHONPATH": str(PACKAGE.parent)}
    command = [sys.executable, *arguments]
    return subprocess.run(command, capture_output=True, text=True, env=environment, check=False, timeout=120)


def test_every_shared_module_imports_in_a_bare_python() -> None:
    wanted = [module.name for module in modules() if module.name not in LEAVES and "__main__" not in module.name]
    done = python("-c", BARE_PYTHON, ",".join(FORBIDDEN), ",".join(wanted))
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == ""


def test_the_leaves_exist_and_import_nothing_heavy_at_once() -> None:
    here = {module.name for module in modules()}
    for leaf in sorted(here & set(LEAVES)):
        done = python("-c", f"import sys, {leaf}; print(sorted(set(sys.modules) & {HEAVY!r}))")
        assert done.returncode == 0, done.stderr
        assert done.stdout.strip() == "[]"


def test_help_is_there_without_loading_anything_heavy() -> None:
    if not (PACKAGE / "cli" / "main.py").is_file():
        pytest.skip("no command line yet")
    code = (
        "import sys\n"
        "from fluewright.cli import main\n"
        "sys.argv = ['fluewright', '--help']\n"
        "try:\n    ended = main.run()\nexcept SystemExit as leave:\n    ended = leave.code\n"
        f"print('loaded', sorted(set(sys.modules) & {HEAVY | SLOW!r}), 'ended', ended or 0)\n"
    )
    done = python("-c", code)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "loaded [] ended 0"
    assert "flue" in done.stdout
