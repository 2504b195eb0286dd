"""The numbers on the pages about method are those of the program: every table that can be worked out is."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fluewright.kernel import air as airs
from fluewright.kernel import analysis, balance, dewpoint, dilution, dual, equilibrium, losses
from fluewright.kernel.dual import uncertain
from fluewright.kernel.fuel import gas, ultimate

PAGES = Path(__file__).resolve().parent.parent.parent / "docs" / "method"
METHANE = gas(name="methane", mole_fractions={"CH4": 1.0})
OIL = ultimate(name="oil", mass_fractions={"C": 0.865, "H": 0.134, "S": 0.001}, heating_value_gross=45.5e6)
NATURE = analysis.prepare(fuel=METHANE, air=airs.DRY_AIR)
HANDBOOK = analysis.prepare(fuel=METHANE, air=airs.DRY_AIR_TWO_GASES)
BOUND = 1.0 - METHANE.heating_value_net / METHANE.heating_value_gross


def table(page: str, first: str) -> list[list[str]]:
    """Rows of the table whose first heading begins with these words."""
    lines = (PAGES / page).read_text(encoding="utf-8").splitlines()
    start = next(index for index, line in enumerate(lines) if line.startswith(f"| {first}"))
    rows = []
    for line in lines[start + 2 :]:
        if not line.startswith("|"):
            break
        rows.append([cell.strip() for cell in line.strip("|").split("|")])
    return rows


def number(cell: str) -> float:
    """A cell as a number: sign, decimals, per cent left as written."""
    return float(cell.replace("−", "-").replace(",", "").replace("%", "").strip())


def printed(cell: str, value: float) -> bool:
    """Whether a cell shows the value to its own digits."""
    match = re.search(r"\.(\d+)", cell)
    half = 0.5 * 10.0 ** -(len(match[1]) if match else 0)
    return abs(number(cell) - value) <= half * (1 + 1e-6)


def reading(prepared: analysis.Prepared, oxygen: Any, flue: Any, air: Any, monoxide: Any = 0.0) -> analysis.Analysis:
    """One reading, Celsius and fractions."""
    return analysis.analyse(
        prepared=prepared,
        oxygen_dry_fraction=oxygen,
        flue_temperature=flue + 273.15,
        air_temperature=air + 273.15,
        carbon_monoxide_dry_fraction=monoxide,
    )


def line() -> Iterator[tuple[str, float]]:
    """balance.md, one straight line."""
    for oxygen, carbon, ratio in table("balance.md", "O₂ dry, %"):
        done = reading(NATURE, number(oxygen) / 100, 200.0, 20.0)
        yield carbon, 100 * done.carbon_dioxide_dry
        yield ratio, done.air_ratio


def concentric() -> Iterator[tuple[str, float]]:
    """losses.md, which air temperature."""
    for air, loss in table("losses.md", "air, °C"):
        yield loss, 100 * (reading(HANDBOOK, 0.04, 70.0, number(air)).loss_gross - BOUND)


def arriving() -> Iterator[tuple[str, float]]:
    """losses.md, where the fuel's warmth is taken from: points of gross efficiency for 10 K."""
    propane = gas(name="propane", mole_fractions={"C3H8": 1.0})
    for fuel, (_, points) in zip((METHANE, propane, OIL), table("losses.md", "fuel"), strict=True):
        given = {"prepared": analysis.prepare(fuel=fuel, air=airs.DRY_AIR), "oxygen_dry_fraction": 0.04}
        warm, warmer = (
            analysis.analyse(**given, flue_temperature=450.0, air_temperature=293.15, fuel_temperature=kelvin)
            for kelvin in (283.15, 293.15)
        )
        yield points, 100 * (warmer.efficiency_gross - warm.efficiency_gross)
        yield points, 100 * (warm.loss_dry_gas - warmer.loss_dry_gas)


def band() -> Iterator[tuple[str, float]]:
    """condensing.md, the two ends."""
    flue = balance.from_air_ratio(fuel=METHANE, air=airs.DRY_AIR_TWO_GASES, air_ratio=1.25)
    for temperature, dry, saturated, share in table("condensing.md", "flue, °C"):
        kelvin = number(temperature) + 273.15
        most = analysis.saturated_condensate(flue=flue, flue_temperature=kelvin, pressure=101_325.0)
        for cell, amount in ((dry, 0.0), (saturated, most)):
            done = analysis.condensing(
                prepared=HANDBOOK, flue=flue, flue_temperature=kelvin, air_temperature=298.15, condensed_amount=amount
            )
            yield cell, 100 * done.efficiency_gross
        yield share, most / flue.water


