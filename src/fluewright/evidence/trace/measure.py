"""What the registry of quantities says, in the form a column of a trace needs: unit text -> scale and offset."""

import re
from functools import lru_cache

from fluewright.errors import QuantityError
from fluewright.quantity import names, units

OXYGEN_MOST = 0.22
"""Fresh dry air holds 20.95 %; a percent more is a sensor out of adjustment, beyond that it is a wiring or unit fault
(common practice, no source)."""
IMPOSSIBLE = {
    "oxygen_dry": (-0.005, OXYGEN_MOST),
    "oxygen_wet": (-0.005, OXYGEN_MOST),
    "carbon_dioxide_dry": (-0.005, 0.25),
    "flue_temperature": (173.15, 2500.0),
    "air_temperature": (173.15, 1000.0),
    "outdoor_temperature": (173.15, 343.15),
    "firing_rate": (-0.02, 2.0),
    "efficiency_gross": (-0.2, 1.1),
    "efficiency_net": (-0.2, 1.2),
}
"""Values beyond these become gaps: narrower than what the registry refuses, because a trace is not typed by a person
who could be asked (common practice, no source)."""
USUAL = {"oxygen_dry": (0.0, 0.2125), "oxygen_wet": (0.0, 0.2125),
         "firing_rate": (0.0, 1.2), "efficiency_gross": (0.0, 1.0), "efficiency_net": (0.0, 1.1),
         "supply_water_temperature": (273.15, 423.15), "return_water_temperature": (273.15, 393.15)}  # fmt: skip
"""Usual while recording, which goes on when the burner is off: wider than what a person types for a flame."""
KINDS = {"%": "share", "ppm": "trace"}


def known(name: str) -> bool:
    """Whether the registry has a quantity of this name."""
    return name in names.REGISTRY


def registered(header: str) -> str:
    """The registry name that a header such as oxygen_dry_percent begins with, the longest; "" when none."""
    found = [name for name in names.REGISTRY if header == name or header.startswith(name + "_")]
    return max((name for name in found if header == name or len(header) - len(name) <= 12), key=len, default="")


def canonical(name: str) -> str:
    """The canonical unit of a quantity."""
    return names.of(name).unit


def kind(name: str) -> str:
    """What a number without unit can be: temperature, share (percent or fraction), trace (ppm), rate or number."""
    quantity = names.of(name)
    if quantity.dimension == "temperature":
        return "temperature"
    if quantity.dimension in {"ratio", "spot number"}:
        return "number"
    if quantity.dimension != "fraction":
        return quantity.dimension
    return "rate" if quantity.high > 0.9 else KINDS.get(quantity.shown_si, "share")


def choices(name: str) -> tuple[str, ...]:
    """The symbols of all units that fit."""
    return tuple(unit.symbol for unit in units.units_for(names.of(name)))


def tidy(text: str) -> str:
    """A unit as loggers write it, reduced to the unit: "% vol", "Vol.-%", "%RH", "ppmvd" -> "%", "%", "%", "ppm"."""
    text = text.strip().strip("()[]{}").strip()
    if "%" in text and re.fullmatch(
        r"(?:vol|v/v|mol|dry|wet|rh|r\.?h|rel|hum|o2|of air|[\s.%\-])+", text, re.IGNORECASE
    ):
        return "%"
    if re.fullmatch(r"ppm(?:v|vd|d| dry|\(v\))?", text, re.IGNORECASE):
        return "ppm"
    return {"percent": "%", "pct": "%", "fraction": "1", "mol/mol": "1", "º": "°"}.get(
        text.lower(), text.replace("º", "°")
    )


@lru_cache(maxsize=512)
def line(name: str, unit: str) -> tuple[float, float] | None:
    """Scale and offset so that canonical = number x scale + offset; None for a unit that does not fit."""
    try:
        quantity = names.of(name)
        low, high = (units.to_canonical(value, unit=tidy(unit), quantity=quantity) for value in (0.0, 1.0))
    except QuantityError:
        return None
    return high - low, low


def is_unit(text: str) -> bool:
    """Whether a text is a unit of anything."""
    return bool(text) and bool(units.spelled(tidy(text)))


def limits(name: str) -> tuple[float, float, float, float]:
    """Canonical: lowest and highest possible, lowest and highest usual."""
    quantity = names.of(name)
    least = quantity.least if quantity.least is not None else float("-inf")
    most = quantity.most if quantity.most is not None else float("inf")
    low, high = IMPOSSIBLE.get(name, (least, most))
    return (low, high, *USUAL.get(name, (quantity.low, quantity.high)))


def display(name: str, system: str = "si") -> tuple[str, float, float]:
    """The unit a quantity is shown in, and canonical -> shown as scale and offset."""
    quantity = names.of(name)
    unit = quantity.shown_us if system == "us" else quantity.shown_si
    scale, offset = line(name, unit) or (1.0, 0.0)
    return unit, 1.0 / scale, -offset / scale


def words(name: str) -> str:
    """The quantity as a person says it."""
    return names.of(name).words
