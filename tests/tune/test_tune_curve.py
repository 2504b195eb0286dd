"""Knees of curves: found again from other shapes than our own, or refused with the reason; never past the truth."""

import random
from dataclasses import replace

import pytest
from curves import SHAPES, even, walked

from fluewright.tune import curve
from fluewright.tune.curve import Knee, NoKnee, Step, knee_of

CLEAN = [(6.0, 14), (5.5, 12), (5.0, 15), (4.5, 13), (4.0, 14), (3.6, 14), (3.3, 15), (3.0, 22), (2.8, 48), (2.6, 120)]

ALLOWED = {"cubic": 2, "round": 2}
"""Of 40: shapes that begin so softly that no reading can show where, so that their knee is a matter of definition."""


def found(steps: list[Step], **more: object) -> Knee:
    knee = knee_of(steps, **more)  # type: ignore[arg-type]
    assert isinstance(knee, Knee), knee
    return knee


def refused(steps: list[Step], **more: object) -> NoKnee:
    knee = knee_of(steps, **more)  # type: ignore[arg-type]
    assert isinstance(knee, NoKnee), knee
    return knee


@pytest.mark.parametrize("name", SHAPES)
def test_a_knee_is_found_within_half_a_point_or_refused(name: str) -> None:
    draw, right, wrong = random.Random(f"20261125 {name}"), 0, []
    for _ in range(40):
        knee, steps = walked(SHAPES[name], draw)
        answer = knee_of(steps)
        if isinstance(answer, Knee):
            right += 1
            if abs(answer.likely * 100.0 - knee) > 0.5:
                wrong.append((knee, answer.likely * 100.0))
    assert len(wrong) <= ALLOWED.get(name, 0), wrong
    assert right >= 18, "a knee that is always refused helps nobody"


def test_the_interval_of_a_sharp_knee_holds_the_truth_nearly_always() -> None:
    draw, inside, counted = random.Random(7), 0, 0
    for _ in range(80):
        knee, steps = walked(SHAPES["sharp"], draw)
        answer = knee_of(steps)
        if isinstance(answer, Knee):
            counted += 1
            inside += answer.low * 100.0 - 0.05 <= knee <= answer.high * 100.0 + 0.05
    assert counted > 40
    assert inside >= 0.93 * counted


@pytest.mark.parametrize("name", ["sharp", "straight", "filling up", "all at once"])
def test_a_knee_held_loosely_still_names_an_airy_end_beyond_the_truth(name: str) -> None:
    draw, loose, short = random.Random(11), 0, 0
    for _ in range(80):
        knee, steps = walked(SHAPES[name], draw)
        answer = knee_of(steps)
        if isinstance(answer, NoKnee) and answer.loose and answer.between is not None:
            loose += 1
            short += answer.between[1] * 100.0 < knee - 0.3
    assert loose
    assert short <= 1


@pytest.mark.parametrize("count", [0, 1, 2, 3])
def test_fewer_than_four_points_show_no_knee(count: int) -> None:
    assert "a knee needs 4" in refused(even(CLEAN[-count:] if count else [])).why


def test_four_points_of_one_oxygen_are_one_point() -> None:
    assert "1 point of different oxygen" in refused(even([(3.0, 20), (3.0, 40), (3.0, 90), (3.0, 200)])).why


def test_a_flame_that_burns_badly_with_all_its_air_is_not_tuned() -> None:
    answer = refused(even([(x, 900) for x in (8.0, 7.0, 6.0, 5.0, 4.0)]))
    assert "400 ppm of carbon monoxide or beyond" in answer.why
    assert answer.do.startswith("stop")


def test_a_level_line_has_no_knee() -> None:
    assert "rises no more than it scatters" in refused(even([(x / 2.0, 12 + x % 2) for x in range(4, 14)])).why


