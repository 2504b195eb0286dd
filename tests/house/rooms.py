"""The program's own source, read as text and syntax trees; nothing here imports it."""

import ast
import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
PACKAGE = ROOT / "src" / "fluewright"

Function = ast.FunctionDef | ast.AsyncFunctionDef

LEAVES: dict[str, str] = {
    "fluewright.report.pdf": "sets the PDF, by a compiled library",
}
"""Modules that cannot run in a Python without compiled libraries, each with its reason. Nothing else may need one."""


DOOR_OF_PAGES = ("fluewright.web", "fluewright.api")
"""The rooms that may name the libraries of their doors at the top of their files."""

STORES = "fluewright.record."
"""The room whose files may name SQLAlchemy at their top; nothing that starts with a question imports them."""


@dataclass(frozen=True)
class Module:
    """One file of the package."""

    name: str
    path: Path
    text: str
    tree: ast.Module

    @property
    def room(self) -> str:
        """The folder of the package it lies in, or its own name for a file at the top."""
        parts = self.name.split(".")
        return parts[1] if len(parts) > 1 else ""

    def __str__(self) -> str:
        return self.name


@cache
def modules() -> tuple[Module, ...]:
    """Every Python file of the package."""
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = list(path.relative_to(PACKAGE.parent).with_suffix("").parts)
        if parts[-1] == "__init__":
            parts.pop()
        text = path.read_text(encoding="utf-8")
        found.append(Module(".".join(parts), path, text, ast.parse(text)))
    return tuple(found)


def kernel() -> tuple[Module, ...]:
    """The files of the kernel."""
    return tuple(module for module in modules() if module.room == "kernel")


def functions(tree: ast.AST) -> Iterator[Function]:
    """Every function, at any depth."""
    for node in ast.walk(tree):
        if isinstance(node, Function):
            yield node


def public_functions(module: Module) -> Iterator[Function]:
    """The functions at the top of a file that others may call."""
    for node in module.tree.body:
        if isinstance(node, Function) and not node.name.startswith("_"):
            yield node


def strings(module: Module) -> Iterator[tuple[int, str]]:
    """Every piece of text in the file with its line, the fixed parts of f-strings included."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.lineno, node.value


def words(text: str) -> list[str]:
    """Lower-case words, names taken apart at their underscores."""
    return re.findall(r"[a-z]+", text.lower())


@cache
def tracked() -> tuple[Path, ...]:
    """The files that are committed or about to be; empty outside a checkout."""
    command = ["git", "-C", str(ROOT), "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    try:
        listed = subprocess.run(command, capture_output=True, check=True, text=True).stdout
    except (OSError, subprocess.CalledProcessError):
        return ()
    return tuple(ROOT / name for name in listed.split("\0") if name and (ROOT / name).is_file())
