"""fluewright trace judges: what is grave stands first and in the exit code; peaks are found outside steady stretches.

The limits behind the expected grades are rows of the rule book flue-gas: 400 ppm air-free to mend, 1000 ppm to stop.
"""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fluewright.cli import main
from fluewright.evidence.trace.peaks import Peaks, peaks
from fluewright.evidence.trace.readings import basis_of, reading, readings
from fluewright.evidence.trace.stretch import stretches
from fluewright.evidence.trace.survey import survey
from fluewright.evidence.trace.trace import Channel, Trace, from_rows

Row = Callable[[int], tuple[float, str, float]]
"""Second -> oxygen %, carbon monoxide as written, stack °C."""


def written(path: Path, row: Row, *, seconds: int = 240, head: str = "Time,O2 (%),CO (ppm),Stack temp (C)") -> Path:
    lines = [head]
    for i in range(seconds):
        oxygen, monoxide, stack = row(i)
        lines.append(f"2026-01-15 10:{i // 60:02d}:{i % 60:02d},{oxygen + i % 2 / 10:.1f},{monoxide},{stack + i % 2:g}")
    path.write_text("\n".join(lines) + "\n")
    return path


def run(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, str]:
    code = main.main(["trace", *map(str, arguments)])
    return code, capsys.readouterr().out


def data(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, dict[str, Any]]:
    code, out = run(capsys, *arguments, "--json")
    return code, json.loads(out)


def grades(found: dict[str, Any]) -> dict[str, str]:
    return {finding["code"]: finding["grade"] for finding in found["findings"]}


@pytest.mark.parametrize("fuel", [("--fuel", "natural-gas"), ()], ids=["fuel named", "no fuel"])
def test_four_minutes_of_foul_gas_stop_before_the_table(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], fuel: tuple[str, ...]
) -> None:
    path = written(tmp_path / "foul.csv", lambda i: (5.0, f"{3000 + i % 7}", 180.0))
    code, out = run(capsys, path, *fuel, "--plain")
    assert code == 1
    assert out.startswith("////")
    assert out.index("Stop. Shut it down") < out.index("4 columns") < out.index("Findings")
    assert "carbon monoxide above 1000 ppm while burning, 1 times" in out
    assert "at least 3006 ppm at 2026-01-15 10:00:06, for 240 s" in out
    assert "not aligned" in out
    code, found = data(capsys, path, *fuel)
    assert code == 1
    assert grades(found)["practice-co-stop"] == "stop"
    assert found["judged"]["stretches"] == [1]
    assert found["judged"]["fuel_assumed"] is not bool(fuel)


def test_a_clean_flame_ends_with_nothing_found(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path / "clean.csv", lambda i: (5.0, f"{30 + i % 3}", 180.0))
    code, found = data(capsys, path, "--fuel", "natural-gas")
    assert code == 0
    assert not {"stop", "act"} & set(grades(found).values())
    assert found["peaks"] == []
    assert any("crack" in question for question in found["cannot_tell"])
    code, out = run(capsys, path, "--fuel", "natural-gas")
    assert "Stop." not in out
    assert "judged: 1 of 1 steady stretches" in out


