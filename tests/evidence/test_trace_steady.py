"""Steady stretches of made-up traces whose true state is known."""

import math
import random
import statistics
from collections.abc import Sequence
from itertools import pairwise

import pytest

from fluewright.evidence.trace.burning import Rule
from fluewright.evidence.trace.spool import Sample
from fluewright.evidence.trace.steady import criterion_of
from fluewright.evidence.trace.stretch import Stretch, climb_of, mean_of, stretches
from fluewright.evidence.trace.survey import quantiles_of, survey
from fluewright.evidence.trace.trace import Channel, Trace, averaged, from_rows, step_of

OXYGEN, FLUE = Channel("oxygen_dry", "1", "O2"), Channel("flue_temperature", "K", "flue")
RATE, MONOXIDE = Channel("firing_rate", "1", "rate"), Channel("carbon_monoxide_dry", "1", "CO")
CHANGES = (0, 600, 1500, 2400)
"""Seconds at which a technician turns a screw."""
TARGETS = ((0.05, 450.0), (0.03, 430.0), (0.04, 460.0), (0.07, 445.0))
T90 = (30.0, 60.0)
LENGTH = 3600


def lagged(step: float) -> list[tuple[float, float]]:
    """What two first-order channels show of the true states, without noise; 10 % of a step is left after T90."""
    shown = list(TARGETS[0])
    rows = []
    for i in range(int(LENGTH / step)):
        target = TARGETS[sum(i * step >= change for change in CHANGES) - 1]
        for channel in (0, 1):
            shown[channel] += (1.0 - 10.0 ** (-step / T90[channel])) * (target[channel] - shown[channel])
        rows.append((shown[0], shown[1]))
    return rows


def made(seed: int, step: float) -> Trace:
    chance = random.Random(seed)
    rows = [
        (i * step, (round((o + chance.gauss(0, 0.0003)) / 0.001) * 0.001, t + chance.gauss(0, 0.3)))
        for i, (o, t) in enumerate(lagged(step))
    ]
    return from_rows(channels=[OXYGEN, FLUE], rows=rows)


def settled(step: float) -> list[bool]:
    """Whether each moment is truly settled: within a least count (0.1 % oxygen, 1 K) of its target."""
    rows = []
    for i, (oxygen, flue) in enumerate(lagged(step)):
        target = TARGETS[sum(i * step >= change for change in CHANGES) - 1]
        rows.append(abs(oxygen - target[0]) <= 0.001 and abs(flue - target[1]) <= 1.0)
    return rows


@pytest.mark.parametrize("step", [1.0, 5.0, 10.0])
@pytest.mark.parametrize("seed", range(6))
def test_a_made_up_trace_is_cut_where_it_truly_settles(seed: int, step: float) -> None:
    found = stretches(made(seed, step), response_seconds=60.0)
    truth = settled(step)
    assert len(found) == len(CHANGES)
    false = sum(not truth[int(t / step)] for s in found for t in times_of(s, step))
    assert false <= 0.01 * sum(s.count for s in found)
    for change, stretch, target in zip(CHANGES, found, TARGETS, strict=True):
        true_start = next(i * step for i, ok in enumerate(truth) if ok and i * step >= change)
        assert stretch.start - true_start <= 30.0 + step
        assert stretch.means["oxygen_dry"] == pytest.approx(target[0], abs=3 * stretch.spreads["oxygen_dry"] + 3e-4)
        assert stretch.kind == "steady"


def times_of(stretch: Stretch, step: float) -> list[float]:
    return [stretch.start + i * step for i in range(stretch.count)]


def test_a_ramp_is_never_steady() -> None:
    chance = random.Random(1)
    rows = [(float(i), (0.05 + 2e-5 * i + chance.gauss(0, 3e-4), 450.0 + chance.gauss(0, 0.3))) for i in range(1800)]
    assert stretches(from_rows(channels=[OXYGEN, FLUE], rows=rows), response_seconds=60.0) == []


def test_a_slow_wander_is_cut_before_its_mean_stands_for_nothing() -> None:
    rows = [(float(i), (0.05 + 3e-6 * i, 450.0)) for i in range(3000)]
    found = stretches(from_rows(channels=[OXYGEN, FLUE], rows=rows), response_seconds=60.0)
    assert len(found) == 5
    assert all(stretch.scatters["oxygen_dry"] < 0.001 for stretch in found)


def test_a_channel_without_temperatures_is_only_settled() -> None:
    found = stretches(
        from_rows(channels=[OXYGEN], rows=[(float(i), (0.05,)) for i in range(400)]), response_seconds=60.0
    )
    assert [stretch.kind for stretch in found] == ["settled"]


