"""Laws of a room's air: limits, inverses, and what more of anything does; for float, array and uncertain number."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.kernel import dual, means, room
from fluewright.kernel.means import Sample

levels = st.floats(0.0, 1e-3)
changes = st.one_of(st.just(0.0), st.floats(1e-8, 5e-3))
durations = st.floats(1.0, 1e5)
volumes = st.floats(1.0, 1e4)
sources = st.one_of(st.just(0.0), st.floats(1e-9, 1e-3))


@given(start=levels, outdoor=levels, air_changes=changes, duration=durations, volume=volumes)
def test_without_a_source_the_room_goes_towards_outdoors(
    start: float, outdoor: float, air_changes: float, duration: float, volume: float
) -> None:
    later = room.later_fraction(
        fraction=start, duration=duration, air_changes=air_changes, room_volume=volume, outdoor_fraction=outdoor
    )
    assert min(start, outdoor) - 1e-15 <= later <= max(start, outdoor) + 1e-15
    if air_changes == 0.0:
        assert later == start


@given(air_changes=st.floats(1e-8, 5e-3), volume=volumes, source=sources, start=levels, outdoor=levels)
def test_after_endless_time_stands_the_steady_level(
    air_changes: float, volume: float, source: float, start: float, outdoor: float
) -> None:
    common = {"air_changes": air_changes, "room_volume": volume, "carbon_monoxide_source": source}
    end = room.steady_fraction(**common, outdoor_fraction=outdoor)
    later = room.later_fraction(**common, fraction=start, duration=math.inf, outdoor_fraction=outdoor)
    assert later == pytest.approx(end, rel=1e-9, abs=1e-15)


def test_a_sealed_room_fills_without_end_and_an_empty_one_stays() -> None:
    sealed = {"air_changes": 0.0, "room_volume": 50.0}
    assert room.steady_fraction(**sealed, carbon_monoxide_source=1e-6) == math.inf
    assert room.steady_fraction(**sealed, carbon_monoxide_source=0.0, outdoor_fraction=2e-6) == 2e-6
    filled = room.later_fraction(**sealed, fraction=0.0, duration=3600.0, carbon_monoxide_source=1e-6)
    assert filled == pytest.approx(3600.0 * 1e-6 / 50.0, rel=1e-15)


@given(air_changes=st.floats(9e-7, 1.1e-5), duration=st.floats(900.0, 1100.0))
def test_the_series_and_the_exponential_meet(air_changes: float, duration: float) -> None:
    later = room.later_fraction(
        fraction=0.0, duration=duration, air_changes=air_changes, room_volume=1.0, carbon_monoxide_source=1e-6
    )
    assert later == pytest.approx(1e-6 * -math.expm1(-air_changes * duration) / air_changes, rel=1e-13)


@given(
    start=levels,
    source=st.floats(1e-8, 1e-4),
    air_changes=st.one_of(st.just(0.0), st.floats(1e-6, 1e-3)),
    duration=st.floats(60.0, 7200.0),
    volume=st.floats(10.0, 1e3),
)
def test_a_rise_gives_its_source_and_its_time_back(
    start: float, source: float, air_changes: float, duration: float, volume: float
) -> None:
    common = {"air_changes": air_changes, "room_volume": volume}
    later = room.later_fraction(**common, fraction=start, duration=duration, carbon_monoxide_source=source)
    found = room.source_from_rise(**common, fraction=start, later_fraction=later, duration=duration)
    assert found == pytest.approx(source, rel=1e-6, abs=volume * air_changes * 1e-12 + 1e-13)
    slope = source / volume - air_changes * start
    if abs(slope) * duration > 1e-7 and air_changes * duration < 3.0:
        time = room.duration_to_fraction(**common, fraction=start, later_fraction=later, carbon_monoxide_source=source)
        assert time == pytest.approx(duration, rel=1e-6)


@given(air_changes=st.floats(1e-5, 1e-3), duration=st.floats(60.0, 3600.0), start=st.floats(1e-5, 1e-3))
def test_a_decay_gives_its_air_changes_back(air_changes: float, duration: float, start: float) -> None:
    later = room.later_fraction(
        fraction=start, duration=duration, air_changes=air_changes, room_volume=1.0, outdoor_fraction=1e-6
    )
    found = room.air_changes_from_decay(fraction=start, later_fraction=later, duration=duration, outdoor_fraction=1e-6)
    assert found == pytest.approx(air_changes, rel=1e-7)


def test_a_level_never_reached_takes_endless_time() -> None:
    common = {"air_changes": 1e-4, "room_volume": 50.0}
    never = {**common, "fraction": 0.0, "later_fraction": 5e-5}
    assert room.duration_to_fraction(**never, carbon_monoxide_source=0.0) == math.inf
    assert room.duration_to_fraction(**never, carbon_monoxide_source=2e-7) == math.inf  # comes to 40 ppm
    assert room.duration_to_fraction(**never, carbon_monoxide_source=3e-7) < math.inf
    behind = {**common, "fraction": 5e-5, "later_fraction": 4e-5, "carbon_monoxide_source": 1e-6}
    assert room.duration_to_fraction(**behind) == math.inf
    there = {**common, "fraction": 5e-5, "later_fraction": 5e-5}
    assert room.duration_to_fraction(**there, carbon_monoxide_source=2.5e-7) == 0.0


def test_arrays_and_uncertain_numbers_go_the_same_way() -> None:
    changed = np.array([0.0, 1e-7, 1e-4, 1e-2])
    common = {"fraction": 1e-6, "duration": 1800.0, "room_volume": 60.0, "carbon_monoxide_source": 2e-7}
    together = room.later_fraction(**common, air_changes=changed)
    apart = [room.later_fraction(**common, air_changes=float(one)) for one in changed]
    assert together == pytest.approx(apart, rel=1e-14)
    for one in changed:
        number = dual.uncertain(float(one), spread=1e-9, name="air changes")
        found = room.later_fraction(**common, air_changes=number)
        assert found.value == pytest.approx(room.later_fraction(**common, air_changes=float(one)), rel=1e-14)
        step = 1e-9
        slope = (room.later_fraction(**common, air_changes=float(one) + step) - found.value) / step
        assert next(iter(found.partials.values())) == pytest.approx(slope, rel=1e-3, abs=1e-9)


@given(ppm=levels, temperature=st.floats(250.0, 320.0), pressure=st.floats(6e4, 1.1e5))
def test_mass_and_share_are_inverses(ppm: float, temperature: float, pressure: float) -> None:
    at = {"temperature": temperature, "pressure": pressure}
    mass = room.mass_from_fraction(fraction=ppm, **at)
    assert room.fraction_from_mass(carbon_monoxide_room_mass=mass, **at) == pytest.approx(ppm, rel=1e-12)


series = st.lists(st.tuples(st.floats(1.0, 3000.0), st.floats(0.0, 1e-3)), min_size=2, max_size=15).map(
    lambda steps: [Sample(sum(step for step, _ in steps[: index + 1]), level) for index, (_, level) in enumerate(steps)]
)


@given(samples=series, duration=st.floats(100.0, 20_000.0))
def test_the_highest_mean_is_the_highest_of_all_windows(samples: list[Sample], duration: float) -> None:
    asked = {"samples": samples, "duration": duration, "longest_gap": 3600.0}
    found = means.highest_window(**asked, least_share=0.75)
    assert found is not None
    if not means.whole(window=found, duration=duration, least_share=0.75):
        return
    best = found.area / found.covered
    assert best <= max(sample.level for sample in samples) * (1.0 + 1e-9) + 1e-18
    first, last = samples[0].time, samples[-1].time - duration
    for share in np.linspace(0.0, 1.0, 40):
        start = first + share * max(last - first, 0.0)
        window = means.window_from(**asked, start=float(start))
        if means.whole(window=window, duration=duration, least_share=0.75):
            assert window.area / window.covered <= best * (1.0 + 1e-9) + 1e-15


@given(samples=series)
def test_a_shorter_period_has_no_lower_highest_mean(samples: list[Sample]) -> None:
    length = samples[-1].time - samples[0].time
    highest = []
    for duration in (length / 4.0, length / 2.0, length):
        found = means.highest_window(samples=samples, duration=duration, longest_gap=1e9, least_share=0.75)
        assert found is not None
        highest.append(found.area / found.covered)
    assert highest[0] >= highest[1] * (1.0 - 1e-9)
    assert highest[1] >= highest[2] * (1.0 - 1e-9)


@given(level=levels, times=st.lists(st.floats(1.0, 3000.0), min_size=2, max_size=10))
def test_a_level_that_stays_is_its_own_mean(level: float, times: list[float]) -> None:
    samples = [Sample(sum(times[: index + 1]), level) for index in range(len(times))]
    found = means.highest_window(samples=samples, duration=600.0, longest_gap=3600.0, least_share=0.75)
    assert found is not None
    assert found.area == pytest.approx(level * found.covered, rel=1e-9)


def test_gaps_are_told_and_count_for_nothing() -> None:
    samples = [Sample(0.0, 1.0), Sample(600.0, 1.0), Sample(9000.0, 1.0), Sample(9600.0, 1.0)]
    assert means.gaps(samples=samples, longest_gap=3600.0) == ((600.0, 8400.0),)
    whole = means.area_below(samples=samples, longest_gap=3600.0)
    assert whole is not None
    assert (whole.area, whole.covered) == (1200.0, 1200.0)
    assert means.area_below(samples=samples[:1], longest_gap=3600.0) is None
