"""Laws of carbon monoxide in blood: limits, order of the forms, and an independent integration step by step."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.kernel import dual, exposure
from fluewright.kernel.exposure import ACTIVITIES, RESTING_BODY, SHEET_ACTIVITIES

SEA_LEVEL = 101_325.0
levels = st.floats(0.0, 5e-3)
starts = st.floats(0.0, 0.6)
durations = st.floats(0.0, 1e5)
active = st.sampled_from(list(ACTIVITIES.values()) + list(SHEET_ACTIVITIES.values()))


def resistance(activity: exposure.Activity, pressure: float = SEA_LEVEL) -> float:
    return float(
        exposure.uptake_resistance(
            diffusing_capacity=activity.diffusing_capacity,
            ventilation=activity.ventilation,
            pressure=pressure,
            vapour_pressure=RESTING_BODY.vapour,
        )
    )


def share(level: float, activity: exposure.Activity, duration: float, start: float, linear: bool = False) -> float:
    formula = exposure.linear_carboxyhaemoglobin if linear else exposure.carboxyhaemoglobin
    return float(
        formula(
            body=RESTING_BODY,
            carbon_monoxide_room_fraction=level,
            pressure=SEA_LEVEL,
            uptake_resistance=resistance(activity),
            duration=duration,
            initial_carboxyhaemoglobin=start,
        )
    )


def end(level: float, activity: exposure.Activity) -> float:
    return float(
        exposure.equilibrium_carboxyhaemoglobin(
            body=RESTING_BODY,
            carbon_monoxide_room_fraction=level,
            pressure=SEA_LEVEL,
            uptake_resistance=resistance(activity),
        )
    )


def step_by_step(level: float, activity: exposure.Activity, duration: float, start: float, steps: int) -> float:
    """The equation itself by Runge and Kutta's fourth order, written from the print and not from the kernel."""
    body, hold = RESTING_BODY, resistance(activity)
    driving = body.endogenous + level * (SEA_LEVEL - body.vapour) / hold

    def slope(taken: float) -> float:
        back = taken * body.capacity * body.oxygen / (body.affinity * body.capacity * (1.0 - taken)) / hold
        return (driving - back) / (body.blood_volume * body.capacity)

    taken, step = start, duration / steps
    for _ in range(steps):
        one = slope(taken)
        two = slope(taken + step * one / 2.0)
        three = slope(taken + step * two / 2.0)
        four = slope(taken + step * three)
        taken += step * (one + 2.0 * two + 2.0 * three + four) / 6.0
    return taken


@pytest.mark.parametrize("activity", ACTIVITIES.values(), ids=list(ACTIVITIES))
@pytest.mark.parametrize(
    ("ppm", "minutes", "start"),
    [
        (0, 240, 0.2),
        (9, 480, 0.005),
        (35, 60, 0.005),
        (200, 240, 0.005),
        (800, 60, 0.005),
        (1200, 30, 0.1),
        (70, 9, 0.5),
    ],
)
def test_the_closed_answer_meets_small_steps(
    activity: exposure.Activity, ppm: float, minutes: float, start: float
) -> None:
    tight = step_by_step(ppm * 1e-6, activity, minutes * 60.0, start, 8000)
    assert share(ppm * 1e-6, activity, minutes * 60.0, start) == pytest.approx(tight, abs=1e-8)  # 1e-6 % COHb


@given(level=levels, activity=active, start=starts)
def test_endless_time_meets_the_end_and_no_time_the_start(
    level: float, activity: exposure.Activity, start: float
) -> None:
    assert share(level, activity, math.inf, start) == end(level, activity)
    assert share(level, activity, 0.0, start) == pytest.approx(start, abs=1e-14)


@given(level=levels, activity=active, duration=durations, start=starts)
def test_it_stays_between_start_and_end(
    level: float, activity: exposure.Activity, duration: float, start: float
) -> None:
    low, high = sorted((start, end(level, activity)))
    assert low - 1e-12 <= share(level, activity, duration, start) <= high + 1e-12


@given(level=levels, more=st.floats(0.0, 1e-3), activity=active, duration=durations, start=starts)
def test_more_of_it_never_gives_less(
    level: float, more: float, activity: exposure.Activity, duration: float, start: float
) -> None:
    assert share(level + more, activity, duration, start) >= share(level, activity, duration, start) - 1e-12


@given(activity=active, duration=durations, longer=st.floats(0.0, 1e4), start=st.floats(0.02, 0.6))
def test_in_clean_air_it_only_falls(activity: exposure.Activity, duration: float, longer: float, start: float) -> None:
    assert share(0.0, activity, duration + longer, start) <= share(0.0, activity, duration, start) + 1e-12


@given(level=levels, activity=active, one=st.floats(0.0, 3e4), two=st.floats(0.0, 3e4), start=starts)
def test_two_times_in_a_row_are_one(
    level: float, activity: exposure.Activity, one: float, two: float, start: float
) -> None:
    between = share(level, activity, one, start)
    assert share(level, activity, two, between) == pytest.approx(share(level, activity, one + two, start), abs=1e-10)


