"""The project's own uncertain numbers against the package `uncertainties` and against plain differences.

The analysis is nothing but + - * / of its inputs, so uncertainties' numbers pass through the same text of the kernel:
value, standard uncertainty, the share of each input and the correlation of two results are compared.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from chances import STATES, dice
from uncertainties import UFloat, correlated_values, covariance_matrix, ufloat

from fluewright.kernel import air as airs
from fluewright.kernel import analysis, balance, dewpoint, dual, emissions, losses, saturation
from fluewright.kernel.dual import Dual, uncertain
from fluewright.kernel.fuel import gas

RESULTS = tuple(name for name in analysis.Analysis._fields if name not in ("flue", "carbon_dioxide_dry_max"))
INPUTS = ("oxygen", "monoxide", "flue", "room", "methane", "heat")


def state(chance: np.random.Generator) -> dict[str, tuple[float, float]]:
    """A reading and its standard uncertainties."""
    oxygen = chance.uniform(0.01, 0.15)
    return {
        "oxygen": (oxygen, 0.001 + 0.01 * oxygen),
        "monoxide": (chance.uniform(1e-6, 2e-3), 3e-6),
        "flue": (chance.uniform(320.0, 700.0), 1.5),
        "room": (chance.uniform(270.0, 305.0), 0.6),
        "methane": (chance.uniform(0.8, 0.98), 0.01),
        "heat": (chance.uniform(0.99, 1.01), 0.004),
    }


def worked_out(number: dict[str, Any]) -> analysis.Analysis:
    """The analysis of a natural gas of uncertain composition whose heating value is uncertain by a factor."""
    from dataclasses import replace

    methane = number["methane"]
    fuel = gas(name="made up", mole_fractions={"CH4": methane, "C2H6": 1.0 - methane - 0.01, "N2": 0.01})
    fuel = replace(
        fuel,
        heating_value_gross=fuel.heating_value_gross * number["heat"],
        heating_value_net=fuel.heating_value_net * number["heat"],
    )
    return analysis.analyse(
        prepared=analysis.prepare(fuel=fuel, air=airs.DRY_AIR),
        oxygen_dry_fraction=number["oxygen"],
        carbon_monoxide_dry_fraction=number["monoxide"],
        flue_temperature=number["flue"],
        air_temperature=number["room"],
    )


def ours(values: dict[str, tuple[float, float]]) -> dict[str, Dual]:
    """The inputs as the project's numbers."""
    return {name: uncertain(value, spread=spread, name=name) for name, (value, spread) in values.items()}


def theirs(values: dict[str, tuple[float, float]]) -> dict[str, UFloat]:
    """The inputs as the package's numbers."""
    return {name: ufloat(value, spread, name) for name, (value, spread) in values.items()}


def test_a_thousand_readings() -> None:
    chance = dice(40)
    for _ in range(STATES):
        values = state(chance)
        mine, witness = worked_out(ours(values)), worked_out(theirs(values))
        for name in RESULTS:
            found, expected = getattr(mine, name), getattr(witness, name)
            assert found.value == pytest.approx(expected.nominal_value, rel=1e-12, abs=1e-15), name
            assert dual.spread(found) == pytest.approx(expected.std_dev, rel=1e-9, abs=1e-18), name


def test_shares_of_the_inputs() -> None:
    chance = dice(41)
    for _ in range(100):
        values = state(chance)
        mine, witness = worked_out(ours(values)), worked_out(theirs(values))
        for name in RESULTS:
            found = {source.name: share for source, share in dual.shares(getattr(mine, name)).items()}
            expected = getattr(witness, name)
            assert sum(found.values()) == pytest.approx(1.0, rel=1e-12)
            parts = {v.tag: part**2 / expected.std_dev**2 for v, part in expected.error_components().items()}
            for tag in INPUTS:
                assert found.get(tag, 0.0) == pytest.approx(parts.get(tag, 0.0), abs=1e-9), (name, tag)


def test_two_results_are_correlated_by_what_they_share() -> None:
    chance = dice(42)
    for _ in range(100):
        values = state(chance)
        mine, witness = worked_out(ours(values)), worked_out(theirs(values))
        pairs = [("efficiency_gross", "air_ratio"), ("loss_dry_gas", "loss_vapour"), ("oxygen_dry", "excess_air")]
        for one, two in pairs:
            matrix = np.array(covariance_matrix([getattr(witness, one), getattr(witness, two)]))
            found = dual.covariance(getattr(mine, one), getattr(mine, two))
            assert found == pytest.approx(matrix[0, 1], rel=1e-9, abs=1e-20)
            scale = (matrix[0, 0] * matrix[1, 1]) ** 0.5
            assert dual.correlation(getattr(mine, one), getattr(mine, two)) == pytest.approx(
                matrix[0, 1] / scale, abs=1e-9
            )


def test_inputs_that_are_correlated_from_the_start() -> None:
    """Two thermometers calibrated against one bath: coefficient 0.8."""
    chance = dice(43)
    for _ in range(STATES):
        values = state(chance)
        numbers = ours(values)
        (hot,), (cold,) = numbers["flue"].partials, numbers["room"].partials
        together = {frozenset((hot, cold)): 0.8}
        mine = worked_out(numbers)
        spreads = values["flue"][1], values["room"][1]
        covariance = [
            [spreads[0] ** 2, 0.8 * spreads[0] * spreads[1]],
            [0.8 * spreads[0] * spreads[1], spreads[1] ** 2],
        ]
        others = theirs(values)
        others["flue"], others["room"] = correlated_values([values["flue"][0], values["room"][0]], covariance)
        expected = worked_out(others).efficiency_gross
        found = dual.spread(mine.efficiency_gross, correlations=together)
        assert found == pytest.approx(expected.std_dev, rel=1e-7)


