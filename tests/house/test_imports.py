"""Who imports whom, and what may be imported at all."""

import ast
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from rooms import DOOR_OF_PAGES, LEAVES, ROOT, STORES, Module, kernel, modules

TOP_LEVEL = ("numpy", "pyarrow", "typst", "pandas", "scipy")
"""Libraries that cost start-up time or exist only for some Pythons: never at the top of a file."""


PAGES = {"fastapi", "starlette", "jinja2", "markupsafe", "pydantic"}
"""Libraries that the pages stand on, at the top of its files: they run in a page's own Python, and nothing else of
ours imports that room but the verb that serves it, inside the function."""


def imported_at_top(module: Module) -> Iterator[tuple[int, str]]:
    """Line and name of everything imported when the file is imported; type-checking blocks do not count."""
    waiting: list[ast.stmt] = list(module.tree.body)
    while waiting:
        node = waiting.pop()
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.lineno, node.module or ""
        elif isinstance(node, ast.If) and "TYPE_CHECKING" not in ast.unparse(node.test):
            waiting += [*node.body, *node.orelse]
        elif isinstance(node, ast.Try):
            waiting += [*node.body, *node.orelse, *(line for handler in node.handlers for line in handler.body)]


@pytest.mark.parametrize("module", modules(), ids=str)
def test_no_third_party_library_at_the_top_of_a_file(module: Module) -> None:
    own_and_standard = {"fluewright", *sys.stdlib_module_names}
    if module.name.startswith(STORES):
        own_and_standard.add("sqlalchemy")
    if module.name.startswith(DOOR_OF_PAGES):
        own_and_standard |= PAGES
    strange = [
        f"line {line}: {name}"
        for line, name in imported_at_top(module)
        if name.split(".")[0] not in own_and_standard and module.name not in LEAVES
    ]
    assert not strange, f"{module.name} imports at its top: {strange}; import it inside the function that needs it"
    assert not [name for _, name in imported_at_top(module) if name.split(".")[0] in TOP_LEVEL]


@pytest.mark.parametrize("module", kernel(), ids=str)
def test_the_kernel_knows_only_the_standard_library_and_itself(module: Module) -> None:
    allowed = ("fluewright.kernel", "fluewright.errors", "fluewright.quantity.names")
    strange = []
    for node in ast.walk(module.tree):
        if isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        else:
            continue
        for name in names:
            ours = name.startswith(allowed)
            if not ours and name.split(".")[0] not in sys.stdlib_module_names:
                strange.append(f"line {node.lineno}: {name}")
    assert not strange


def test_the_layers_hold() -> None:
    lint = shutil.which("lint-imports", path=str(Path(sys.executable).parent)) or shutil.which("lint-imports")
    assert lint, "import-linter is not installed"
    done = subprocess.run([lint, "--no-logo", "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
