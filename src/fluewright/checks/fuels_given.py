"""Fuels and air as a check file states them, made into those of the kernel."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from fluewright.checks.rows import Row
from fluewright.kernel import air as airs
from fluewright.kernel import fuel as fuels
from fluewright.kernel.air import Air
from fluewright.kernel.constants import REFERENCE_TEMPERATURE, WATER_MOLAR_MASS
from fluewright.kernel.fuel import Fuel
from fluewright.kernel.gas_properties import mole_fractions_from_volume

FLAME_AIR = Air(oxygen=1.0 / 4.76, nitrogen=3.76 / 4.76, argon=0.0, carbon_dioxide=0.0)
"""One oxygen with 3.76 nitrogen, the air of textbook flame tables."""

_AIRS = {"20.95/79.05": airs.DRY_AIR_TWO_GASES, "standard": airs.DRY_AIR, "1:3.76": FLAME_AIR}


def _hundredths(table: Mapping[str, float]) -> dict[str, float]:
    return {name: share / 100.0 for name, share in table.items()}


def mole_fractions(row: Row, name: str = "fuel") -> dict[str, float]:
    """Mole fractions of a gas that the row names: by mole, by real volume, or as parts to be brought to one."""
    given: Mapping[str, Any] = row.fuels[row.word(name)]
    if "volume_percent" in given:
        return dict(mole_fractions_from_volume(volume_fractions=_hundredths(given["volume_percent"])))
    if "mole_parts" in given:
        total = sum(given["mole_parts"].values())
        return {component: part / total for component, part in given["mole_parts"].items()}
    return _hundredths(given["mole_percent"])


def fuel(row: Row, name: str = "fuel") -> Fuel:
    """The fuel that the row names."""
    key = row.word(name)
    given: Mapping[str, Any] = row.fuels[key]
    if "mass_percent" in given:
        gross = given.get("gross_MJ_per_kg")
        return fuels.ultimate(
            name=key,
            mass_fractions=_hundredths(given["mass_percent"]),
            heating_value_gross=None if gross is None else gross * 1e6,
        )
    return fuels.gas(name=key, mole_fractions=mole_fractions(row, name))


def fuel_temperature(row: Row, air_temperature: float) -> float:
    """How warm the row says that the fuel arrives: at 25 C unless it says with the air."""
    return {"at 25 C": REFERENCE_TEMPERATURE, "with the air": air_temperature}[row.word("fuel enters", "at 25 C")]


def air(row: Row) -> Air:
    """The air that the row states, with its humidity: 20.95 % oxygen and the rest nitrogen unless it says otherwise."""
    dry = _AIRS[row.word("air kind", "20.95/79.05")]
    damp = row.number("humidity", "0 kg/kg") * airs.MOLAR_MASS / WATER_MOLAR_MASS
    return replace(dry, water_ratio=damp)