def test_a_short_trace_has_no_steady_stretch() -> None:
    """A window is three T90: what is left of a step is then 10^-3."""
    rows = [(float(i), (0.05, 450.0)) for i in range(180)]
    assert stretches(from_rows(channels=[OXYGEN, FLUE], rows=rows), response_seconds=60.0) == []
    rows.append((180.0, (0.05, 450.0)))
    assert len(stretches(from_rows(channels=[OXYGEN, FLUE], rows=rows), response_seconds=60.0)) == 1


def test_no_stretch_crosses_a_gap_or_a_pause() -> None:
    rows = [(float(i + (500 if i >= 300 else 0)), (0.05, 450.0)) for i in range(600)]
    found = stretches(from_rows(channels=[OXYGEN, FLUE], rows=rows), response_seconds=60.0)
    assert [(s.start, s.end) for s in found] == [(0.0, 299.0), (800.0, 1099.0)]
    assert "a gap in time" in found[0].reason
    rows = [(float(i), (0.05 if i % 400 < 300 else 0.209, 450.0)) for i in range(800)]
    found = stretches(from_rows(channels=[OXYGEN, FLUE], rows=rows), response_seconds=60.0)
    assert [(s.start, s.end) for s in found] == [(0.0, 299.0), (400.0, 699.0)]
    assert "not burning" in found[0].reason


def test_hourly_means_are_handled_with_five_rows() -> None:
    rows = [(3600.0 * i, (0.05 + 0.0005 * (i % 2), 450.0 + i % 2)) for i in range(48)]
    trace = from_rows(channels=[OXYGEN, FLUE], rows=rows)
    criterion = criterion_of(trace, survey(trace), response_seconds=60.0)
    assert (criterion.window, criterion.rows) == (14_400.0, 5)
    assert [s.count for s in stretches(trace, response_seconds=60.0)] == [48]


def test_a_bound_makes_the_mean_an_at_least() -> None:
    def rows() -> list[tuple[float, tuple[float, float]]]:
        return [(float(i), (0.05, 100e-6)) for i in range(300)]

    trace = from_rows(channels=[OXYGEN, MONOXIDE], rows=[])
    for time, values in rows():
        trace._spool.append(time, int(time), (values[0], 2000e-6), 0b10 if time < 10 else 0)
    (found,) = stretches(trace, response_seconds=60.0)
    assert found.bounds == {"carbon_monoxide_dry": 10}
    assert found.side("carbon_monoxide_dry") == "at least"
    assert found.side("oxygen_dry") == ""
    assert found.means["carbon_monoxide_dry"] == pytest.approx(2000e-6)


@pytest.mark.parametrize(
    ("above", "below", "side", "mean"),
    [(300, 0, "at least", 2000e-6), (0, 300, "at most", 2000e-6), (150, 150, "at least", 1000e-6)],
)
def test_a_stretch_of_nothing_but_bounds_still_has_carbon_monoxide(
    above: int, below: int, side: str, mean: float
) -> None:
    """Every row beyond the cell: the floor of the mean is the edge. Beside rows below an edge, those count as 0."""
    trace = from_rows(channels=[OXYGEN, MONOXIDE], rows=[])
    for i in range(300):
        trace._spool.append(float(i), i, (0.05, 2000e-6), 0b10 if i < above else 0, 0b10 if i >= 300 - below else 0)
    (found,) = stretches(trace, response_seconds=60.0)
    assert found.side("carbon_monoxide_dry") == side
    assert found.means["carbon_monoxide_dry"] == pytest.approx(mean)


@pytest.mark.parametrize(
    ("values", "yes"),
    [
        ({"firing_rate": 0.3, "oxygen_dry": 0.03, "flue_temperature": 400.0}, True),
        ({"firing_rate": 0.0, "oxygen_dry": 0.03, "flue_temperature": 400.0}, False),
        ({"firing_rate": 0.3, "oxygen_dry": 0.205, "flue_temperature": 400.0}, False),
        ({"firing_rate": math.nan, "oxygen_dry": 0.03, "flue_temperature": 400.0}, True),
        ({"oxygen_dry": 0.03, "flue_temperature": 298.0}, False),
        ({"oxygen_dry": 0.03, "flue_temperature": 308.0}, True),  # a condensing appliance on a cool return
        ({"flue_temperature": 308.0}, False),
        ({"oxygen_dry": 0.03, "flue_temperature": 300.0, "air_temperature": 270.0}, True),
        ({"carbon_dioxide_dry": 0.005}, False),
        ({"draft": -5.0}, True),
        ({"oxygen_dry": math.nan}, False),
    ],
)
def test_burning_is_when_all_that_can_tell_agree(values: dict[str, float], yes: bool) -> None:
    trace = from_rows(channels=[Channel(name, "", name) for name in values], rows=[])
    assert Rule(trace).burning(Sample(0.0, 1, tuple(values.values()))) is yes


