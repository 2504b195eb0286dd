"""Steady, three ways: two hundred warm-ups with known truth, the lag that is only a bound, and the words of a rule."""

import math
from collections.abc import Iterator
from dataclasses import replace

import pytest
from live_cells import cell, plus, samples, step, still, times
from live_warmups import LIT, WarmUp, warm_up

from fluewright.live.aligned import Aligned, air_free
from fluewright.live.foretold import beside
from fluewright.live.marks import Mark
from fluewright.live.watch import Watch
from fluewright.rules import load
from fluewright.rules.schema import Limit

E_FOLD = math.log(10.0)
ENTERS = 0.617
"""Least steps that a line may rise by when a stretch begins; evidence/trace/steady.py."""


def held(warm: WarmUp, seed: int) -> tuple[set[int], set[int]]:
    """The seconds in which the watch said settled, and in which it said steady."""
    watch, settled, steady = Watch(), set(), set()
    watch.mark(Mark(LIT, "lit"))
    for sample in samples(warm.cells, warm.seconds, seed):
        before = watch.now
        watch.take([sample])
        if watch.now == watch.now and watch.now != before:
            first, second = watch.standings()
            settled |= {int(watch.now)} if first.holds else set()
            steady |= {int(watch.now)} if second.holds else set()
    return settled, steady


def starts(warm: WarmUp, cells: list[int], follow: list[int], window: int) -> int:
    """The first second from which the noise-free readings keep the rule for ten seconds."""

    def keeps(second: int) -> bool:
        return warm.still(second, cells, window, ENTERS) and all(
            warm.still(second, [place], window, ENTERS * window * E_FOLD / warm.cells[place].t90) for place in follow
        )

    for second in range(int(LIT) + 1, warm.seconds - 10):
        if keeps(second) and all(keeps(other) for other in range(second, second + 10)):
            return second
    raise AssertionError("this warm-up is watched for too short a time")


def test_two_hundred_warm_ups() -> None:
    """False steady at most 1 % of what was called steady; delay at most 1.5 responses, a third of the window each."""
    false = {"settled": 0, "steady": 0}
    called = {"settled": 0, "steady": 0}
    delays: dict[str, list[float]] = {"settled": [], "steady": []}
    for seed in range(200):
        warm = warm_up(seed)
        cells = {"settled": [0, 1], "steady": [2, 3]}
        windows = {"settled": math.ceil(3.0 * warm.slowest), "steady": max(math.ceil(3.0 * warm.heat), 120)}
        for kind, said in zip(cells, held(warm, seed), strict=True):
            window = windows[kind]
            wrong = [
                second
                for second in said
                if not warm.still(second, cells[kind], window)
                or (kind == "settled" and not warm.settled_by_lag(second))
            ]
            false[kind] += len(wrong)
            called[kind] += len(said)
            begins = starts(warm, cells[kind], [2, 3] if kind == "settled" else [], window)
            first = min(second for second in said if second >= begins)
            delays[kind].append((first + 1 - begins) / (window / 3.0))
    for kind in false:
        share, late = false[kind] / called[kind], sorted(delays[kind])
        print(f"\n{kind}: false {100.0 * share:.2f} % of {called[kind]} s; delay in responses: median "
              f"{late[100]:.2f}, 95 % {late[190]:.2f}, 99 % {late[-3]:.2f}, most {late[-1]:.2f}", end="")  # fmt: skip
        assert share <= 0.01
        assert late[-1] <= 1.5


def test_nothing_is_settled_before_three_responses_and_the_words_say_how_long_it_takes() -> None:
    watch = Watch()
    for sample in samples([cell("oxygen_dry", still(0.05), t90=60.0), cell("flue_temperature", still(450.0))], 220, 1):
        watch.take([sample])
        settled, _ = watch.standings() or (None, None)
        if settled is not None and watch.now == 119.0:
            assert not settled.holds
            assert settled.missing == "65 s more"
            assert settled.seconds == pytest.approx(61.0)
        if settled is not None and watch.now < 179.0:
            assert not settled.holds
    assert all(one.holds for one in watch.standings())


