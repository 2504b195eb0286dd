"""Measured against computed, and the signs of sick sensors, on made-up traces whose fault is known."""

import math
import random
from collections.abc import Callable

import pytest

from fluewright.evidence.trace import closing, compare, sensors
from fluewright.evidence.trace.stretch import stretches
from fluewright.evidence.trace.survey import survey
from fluewright.evidence.trace.times import Form
from fluewright.evidence.trace.trace import Channel, Trace, from_rows
from fluewright.evidence.trace.worked import Air, worked
from fluewright.kernel import analysis
from fluewright.kernel import fuel as fuels
from fluewright.kernel.air import DRY_AIR

NAMES = (
    "firing_rate",
    "oxygen_dry",
    "carbon_dioxide_dry",
    "carbon_monoxide_dry",
    "flue_temperature",
    "efficiency_gross",
)
METHANE = analysis.prepare(fuel=fuels.gas(name="methane", mole_fractions={"CH4": 1.0}), air=DRY_AIR)
HOUR, START = 3600.0, 1_609_459_200.0
Fault = Callable[[int, dict[str, float]], dict[str, float]]


def made(fault: Fault = lambda i, row: row, count: int = 2400) -> Trace:
    """A hundred days of hourly methane flames, twelve hours on and twelve off, as a faultless instrument sees them."""
    chance = random.Random(11)
    rows = []
    for i in range(count):
        on = i % 24 < 12
        oxygen = 0.03 + 0.01 * chance.random() if on else 0.2085 + 0.001 * chance.random()
        row = {"firing_rate": 0.3 + 0.2 * chance.random() if on else 0.0, "oxygen_dry": oxygen,
               "carbon_dioxide_dry": 0.001 * chance.random(),
               "carbon_monoxide_dry": 20e-6 * chance.random() + 1e-6,
               "flue_temperature": (430.0 if on else 300.0) + 20.0 * chance.random(),
               "efficiency_gross": 0.1 * chance.random()}  # fmt: skip
        if on:
            result = analysis.analyse(
                prepared=METHANE, oxygen_dry_fraction=oxygen, carbon_monoxide_dry_fraction=row["carbon_monoxide_dry"],
                flue_temperature=row["flue_temperature"], air_temperature=298.15,
            )  # fmt: skip
            row |= {"carbon_dioxide_dry": result.carbon_dioxide_dry, "efficiency_gross": result.efficiency_gross}
        rows.append((START + HOUR * i, tuple(fault(i, row)[name] for name in NAMES)))
    return from_rows(channels=[Channel(name, "1", name) for name in NAMES], rows=rows, form=Form("iso", "UTC"))


def agreed(trace: Trace) -> tuple[compare.Agreement, ...]:
    rows = compare.burning_rows(trace, survey(trace))
    return compare.agreements(trace, rows, prepared=METHANE, airs=[("air of 25 °C", 298.15)])


def test_a_faultless_instrument_agrees_with_the_physics() -> None:
    dioxide, efficiency = agreed(made())
    assert (dioxide.name, efficiency.name) == ("carbon_dioxide_dry", "efficiency_gross")
    assert dioxide.spread.count == efficiency.spread.count == 1200
    assert dioxide.spread.low == pytest.approx(0.0, abs=1e-12)
    assert efficiency.spread.high == pytest.approx(0.0, abs=1e-12)
    assert sum(dioxide.spread.bins) == 1200
    assert [label for label, _ in dioxide.months] == ["2021-01", "2021-02", "2021-03", "2021-04"]
    assert sum(spread.count for _, spread in dioxide.months) == 1200


def test_an_offset_of_carbon_dioxide_is_its_median_difference() -> None:
    (dioxide, _) = agreed(made(lambda i, row: row | {"carbon_dioxide_dry": row["carbon_dioxide_dry"] + 0.003}))
    assert dioxide.spread.median == pytest.approx(0.003, abs=1e-9)


def test_starts_are_found_in_the_tail() -> None:
    def lagging(i: int, row: dict[str, float]) -> dict[str, float]:
        return row | {"efficiency_gross": row["efficiency_gross"] - 0.05} if i % 24 == 0 else row

    _, efficiency = agreed(made(lagging))
    assert "first row after lighting in 99 of 100" in efficiency.tails[0]
    places = dict(efficiency.places)
    assert places["first row"].median == pytest.approx(-0.05, abs=1e-9)
    assert places["inside"].median == pytest.approx(0.0, abs=1e-9)


def test_what_would_close_the_gap_is_the_gas_that_burned() -> None:
    mixed = analysis.prepare(fuel=fuels.gas(name="mixed", mole_fractions={"CH4": 0.8, "C2H6": 0.2}), air=DRY_AIR)

    def ethane(i: int, row: dict[str, float]) -> dict[str, float]:
        if not row["firing_rate"]:
            return row
        result = analysis.analyse(
            prepared=mixed, oxygen_dry_fraction=row["oxygen_dry"], flue_temperature=430.0, air_temperature=298.15
        )
        return row | {"carbon_dioxide_dry": result.carbon_dioxide_dry}

    trace = made(ethane)
    rows = compare.burning_rows(trace, survey(trace))
    most = closing.most_carbon_dioxide(rows, METHANE)
    assert most == pytest.approx(mixed.need.carbon_dioxide_dry_max, rel=2e-3)
    assert closing.ethane_share(carbon_dioxide_dry_max=most, prepared=METHANE) == pytest.approx(0.2, abs=0.02)
    (dioxide, *_) = compare.agreements(trace, rows, prepared=METHANE, airs=[])
    ways = closing.closing(rows, dioxide, METHANE)
    assert "above what oxygen and methane give" in ways[0]
    assert "stays the same over time" in ways[-1]
    assert closing.ethane_share(carbon_dioxide_dry_max=0.10, prepared=METHANE) is None


