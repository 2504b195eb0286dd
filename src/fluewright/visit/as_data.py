"""Results as data for a program: the one form that every door gives."""

import math
from typing import Any, Literal

from fluewright.evidence.result import Result
from fluewright.quantity import names, show, units

PER_HEAT_UNITS = ("mg/kWh", "g/kWh", "ng/J", "lb/MMBtu")


def _finite(value: float) -> float | None:
    """A number as JSON knows it; None where it has none."""
    return value if math.isfinite(value) else None


def _number(value: float | None, name: str, unit: str) -> float | None:
    if value is None or not math.isfinite(value):
        return None
    quantity = names.of(name)
    return units.in_unit(value, unit=units.unit_named(unit, quantity=quantity), quantity=quantity)


def as_json(result: Result, system: Literal["us", "si"]) -> dict[str, Any]:
    """One result for a program: value and standard uncertainty in a stated unit, with its working."""
    quantity = names.of(result.name)
    unit = show.unit_of(quantity, system)
    per = units.per_unit(unit=units.unit_named(unit, quantity=quantity), quantity=quantity)
    data: dict[str, Any] = {
        "value": _number(result.value, result.name, unit),
        "unit": unit,
        "uncertainty": _finite(result.spread / per),
        "below": _finite(result.below / per),
        "above": _finite(result.above / per),
        "basis": result.basis,
        "boundary": result.boundary,
        "working": None,
    }
    if quantity.dimension == "mass per heat" and result.value is not None:
        data["also"] = {other: _number(result.value, result.name, other) for other in PER_HEAT_UNITS}
    if result.low is not None or result.high is not None:
        data["low"], data["high"] = (_number(result.low, result.name, unit), _number(result.high, result.name, unit))
    if result.bound:
        data["bound"] = result.bound
    if result.refused:
        data["refused"] = result.refused
    if result.working is not None:
        working = result.working
        data["working"] = {
            "formula": working.formula,
            "substitution": working.substitution,
            "inputs": [
                {"name": i.name, "words": i.words, "value": _finite(i.value), "uncertainty": _finite(i.spread),
                 "unit": names.of(i.name).unit, "from": i.source, "share": round(i.share, 6)}
                for i in working.inputs
            ],
            "source": working.source,
            "holds": working.holds,
        }  # fmt: skip
    return data