def test_a_drift_that_dies_away_says_about_how_long() -> None:
    goes = lambda time: 0.05 + 0.01 * 10.0 ** (-time / 120.0)  # noqa: E731
    watch = Watch()
    for sample in samples([cell("oxygen_dry", goes, t90=40.0), cell("flue_temperature", still(450.0))], 200, 2):
        watch.take([sample])
    settled, steady = watch.standings()
    assert not settled.holds
    assert "oxygen dry" in settled.why
    assert settled.missing.startswith("about ")
    assert steady.holds


def test_settled_is_not_steady_and_steady_not_settled() -> None:
    """A flue that warms while the cells stand still; cells that move in a flue that does not."""
    warming = lambda time: 400.0 + 0.02 * time  # noqa: E731
    watch = Watch()
    watch.take(samples([cell("oxygen_dry", still(0.05)), cell("flue_temperature", warming, t90=10.0)], 400, 3))
    settled, steady = watch.standings()
    assert settled.holds
    assert not steady.holds
    assert "flue temperature" in steady.why
    watch = Watch()
    moving = lambda time: 0.05 + 3e-5 * time  # noqa: E731
    watch.take(samples([cell("oxygen_dry", moving), cell("flue_temperature", still(450.0))], 400, 4))
    settled, steady = watch.standings()
    assert not settled.holds
    assert steady.holds


def test_a_spike_is_not_reported_as_its_height_and_its_lag_is_only_a_bound() -> None:
    """Five seconds of 1000 ppm more through a cell of 60 s: 17 % is shown, and called at least."""
    spike = plus(still(20e-6), times([(300.0, 305.0)], 1000e-6, 0.0))
    watch, told = Watch(), []
    watch.mark(Mark(299.0, "lit"))
    cells = [cell("oxygen_dry", still(0.05)), cell("carbon_monoxide_dry", spike, t90=60.0)]
    for sample in samples(cells, 700, 5):
        told += watch.take([sample])
    peak = [event for event in told if event.key == "ignition-peak"][-1]
    (change,) = [one for one in peak.moved if one.channel.quantity == "carbon_monoxide_dry"]
    shown = change.farthest - change.before
    print(f"\na spike of 1000 ppm for 5 s through a cell of 60 s: {peak.lead} {1e6 * shown:.0f} ppm shown", end="")
    assert shown == pytest.approx(1000e-6 * (1.0 - 10.0 ** (-5.0 / 60.0)), rel=0.06)
    assert "at least" in peak.lead
    window = watch.keep()
    assert window is not None
    monoxide = next(one for one in window.kept if one.channel.quantity == "carbon_monoxide_dry")
    assert abs(monoxide.mean - 20e-6) < 3e-6
    assert monoxide.lag < 3e-6
    assert "hides at most" in monoxide.words()


def test_what_is_kept_counts_neighbours_that_resemble_each_other_and_never_takes_the_lag_off() -> None:
    ramp = lambda time: 0.05 + 5e-7 * time  # noqa: E731
    cells = [
        cell("oxygen_dry", ramp, waver=0.0004, alike=0.9, t90=20.0),
        cell("flue_temperature", still(450.0)),
    ]
    means, doubts, lags, worths = [], [], [], []
    for seed in range(60):
        watch = Watch()
        watch.take(samples(cells, 500, seed))
        window = watch.keep()
        assert window is not None
        if not window.standings[0].holds:
            continue
        oxygen = next(one for one in window.kept if one.channel.quantity == "oxygen_dry")
        worths.append(oxygen.worth / window.rows)
        middle = 0.5 * (window.start + window.end)
        means.append(oxygen.mean - (0.05 + 5e-7 * (middle - 20.0 / E_FOLD)))
        doubts.append(oxygen.doubt)
        lags.append(oxygen.lag)
    true = math.sqrt(math.fsum(one * one for one in means) / len(means))
    print(f"\nmean of a window: doubt said {sum(doubts) / len(doubts):.2e}, true {true:.2e}; lag bound at least "
          f"{min(lags):.1e}, lag {5e-7 * 20.0 / E_FOLD:.1e}", end="")  # fmt: skip
    assert sum(worths) / len(worths) < 0.4
    assert 0.6 * true <= sum(doubts) / len(doubts) <= 1.8 * true
    assert sum(lag >= 5e-7 * 20.0 / E_FOLD for lag in lags) >= 0.9 * len(lags)


