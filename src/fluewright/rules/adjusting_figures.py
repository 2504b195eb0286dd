"""Cited figures about adjusting that are no limits on a reading: scatter, stops, margins, usual effects of a lever."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Any

from fluewright.rules.oil_figures import Figure

PARTS = {"%": 1e-2, "ppm": 1e-6}
"""Units of the file that are shares, with what one of them is."""


@cache
def _document() -> Mapping[str, Any]:
    entry = resources.files("fluewright.rules") / "adjusting" / "practice.toml"
    return tomllib.loads(entry.read_text(encoding="utf-8"))


def names() -> tuple[str, ...]:
    """Every figure by name."""
    return tuple(_document()["figures"])


def figure(name: str) -> Figure:
    """One figure with where it stands."""
    document = _document()
    found = document["figures"][name]
    told = {key: document[key] for key in ("document", "edition", "jurisdiction", "known", "current")}
    return Figure(float(found["value"]), found["unit"], found["words"], clause=found["clause"], **told)


def practice(name: str) -> float:
    """The value of a figure; a share where the file has percent or parts per million."""
    found = figure(name)
    return found.value * PARTS.get(found.unit, 1.0)