def dew() -> Iterator[tuple[str, float]]:
    """dew-point.md, water and acid."""
    for ratio, low, high in table("dew-point.md", "air ratio"):
        flue = balance.from_air_ratio(fuel=METHANE, air=airs.DRY_AIR, air_ratio=number(ratio))
        for cell, pressure in ((low, 101_325.0), (high, 84_310.0)):
            yield cell, dewpoint.water(flue=flue, pressure=pressure) - 273.15
    flue = balance.from_air_ratio(fuel=OIL, air=airs.DRY_AIR, air_ratio=1.2)
    wet = flue.dry + flue.water
    for share, verhoff, okkes in table("dew-point.md", "SO₃, share"):
        trioxide = number(share) / 100 * flue.sulfur_dioxide / wet * 101_325.0
        partial = {"water_pressure": flue.water / wet * 101_325.0, "sulfur_trioxide_pressure": trioxide}
        yield verhoff, dewpoint.acid_verhoff(**partial) - 273.15
        yield okkes, dewpoint.acid_okkes(**partial) - 273.15


def hood() -> Iterator[tuple[str, float]]:
    """dilution.md, behind a draft hood, and what it does to certainty."""
    before = reading(HANDBOOK, 0.07, 230.0, 20.0)
    for oxygen, temperature, loss, ratio in table("dilution.md", "O₂ after, %"):
        after = balance.from_dry_oxygen(
            fuel=METHANE, air=airs.DRY_AIR_TWO_GASES, oxygen_dry_fraction=number(oxygen) / 100
        )
        kelvin = losses.diluted_temperature(
            carriers=HANDBOOK.carriers,
            flue=before.flue,
            flue_temperature=503.15,
            diluted=after,
            room_temperature=293.15,
        )
        done = reading(HANDBOOK, number(oxygen) / 100, kelvin - 273.15, 20.0)
        yield temperature, kelvin - 273.15
        yield loss, 100 * (done.loss_gross - BOUND)
        yield ratio, done.air_ratio
    for oxygen, doubt in table("dilution.md", "O₂ read, %"):
        fraction = number(oxygen) / 100
        raw = 100e-6 * (0.2095 - fraction) / 0.2095
        free = dilution.at_reference_oxygen(
            fraction=uncertain(raw, spread=max(3e-6, 0.05 * raw), name="CO"),
            oxygen_dry_fraction=uncertain(fraction, spread=0.002, name="O2"),
        )
        yield doubt, 1e6 * dual.spread(free)


def hottest() -> Iterator[tuple[str, float]]:
    """equilibrium.md, methane."""
    for ratio, kelvin, monoxide, oxide in table("equilibrium.md", "methane, air"):
        given = {"fuel": METHANE, "air": airs.DRY_AIR, "air_ratio": number(ratio)}
        mixture = equilibrium.adiabatic(
            elements=equilibrium.elements_of(**given),
            enthalpy=equilibrium.enthalpy_of(**given, temperature=298.15),
            pressure=101_325.0,
        )
        yield kelvin, mixture.temperature
        yield monoxide, 100 * mixture.dry_fraction("CO")
        yield oxide, 1e6 * mixture.dry_fraction("NO")


def doubt() -> Iterator[tuple[str, float]]:
    """doubt.md, the example."""
    done = reading(
        NATURE,
        uncertain(0.05, spread=0.002, name="O2"),
        uncertain(200.0, spread=2.0, name="flue"),
        uncertain(20.0, spread=1.0, name="air"),
        uncertain(50e-6, spread=5e-6, name="CO"),
    )
    results = (done.air_ratio, done.efficiency_gross, done.carbon_monoxide_air_free * 1e6)
    for (_, value, spread, _), result in zip(table("doubt.md", "result"), results, strict=True):
        yield value, result.value
        yield spread, dual.spread(result)


@pytest.mark.parametrize(
    "pairs", [line, concentric, arriving, band, dew, hood, hottest, doubt], ids=lambda law: law.__name__
)
def test_a_printed_table_is_what_the_program_finds(pairs: Any) -> None:
    found = list(pairs())
    assert len(found) >= 5
    assert not [(cell, value) for cell, value in found if not printed(cell, value)]
