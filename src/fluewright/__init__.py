"""Fluewright: flue-gas physics with its doubt, judged and handed over.

The public face. Everything here is loaded when it is first asked for, so that a start costs nothing.
"""

from importlib import import_module
from typing import Any

_FACE = {
    "FluewrightError": "fluewright.errors",
    "Problems": "fluewright.errors",
    "answered": "fluewright.visit.one_reading",
    "composition": "fluewright.fuels.composition",
    "fuel_from_file": "fluewright.fuels.composition:from_file",
    "fuel_names": "fluewright.fuels.load:names",
    "judged": "fluewright.visit.work",
    "load_fuel": "fluewright.fuels.load:load",
    "outcomes": "fluewright.checks.run",
    "parse": "fluewright.quantity.parse",
    "read_visit": "fluewright.visit.file:read",
    "readings_of": "fluewright.visit.one_reading",
    "shown": "fluewright.quantity.show",
    "surroundings_of": "fluewright.visit.place",
}

__all__ = sorted(_FACE)


def __getattr__(name: str) -> Any:
    """The part of the face asked for, from the room it lives in."""
    if name not in _FACE:
        raise AttributeError(f"fluewright offers no {name!r}; it offers {', '.join(__all__)}")
    module, _, inner = _FACE[name].partition(":")
    return getattr(import_module(module), inner or name)


def __dir__() -> list[str]:
    return list(__all__)