def signs_of(trace: Trace) -> str:
    seen = survey(trace)
    return "\n".join(sign.what for sign in sensors.signs(trace, seen, agreed(trace)))


def test_a_faultless_instrument_shows_no_sign() -> None:
    assert signs_of(made()) == ""


def test_a_drifting_sensor_is_told_from_a_fixed_offset() -> None:
    def drifting(i: int, row: dict[str, float]) -> dict[str, float]:
        return row | {"oxygen_dry": row["oxygen_dry"] + 4e-6 * i} if row["firing_rate"] else row

    assert "walked from" in signs_of(made(drifting))
    assert "walked" not in signs_of(
        made(lambda i, row: row | {"carbon_dioxide_dry": row["carbon_dioxide_dry"] + 0.003})
    )


def test_values_held_while_off_are_found() -> None:
    last: dict[str, float] = {}

    def holding(i: int, row: dict[str, float]) -> dict[str, float]:
        if row["firing_rate"]:
            last.update(row)
            return row
        return last | {"firing_rate": 0.0}

    assert "exactly the value of the row before stands again" in signs_of(made(holding))


def test_a_frozen_sensor_is_found_while_burning() -> None:
    frozen = made(lambda i, row: row | {"oxygen_dry": 0.035} if 240 <= i < 252 and row["firing_rate"] else row)
    assert "oxygen dry held exactly one value for 12 rows while burning" in signs_of(frozen)


def test_a_clamped_zero_is_found() -> None:
    clamped = made(lambda i, row: row | {"carbon_monoxide_dry": 0.0} if i % 3 else row)
    assert "carbon monoxide dry is exactly zero in 800 of 1200 burning rows" in signs_of(clamped)


def test_a_channel_that_is_a_copy_of_another_is_found() -> None:
    chance = random.Random(5)
    rows = [
        (float(i), (0.05 + 1e-4 * chance.random(), flow := 100.0 + 50.0 * chance.random(), 3.6 * flow))
        for i in range(500)
    ]
    channels = [
        Channel("oxygen_dry", "1", "O2"),
        Channel("water", "L/s", "w", False),
        Channel("gas", "m3/h", "g", False),
    ]
    trace = from_rows(channels=channels, rows=rows)
    found = [sign.what for sign in sensors.signs(trace, survey(trace))]
    assert found == ["water is 0.2778 times gas in every row"]


def test_rows_of_a_dead_recorder_are_counted() -> None:
    dead = made(lambda i, row: dict.fromkeys(NAMES, 0.0) | {"flue_temperature": 273.15} if i % 24 > 20 else row)
    assert "300 rows in which nothing burns show no oxygen" in signs_of(dead)


def test_missing_rows_are_counted() -> None:
    trace = made()
    rows = [(sample.time, sample.values) for i, sample in enumerate(trace) if not 100 <= i < 150]
    seen = survey(from_rows(channels=trace.channels, rows=rows, form=trace.form))
    assert [sign.what for sign in sensors.signs(trace, seen) if "missing" in sign.what] == [
        "50 rows are missing in 1 gaps (2 % of the time)"
    ]


def test_a_stretch_is_worked_out_with_its_doubt() -> None:
    """The result of the means, and the spread of excess air by its slope: d(excess)/d(O2) from two calls."""
    rows = [(float(i), (0.5, 0.04, 0.095, 50e-6, 450.0, 0.85)) for i in range(400)]
    trace = from_rows(channels=[Channel(name, "1", name) for name in NAMES], rows=rows)
    (stretch,) = stretches(
        trace, response_seconds=60.0, accuracy=lambda name, value: 0.001 if name == "oxygen_dry" else 0.0
    )
    result = worked(stretch, prepared=METHANE, air=Air("air", 298.15, 0.0))

    def excess(oxygen: float) -> float:
        return float(analysis.analyse(
            prepared=METHANE, oxygen_dry_fraction=oxygen, carbon_monoxide_dry_fraction=50e-6, flue_temperature=450.0,
            air_temperature=298.15,
        ).excess_air)  # fmt: skip

    value, spread = result.values["excess_air"]
    assert value == pytest.approx(excess(0.04), rel=1e-9)
    assert spread == pytest.approx(0.001 * (excess(0.0401) - excess(0.0399)) / 0.0002, rel=1e-3)


def test_a_stretch_without_oxygen_says_why_it_has_no_results() -> None:
    rows = [(float(i), (450.0,)) for i in range(400)]
    trace = from_rows(channels=[Channel("flue_temperature", "K", "flue")], rows=rows)
    (stretch,) = stretches(trace, response_seconds=60.0)
    assert worked(stretch, prepared=METHANE, air=Air("air")).refused == "no oxygen channel"
    assert not math.isnan(stretch.means["flue_temperature"])
