"""Faults as changes of physical inputs, instruments and wrong-unit entries among them; which design each can befall."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import cache
from importlib.resources import files
from typing import Any

from fluewright.simulate.condition import Condition, Design

_RIGHT = {field.name: float(getattr(Condition(), field.name)) for field in fields(Condition)}


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that can be wrong.

    kind      appliance, instrument or entry
    changes   field of Condition to its value where just noticeable and where severe
    weight    how often against the others; common practice, no source
    danger    why nobody may lose sight of it, empty when nobody is harmed
    do        what mends it
    """

    name: str
    words: str
    kind: str
    families: tuple[str, ...]
    changes: Mapping[str, tuple[float, float]]
    weight: float
    do: str
    danger: str = ""
    wants: Mapping[str, Any] | None = None

    def befalls(self, design: Design) -> bool:
        """Whether such a design can have it."""
        has = {
            "arrestor": design.arrestor,
            "hood": design.hood,
            "carrier": design.carrier,
            "condensing": design.transfer > 4.0,
            "sealed": design.transfer > 4.0,
            "current": design.current > 0.0,
        }
        return design.family in self.families and all(has[key] == value for key, value in (self.wants or {}).items())


_WANTS = ("arrestor", "hood", "carrier", "condensing", "sealed", "current")


@cache
def faults() -> Mapping[str, Fault]:
    """Every fault by name, in the order of the file."""
    text = files("fluewright.simulate").joinpath("faults.toml").read_text(encoding="utf-8")
    found = {}
    for name, row in tomllib.loads(text).items():
        wants = {key: row.pop(key) for key in _WANTS if key in row}
        row["changes"] = {field: (float(low), float(high)) for field, (low, high) in row["changes"].items()}
        row["families"] = tuple(row["families"])
        found[name] = Fault(name=name, wants=wants, **row)
    return found


def faults_of(design: Design) -> tuple[Fault, ...]:
    """The faults that can befall a design."""
    return tuple(fault for fault in faults().values() if fault.befalls(design))


def with_fault(*, condition: Condition, fault: Fault, severity: float) -> Condition:
    """A condition with one more fault.

    severity  0 just noticeable to 1 severe
    -> the same condition, its changed fields multiplied where 1 is right, else added to
    """
    changed = {}
    for field, (low, high) in fault.changes.items():
        value, right, now = low + (high - low) * severity, _RIGHT[field], float(getattr(condition, field))
        changed[field] = now * value if right == 1.0 else now + value - right
    return replace(condition, **changed)
