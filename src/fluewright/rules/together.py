"""Findings that together are worse than each, as data: families of codes, and rows of families that meet."""

import tomllib
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from importlib import resources
from typing import Any, get_args

from fluewright.rules import cited
from fluewright.rules.schema import Severity

FIELDS = frozenset(("id", "families", "severity", "lead", "text", "next"))


@dataclass(frozen=True, slots=True)
class Together:
    """One row.

    families  patterns of finding codes, one list for each side that has to be there
    severity  what it is when they meet
    lead      the conclusion, a sentence
    text      why together they are worse
    next      what to do next
    """

    id: str
    families: tuple[tuple[str, ...], ...]
    severity: Severity
    lead: str
    text: str
    next: tuple[str, ...]

    def sides(self, codes: Collection[str]) -> tuple[frozenset[str], ...] | None:
        """The codes on each side; None where a side is missing, or where one finding would be both."""
        found = tuple(
            frozenset(code for code in codes if any(fnmatchcase(code, pattern) for pattern in family))
            for family in self.families
        )
        apart = len(frozenset().union(*found)) >= len(found)
        return found if all(found) and apart else None


def rows_of(*, text: str, file: str) -> tuple[Together, ...]:
    """The rows of one file, strictly read; RuleError for the first that does not hold."""
    document = tomllib.loads(text)
    families: Mapping[str, Any] = document.get("families", {})
    return tuple(_row(row, families, f"{file}: {row.get('id', '')}") for row in document.get("together", ()))


def _row(row: Mapping[str, Any], families: Mapping[str, Any], where: str) -> Together:
    if set(row) != FIELDS:
        raise cited.problem(where=where, read=", ".join(sorted(row)), expected=", ".join(sorted(FIELDS)))
    strangers = [name for name in row["families"] if name not in families]
    if strangers or len(row["families"]) < 2:
        raise cited.problem(where=where, read=f"families = {row['families']!r}", expected="two or more that are listed")
    if row["severity"] not in get_args(Severity):
        raise cited.problem(where=where, read=f"severity = {row['severity']!r}", expected=", ".join(get_args(Severity)))
    sides = tuple(tuple(map(str, families[name])) for name in row["families"])
    return Together(row["id"], sides, row["severity"], row["lead"], row["text"], tuple(row["next"]))


@cache
def rows() -> tuple[Together, ...]:
    """Every row that came with the program, in the order of its files."""
    place = resources.files("fluewright.rules") / "together"
    found: list[Together] = []
    for entry in sorted(place.iterdir(), key=lambda one: one.name):
        if entry.name.endswith(".toml"):
            found += rows_of(text=entry.read_text(encoding="utf-8"), file=f"rules/together/{entry.name}")
    return tuple(found)