def slope(law: Callable[[float], float], at: float, step: float) -> float:
    """Central difference of fourth order."""
    near, far = law(at + step) - law(at - step), law(at + 2 * step) - law(at - 2 * step)
    return (8 * near - far) / (12 * step)


def dew_of(oxygen: Any, pressure: Any = 1e5) -> Any:
    """Water dew point of a methane flame."""
    fuel = gas(name="methane", mole_fractions={"CH4": 1.0})
    done = analysis.analyse(
        prepared=analysis.prepare(fuel=fuel, air=airs.DRY_AIR),
        oxygen_dry_fraction=oxygen,
        flue_temperature=400.0,
        air_temperature=293.0,
    )
    return analysis.water_dew_point(flue=done.flue, pressure=pressure)


def condensing_of(flue_temperature: Any) -> Any:
    """Efficiency of a methane flame whose gas leaves saturated."""
    fuel = gas(name="methane", mole_fractions={"CH4": 1.0})
    prepared = analysis.prepare(fuel=fuel, air=airs.DRY_AIR)
    done = analysis.analyse(
        prepared=prepared, oxygen_dry_fraction=0.04, flue_temperature=flue_temperature, air_temperature=293.0
    )
    return analysis.condensing(
        prepared=prepared,
        flue=done.flue,
        flue_temperature=flue_temperature,
        air_temperature=293.0,
        condensed_amount=analysis.saturated_condensate(flue=done.flue, flue_temperature=flue_temperature, pressure=1e5),
    ).efficiency_gross


LAWS: dict[str, tuple[Callable[[Any], Any], float, float]] = {
    "saturation pressure": (lambda t: saturation.pressure(temperature=t), 280.0, 360.0),
    "frost": (lambda t: saturation.pressure(temperature=t), 240.0, 270.0),
    "saturation temperature": (lambda p: saturation.temperature(pressure=p), 1000.0, 90_000.0),
    "latent heat": (lambda t: saturation.latent_heat(temperature=t), 280.0, 360.0),
    "dew point": (dew_of, 0.01, 0.15),
    "dew point by pressure": (lambda p: dew_of(0.05, p), 70_000.0, 105_000.0),
    "condensing efficiency": (condensing_of, 285.0, 325.0),
    "condensing efficiency above the dew point": (condensing_of, 335.0, 365.0),
    "pressure at altitude": (lambda h: airs.pressure_at_altitude(altitude=h), 0.0, 5000.0),
    "acid": (lambda p: dewpoint.acid_verhoff(water_pressure=p, sulfur_trioxide_pressure=1.0), 3000.0, 20_000.0),
    "acid of the other": (
        lambda p: dewpoint.acid_okkes(water_pressure=1e4, sulfur_trioxide_pressure=p), 0.1, 10.0,
    ),
    "mass concentration": (
        lambda t: emissions.mass_concentration(fraction=1e-4, species="CO", temperature=t), 273.0, 300.0,
    ),
    "vapour enthalpy": (lambda t: losses.vapour_enthalpy(temperature=t), 300.0, 900.0),
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(LAWS))
def test_derivatives_are_those_of_plain_differences(name: str) -> None:
    law, low, high = LAWS[name]
    for at in dice(44).uniform(low, high, STATES // 10):
        done = law(uncertain(float(at), spread=1.0, name="x"))
        expected = slope(law, float(at), 1e-4 * (high - low))
        assert done.value == pytest.approx(law(float(at)), rel=1e-14)
        assert dual.spread(done) == pytest.approx(abs(expected), rel=1e-6)


def test_wet_bulb_carries_the_doubt_of_humidity() -> None:

    def wet(humidity: Any) -> Any:
        return airs.wet_bulb_temperature(relative_humidity=humidity, temperature=298.0, pressure=1e5)

    expected = slope(wet, 0.5, 1e-3)
    done = wet(uncertain(0.5, spread=1.0, name="humidity"))
    assert dual.spread(done) == pytest.approx(abs(expected), rel=1e-4)


def test_temperature_after_a_hood_carries_the_doubt_of_the_oxygen_behind_it() -> None:
    fuel = gas(name="methane", mole_fractions={"CH4": 1.0})
    carriers = losses.carriers(fuel=fuel, air=airs.DRY_AIR)
    before = balance.from_dry_oxygen(fuel=fuel, air=airs.DRY_AIR, oxygen_dry_fraction=0.07)

    def mixed(oxygen: Any) -> Any:
        return losses.diluted_temperature(
            carriers=carriers,
            flue=before,
            flue_temperature=500.0,
            diluted=balance.from_dry_oxygen(fuel=fuel, air=airs.DRY_AIR, oxygen_dry_fraction=oxygen),
            room_temperature=293.15,
        )

    done = mixed(uncertain(0.14, spread=1.0, name="oxygen"))
    assert dual.spread(done) == pytest.approx(abs(slope(mixed, 0.14, 1e-3)), rel=1e-4)