def test_the_doubt_of_a_mean_counts_that_neighbours_resemble_each_other() -> None:
    """Means of many first-order series scatter as the formula says; plain s / sqrt(n) would be four times too small."""
    means, doubts, plain = [], [], []
    for seed in range(300):
        chance, value, values = random.Random(seed), 0.0, []
        for _ in range(400):
            value = 0.9 * value + chance.gauss(0, 1)
            values.append(value)
        mean, scatter, doubt = mean_of(values[100:])
        means.append(mean)
        doubts.append(doubt)
        plain.append(scatter / math.sqrt(300))
    true = statistics.pstdev(means)
    assert statistics.fmean(doubts) == pytest.approx(true, rel=0.25)
    assert statistics.fmean(plain) < 0.4 * true


def test_the_doubt_of_a_mean_of_independent_rows_is_the_plain_one() -> None:
    chance = random.Random(4)
    values = [chance.gauss(0, 1) for _ in range(10_000)]
    _, scatter, doubt = mean_of(values)
    assert doubt == pytest.approx(scatter / 100.0, rel=0.05)
    assert mean_of([3.0]) == (3.0, 0.0, 0.0)
    assert mean_of([3.0, 3.0, 3.0]) == (3.0, 0.0, 0.0)


def test_the_instrument_is_part_of_the_doubt() -> None:
    trace = from_rows(channels=[OXYGEN], rows=[(float(i), (0.05,)) for i in range(300)])
    (found,) = stretches(trace, response_seconds=60.0, accuracy=lambda name, value: 0.002)
    assert found.spreads["oxygen_dry"] == pytest.approx(0.002)


def test_noise_is_that_of_neighbours_not_of_slow_change() -> None:
    chance = random.Random(7)
    rows = [(float(i), (0.05 + 2e-6 * i + chance.gauss(0, 3e-4), 450.0)) for i in range(3000)]
    seen = survey(from_rows(channels=[OXYGEN, FLUE], rows=rows)).seen("oxygen_dry")
    assert seen is not None
    assert seen.noise == pytest.approx(3e-4, rel=0.08)


def test_a_survey_counts_gaps_runs_and_held_values() -> None:
    rows = [
        (10.0 * i, (0.2 if i < 5 else 0.05 + (0.001 * (i % 3) if i < 50 else 0.0),))
        for i in range(100)
        if i not in (60, 61)
    ]
    seen = survey(from_rows(channels=[OXYGEN], rows=rows))
    assert (seen.count, seen.gaps, seen.missing, seen.burning, seen.runs) == (98, 1, 2, 93, 2)
    held = seen.channels[0].held
    assert held is not None
    assert (held.start, held.end, held.count) == (620.0, 990.0, 38)


def test_quantiles_are_those_of_the_standard_library() -> None:
    chance = random.Random(3)
    values = [chance.random() for _ in range(1001)]
    cuts = statistics.quantiles(values, n=20, method="inclusive")
    assert quantiles_of(values) == pytest.approx((cuts[0], cuts[4], cuts[9], cuts[14], cuts[18]))


def test_averaging_keeps_means_and_bounds() -> None:
    trace = from_rows(channels=[OXYGEN], rows=[(float(i), (float(i),)) for i in range(60)])
    assert [(s.time, s.values[0]) for s in averaged(trace, step_seconds=20.0)] == [
        (10.0, 9.5),
        (30.0, 29.5),
        (50.0, 49.5),
    ]
    trace._spool.append(60.0, 61, (5.0,), 1)
    trace._spool.append(61.0, 62, (9.0,))
    last = list(averaged(trace, step_seconds=20.0))[-1]
    assert math.isnan(last.values[0])
    assert (last.above, last.bounds) == (1, ((0, 7.0),))


@pytest.mark.parametrize(
    ("times", "seconds", "regular"),
    [([0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 130], 10.0, True), ([0, 8, 21, 30, 44, 50], 9.0, False)],
)
def test_the_usual_step_is_found(times: Sequence[float], seconds: float, regular: bool) -> None:
    step = step_of(from_rows(channels=[OXYGEN], rows=[(float(t), (0.05,)) for t in times]))
    assert step.regular is regular
    assert step.seconds == statistics.median([b - a for a, b in pairwise(times)]) == seconds


def test_carbon_monoxide_that_climbs_is_told_and_noise_is_not() -> None:
    chance = random.Random(7)
    flat = [50e-6 + chance.gauss(0.0, 3e-6) for _ in range(200)]
    assert climb_of(flat) == 0.0
    climbing = [value + 60e-6 * row / 199 for row, value in enumerate(flat)]
    assert climb_of(climbing) == pytest.approx(60e-6, rel=0.05)
    assert climb_of(climbing[::-1]) == 0.0
    wander = [0.0]
    for _ in range(199):
        wander.append(0.95 * wander[-1] + chance.gauss(0.0, 3e-6))
    assert climb_of([60e-6 + value for value in wander]) == 0.0
    assert climb_of(climbing[:5]) == 0.0
