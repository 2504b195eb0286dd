"""Writes the generated pages of docs from the program: reference, errors, names, rights, the description of /api.

Run by `make docs`; tests compare.

Reads source text, so that what is printed is what was written: signatures with the names of their defaults, docstrings
word for word, messages with their holes left open.
"""

import ast
import importlib
import inspect
import json
import sys
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import Any

DOCS = Path(__file__).resolve().parent
PACKAGE = DOCS.parent / "src" / "fluewright"
NOTE = "<!-- Written by docs/generate.py from the program: change the program, then `make docs`. -->\n"

HEADS = ("| name | meaning | shown in | believable | also called |", "|---|---|---|---|---|")

RIGHTS = """\
Each route of the pages and of the door for programs declares one right; the table of rights is in
[people.md](people.md). A program may no more than its token *and* the person it works for. Every cell is asked and
compared in `tests/api/test_rights_matrix.py`."""

EXITS = {
    0: "done",
    1: "done, and found something that a script should know: a check missed, a danger on the sheet",
    2: "the command was used in a way it does not offer",
    3: "what came in cannot be used; nothing of it was taken",
    4: "a kept record is damaged",
    5: "refused: numbers that no flame can produce",
    70: "our fault",
}


def main() -> None:
    """Write the pages beside this file."""
    for name, text in pages().items():
        (DOCS / name).write_text(text, encoding="utf-8")


def pages() -> dict[str, str]:
    """Every generated page by file name."""
    return {"reference.md": reference(), "errors.md": errors(), "names.md": quantities(), "openapi.json": described(),
            "rights.md": rights()}  # fmt: skip


def described() -> str:
    """The door for programs as OpenAPI."""
    sys.path.insert(0, str(PACKAGE.parent))
    from fluewright.api import app

    return json.dumps(app.described(app.create_api()), ensure_ascii=False, indent=1) + "\n"


def rights() -> str:
    """Who may ask what: every route of both doors by the right that it declares."""
    sys.path.insert(0, str(PACKAGE.parent))
    from fluewright.api.app import PREFIX
    from fluewright.api.app import ROUTES as FOR_PROGRAMS
    from fluewright.record import people
    from fluewright.web.app import ROUTES as PAGES
    from fluewright.web.rights import OPEN_TO_ALL, right_of

    asked = [(each[0], each[1], right_of(each)) for each in PAGES]
    asked += [(each.method, PREFIX + each.path, each.right) for each in FOR_PROGRAMS]
    text = [NOTE, "# Who may ask what", "", RIGHTS, "", f"| route | right | {' | '.join(people.ROLES)} |"]
    text.append("|---|---|" + "---|" * len(people.ROLES))
    for method, path, right in asked:
        may = ["yes" if right == OPEN_TO_ALL or people.may(role, right) else "-" for role in people.ROLES]
        text.append(f"| {method} `{path}` | {right} | {' | '.join(may)} |")
    return "\n".join(text) + "\n"


def quantities() -> str:
    """Every entry of the registry, by the file it is declared in."""
    sys.path.insert(0, str(PACKAGE.parent))
    from fluewright.quantity.names import REGISTRY

    text = [NOTE, "# Names", "", "Every name a reading may be given, and every name of a result."]
    left = dict(REGISTRY)
    for path in sorted((PACKAGE / "quantity").glob("*_names.py")):
        module = importlib.import_module(f"fluewright.quantity.{path.stem}")
        mine = [each for value in vars(module).values() if isinstance(value, tuple) for each in value]
        rows = [quantity(left.pop(each.name)) for each in mine if getattr(each, "name", "") in left]
        if rows:
            about = str(module.__doc__).partition("\n")[0].partition("; ")[0].rstrip(".")
            head = about.removeprefix("Registry entries for ").removeprefix("what is ")
            text += ["", f"## {head[:1].upper()}{head[1:]}", "", *HEADS, *rows]
    assert not left, f"declared in no names file: {sorted(left)}"
    return "\n".join(text) + "\n"


def quantity(entry: Any) -> str:
    """One row: name, meaning, units, what is believable, trade names."""
    from fluewright.quantity import units

    unit = units.unit_named(entry.shown_us, quantity=entry)
    ends = [f"{units.in_unit(end, unit=unit, quantity=entry):.4g}" for end in (entry.low, entry.high)]
    symbol = "" if unit.symbol == "1" else unit.symbol
    shown = ", ".join(dict.fromkeys(each for each in (entry.shown_us, entry.shown_si) if each != "1"))
    believable = f"{ends[0]} to {ends[1]} {symbol}".strip()
    return f"| `{entry.name}` | {entry.words} | {shown} | {believable} | {', '.join(entry.aliases)} |"


