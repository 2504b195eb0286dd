"""Cited figures about oil that are no limits on a reading: times, intervals, margins, usual viscosities."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from fluewright.rules import currency

COLD, WARM = 293.15, 313.15
"""K at which the usual viscosities count."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure with where it stands.

    value  in its unit
    words  what it is, in words of our own
    """

    value: float
    unit: str
    words: str
    document: str
    clause: str
    edition: str
    jurisdiction: str
    known: str
    current: currency.Current


@dataclass(frozen=True, slots=True)
class Viscosities:
    """Usual kinematic viscosities of one oil, m2/s, at COLD and at WARM."""

    cold: float
    warm: float


@cache
def _document(name: str) -> Mapping[str, Any]:
    entry = resources.files("fluewright.rules") / "oil" / f"{name}.toml"
    return tomllib.loads(entry.read_text(encoding="utf-8"))


def names() -> tuple[tuple[str, str], ...]:
    """Every figure, as file and name."""
    return tuple((file, name) for file in ("de-1bimschv", "practice") for name in _document(file)["figures"])


def figure(file: str, name: str) -> Figure:
    """One figure by file and name."""
    document = _document(file)
    found = document["figures"][name]
    told = {key: document[key] for key in ("document", "edition", "jurisdiction", "known", "current")}
    return Figure(float(found["value"]), found["unit"], found["words"], clause=found["clause"], **told)


def practice(name: str) -> float:
    """The value of a figure of the trade; a share where the file has percent."""
    found = figure("practice", name)
    return found.value / 100.0 if found.unit == "%" else found.value


def viscosities(fuel: str) -> Viscosities | None:
    """Usual viscosities of a fuel of the library; None for one that the list does not have."""
    found = _document("viscosities")["viscosities"].get(fuel)
    return None if found is None else Viscosities(found["cold"] * 1e-6, found["warm"] * 1e-6)
