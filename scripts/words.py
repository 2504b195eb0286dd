"""Writes src/fluewright/locale/fluewright.pot from the program, brings every .po to it, and compiles them.

Run by `make words`; a test compares. Templates are read from the syntax tree: the first text of every say(), marked(),
pieces() and worded(), both of say_count(). Words of data are read from the files and tables named below. Nothing is
guessed: a sentence that changed is a new one, and waits for its translation in English.
"""

import ast
import datetime
import io
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "src" / "fluewright"
LOCALE = PACKAGE / "locale"
TEMPLATE = LOCALE / "fluewright.pot"

SAYING = {"say": 1, "marked": 1, "pieces": 1, "worded": 1, "in_pieces": 1, "say_count": 2}
"""Functions that take templates, and how many of their first texts are."""
OURS = ("fluewright.words", "fluewright.report.pen", "fluewright.evidence.part")
"""Modules that they are imported from: a function of the same name elsewhere is another one."""

DATA: dict[str, tuple[str, ...]] = {
    "appliance/advice.toml": ("instead",),
    "appliance/classes/*.toml": ("point", "when"),
    "appliance/devices.toml": ("words", "expected"),
    "appliance/house.toml": ("words", "ask", "bad"),
    "diagnose/tests.toml": ("words", "yes", "no"),
    "rules/consent/*.toml": ("text",),
    "rules/together/*.toml": ("lead", "text", "next"),
    "rules/visits/*.toml": ("what", "text", "routes"),
    "simulate/designs.toml": ("words",),
    "simulate/faults.toml": ("words", "do", "danger"),
}
"""Data files with sentences, and the fields that hold them."""

_WHEN = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)
_HEAD = 'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=utf-8\\n"\n'
_NOTE = "# Words of Fluewright. Written by scripts/words.py: `make words`.\n"


def templates(tree: ast.AST) -> Iterator[tuple[str, ...]]:
    """Every template in a syntax tree: one text, or two where it counts."""
    imports = (node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module in OURS)
    ours = SAYING.keys() & {name.name for node in imports for name in node.names}
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ours:
            texts = [each.value for each in node.args[: SAYING[node.func.id]] if isinstance(each, ast.Constant)]
            if len(texts) == SAYING[node.func.id]:
                yield tuple(map(str, texts))


def _within(table: Any, fields: tuple[str, ...]) -> Iterator[str]:
    """Texts of some fields, wherever they stand in a table."""
    if isinstance(table, list):
        for each in table:
            yield from _within(each, fields)
    elif isinstance(table, dict):
        for key, value in table.items():
            if key in fields and isinstance(value, (str, list)):
                yield from [value] if isinstance(value, str) else map(str, value)
            else:
                yield from _within(value, fields)


def _tables() -> Iterator[tuple[str, str]]:
    """Words of tables in code: readings, how a text is known, how a danger was closed, where on the walk."""
    sys.path.insert(0, str(PACKAGE.parent))
    from fluewright.evidence.reading import EMERGENCY, SUPPLIER, How
    from fluewright.quantity.names import REGISTRY
    from fluewright.rules.schema import Known
    from fluewright.rules.visits import WALK, Reason

    yield from ((each.words, "quantity/names.py") for each in REGISTRY.values())
    yield from ((each, "rules/schema.py") for each in get_args(Known))
    yield from ((each, "rules/visits.py") for each in (*WALK, *get_args(Reason)))
    yield from ((each, "evidence/reading.py") for each in (*get_args(How), EMERGENCY, SUPPLIER))


def extracted() -> Catalog:
    """Every template and every word of data, with the file it comes from."""
    catalog = Catalog(creation_date=_WHEN)
    for path in sorted(PACKAGE.rglob("*.py")):
        for texts in templates(ast.parse(path.read_text(encoding="utf-8"))):
            catalog.add(texts if len(texts) > 1 else texts[0], locations=[(_named(path), 0)])
    for pattern, fields in DATA.items():
        for path in sorted(PACKAGE.glob(pattern)):
            for text in _within(tomllib.loads(path.read_text(encoding="utf-8")), fields):
                if text:
                    catalog.add(text, locations=[(_named(path), 0)])
    for text, file in _tables():
        catalog.add(text, locations=[(file, 0)])
    return catalog


def _named(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def written(catalog: Catalog, plural: str = "") -> str:
    """A catalog as text, without dates and line numbers, so that it changes only where its words do."""
    body = io.BytesIO()
    write_po(body, catalog, width=110, omit_header=True, include_lineno=False, ignore_obsolete=True)
    return _NOTE + _HEAD + plural + "\n" + body.getvalue().decode()


def catalogs() -> Iterator[tuple[str, Path, Catalog]]:
    """Every language with its file and what is in it."""
    for path in sorted(LOCALE.glob("*/LC_MESSAGES/*.po")):
        name = path.parent.parent.name
        yield name, path, read_po(path.open("rb"), locale=name)


def main() -> None:
    """Write the template and every catalog, and say what is not translated yet."""
    sys.path.insert(0, str(ROOT))
    import hatch_build

    template = extracted()
    TEMPLATE.write_text(written(template), encoding="utf-8")
    for name, path, catalog in catalogs():
        catalog.update(template, no_fuzzy_matching=True)
        plural = f'"Plural-Forms: {catalog.plural_forms}\\n"\n'
        path.write_text(written(catalog, plural), encoding="utf-8")
        said = sum(bool(each.id and each.string and all(each.string)) for each in catalog)
        print(f"{name}: {said} of {len(catalog)} said")
    hatch_build.catalogs()


if __name__ == "__main__":
    main()
