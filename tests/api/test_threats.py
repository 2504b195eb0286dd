"""Every row of the table of threats names a test that is there."""

import ast
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TABLE = (ROOT / "docs" / "threats.md").read_text(encoding="utf-8")
ITEMS = ("1.2.10", "2.2.2", "2.3.3", "3.2.2", "3.3.1", "3.4.3", "3.4.4", "3.4.6", "3.5.1", "3.5.3", "5.2.1", "5.2.2",
         "5.3.2", "6.2.1", "6.2.8", "6.3.1", "6.3.2", "7.2.1", "7.4.1", "7.4.2", "8.2.1", "8.2.2", "8.3.1", "13.4.1",
         "13.4.2", "14.2.1", "15.3.3", "16.3.1", "16.5.1", "16.5.3")  # fmt: skip
"""Items of OWASP ASVS 5.0 that a test is named for."""


def names(path: Path) -> set[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}


def test_every_threat_has_a_test_that_is_there() -> None:
    rows = [line for line in TABLE.splitlines() if re.match(r"\| [RPKAMS]( [RPKAMS])* \|", line)]
    assert len(rows) >= 30
    for row in rows:
        named = re.findall(r"`(tests/\S+\.py)::(\w+)`", row)
        assert named, row
        for path, name in named:
            assert name in names(ROOT / path), f"{path}::{name}"


def test_every_item_has_a_test_of_its_name() -> None:
    found: set[str] = set()
    for folder in ("api", "web", "visit", "record"):
        for path in (ROOT / "tests" / folder).glob("test_*.py"):
            found |= {name for name in names(path) if name.startswith("test_asvs_")}
    told = " ".join(found)
    missing = [item for item in ITEMS if not re.search(rf"_{item.replace('.', '_')}(?!\d)", told)]
    assert missing == []
