"""Compositions of the reference folder through the same door as a typed one, against the values given there."""

import json
from pathlib import Path
from typing import Any

import pytest

from fluewright.fuels.composition import composition
from fluewright.fuels.factors import beside, emissions, factors
from fluewright.fuels.figures import figures
from fluewright.fuels.load import load, names
from fluewright.fuels.reference import Reference
from fluewright.kernel.air import DRY_AIR_TWO_GASES, MOLAR_MASS
from fluewright.kernel.fuel import stoichiometry

UNIT = {"MJ/m3": 1e-6, "Btu/ft3": 0.028316846592 / 1055.05585262, "-": 1.0, "kg/m3": 1.0, "MJ/kg": 1e-6}

SYMBOLS = {
    "Ws": "wobbe_gross",
    "Wi": "wobbe_net",
    "Hs": "heating_value_gross",
    "Hi": "heating_value_net",
    "d": "relative_density",
}


@pytest.fixture(scope="module")
def entries(shared: Path) -> list[dict[str, Any]]:
    """All entries of the combustion checks."""
    data = json.loads((shared / "reference" / "combustion-checks.json").read_text(encoding="utf-8"))
    return list(data if isinstance(data, list) else data["checks"])


def _key(topic: str) -> str:
    """Which figure a topic speaks of."""
    if topic.startswith("EN 437 "):
        return SYMBOLS[topic.split()[2]]
    low = topic.lower()
    end = "net" if "net" in low or "inferior" in low else "gross"
    if "wobbe" in low:
        return f"wobbe_{end}"
    if "relative density" in low:
        return "relative_density"
    return "density" if "density" in low else f"heating_value_{end}"


def _text(shares: dict[str, dict[str, Any]]) -> str:
    return ",".join(f"{name}={part['value']!r}" for name, part in shares.items())


def test_gases_of_the_reference_tables(entries: list[dict[str, Any]]) -> None:
    """Tables 1.2 and 1.3, real gas at 15/15."""
    tried = 0
    for entry in entries:
        inputs, prefix = entry["inputs"], entry["id"].split("-")[0]
        shares = inputs.get("composition") or inputs.get("composition by volume")
        if prefix not in ("FUEL", "EN437") or not isinstance(shares, dict):
            continue
        key = _key(entry["topic"])
        record = composition(_text(shares), by="volume" if "composition by volume" in inputs else "mole")
        value = figures(record, reference=Reference("15", "15"))[key].value
        assert value is not None
        found = value * UNIT[entry["unit"]]
        assert found == pytest.approx(entry["expected"], abs=entry["tolerance"]), entry["id"]
        tried += 1
    assert tried >= 60


def test_liquids_and_pellets_of_the_reference_tables(entries: list[dict[str, Any]]) -> None:
    """Table 1.5: air per mass and highest CO2, in air of 20.95 % oxygen."""
    tried = 0
    for entry in entries:
        shares = entry["inputs"].get("mass fractions as fired")
        if entry["id"].split("-")[0] != "LIQ" or shares is None:
            continue
        pairs = {name: share for name, share in shares.items() if isinstance(share, int | float)}
        pairs["ash"] = round(1.0 - sum(pairs.values()), 9)
        text = ",".join(f"{name}={share!r}" for name, share in pairs.items() if share)
        fuel = composition(text).fuel
        need = stoichiometry(fuel=fuel, air=DRY_AIR_TWO_GASES)
        if entry["unit"].startswith("kg air"):
            found = need.air_need * MOLAR_MASS
        elif entry["unit"] == "vol% dry":
            found = 100.0 * need.carbon_dioxide_dry_max
        else:
            continue
        assert found == pytest.approx(entry["expected"], abs=entry["tolerance"]), entry["id"]
        tried += 1
    assert tried >= 10


# Deviation of a fuel of the library from a published default, in per cent, with the reason where it is large.
STATED: dict[tuple[str, str], tuple[float, str]] = {
    ("natural-gas", "heating_value_gross"): (1.7, "delivered gas has become richer since the default was set"),
    ("kerosene", "heating_value_gross_per_liquid_volume"): (1.5, "density of the grade"),
    ("kerosene", "carbon_factor"): (4.5, "the default is above what any alkane of this hydrogen gives"),
    ("oil-no-1", "heating_value_gross_per_liquid_volume"): (3.0, "the default is above that of the heavier No. 2"),
    ("oil-no-6", "carbon_factor"): (4.6, "the default is below the carbon of residual oil"),
    ("b100", "heating_value_gross_per_liquid_volume"): (2.0, "heating values of esters differ by source"),
    ("b100", "carbon_factor"): (1.5, "heating values of esters differ by source"),
    ("propane", "carbon_factor"): (
        2.3,
        "the row propane gas is 2.3 % below the one of liquid propane, and stoichiometry",
    ),
    ("lpg-60-40", "heating_value_gross_per_liquid_volume"): (4.5, "the default names no mixture; nearer to propane"),
    ("lpg-60-40", "carbon_factor"): (3.5, "the default names no mixture and is below pure propane"),
    ("wood-logs", "carbon_factor"): (3.5, "the default is for damp wood residues"),
    ("wood-pellets", "carbon_factor"): (3.5, "the default is for damp wood residues"),
}


@pytest.mark.parametrize("name", [name for name in names() if any(f.fuel == name for f in factors())])
def test_published_defaults_are_near(name: str) -> None:
    """Within 1 % where nothing else is stated."""
    for one in beside(load(name)):
        stated, _ = STATED.get((name, one.factor.quantity), (1.0, ""))
        assert abs(100.0 * one.deviation) <= stated, f"{one.factor.printed}: {one.deviation:+.2%}"


def test_every_default_belongs_to_a_fuel_and_has_its_source() -> None:
    for factor in factors():
        assert factor.fuel in names()
        assert factor.known in ("read", "from memory")
        assert any(word in factor.document for word in ("CFR", "GPA", "AP-42"))
    assert all(emission.fuel in names() for emission in emissions())
    assert {emission.value for emission in emissions()} == {100.0, 50.0, 32.0, 84.0, 94.0, 40.0}
