"""Small enough to be read at one go."""

import ast
from pathlib import Path

import pytest
from rooms import ROOT, Function, Module, functions, modules, public_functions

BODY_LINES = 40
FILE_LINES = 400

LONG_FILES: dict[str, str] = {}
LONG_TESTS = {
    "tests/faces/example.py": "one whole sheet written out by hand, so that every printing is tried on the same",
    "tests/quantity/typed_rows.py": "a table of what people type, one row a line",
}
"""Longer test files, each with its reason."""
LONG_BODIES: dict[str, str] = {}
"""Longer ones, by dotted name, each with its reason."""


def body_lines(function: Function) -> int:
    """Lines from the first statement after the docstring to the last."""
    body = function.body[1:] if ast.get_docstring(function, clean=False) is not None else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


@pytest.mark.parametrize("module", modules(), ids=str)
def test_a_file_is_short(module: Module) -> None:
    assert len(module.text.splitlines()) <= FILE_LINES or module.name in LONG_FILES


@pytest.mark.parametrize("folder", ["tests", "benchmarks", "docs"])
def test_a_file_beside_the_program_is_short(folder: str) -> None:
    def lines(path: Path) -> int:
        return len(path.read_text(encoding="utf-8").splitlines())

    found = {path.relative_to(ROOT).as_posix() for path in (ROOT / folder).rglob("*.py") if lines(path) > FILE_LINES}
    assert found == {name for name in LONG_TESTS if name.startswith(folder)}


@pytest.mark.parametrize("module", modules(), ids=str)
def test_a_function_is_short(module: Module) -> None:
    long = {function.name: body_lines(function) for function in functions(module.tree)}
    wrong = {
        name: count for name, count in long.items() if count > BODY_LINES and f"{module.name}.{name}" not in LONG_BODIES
    }
    assert not wrong


@pytest.mark.parametrize("module", modules(), ids=str)
def test_everything_public_says_what_it_is(module: Module) -> None:
    assert ast.get_docstring(module.tree), "a file begins with what is in it"
    silent = [
        node.name
        for node in module.tree.body
        if isinstance(node, Function | ast.ClassDef) and not node.name.startswith("_") and not ast.get_docstring(node)
    ]
    assert not silent


NUMBERS = {"float", "Number", "float | None", "int | float"}
PLAIN_ORDER: dict[str, str] = {
    "fluewright.kernel.ops": "less(left, right) reads as it is written",
    "fluewright.kernel.dual": "operators",
    "fluewright.report.drawing": "geometry: across before up, from before to",
}
"""Files, or folders, where two numbers in a row have an order that everybody knows."""
PLAIN_PAIR = ["value", "spread"]
"""A number and its doubt, in the order in which they are said."""


@pytest.mark.parametrize("module", modules(), ids=str)
def test_two_numbers_cannot_be_swapped_unnoticed(module: Module) -> None:
    if module.name.startswith(tuple(PLAIN_ORDER)):
        return
    wrong = []
    for function in public_functions(module):
        positional = [*function.args.posonlyargs, *function.args.args]
        numbers = [each.arg for each in positional if each.annotation and ast.unparse(each.annotation) in NUMBERS]
        if len(numbers) > 1 and numbers != PLAIN_PAIR:
            wrong.append(f"line {function.lineno}: {function.name}({', '.join(numbers)}); put * before them")
    assert not wrong