def test_a_curve_that_rises_from_its_first_point_has_no_level_part() -> None:
    answer = refused(even([(3.0 - x / 5.0, 20.0 * 1.7**x) for x in range(8)]))
    assert "no level part" in answer.why
    assert not answer.loose


def test_carbon_monoxide_with_much_air_is_set_aside() -> None:
    airy = even([(9.0, 160), (8.0, 90), (7.0, 45)])
    plain, more = found(even(CLEAN)), found(airy + even(CLEAN))
    assert more.set_aside >= 2
    assert more.likely == pytest.approx(plain.likely, abs=0.002)


def test_what_the_cell_cannot_tell_counts_as_at_most() -> None:
    silent = [(x, 0) for x in (6.0, 5.5, 5.0, 4.5, 4.0, 3.6, 3.3)] + [(3.1, 4), (2.9, 22), (2.7, 90), (2.5, 300)]
    knee = found(even(silent))
    assert 0.028 < knee.likely < 0.034
    assert knee.level <= 4e-6


def test_a_reading_beyond_the_cell_is_at_least_and_pulls_no_slope() -> None:
    ended = [*even(CLEAN), Step(0.022, 2000e-6, bound="at least")]
    farther = [*even(CLEAN), Step(0.022, 9000e-6)]
    assert found(ended).likely == pytest.approx(found(farther).likely, abs=1e-4)


def test_a_wide_range_counts_less() -> None:
    wide = [replace(step, made_spread=1e-3) if step.oxygen == 0.03 else step for step in even(CLEAN)]
    moved = [replace(step, made=300e-6) if step.oxygen == 0.03 else step for step in wide]
    assert found(moved).likely == pytest.approx(found(wide).likely, abs=0.002)


def test_more_scatter_never_makes_a_knee_closer() -> None:
    calm = found(even(CLEAN))
    rough = knee_of([replace(step, oxygen_spread=0.002) for step in even(CLEAN)])
    low, high = (rough.low, rough.high) if isinstance(rough, Knee) else (rough.between or (0.0, 1.0))
    assert high - low > calm.high - calm.low


def test_smoke_has_a_knee_of_its_own() -> None:
    papers = [(6.5, 0), (6.0, 0), (5.6, 0), (5.2, 0), (4.9, 0), (4.6, 0), (4.3, 1), (4.0, 2), (3.7, 3), (3.4, 4)]
    steps = [Step(oxygen / 100.0, float(spot), papers=3) for oxygen, spot in papers]
    knee = found(steps, made="smoke")
    assert knee.low * 100.0 <= 4.55 <= knee.high * 100.0 + 0.3
    assert curve.stop_words("smoke") == "smoke 4"


def test_the_two_ways_play() -> None:
    down, up = found(even(CLEAN)), found(even([(x + 0.6, made) for x, made in CLEAN]))
    play = curve.play_between(down, up)
    assert play is not None
    assert play.likely == pytest.approx(0.006, abs=0.001)
    assert play.low < play.likely < play.high
    assert curve.play_between(down, refused(even(CLEAN[:3]))) is None


def test_where_a_limit_was_passed() -> None:
    steps = even(CLEAN)
    assert curve.crossing(steps, 100e-6) == pytest.approx((0.026, 0.028))
    assert curve.crossing(steps, 500e-6) is None
    assert curve.crossing(steps, 1e-6) == (0.06, float("inf"))


def test_one_step_far_down_the_rise_holds_no_knee_and_names_its_gap() -> None:
    steps = even([(7.0, 16), (6.3, 17), (5.7, 19), (4.8, 18), (4.0, 16), (3.2, 491)])
    answer = refused(steps)
    assert answer.loose
    assert "one step alone" in answer.why
    assert answer.between is not None
    assert answer.between[1] >= 0.04
    closer = even([(7.0, 16), (6.3, 17), (5.7, 19), (4.8, 18), (4.0, 16), (3.6, 60), (3.2, 491)])
    assert isinstance(knee_of(closer), Knee)
