"""Adjusting: what must hold of every curve, every year, every set and every permit."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fluewright.fuels import load
from fluewright.kernel import drift
from fluewright.rules import apply
from fluewright.tune import advise, curve_set, margin, permit
from fluewright.tune.curve import Knee, NoKnee, Step, knee_of
from fluewright.tune.margin import Day, Setting, Year
from fluewright.tune.permit import Condition, GasCheck, Run

GAS = load.load("natural-gas")
KELVIN = st.floats(245.0, 320.0)
OXYGEN = st.floats(0.01, 0.12)
RATIO = st.floats(1.0, 2.0)


def sharp(knee: float, level: float, slope: float) -> list[Step]:
    """A sharp curve without noise, percent and ppm, read as it is."""
    at = [knee + 2.4 - 0.2 * i for i in range(17)]
    return [Step(x / 100.0, level * math.exp(slope * max(0.0, knee - x)) * 1e-6) for x in at]


@settings(max_examples=15, deadline=None)
@given(knee=st.floats(1.5, 4.0), level=st.floats(15.0, 40.0), slope=st.floats(3.0, 5.0), moved=st.floats(0.0, 2.0))
def test_a_knee_moves_with_its_curve(knee: float, level: float, slope: float, moved: float) -> None:
    steps = sharp(knee, level, slope)
    here = knee_of(steps)
    there = knee_of([Step(step.oxygen + moved / 100.0, step.made) for step in steps])
    assert isinstance(here, Knee)
    assert isinstance(there, Knee)
    assert there.likely - here.likely == pytest.approx(moved / 100.0, abs=2e-4)
    assert here.low - 5e-4 <= knee / 100.0 <= here.high + 5e-4
    assert here.low <= here.likely <= here.high


@settings(max_examples=15, deadline=None)
@given(knee=st.floats(1.5, 4.0), order=st.randoms(use_true_random=False))
def test_the_order_of_the_steps_does_not_matter(knee: float, order: "st.randoms") -> None:  # type: ignore[valid-type]
    steps = sharp(knee, 15.0, 3.0)
    mixed = list(steps)
    order.shuffle(mixed)  # type: ignore[attr-defined]
    first, second = knee_of(steps), knee_of(mixed)
    assert isinstance(first, Knee)
    assert isinstance(second, Knee)
    assert (first.low, first.high) == pytest.approx((second.low, second.high))


@settings(max_examples=30, deadline=None)
@given(made=st.lists(st.floats(0.0, 3000.0), min_size=0, max_size=12))
def test_any_readings_give_a_knee_or_a_reason(made: list[float]) -> None:
    answer = knee_of([Step((8.0 - 0.5 * i) / 100.0, ppm * 1e-6) for i, ppm in enumerate(made)])
    if isinstance(answer, NoKnee):
        assert answer.why
        assert answer.do
    else:
        assert len(made) >= 4
        assert 0.0 <= answer.low <= answer.high <= 0.08
        assert answer.high - answer.low <= 0.0101


@given(tuned=KELVIN, warmer=st.floats(0.0, 60.0), ratio=RATIO)
def test_warm_air_is_never_leaner_and_the_root_swings_less(tuned: float, warmer: float, ratio: float) -> None:
    given_ = {"air_ratio": ratio, "tuned_temperature": tuned, "later_temperature": tuned + warmer}
    fan, one = drift.air_ratio_fixed_volume(**given_), drift.air_ratio_one_differential(**given_)
    assert fan <= one <= ratio


@given(first=st.floats(90e3, 108e3), second=st.floats(90e3, 108e3), ratio=RATIO)
def test_the_barometer_there_and_back(first: float, second: float, ratio: float) -> None:
    for swing in (drift.air_ratio_after_barometer, drift.air_ratio_after_barometer_fixed_fuel):
        there = swing(air_ratio=ratio, set_barometer=first, barometer=second)
        assert swing(air_ratio=there, set_barometer=second, barometer=first) == pytest.approx(ratio)
        assert (there <= ratio) == (second <= first) or there == pytest.approx(ratio)


@given(pull=st.floats(1.0, 60.0), weaker=st.floats(0.0, 1.0), ratio=RATIO)
def test_a_weaker_draft_brings_less_air(pull: float, weaker: float, ratio: float) -> None:
    later = drift.air_ratio_by_draft(
        air_ratio=ratio, tuned_draft=pull, later_draft=pull * weaker, tuned_density=1.2, later_density=1.2
    )
    assert later == pytest.approx(ratio * math.sqrt(weaker))


@settings(max_examples=40, deadline=None)
@given(tuned=KELVIN, cold=KELVIN, hot=KELVIN, oxygen=OXYGEN, least=st.floats(0.005, 0.04), play=st.floats(0.0, 0.01))
def test_the_set_point_holds_at_every_corner(
    tuned: float, cold: float, hot: float, oxygen: float, least: float, play: float
) -> None:
    setting = Setting("fan", Day("today", tuned), GAS)
    year = Year((Day("cold", min(cold, hot)), Day("hot", max(cold, hot))), (97e3, 104e3), (-0.04, 0.04), play)
    to_set = float(margin.set_point(setting, year, least=least))
    assert to_set >= least + play - 1e-12
    for corner in margin.corners(setting, year, oxygen=to_set):
        assert corner.oxygen is not None
        assert float(corner.oxygen) >= least - 1e-9
    found = margin.over_the_year(setting, year, oxygen=oxygen)
    assert float(found.worst.air_ratio) <= float(margin.air_ratio_of(setting, oxygen)) <= float(found.leanest.air_ratio)


@settings(max_examples=40, deadline=None)
@given(oxygen=OXYGEN, low=st.floats(0.02, 0.05), wide=st.floats(0.002, 0.03))
def test_turns_come_to_the_aim_from_anywhere(oxygen: float, low: float, wide: float) -> None:
    aim, here = advise.Aim(low, low + wide, "", low - 0.005), oxygen
    for _ in range(40):
        turn = advise.next_turn(oxygen=here, aim=aim)
        if turn.way == "stay":
            break
        assert (turn.oxygen < here) == (turn.way == "cut")
        here = turn.oxygen
    assert aim.low - 1e-12 <= here <= aim.high + 1e-12


CELL = st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=12)


@settings(max_examples=60, deadline=None)
@given(rows=st.lists(st.tuples(st.integers(1, 100), st.floats(0.0, 20.0), CELL), min_size=1, max_size=44))
def test_a_table_of_curves_reads_back_as_it_was(rows: list[tuple[int, float, str]]) -> None:
    head = "fuel,rate_percent,oxygen_dry_percent,remark"
    made = curve_set.CurveSet(tuple(head.split(",")), ())
    spots = tuple(
        curve_set.Spot(i, curve_set.Key("gas", "", ""), 0.0, {}, ("gas", str(rate), repr(oxygen), remark))
        for i, (rate, oxygen, remark) in enumerate(rows)
    )
    text = curve_set.text_of(curve_set.CurveSet(made.header, spots))
    assume(not text.startswith("\ufeff"))
    found = curve_set.curve_set_of(text=text)
    assert [spot.cells for spot in found.spots] == [spot.cells for spot in spots]
    assert curve_set.text_of(found) == text


@given(zero=st.floats(-3e-6, 3e-6), gain=st.floats(0.7, 1.3), true=st.floats(0.0, 200e-6))
def test_a_straight_cell_is_put_right(zero: float, gain: float, true: float) -> None:
    checks = [GasCheck(100e-6, zero + gain * 100e-6), GasCheck(0.0, zero)]
    assert permit.corrected(zero + gain * true, before=checks, after=checks) == pytest.approx(true, abs=1e-10)


@given(drifted=st.floats(0.0, 10e-6), allowed=st.floats(0.1e-6, 8e-6), mean=st.floats(1e-6, 80e-6))
def test_no_run_stands_beyond_its_drift_nor_without_a_later_check(drifted: float, allowed: float, mean: float) -> None:
    assume(abs(drifted - allowed) > 1e-9)
    before, after = [GasCheck(45e-6, 45e-6, 600.0)], [GasCheck(45e-6, 45e-6 + drifted, 700.0)]
    given_ = {"before": before, "runs": [Run(mean, None, 610.0, 640.0)], "spread": 1e-6}
    found = permit.outcome(Condition(30e-6, drift=allowed), after=after, **given_)  # type: ignore[arg-type]
    assert (found.standing == "stands") == (drifted <= allowed)
    alone = permit.outcome(Condition(30e-6, drift=allowed), after=[], **given_)  # type: ignore[arg-type]
    assert alone.standing == "no standing"
    assert alone.verdict is None


@given(limit=st.floats(1e-6, 500e-6), spread=st.floats(1e-7, 50e-6))
def test_a_closer_instrument_never_decides_less(limit: float, spread: float) -> None:
    if permit.can_decide(limit=limit, spread=spread):
        assert permit.can_decide(limit=limit, spread=spread / 2.0)
        assert apply.COVERAGE * spread <= limit