@given(level=levels, activity=active, duration=durations, start=st.floats(0.0, 0.02))
def test_the_short_form_is_never_below_the_full_one_in_uptake(
    level: float, activity: exposure.Activity, duration: float, start: float
) -> None:
    if end(level, activity) < start:
        return
    assert share(level, activity, duration, start, linear=True) >= share(level, activity, duration, start) - 1e-12


def test_at_a_few_per_cent_the_two_forms_differ_by_their_own_share() -> None:
    """reference 1.4: r against r/(1+r), 5 to 6 % too high near 5 %, 31 % near 24 %."""
    activity = ACTIVITIES["light"]
    for level in (3.5e-5, 2e-4):
        full, short = end(level, activity), share(level, activity, math.inf, 0.0, linear=True)
        assert short / full - 1.0 == pytest.approx(short, rel=1e-9)


@given(activity=active, start=st.floats(1e-4, 0.5))
def test_a_half_life_halves_in_the_short_form(activity: exposure.Activity, start: float) -> None:
    half = exposure.half_life(body=RESTING_BODY, uptake_resistance=resistance(activity))
    still = RESTING_BODY._replace(endogenous=0.0)
    left = exposure.linear_carboxyhaemoglobin(
        body=still,
        carbon_monoxide_room_fraction=0.0,
        pressure=SEA_LEVEL,
        uptake_resistance=resistance(activity),
        duration=half,
        initial_carboxyhaemoglobin=start,
    )
    assert left == pytest.approx(start / 2.0, rel=1e-12)
    back = exposure.carboxyhaemoglobin_at_leaving(carboxyhaemoglobin=left, duration=half, half_life=half)
    assert back == pytest.approx(start, rel=1e-12)


@given(level=st.floats(1e-6, 1e-3), activity=active, duration=st.floats(600.0, 36_000.0), start=st.floats(0.0, 0.02))
def test_the_way_back_gives_the_level_and_the_time(
    level: float, activity: exposure.Activity, duration: float, start: float
) -> None:
    taken = share(level, activity, duration, start, linear=True)
    common = {"body": RESTING_BODY, "pressure": SEA_LEVEL, "uptake_resistance": resistance(activity)}
    found = exposure.fraction_from_carboxyhaemoglobin(
        **common, carboxyhaemoglobin=taken, initial_carboxyhaemoglobin=start, duration=duration
    )
    assert found == pytest.approx(level, rel=1e-6, abs=1e-12)
    if abs(taken - start) < 1e-4 or duration > 5.0 * exposure.half_life(
        body=RESTING_BODY, uptake_resistance=resistance(activity)
    ):
        return
    time = exposure.duration_to_carboxyhaemoglobin(
        **common,
        carbon_monoxide_room_fraction=level,
        initial_carboxyhaemoglobin=start,
        carboxyhaemoglobin=taken,
    )
    assert time == pytest.approx(duration, rel=1e-6)


def test_a_share_never_reached_takes_endless_time() -> None:
    for reached in (0.5, 0.001):  # above the end, and below the start
        time = exposure.duration_to_carboxyhaemoglobin(
            body=RESTING_BODY,
            carbon_monoxide_room_fraction=3.5e-5,
            pressure=SEA_LEVEL,
            uptake_resistance=resistance(ACTIVITIES["light"]),
            initial_carboxyhaemoglobin=0.005,
            carboxyhaemoglobin=reached,
        )
        assert time == math.inf


@given(level=st.floats(1e-6, 1e-3), activity=active)
def test_on_a_mountain_the_same_ppm_give_less(level: float, activity: exposure.Activity) -> None:
    thin = exposure.equilibrium_carboxyhaemoglobin(
        body=RESTING_BODY,
        carbon_monoxide_room_fraction=level,
        pressure=75_000.0,
        uptake_resistance=resistance(activity, 75_000.0),
    )
    assert thin < end(level, activity)


def test_arrays_and_uncertain_numbers_go_the_same_way() -> None:
    activity = ACTIVITIES["light"]
    common = {
        "body": RESTING_BODY,
        "pressure": SEA_LEVEL,
        "uptake_resistance": resistance(activity),
        "duration": 3600.0,
        "initial_carboxyhaemoglobin": 0.005,
    }
    several = np.array([0.0, 9e-6, 2e-4, 1.2e-3])
    together = exposure.carboxyhaemoglobin(**common, carbon_monoxide_room_fraction=several)
    assert together == pytest.approx([share(float(one), activity, 3600.0, 0.005) for one in several], rel=1e-13)
    number = dual.uncertain(2e-4, spread=1e-5, name="level")
    found = exposure.carboxyhaemoglobin(**common, carbon_monoxide_room_fraction=number)
    step = 1e-8
    slope = (share(2e-4 + step, activity, 3600.0, 0.005) - share(2e-4 - step, activity, 3600.0, 0.005)) / (2.0 * step)
    assert next(iter(found.partials.values())) == pytest.approx(slope, rel=1e-5)
