"""Every formula of the kernel is asked by a published value, or stands on the list with the reason why not."""

import importlib
import inspect
import pkgutil
import sys
from collections.abc import Iterator
from types import CodeType, FrameType, FunctionType

import pytest

from fluewright import kernel
from fluewright.checks import flame_asks, run

NO_PRINT: dict[str, str] = {
    "balance.lean": "a yes or no by definition; laws and doors test it",
    "dual.shares": "parts of a variance that sum to one; compared with the uncertainties package in the laws",
    "means.gaps": "a count of what is further apart than said; the laws test it",
}
"""Public functions without a row from print, by module and name."""

MACHINERY = ("ops",)
"""Modules that only pass numbers on: no formula of the trade."""


def public_functions() -> Iterator[tuple[str, FunctionType]]:
    """Every public function that a kernel module defines itself."""
    for entry in pkgutil.iter_modules(kernel.__path__):
        if entry.name in MACHINERY:
            continue
        module = importlib.import_module(f"fluewright.kernel.{entry.name}")
        for name, member in inspect.getmembers(module, inspect.isfunction):
            if member.__module__ == module.__name__ and not name.startswith("_"):
                yield f"{entry.name}.{name}", member


FUNCTIONS = dict(public_functions())


@pytest.fixture(scope="module")
def called() -> set[str]:
    """Names of the public functions that run while all rows are worked out, flames anew."""
    codes: dict[CodeType, str] = {function.__code__: name for name, function in FUNCTIONS.items()}
    found: set[str] = set()

    def seen(frame: FrameType, event: str, _: object) -> None:
        if event == "call" and frame.f_code in codes:
            found.add(codes[frame.f_code])

    flame_asks.SETTLED.clear()
    before = sys.getprofile()
    sys.setprofile(seen)
    try:
        run.outcomes()
    finally:
        sys.setprofile(before)
    return found


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_formula_meets_print(name: str, called: set[str]) -> None:
    if name in NO_PRINT:
        assert name not in called, "it is asked by now: take it off the list"
    else:
        assert name in called, "give it a published value, or say in NO_PRINT why there is none"


def test_the_list_names_only_what_exists() -> None:
    assert not set(NO_PRINT) - set(FUNCTIONS)