def test_a_stretch_beyond_the_cell_is_a_floor_and_not_a_gap(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """>2000 in every row: at least 2000 x 20.95 / (20.95 - 5.05) = 2635 ppm air-free."""
    path = written(tmp_path / "over.csv", lambda i: (5.0, ">2000", 180.0))
    code, found = data(capsys, path, "--fuel", "natural-gas")
    assert code == 1
    assert grades(found) | {"practice-co-stop": "stop", "saturated-cell": "act"} == grades(found)
    (stretch,) = found["stretches"]
    assert stretch["sides"] == {"carbon_monoxide_dry": "at least"}
    assert stretch["results"]["carbon_monoxide_air_free"]["value"] == pytest.approx(2635.0, rel=0.01)
    assert "at least 2000" in run(capsys, path)[1]
    averaged = data(capsys, path, "--fuel", "natural-gas", "--step", "10 s")[1]
    assert grades(averaged)["practice-co-stop"] == "stop"


def test_a_bad_stretch_is_not_cured_by_a_good_one_after_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody has said that anything was mended: the load may only have changed."""

    def row(i: int) -> tuple[float, str, float]:
        return (3.0, f"{800 + i % 3}", 200.0) if i < 300 else (6.0, f"{20 + i % 3}", 170.0)

    path = written(tmp_path / "two.csv", row, seconds=600)
    code, found = data(capsys, path, "--fuel", "natural-gas", "--response", "30 s")
    assert len(found["stretches"]) == 2
    assert code == 1
    assert grades(found)["practice-co-act"] == "act"
    assert not any(finding["grade"] == "cured" for finding in found["findings"])


def test_the_place_and_the_burner_are_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """1000 ppm is the limit of the German sweeping ordinance; 1.5 % of oxygen is too little for any burner."""
    path = written(tmp_path / "short.csv", lambda i: (1.5, f"{1200 + i % 3}", 180.0))
    code, found = data(
        capsys,
        path,
        "--fuel",
        "natural-gas",
        "--jurisdiction",
        "DE",
        "--burner",
        "natural draft",
        "--instrument",
        "service",
    )
    assert code == 1
    assert {"DE"} & {finding["jurisdiction"] for finding in found["findings"]}
    assert grades(found)["air-short"] == "act"


def test_the_combustion_air_that_was_said_reaches_the_judgement(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path / "cold.csv", lambda i: (5.0, "30", 60.0))
    warm = data(capsys, path, "--fuel", "natural-gas", "--air", "70C")[1]
    assert grades(warm)["colder-than-air"] == "open"
    assert "colder-than-air" not in grades(data(capsys, path, "--fuel", "natural-gas", "--air", "20C")[1])


def test_a_condensing_appliance_may_condense(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """40 °C is below the dew point of any natural gas near 5 % oxygen, about 53 °C; alarm only where it was said."""
    path = written(tmp_path / "cool.csv", lambda i: (5.0, "30", 40.0))
    code, found = data(capsys, path, "--fuel", "natural-gas", "--air", "18C")
    assert (code, grades(found)["made-to-condense"]) == (0, "open")
    code, found = data(capsys, path, "--fuel", "natural-gas", "--air", "18C", "--condensing")
    assert (code, "made-to-condense" in grades(found)) == (0, False)


def without_oxygen(path: Path, monoxide: int) -> Path:
    rows = [f"2026-01-15 10:{i // 60:02d}:{i % 60:02d},{monoxide + i % 3},{180 + i % 2}" for i in range(300)]
    path.write_text("Time,CO (ppm),Stack temp (C)\n" + "\n".join(rows) + "\n")
    return path


def test_without_oxygen_foul_gas_still_stops(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As read for five minutes, which air-free can only exceed."""
    code, found = data(capsys, without_oxygen(tmp_path / "foul.csv", 1700), "--fuel", "natural-gas")
    assert code == 1
    assert grades(found)["practice-co-stop"] == "stop"


def test_without_oxygen_a_clean_reading_clears_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = without_oxygen(tmp_path / "clean.csv", 20)
    code, found = data(capsys, path, "--fuel", "natural-gas")
    assert (code, found["findings"], found["judged"]["stretches"]) == (0, [], [])
    assert len(found["judged"]["refused"]) == 1
    out = run(capsys, path, "--fuel", "natural-gas")[1]
    assert "judged: no steady stretch, which clears nothing" in out
    assert "not judged: stretch 1" in out


def test_a_swinging_flame_is_grave_although_nothing_is_steady(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Twenty seconds at 1800 ppm, again and again: to be mended; a short peak alone does not stop."""
    path = written(tmp_path / "swing.csv", lambda i: (3.0, "1800", 200.0) if i // 20 % 2 else (9.0, "50", 120.0))
    code, found = data(capsys, path, "--fuel", "natural-gas", "--response", "10 s")
    assert code == 1
    assert found["peaks_count"] == 6
    assert {peak["seconds"] for peak in found["peaks"]} == {20.0}
    assert grades(found)["practice-co-act"] == "act"


def test_many_stretches_are_judged_by_the_worst_and_the_last(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Thirty stretches of an hour; only the twelfth is foul."""
    lines = ["Time,O2 (%),CO (ppm),Stack temp (C)"]
    for hour in range(30):
        for i in range(30):
            foul = 600 if hour == 11 else 40
            lines.append(
                f"2026-01-{15 + hour // 24} {hour % 24:02d}:{i:02d}:00,{5 + i % 2 / 10},{foul + i % 3},{180 + i % 2}"
            )
    path = tmp_path / "many.csv"
    path.write_text("\n".join(lines) + "\n")
    code, found = data(capsys, path, "--fuel", "natural-gas")
    assert code == 1
    assert (len(found["judged"]["stretches"]), found["judged"]["of"]) == (20, 30)
    assert {12, 30} <= set(found["judged"]["stretches"])
    (grave,) = [finding for finding in found["findings"] if finding["grade"] == "act"]
    assert grave["evidence"][0][0].startswith("stretch 12 ")


CHANNELS = [
    Channel("oxygen_dry", "1", "O2"),
    Channel("carbon_monoxide_dry", "1", "CO"),
    Channel("flue_temperature", "K", "T"),
]


def lit(monoxide: Callable[[int], float], *, at: int = 30, seconds: int = 300) -> Trace:
    """A burner lit after a while; the flue warms by 3 K a second, slower than the gas shows."""
    rows = [
        (
            float(i),
            (0.209, 0.0, 298.0) if i < at else (0.05, monoxide(i - at) * 1e-6, min(450.0, 298.0 + 3.0 * (i - at))),
        )
        for i in range(seconds)
    ]
    return from_rows(channels=CHANNELS, rows=rows)


def peaks_of(trace: Trace, response: float = 30.0) -> Peaks:
    return peaks(trace, survey(trace), response_seconds=response)


@pytest.mark.parametrize(
    ("first", "last", "ignition"),
    [
        (2, 7, True),  # six seconds, two after lighting
        (2, 60, False),  # a minute is no puff
        (120, 125, False),  # not at lighting
    ],
)
def test_only_a_few_seconds_after_lighting_are_an_ignition_peak(first: int, last: int, ignition: bool) -> None:
    found = peaks_of(lit(lambda s: 1500.0 if first <= s <= last else 30.0))
    (one,) = found.over
    assert (one.ignition, one.seconds, one.start) == (ignition, last - first + 1.0, 30.0 + first)
    assert (one.highest, one.mean) == pytest.approx((1500e-6, 1500e-6))


def test_a_slow_cell_draws_a_puff_out() -> None:
    """T90 60 s: what shows 10,000 ppm needs another 60 s to fall to 1000 ppm, by the definition of T90."""

    def shown(s: int) -> float:
        return 30.0 if s < 5 else float(10_000.0 * 10.0 ** (-(s - 5) / 60.0))

    assert peaks_of(lit(shown), 60.0).over[0].ignition
    assert not peaks_of(lit(shown), 20.0).over[0].ignition


def test_a_trace_that_begins_while_burning_names_no_ignition() -> None:
    (one,) = peaks_of(lit(lambda s: 1500.0 if s < 5 else 30.0, at=0)).over
    assert not one.ignition


def test_values_held_after_the_burner_stopped_are_no_peak() -> None:
    channels = [*CHANNELS, Channel("firing_rate", "1", "rate")]
    rows = [(float(i), (0.05, 1500e-6 if i >= 200 else 30e-6, 450.0, 0.5 if i < 200 else 0.0)) for i in range(400)]
    found = peaks_of(from_rows(channels=channels, rows=rows))
    assert found.count == 0
    assert found.highest == pytest.approx(1500e-6)


def test_the_gravest_peaks_are_kept_and_all_are_counted() -> None:
    found = peaks_of(lit(lambda s: 1001.0 + s if s % 4 else 30.0, seconds=430), 1.0)
    assert (found.count, len(found.over)) == (100, 20)
    assert found.over[-1].highest == pytest.approx(1400e-6)
    assert [one.start for one in found.over] == sorted(one.start for one in found.over)


def test_a_gap_in_time_ends_a_peak() -> None:
    rows = [(float(i), (0.05, 1500e-6, 450.0)) for i in range(300) if not 100 <= i < 200]
    found = peaks_of(from_rows(channels=CHANNELS, rows=rows))
    assert [(one.start, one.end) for one in found.over] == [(0.0, 99.0), (200.0, 299.0)]


def test_a_trace_without_carbon_monoxide_has_no_peaks() -> None:
    trace = from_rows(channels=CHANNELS[:1], rows=[(float(i), (0.05,)) for i in range(10)])
    found = peaks_of(trace)
    assert (found.channel, found.over, found.count) == ("", (), 0)
    assert math.isnan(found.highest)
    assert math.isnan(found.at)


def test_a_mean_becomes_a_reading_and_a_floor_a_bound() -> None:
    plain = reading("carbon_monoxide_dry", 123e-6)
    assert (plain.typed.kind, plain.figure, plain.source) == ("value", 123e-6, "from the trace")
    floor = reading("carbon_monoxide_dry", 2000e-6, side="at least")
    assert (floor.typed.kind, floor.bound, floor.least, floor.typed.text[0]) == ("bound", "at least", 2000e-6, ">")
    ceiling = reading("carbon_monoxide_dry", 1e-6, side="at most")
    assert (ceiling.bound, ceiling.figure, ceiling.typed.text[0]) == ("at most", 1e-6, "<")


def test_wet_oxygen_makes_a_wet_stretch() -> None:
    channels = [
        Channel("oxygen_wet", "1", "a"),
        Channel("carbon_dioxide_dry", "1", "b"),
        Channel("pump", "1", "c", False),
    ]
    trace = from_rows(channels=channels, rows=[(float(i), (0.04, 0.09, 1.0)) for i in range(300)])
    (stretch,) = stretches(trace, response_seconds=30.0)
    read = readings(stretch, trace)
    assert set(read) == {"oxygen_wet"}
    assert basis_of(read) == "wet"


def test_one_reading_and_a_trace_give_one_efficiency(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two doors, one kernel: the same means, fuel and air give the same heat lost, to the last digit."""
    path = tmp_path / "same.csv"
    rows = [f"2026-01-15 10:{i // 60:02d}:{i % 60:02d},5.0,50,180" for i in range(300)]
    path.write_text("Time,O2 (%),CO (ppm),Stack temp (C)\n" + "\n".join(rows) + "\n")
    _, found = data(capsys, path, "--fuel", "natural-gas", "--air", "10C")
    main.main(
        ["flue", "--fuel", "natural-gas", "--o2", "5.0%", "--co", "50ppm", "--flue", "180C", "--air", "10C", "--json"]
    )
    one = json.loads(capsys.readouterr().out)
    (stretch,) = found["stretches"]
    for name in ("efficiency_gross", "efficiency_net", "excess_air", "carbon_monoxide_air_free"):
        assert stretch["results"][name]["value"] == pytest.approx(one[name]["value"], rel=1e-9)
