"""One set of cases and what the formulas answer, for every door: float, array, uncertain number, another Python.

Standard library only, because it also runs inside the Python of a web page.
"""

import random
from typing import Any

from fluewright.kernel import air as airs
from fluewright.kernel import analysis, balance, equilibrium, sampling, saturation
from fluewright.kernel.fuel import Fuel, gas, ultimate

Case = dict[str, Any]

FUELS: dict[str, dict[str, float]] = {
    "methane": {"CH4": 1.0},
    "natural": {"CH4": 0.93, "C2H6": 0.04, "C3H8": 0.01, "N2": 0.01, "CO2": 0.01},
    "lean natural": {"CH4": 0.82, "C2H6": 0.03, "N2": 0.14, "CO2": 0.01},
    "propane": {"C3H8": 0.96, "C2H6": 0.02, "nC4H10": 0.02},
    "butane": {"nC4H10": 0.6, "iC4H10": 0.3, "C3H8": 0.1},
    "biogas": {"CH4": 0.6, "CO2": 0.38, "N2": 0.018, "H2S": 0.002},
    "hydrogen": {"H2": 1.0},
    "blend": {"CH4": 0.77, "C2H6": 0.03, "H2": 0.2},
    "town gas": {"H2": 0.5, "CH4": 0.25, "CO": 0.15, "CO2": 0.05, "N2": 0.04, "O2": 0.01},
    "oil": {"C": 0.865, "H": 0.134, "S": 0.001},
    "paraffin": {"C": 0.858, "H": 0.1415, "S": 0.0005},
    "rich in oxygen": {"C": 0.77, "H": 0.12, "O": 0.11},
    "pellets": {"C": 0.466, "H": 0.057, "O": 0.39, "N": 0.001, "water": 0.08, "ash": 0.006},
    "wet logs": {"C": 0.35, "H": 0.043, "O": 0.295, "N": 0.001, "water": 0.3, "ash": 0.011},
    "coal": {"C": 0.72, "H": 0.048, "O": 0.08, "N": 0.014, "S": 0.012, "water": 0.06, "ash": 0.066},
}
"""Made up, near what is burned: mole fractions of gases, mass fractions as fired of the rest."""

SKIPPED = ("flue", "carbon_dioxide_dry_max")
ANSWERS = tuple(name for name in analysis.Analysis._fields if name not in SKIPPED)
BESIDE = (
    "water_dew_point",
    "saturation_pressure",
    "saturation_temperature",
    "condensed_saturated",
    "efficiency_saturated",
    "oxygen_from_carbon_dioxide",
    "air_ratio_from_wet",
    "hydrogen_from_shift",
    "oxygen_dried",
)
NAMES = ANSWERS + BESIDE


def fuel_of(name: str) -> Fuel:
    """The fuel of a case."""
    parts = FUELS[name]
    if "C" in parts:
        return ultimate(name=name, mass_fractions=parts)
    return gas(name=name, mole_fractions=parts)


def cases(count: int) -> list[Case]:
    """Random readings, most of them lean, every eighth short of air; short numbers, so that a file stays small."""
    chance = random.Random(314)
    found = []
    for number in range(count):
        rich = number % 8 == 7
        carbon = number % len(FUELS) != list(FUELS).index("hydrogen")
        found.append(
            {
                "fuel": list(FUELS)[number % len(FUELS)],
                "humidity": round(chance.uniform(0.0, 1.0), 2),
                "room": round(chance.uniform(258.0, 308.0), 1),
                "pressure": round(chance.uniform(70_000.0, 105_000.0)),
                "oxygen": round(chance.uniform(0.0, 0.003) if rich else chance.uniform(0.002, 0.17), 4),
                "monoxide": round(chance.uniform(0.005, 0.04) if rich else chance.uniform(0.0, 0.001), 6) * carbon,
                "hydrogen": round(chance.uniform(0.002, 0.02), 4) if rich else 0.0,
                "flue": round(chance.uniform(310.0, 850.0), 1),
                "cold": round(chance.uniform(285.0, 330.0), 1),
            }
        )
    return found


def air_of(case: Case) -> airs.Air:
    """The air of a case."""
    return airs.humid(relative_humidity=case["humidity"], temperature=case["room"], pressure=case["pressure"])


def answers(case: Case) -> list[Any]:
    """Everything asked of a case, in the order of NAMES; numbers of the case may be of any kind."""
    prepared = analysis.prepare(fuel=fuel_of(case["fuel"]), air=air_of(case))
    done = analysis.analyse(
        prepared=prepared,
        oxygen_dry_fraction=case["oxygen"],
        carbon_monoxide_dry_fraction=case["monoxide"],
        hydrogen_dry_fraction=case["hydrogen"],
        flue_temperature=case["flue"],
        air_temperature=case["room"],
    )
    return [getattr(done, name) for name in ANSWERS] + _beside(case, prepared, done)


def _beside(case: Case, prepared: analysis.Prepared, done: analysis.Analysis) -> list[Any]:
    flue = done.flue
    common = {"fuel": prepared.fuel, "air": prepared.air}
    most = analysis.saturated_condensate(flue=flue, flue_temperature=case["cold"], pressure=case["pressure"])
    saturated = analysis.condensing(
        prepared=prepared,
        flue=flue,
        flue_temperature=case["cold"],
        air_temperature=case["room"],
        condensed_amount=most,
    )
    by_carbon = balance.from_dry_carbon_dioxide(
        **common,
        carbon_dioxide_dry_fraction=done.carbon_dioxide_dry,
        carbon_monoxide_dry_fraction=case["monoxide"],
        hydrogen_dry_fraction=case["hydrogen"],
    )
    by_wet = balance.from_wet_oxygen(
        **common,
        oxygen_wet_fraction=flue.oxygen / (flue.dry + flue.water),
        carbon_monoxide_wet_fraction=flue.carbon_monoxide / (flue.dry + flue.water),
        hydrogen_wet_fraction=flue.hydrogen / (flue.dry + flue.water),
    )
    return [
        analysis.water_dew_point(flue=flue, pressure=case["pressure"]),
        saturation.pressure(temperature=case["cold"]),
        saturation.temperature(pressure=0.1 * case["pressure"]),
        saturated.condensed_fraction,
        saturated.efficiency_gross,
        by_carbon.oxygen / by_carbon.dry,
        by_wet.air_ratio,
        balance.hydrogen_from_shift(flue=flue),
        sampling.dried_from_dry(dry_fraction=case["oxygen"], trap_temperature=case["cold"], pressure=case["pressure"]),
    ]


def flames(count: int) -> list[Case]:
    """Fuels with their air, for the flame that loses nothing."""
    chance = random.Random(271)
    kinds = [name for name in FUELS if name not in ("coal", "wet logs")]
    return [
        {"fuel": kinds[number % len(kinds)], "air_ratio": round(chance.uniform(0.85, 1.6), 3)}
        for number in range(count)
    ]


def settled(case: Case) -> dict[str, float]:
    """Temperature and dry composition of such a flame."""
    fuel, air, air_ratio = fuel_of(case["fuel"]), airs.DRY_AIR, case["air_ratio"]
    mixture = equilibrium.adiabatic(
        elements=equilibrium.elements_of(fuel=fuel, air=air, air_ratio=air_ratio),
        enthalpy=equilibrium.enthalpy_of(fuel=fuel, air=air, air_ratio=air_ratio, temperature=298.15),
        pressure=101_325.0,
    )
    return {"temperature": mixture.temperature} | {
        name: mixture.dry_fraction(name) for name in ("CO", "H2", "O2", "NO", "OH") if name in mixture.amounts
    }