def test_channels_of_one_row_are_brought_to_one_moment_before_a_ratio_is_made() -> None:
    """A step that leaves air-free as it was shows a false peak row by row, and none when aligned."""
    cells = [
        cell("oxygen_dry", step(100.0, 0.04, 0.09), t90=15.0, noise=0.0),
        cell("carbon_monoxide_dry", step(100.0, 100e-6, 70.5e-6), t90=60.0, noise=0.0),
    ]
    aligned = Aligned({"oxygen_dry": 15.0, "carbon_monoxide_dry": 60.0})
    raw, even = [], []
    for pair in pairs(cells):
        row = {one.quantity: one.value for one in pair}
        raw.append(air_free(row) or 0.0)
        even.append(air_free(aligned.step(pair[0].at, row)) or 0.0)
    first, last = even[90], even[-1]
    print(f"\nair-free at a step, ppm: row by row up to {1e6 * max(raw):.0f}, aligned up to {1e6 * max(even):.0f}, "
          f"truly {1e6 * first:.0f} and {1e6 * last:.0f}", end="")  # fmt: skip
    assert max(raw) > 1.1 * max(first, last)
    assert max(even) <= 1.01 * max(first, last)
    assert min(even) >= 0.99 * min(first, last)


def pairs(cells: list) -> Iterator[list]:  # type: ignore[type-arg]
    """The samples of each second together."""
    found = list(samples(cells, 400, 1))
    return (found[place : place + 2] for place in range(0, len(found), 2))


def rule() -> Limit:
    """A row that asks for two minutes after lighting and means over 30 s at once and at one point."""
    found = next(limit for limit in load.limits() if "30 s means" in limit.averaging)
    return replace(found, state="not said")


def test_the_steady_of_a_rule_has_its_own_minutes_its_own_mean_and_its_own_point() -> None:
    cells = [cell("oxygen_dry", still(0.05), t90=10.0), cell("flue_temperature", still(450.0), t90=10.0)]
    limit = replace(rule(), since_lit="at least 2 min", steady="appliance steady")
    watch = Watch(limits={"": limit}, keep_by_itself=True)
    watch.mark(Mark(60.0, "lit"))
    for sample in samples(cells, 400, 7):
        watch.take([sample])
        if watch.now == 150.0:
            settled, steady, ruled = watch.standings()
            assert (settled.holds, steady.holds, ruled.holds) == (True, True, False)
            assert "30 s more since lighting" in ruled.missing
    assert watch.standings()[2].holds
    (kept_of,) = [window for _, window in watch.by_itself]
    assert kept_of.end >= 180.0
    assert kept_of.end - kept_of.start <= 30.0
    apart = Watch(limits={"": limit})
    apart.mark(Mark(0.0, "lit"))
    apart.take(samples([cells[0], replace(cells[1], point="behind the hood")], 400, 8))
    assert "at one point" in apart.standings()[2].missing


def test_what_no_channel_shows_of_a_rule_is_asked_and_nothing_is_kept_by_itself_before() -> None:
    cells = [cell("oxygen_dry", still(0.05), t90=10.0), cell("flue_temperature", still(450.0), t90=10.0)]
    limit = replace(rule(), state="boiler water at least 60 C", since_lit="any", rate="full")
    watch = Watch(limits={"": limit}, keep_by_itself=True)
    watch.take(samples(cells, 300, 9))
    ruled = watch.standings()[2]
    assert not ruled.holds
    assert ruled.asks == ("boiler water at least 60 C", "burning at full rate")
    assert not watch.by_itself
    watch.confirm([limit.id])
    assert watch.standings()[2].holds


def test_what_was_foreseen_stands_beside_what_came() -> None:
    watch = Watch()
    watch.mark(Mark(200.0, "step"))
    watch.take(samples([cell("oxygen_dry", step(200.0, 0.06, 0.045)), cell("flue_temperature", still(450.0))], 500, 3))
    window = watch.keep()
    assert window is not None
    (near,) = beside({"oxygen_dry": (0.0455, 0.001)}, window)
    (far,) = beside({"oxygen_dry": (0.052, 0.001)}, window)
    assert near.agrees
    assert not far.agrees
    print(f"\n{near.words}\n{far.words}", end="")
    assert "from what was foreseen" in far.words
