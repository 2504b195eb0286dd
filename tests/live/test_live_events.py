"""Events: made-up scenes whose truth is known, quiet traces, and a flue whose draft goes while a burner is adjusted."""

import json
import math
from pathlib import Path

import pytest
from live_cells import cell, samples, step, still
from live_quiet import HOURS, quiet
from live_scenes import Scene, scenes

from fluewright.live import told
from fluewright.live.event import Event
from fluewright.live.marks import Mark
from fluewright.live.sample import Sample
from fluewright.live.watch import EVENTS, TAIL, Watch

SEEDS = range(5)
QUIET = 16
"""Quiet traces of five hours each."""


def played(scene: Scene, seed: int) -> list[tuple[float, Event]]:
    """The events of a scene, each with the time of the sample that brought it."""
    watch, marks, found = Watch(), list(scene.marks), []
    for sample in samples(scene.cells, scene.seconds, seed):
        while marks and sample.at >= marks[0].at:
            watch.mark(marks.pop(0))
        found += [(sample.at, event) for event in watch.take([sample])]
    return found


@pytest.mark.parametrize("scene", scenes(), ids=lambda scene: scene.name)
def test_a_scene_is_told_within_two_responses(scene: Scene) -> None:
    delays, lead = [], ""
    for seed in SEEDS:
        hits = [(at, event) for at, event in played(scene, seed) if event.key == scene.key and at >= scene.at]
        assert hits, f"never told, seed {seed}"
        delays.append(hits[0][0] - scene.at)
        lead = hits[0][1].lead
    print(f"\n{scene.name}: {scene.key}, after {min(delays):.0f} to {max(delays):.0f} s, allowed "
          f"{2.0 * scene.response:.0f} s: {lead}", end="")  # fmt: skip
    assert max(delays) <= 2.0 * scene.response


def test_nothing_is_told_before_it_happens() -> None:
    """Scenes whose first 400 s are quiet: nothing is told there but what belongs to the start."""
    early = []
    for scene in scenes():
        if scene.at >= 400.0 and not any(mark.word == "lit" for mark in scene.marks) and scene.name not in NOT_QUIET:
            early += [event.lead for at, event in played(scene, 7) if at < min(scene.at, 400.0) - 5.0]
    assert early == []


NOT_QUIET = ("cycling", "cell soaked", "filter blocked", "cell poisoned")
"""Scenes that light several times on their way."""


def test_quiet_traces_stay_quiet() -> None:
    """Eighty hours of seven channels with noise of eight kinds: at most one event in eight hours."""
    told_of: list[str] = []
    for seed in range(QUIET):
        watch, numbers = Watch(), {}
        for sample in samples(quiet(seed), int(HOURS * 3600.0), seed):
            for event in watch.take([sample]):
                numbers.setdefault(event.number, f"{seed}: {event.lead}")
        told_of += numbers.values()
    hours = QUIET * HOURS
    print(f"\nquiet: {len(told_of)} events in {hours:.0f} h of seven channels, {8 * len(told_of) / hours:.2f} in 8 h; "
          f"{'; '.join(told_of)}", end="")  # fmt: skip
    assert hours >= 80.0
    assert len(told_of) <= hours / 8.0


GUSTS = ((0.6, 0.5), (1.2, 0.9), (1.2, 0.97))
"""Pa by which made-up wind wavers, and how much neighbouring seconds resemble each other."""


def test_wind_is_told_as_a_moved_draft_once_in_eight_hours_at_most() -> None:
    told_of: list[str] = []
    for seed, (waver, alike) in enumerate(GUSTS * 2, start=3):
        watch, last = Watch(), {}
        draft = cell("draft", still(-8.0), noise=0.5, waver=waver, alike=alike)
        for sample in samples([cell("oxygen_dry", still(0.055)), draft], int(HOURS * 3600.0), seed):
            for event in watch.take([sample]):
                last[event.number] = event
        told_of += [f"{waver:g} Pa: {event.lead}" for event in last.values() if event.grade != "open"]
    hours = 2 * len(GUSTS) * HOURS
    print(f"\ngusts: {len(told_of)} told in {hours:.0f} h; {'; '.join(told_of)}", end="")
    assert len(told_of) <= hours / 8.0


def common_flue(seed: int) -> tuple[float, Event | None, Watch]:
    """A boiler is adjusted, a kitchen fan starts at 300 s, and the draft of the water heater beside it turns round."""
    cells = [
        cell("oxygen_dry", still(0.055), appliance="boiler"),
        cell("draft", step(300.0, -9.0, -3.0, within=2.0), appliance="boiler"),
        cell("draft", step(300.0, -4.0, 2.5, within=2.0), appliance="water heater"),
    ]
    watch = Watch(on_flue=("boiler", "water heater", "stove"), adjusting="boiler")
    marked = False
    for sample in samples(cells, 400, seed):
        if sample.at >= 300.0 and not marked:
            watch.mark(Mark(300.0, "fan on"))
            marked = True
        for event in watch.take([sample]):
            if event.grade == "stop":
                return sample.at - 300.0, event, watch
    return math.inf, None, watch