def reference() -> str:
    """The public face and the formulas."""
    sys.path.insert(0, str(PACKAGE.parent))
    import fluewright

    text = [
        NOTE,
        "# Reference",
        "",
        "## The public face",
        "",
        "What `import fluewright` offers; nothing else is promised.",
    ]
    for name in sorted(getattr(fluewright, "__all__", ())):
        text += ["", *entry(f"fluewright.{name}", getattr(fluewright, name))]
    text += ["", "## The formulas", ""]
    text += ["Written once for a float, a numpy array and an uncertain number. Every number is passed by name."]
    for path in sorted((PACKAGE / "kernel").glob("*.py")):
        if path.stem != "__init__":
            text += formulas(path)
    return "\n".join([*text, ""])


def entry(name: str, thing: Any) -> list[str]:
    """One name of the public face: its signature where it is a function, and what it says of itself."""
    said = inspect.getdoc(thing) if inspect.isclass(thing) or inspect.isroutine(thing) else None
    if inspect.isfunction(thing):
        node = ast.parse(textwrap.dedent(inspect.getsource(thing))).body[0]
        assert isinstance(node, ast.FunctionDef)
        head = signature(node, name=name.rpartition(".")[2])
    else:
        head = f"{type(thing).__name__} {name.rpartition('.')[2]}" if not inspect.isclass(thing) else f"class {name}"
    return [f"### `{name}`", "", "```text", head, *(["", said] if said else []), "```"]


def formulas(path: Path) -> list[str]:
    """The public functions of one file of the kernel."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    text = ["", f"### kernel.{path.stem}", "", (ast.get_docstring(tree) or "").split("\n\n")[0]]
    for node in tree.body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            text += ["", "```text", signature(node), "", ast.get_docstring(node) or "", "```"]
    return text


def signature(node: ast.FunctionDef, *, name: str = "") -> str:
    """How the function is called, by its own name or by the one it is offered under."""
    result = f" -> {ast.unparse(node.returns)}" if node.returns else ""
    return f"{name or node.name}({ast.unparse(node.args)}){result}"


def errors() -> str:
    """What each exit code and each error code means."""
    sys.path.insert(0, str(PACKAGE.parent))
    from fluewright import errors as tree

    kinds = {name: kind for name, kind in vars(tree).items() if inspect.isclass(kind) and issubclass(kind, Exception)}
    text = [NOTE, "# Exit codes and errors", "", "| code | meaning | errors |", "|---|---|---|"]
    for number, meaning in EXITS.items():
        ended = [f"`{name}`" for name, kind in kinds.items() if kind.exit_code == number and name != "FluewrightError"]
        text.append(f"| {number} | {meaning} | {', '.join(ended)} |")
    text += ["| 128 + n | ended by signal n | |", "", "## Codes", ""]
    text += ["| code | error | what was read |", "|---|---|---|"]
    rows = sorted({row for path in PACKAGE.rglob("*.py") for row in made(path, set(kinds))})
    return "\n".join([*text, *(f"| <a id='{code}'></a>{code} | `{name}` | {read} |" for code, name, read in rows), ""])


BY_LETTER = {"V": "VisitError", "T": "TraceError", "P": "Problems", "U": "UseError"}
"""The error that a gathered problem becomes, by the letter of its code."""


def made(path: Path, kinds: set[str]) -> Iterator[tuple[str, str, str]]:
    """Code, class and message of every error that a file makes with a code of its own, alone or gathered."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = ast.unparse(node.func).rpartition(".")[2]
        given = {keyword.arg: keyword.value for keyword in node.keywords}
        code, read = given.get("code"), given.get("read")
        if code is None and len(node.args) > 2:
            code, read = node.args[0], node.args[2]
        elif read is None and name == "above_nothing" and len(node.args) > 2:
            read = node.args[2]
        if isinstance(code, ast.Constant) and str(code.value).startswith("FW-") and read is not None:
            kind = name if name in kinds else BY_LETTER.get(str(code.value)[3], "")
            if kind:
                yield str(code.value), kind, template(read).replace("|", "\\|")


def template(node: ast.expr) -> str:
    """A message with its holes left open."""
    if isinstance(node, ast.JoinedStr):
        return "".join(str(part.value) if isinstance(part, ast.Constant) else "…" for part in node.values)
    return str(node.value) if isinstance(node, ast.Constant) else "…"


if __name__ == "__main__":
    main()
