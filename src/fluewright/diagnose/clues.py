"""Readings turned into clues: figures in which a fault moves things by about the same step whatever the appliance.

Carbon monoxide is taken free of air and as a logarithm, carbon dioxide as what it says about the fuel, pressures and
heat against the plate, small pressures by a scale that is straight near nothing and logarithmic far out.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from fluewright.words import marked

FRESH = 0.2095
_FAR = 0.19
"""Oxygen above which air-free carbon monoxide means little (practice, A and P17)."""


@dataclass(frozen=True, slots=True)
class Clue:
    """One figure.

    name     key in the table
    reading  registry name of the reading that it stands for
    value    transformed
    doubt    standard uncertainty of the transformed value beyond that of an ordinary reading
    """

    name: str
    reading: str
    value: float
    doubt: float = 0.0


@dataclass(frozen=True, slots=True)
class Kind:
    """How a clue is made.

    reading    registry name
    widened    how far another model of the same appliance may put it: judgement, see docs/method/diagnosis.md
    apart      how far off it may lie for no reason that is in the list
    up, down   words for either way
    """

    reading: str
    widened: float
    apart: float
    up: str = marked("higher than usual")
    down: str = marked("lower than usual")


KINDS: Mapping[str, Kind] = {
    "oxygen": Kind("oxygen_dry", 0.6, 4.0),
    "monoxide": Kind("carbon_monoxide_dry", 0.45, 2.0),
    "kinship": Kind(
        "carbon_dioxide_dry", 0.015, 0.2, marked("more than this fuel can give"), marked("less than this fuel gives")
    ),
    "flue": Kind("flue_temperature", 0.07, 0.6, marked("hotter than usual"), marked("colder than usual")),
    "returning": Kind("return_water_temperature", 2.0, 15.0, marked("warmer than usual"), marked("colder than usual")),
    "draft": Kind("draft", 0.25, 1.5, marked("weaker than usual"), marked("stronger than usual")),
    "over_fire": Kind("draft_over_fire", 0.25, 1.5, marked("weaker than usual"), marked("stronger than usual")),
    "gas_pressure": Kind("gas_pressure", 0.02, 0.5, marked("above the plate"), marked("below the plate")),
    "line_pressure": Kind("line_pressure", 0.05, 0.5),
    "heat": Kind("fuel_input", 0.025, 0.4, marked("above the plate"), marked("below the plate")),
    "oil_pressure": Kind("oil_pressure", 0.02, 0.4, marked("above the plate"), marked("below the plate")),
    "air_rise": Kind("air_rise", 0.07, 0.6, marked("above the plate"), marked("below the plate")),
    "water_rise": Kind("water_rise", 0.07, 0.6, marked("above what was planned"), marked("below what was planned")),
    "current": Kind("flame_current", 0.15, 1.0),
    "smoke": Kind("smoke_spot", 0.6, 4.0, marked("more than usual"), marked("less than usual")),
    "room": Kind("carbon_monoxide_room", 0.25, 1.5),
    "stale": Kind(
        "oxygen_intake", 0.1, 1.5, marked("less oxygen than in fresh air"), marked("more oxygen than in fresh air")
    ),
    "fresh": Kind(
        "oxygen_outdoor", 0.08, 1.0, marked("more than fresh air holds"), marked("less than fresh air holds")
    ),
    "near": Kind("oxygen_at_flame", 0.3, 3.0, marked("above that at the breech"), marked("below that at the breech")),
    "low_fire": Kind("oxygen_low_fire", 0.5, 4.0, marked("above that at full fire"), marked("below that at full fire")),
    "blower": Kind("oxygen_blower_step", 0.1, 2.0, marked("a rise with the blower"), marked("a fall with the blower")),
}

LOOSE: Mapping[str, float] = {"draft": 0.8, "over_fire": 0.4}
"""Behind a fan no draft is usual: length of vent, terminal and maker decide whether it pulls or pushes (common
practice, no source). Stands in for `widened` in appliances whose fan moves the gas."""

_AGAINST = {
    "gas_pressure": "gas_pressure",
    "line_pressure": "line_pressure",
    "heat": "fuel_input",
    "oil_pressure": "oil_pressure",
    "air_rise": "air_rise",
    "water_rise": "water_rise",
    "current": "flame_current",
}
"""Clues that are ratios to what the plate or the maker says."""


def squeezed(pressure: float) -> float:
    """A small pressure in Pa, straight near nothing, logarithmic far out."""
    return math.asinh(pressure / 3.0)


def air_free(*, monoxide: float, oxygen: float) -> float:
    """Carbon monoxide free of air in ppm."""
    return monoxide * 1e6 * FRESH / max(FRESH - oxygen, FRESH - _FAR)


def _oxygen(read: Mapping[str, float]) -> float:
    return read["oxygen_dry"]


def _monoxide(read: Mapping[str, float]) -> float:
    return math.log(max(0.0, air_free(monoxide=read["carbon_monoxide_dry"], oxygen=_oxygen(read))) + 8.0)


def _flue(read: Mapping[str, float]) -> float:
    return math.log(max(read["flue_temperature"] - read["air_temperature"], 5.0) + 25.0)


_FORMED: Mapping[str, tuple[tuple[str, ...], Callable[[Mapping[str, float]], float]]] = {
    "oxygen": (("oxygen_dry",), lambda read: 100.0 * _oxygen(read)),
    "monoxide": (("carbon_monoxide_dry", "oxygen_dry"), _monoxide),
    "flue": (("flue_temperature", "air_temperature"), _flue),
    "returning": (("return_water_temperature",), lambda read: read["return_water_temperature"]),
    "draft": (("draft",), lambda read: squeezed(read["draft"])),
    "over_fire": (("draft_over_fire",), lambda read: squeezed(read["draft_over_fire"])),
    "smoke": (("smoke_spot",), lambda read: read["smoke_spot"]),
    "room": (("carbon_monoxide_room",), lambda read: math.log(max(0.0, read["carbon_monoxide_room"]) * 1e6 + 3.0)),
    "stale": (("oxygen_intake",), lambda read: 100.0 * (read.get("oxygen_outdoor", FRESH) - read["oxygen_intake"])),
    "fresh": (("oxygen_outdoor",), lambda read: 100.0 * (read["oxygen_outdoor"] - FRESH)),
    "near": (("oxygen_at_flame", "oxygen_dry"), lambda read: 100.0 * (read["oxygen_at_flame"] - _oxygen(read))),
    "low_fire": (("oxygen_low_fire", "oxygen_dry"), lambda read: 100.0 * (read["oxygen_low_fire"] - _oxygen(read))),
    "blower": (("oxygen_blower_step",), lambda read: 100.0 * read["oxygen_blower_step"]),
}
"""Clues made of readings alone: what each needs, and how it is formed."""

USUAL = {"air_temperature": (293.0, 6.0), "oxygen_dry": (0.08, 0.03)}
"""What stands in for a reading that a clue needs beside its own, and its spread: the clue is then wide."""


def _kinship(read: Mapping[str, float], most: float) -> float | None:
    """Logarithm of the highest carbon dioxide that the readings speak of, over that of the fuel."""
    if not {"carbon_dioxide_dry", "oxygen_dry"} <= read.keys() or read["oxygen_dry"] > 0.17:
        return None
    spoken = read["carbon_dioxide_dry"] * FRESH / (FRESH - read["oxygen_dry"])
    return math.log(max(spoken, 0.01) / most)


def _formed(name: str, read: Mapping[str, float], doubts: Mapping[str, float]) -> Clue | None:
    """One clue from readings alone, with the doubt that its readings and stand-ins bring."""
    needs, form = _FORMED[name]
    if KINDS[name].reading not in read:
        return None
    filled, wide = dict(read), {each: doubts[each] for each in needs if each in doubts}
    for each in needs:
        if each not in read:
            if each not in USUAL:
                return None
            filled[each], wide[each] = USUAL[each]
    value, square = form(filled), 0.0
    for each, spread in wide.items():
        square += (form({**filled, each: filled[each] + spread}) - value) ** 2
    return Clue(name, KINDS[name].reading, value, square**0.5)


def clues(
    *,
    read: Mapping[str, float],
    doubts: Mapping[str, float],
    plate: Mapping[str, float],
    usual: Mapping[str, tuple[float, float]],
    most: float,
) -> dict[str, Clue]:
    """Every clue that the readings give.

    read    registry name to value in canonical unit
    doubts  registry name to standard uncertainty beyond that of an ordinary instrument, where there is one
    plate   what plate or maker says for readings that only count against it
    usual   stands in for the plate: value, and its relative spread
    most    highest carbon dioxide of the fuel, mol/mol dry
    -> clues by name
    """
    found: dict[str, Clue] = {}
    for name in _FORMED:
        clue = _formed(name, read, doubts)
        if clue is not None:
            found[name] = clue
    ratio = _kinship(read, most)
    if ratio is not None:
        found["kinship"] = Clue(
            "kinship", "carbon_dioxide_dry", ratio, 3.0 * doubts.get("carbon_dioxide_dry", 0.0) / most
        )
    for name, reading in _AGAINST.items():
        right, loose = (plate[reading], 0.0) if reading in plate else usual.get(reading, (0.0, 0.0))
        if reading in read and right > 0.0:
            value = max(read[reading], 0.01 * right)
            own = doubts.get(reading, 0.0) / value
            found[name] = Clue(name, reading, math.log(value / right), (own * own + loose * loose) ** 0.5)
    return found