def test_a_draft_lost_beside_the_burner_that_is_adjusted_says_stop_within_five_seconds() -> None:
    delays = []
    for seed in range(20):
        delay, event, watch = common_flue(seed)
        assert event is not None
        assert event.appliance == "water heater"
        assert event.cautions
        assert event.finding.grade == "stop"
        delays.append(delay)
    frame = watch.frame()
    print(f"\ncommon flue: stop after {min(delays):.0f} to {max(delays):.0f} s: {event.lead}", end="")
    assert max(delays) <= 5.0
    assert frame["events"][0]["grade"] == "stop"
    assert [one["appliance"] for one in frame["flue"]] == ["boiler", "water heater", "stove"]
    assert "nobody watches" in frame["flue"][2]["words"]


def test_no_event_is_ever_called_fine_and_every_group_of_a_row_exists() -> None:
    groups = {"oxygen", "monoxide", "dioxide", "flue", "draft", "supply", "room", "hood", "front", "current", "rate"}
    for row in told.rows():
        assert row.grade in ("stop", "act", "advise", "open")
        assert {*row.all, *row.any, *row.still} <= groups
        assert row.why
        assert row.grade == "open" or row.now or row.next or row.out


def test_what_was_grave_does_not_become_less_so_because_it_went_by() -> None:
    """Carbon monoxide that comes up and goes again, with nothing marked."""
    cells = [cell("oxygen_dry", still(0.05)),
             cell("carbon_monoxide_dry", lambda time: 40e-6 + (200e-6 if 300.0 <= time < 420.0 else 0.0))]  # fmt: skip
    watch = Watch()
    found = [event for sample in samples(cells, 900, 3) for event in watch.take([sample])]
    keys = {event.number: event for event in found}
    assert [event.key for event in keys.values() if event.start < 400.0] == ["monoxide-up"]
    grades = [event.grade for event in found if event.key == "monoxide-up"]
    assert grades[-1] == "act"
    assert "advise" not in grades[grades.index("act") :]


def test_a_channel_that_falls_silent_is_no_zero_and_no_event() -> None:
    watch = Watch()
    found = []
    for sample in samples([cell("oxygen_dry", still(0.055)), cell("flue_temperature", still(450.0))], 900, 4):
        if sample.quantity == "oxygen_dry" and 300.0 <= sample.at < 600.0:
            continue
        found += watch.take([sample])
        if sample.at == 500.0 and sample.quantity == "flue_temperature":
            oxygen = next(one for one in watch.frame()["channels"] if one["quantity"] == "oxygen_dry")
            assert oxygen["age"] >= 199.0
            assert oxygen["value"] > 0.05
            assert not watch.standings()[0].holds
    assert found == []


def test_a_long_watch_keeps_little_and_its_frame_is_plain() -> None:
    watch = Watch(tick=1.0)
    for second in range(20_000):
        value = 0.05 + 0.02 * (second // 500 % 2)
        watch.take([Sample("s", "i", "oxygen_dry", "flue", float(second), value, second + 1, step=0.001, t90=20.0)])
    frame = watch.frame()
    assert len(frame["strip"]["at"]) <= TAIL
    assert len(watch.events) <= EVENTS
    (moving,) = watch.watched[""].moving.values()
    assert len(moving._values) <= 4 * 256
    assert "NaN" not in json.dumps(frame, allow_nan=False)
    assert len(json.dumps(watch.frame(rows=60))) < 200_000


def test_a_late_sample_is_counted_and_changes_nothing() -> None:
    watch = Watch()
    watch.take(samples([cell("oxygen_dry", still(0.05))], 100, 1))
    rows = len(watch.tail)
    watch.take([Sample("made", "made", "oxygen_dry", "flue", 50.2, 0.2, 999)])
    assert len(watch.tail) == rows
    assert watch.frame()["late"] == 1


def test_a_window_from_a_source_that_anybody_could_have_sent_only_alarms() -> None:
    watch = Watch()
    watch.take([Sample("s", "i", "carbon_monoxide_dry", "", float(at), 0.0, at + 1) for at in range(400)])
    window = watch.keep()
    assert window is not None
    assert window.alarms_only


REAL = Path(__file__).resolve().parents[3] / "shared" / "data" / "boiler-2021-first-half.csv"


@pytest.mark.skipif(not REAL.exists(), reason="../shared/data/boiler-2021-first-half.csv is not here")
def test_what_half_a_year_of_a_real_boiler_shows() -> None:
    """Hourly means: what is told is printed in docs/live-events.md."""
    from collections import Counter

    from fluewright.evidence.trace.read import read
    from fluewright.live.recorded import watched

    with read(REAL) as trace:
        seen = watched(trace)
    keys = Counter(event.key for event in seen.events)
    print(
        f"\nreal boiler: {len(seen.events)} events in half a year of hourly means: {dict(keys.most_common())}", end=""
    )
    assert seen.rare
    assert not any(event.grade == "stop" for event in seen.events)
    assert keys["load-changed"] > 20
