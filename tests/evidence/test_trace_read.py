"""The museum of trace files: each mistake is found where it is, and nothing else is."""

import math
from itertools import pairwise
from pathlib import Path

import pytest

from fluewright.errors import FluewrightError, Problems, TraceError
from fluewright.evidence.trace import mapping
from fluewright.evidence.trace.problems import NATURES, SHOWN, Ledger, Nature
from fluewright.evidence.trace.read import read, take
from fluewright.evidence.trace.source import understand
from fluewright.evidence.trace.stretch import stretches
from fluewright.evidence.trace.trace import averaged

MUSEUM = Path(__file__).parent.parent / "museum" / "traces"
FIRST = {"oxygen_dry": 0.042, "carbon_dioxide_dry": 0.096, "carbon_monoxide_dry": 38e-6, "flue_temperature": 455.15}
"""The first row of every good file: 4.2 %, 9.6 %, 38 ppm, 182 C."""
GOOD = sorted(path.name for path in MUSEUM.glob("good-*"))
OTHER_MONOXIDE = {"good-grouped-thousands.csv": 1200.5e-6}
OTHER_TIMES = {"good-elapsed.csv": 0.0, "good-clock-over-midnight.csv": 86_340.0}
START = 1_768_471_200.0
"""2026-01-15 10:00 UTC."""


@pytest.mark.parametrize("name", GOOD)
def test_every_way_of_writing_gives_the_same_rows(name: str) -> None:
    ledger = Ledger()
    with read(MUSEUM / name, ledger=ledger) as trace:
        samples = list(trace)
    assert ledger.groups() == ()
    assert len(samples) == 12
    expected = {**FIRST, "carbon_monoxide_dry": OTHER_MONOXIDE.get(name, FIRST["carbon_monoxide_dry"])}
    assert dict(zip(trace.names, samples[0].values, strict=True)) == pytest.approx(expected, rel=1e-9)
    assert samples[0].time == OTHER_TIMES.get(name, START)
    assert [b.time - a.time for a, b in pairwise(samples)] == [10.0] * 11


DOUBTFUL = {
    "doubt-text-rubbish.csv": {
        ("not a number", "O2 (%)"): [4, 7],
        ("not a number", "CO (ppm)"): [9],
        ("bound", "CO (ppm)"): [5],
    },
    "doubt-bounds.csv": {("bound", "CO (ppm)"): [5, 6, 9]},
    "doubt-repeated-header.csv": {("repeated header", ""): [8]},
    "doubt-duplicates.csv": {("repeated row", ""): [14], ("out of order", ""): [14]},
    "doubt-conflict.csv": {("conflicting row", ""): [14]},
    "doubt-out-of-order.csv": {("out of order", ""): [7]},
    "doubt-newest-first.csv": {("out of order", ""): list(range(3, 14))},
    "doubt-gap.csv": {("gap", ""): [8]},
    "doubt-ragged.csv": {("short row", ""): [5], ("long row", ""): [6], ("gap", ""): [7]},
    "doubt-nul-bytes.csv": {("nul byte", ""): [14]},
    "doubt-odd-bytes.csv": {("odd byte", ""): [2]},
    "doubt-impossible.csv": {("impossible", "O2 (%)"): [6, 8], ("impossible", "Flue temperature (°C)"): [10]},
    "doubt-bad-times.csv": {("bad time", "Time"): [5, 10]},
    "doubt-clock-back.csv": {("backwards clock", "Time"): [8]},
    "doubt-two-oxygens.csv": {("two alike", "Exhaust O2 (%)"): [0]},
    "doubt-cell-of-other-dimension.csv": {("bad unit", "O2 (%)"): [5]},
}


def test_every_doubtful_file_has_its_row_here() -> None:
    assert set(DOUBTFUL) == {path.name for path in MUSEUM.glob("doubt-*")}


@pytest.mark.parametrize("name", DOUBTFUL)
def test_each_doubt_is_found_in_its_row_and_column_and_nothing_else(name: str) -> None:
    ledger = Ledger()
    with read(MUSEUM / name, ledger=ledger) as trace:
        times = [sample.time for sample in trace]
    found = {(group.kind, group.column): [problem.row for problem in group.first] for group in ledger.groups()}
    assert found == DOUBTFUL[name]
    assert times == sorted(set(times))


def test_rubbish_becomes_a_gap_never_a_zero() -> None:
    with read(MUSEUM / "doubt-text-rubbish.csv") as trace:
        samples = list(trace)
    oxygen = [sample.values[trace.index("oxygen_dry")] for sample in samples]
    assert [i for i, value in enumerate(oxygen) if math.isnan(value)] == [2, 5]
    assert all(value > 0.04 for value in oxygen if not math.isnan(value))


def test_a_bound_is_kept_as_a_bound() -> None:
    with read(MUSEUM / "doubt-bounds.csv") as trace:
        samples = list(trace)
    index = trace.index("carbon_monoxide_dry")
    assert samples[3].bounds == ((index, pytest.approx(2000e-6)),)
    assert samples[3].above >> index & 1
    assert samples[7].below >> index & 1
    assert math.isnan(samples[3].values[index])


def test_the_hour_that_occurs_twice_is_not_mixed() -> None:
    with read(MUSEUM / "doubt-clock-back.csv") as trace:
        times = [sample.time for sample in trace]
    assert [b - a for a, b in pairwise(times)] == [600.0] * 11


def test_with_a_place_for_a_zone_the_second_hour_is_known() -> None:
    ledger = Ledger()
    said = mapping.Mapping(zone="Europe/Berlin")
    with read(MUSEUM / "doubt-clock-back.csv", mapping=said, ledger=ledger) as trace:
        times = [sample.time for sample in trace]
    assert ledger.groups() == ()
    assert times[0] == 1_792_886_400.0  # 2026-10-25 00:00 UTC is 02:00 summer time in Berlin
    assert [b - a for a, b in pairwise(times)] == [600.0] * 11


REFUSED = {
    "refused-empty.csv": ["FW-T-002"],
    "refused-blank-lines.csv": ["FW-T-002"],
    "refused-header-only.csv": ["FW-T-003"],
    "refused-no-header.csv": ["FW-T-004"],
    "refused-no-time.csv": ["FW-T-005"],
    "refused-no-channel.csv": ["FW-T-006"],
    "refused-ambiguous-date.csv": ["FW-T-007"],
    "refused-ambiguous-decimal.csv": ["FW-T-008"],
    "refused-ambiguous-unit.csv": ["FW-T-009"],
    "refused-zip.csv": ["FW-T-010"],
    "refused-binary.csv": ["FW-T-010"],
    "refused-open-quote.csv": ["FW-T-011"],
    "refused-wrong-unit.csv": ["FW-T-013", "FW-T-013"],
    "refused-cut.parquet": ["FW-T-014"],
    "refused-all-rubbish.csv": ["FW-T-015"],
    "no-such-file.csv": ["FW-T-001"],
}


def test_every_refused_file_has_its_row_here() -> None:
    assert set(REFUSED) == {"no-such-file.csv", *(path.name for path in MUSEUM.glob("refused-*"))}


def codes_of(error: FluewrightError) -> list[str]:
    return [one.code for one in error.errors] if isinstance(error, Problems) else [error.code]


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_taken_is_refused_in_four_parts(name: str) -> None:
    with pytest.raises((TraceError, Problems)) as caught:
        read(MUSEUM / name)
    assert codes_of(caught.value) == REFUSED[name]
    assert caught.value.exit_code == 3
    assert name in caught.value.sentence()
    for part in ("expected", "because", "do"):
        assert part in caught.value.sentence()


def test_ambiguous_dates_come_with_their_choices() -> None:
    with pytest.raises(TraceError) as caught:
        read(MUSEUM / "refused-ambiguous-date.csv")
    assert "2026-02-01" in caught.value.read
    assert "2026-01-02" in caught.value.read
    with read(MUSEUM / "refused-ambiguous-date.csv", mapping=mapping.Mapping(order="month-day-year")) as trace:
        assert trace.shown(next(iter(trace)).time) == "2026-01-02 10:00"


def test_ambiguous_decimals_and_units_are_settled_by_a_mapping() -> None:
    with read(MUSEUM / "refused-ambiguous-decimal.csv", mapping=mapping.Mapping(decimal=",")) as trace:
        assert next(iter(trace)).values[0] == pytest.approx(1.2e-6)
    said = mapping.Mapping(columns={"Flue temperature": mapping.ColumnSaid(unit="K")})
    with read(MUSEUM / "refused-ambiguous-unit.csv", mapping=said) as trace:
        assert next(iter(trace)).values[trace.index("flue_temperature")] == 395.0


def test_a_trace_without_known_names_is_read_with_a_mapping() -> None:
    said = mapping.load(MUSEUM / "mapping-good.toml")
    with pytest.raises(TraceError, match=r"no usable|no known form"):
        read(MUSEUM / "refused-no-channel.csv", mapping=said)  # the mapping says day first, the file is ISO
    said = mapping.Mapping(columns=said.columns)
    with read(MUSEUM / "refused-no-channel.csv", mapping=said) as trace:
        assert trace.names == ("oxygen_dry", "flue_temperature")


@pytest.mark.parametrize(
    ("name", "word"),
    [("unknown-column", "Gamma"), ("unknown-quantity", "oxygene"), ("wrong-unit", "Pa for oxygen_dry")],
)
def test_a_mapping_that_does_not_fit_is_refused(name: str, word: str) -> None:
    with pytest.raises((TraceError, Problems)) as caught:
        read(MUSEUM / "refused-no-channel.csv", mapping=mapping.load(MUSEUM / f"mapping-{name}.toml"))
    assert word in caught.value.sentence()


def test_all_problems_are_listed_before_anything_is_refused() -> None:
    ledger = Ledger()
    source = understand(MUSEUM / "refused-ambiguous-unit.csv", ledger)
    assert source is not None
    take(source, ledger).close()
    assert [group.kind for group in ledger.groups()] == ["ambiguous unit"]


def test_many_alike_are_put_together_with_their_count(tmp_path: Path) -> None:
    path = tmp_path / "many.csv"
    rows = [f"2026-01-15T10:{i // 60:02d}:{i % 60:02d},{'---' if i % 2 else '4.3'}" for i in range(200)]
    path.write_text("\n".join(["Time,O2 (%)", *rows]))
    ledger = Ledger()
    read(path, ledger=ledger).close()
    (group,) = ledger.groups()
    assert (group.count, len(group.first), group.last_row) == (100, SHOWN, 201)
    assert group.lines() == ["rows 3 to 201, O2 (%): text where a number belongs, 100 times (---) [FW-T-020]"]


def test_a_long_shuffled_trace_is_put_in_order(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("fluewright.evidence.trace.spool._RUN", 100)
    path = tmp_path / "shuffled.csv"
    order = [(i * 373) % 1000 for i in range(1000)]
    path.write_text("\n".join(["t (s),O2 (%)", *(f"{t},{3 + t / 1000:.3f}" for t in order)]))
    with read(path, mapping=mapping.Mapping(order="elapsed seconds", time_column="t (s)")) as trace:
        samples = list(trace)
    assert [sample.time for sample in samples] == [float(t) for t in range(1000)]
    assert all(s.values[0] == pytest.approx((3 + s.time / 1000) / 100, abs=1e-5) for s in samples)


def test_every_kind_of_problem_stands_in_the_documents() -> None:
    text = (Path(__file__).parents[2] / "docs" / "traces.md").read_text("utf-8")
    for nature in NATURES.values():
        assert f"| {nature.code} | {nature.title} |" in text
    codes = [nature.code for nature in NATURES.values()]
    assert len(codes) == len(set(codes))


@pytest.mark.parametrize("nature", NATURES.values(), ids=lambda nature: nature.code)
def test_no_problem_scolds(nature: Nature) -> None:
    words = " ".join((nature.title, nature.expected, nature.matters, nature.do)).lower()
    assert not {"invalid", "please", "sorry"} & set(words.replace(",", " ").split())
    assert all((nature.title, nature.expected, nature.matters, nature.do))


OVER = ("OVER", "OL", ">>>>", "++++", "HI", "over range", "Overrange", "O.R.", "MAX", "over-range ppm", "+inf")


def over_file(path: Path, word: str, *, often: int = 2, figure: str = "50") -> Path:
    rows = [f"{i},5.0,{word if i % often else figure},180" for i in range(300)]
    path.write_text("\n".join(["Time (s),O2 (%),CO (ppm),Flue temperature (°C)", *rows]) + "\n")
    return path


@pytest.mark.parametrize("word", OVER)
def test_a_word_for_over_range_is_more_than_all_that_was_read(word: str, tmp_path: Path) -> None:
    with read(over_file(tmp_path / "over.csv", word)) as trace:
        (found,) = stretches(trace, response_seconds=40.0)
    assert found.bounds == {"carbon_monoxide_dry": 150}
    assert found.side("carbon_monoxide_dry") == "at least"
    assert found.means["carbon_monoxide_dry"] == pytest.approx(50e-6)


def test_the_edge_of_a_word_is_the_highest_bound_of_its_column(tmp_path: Path) -> None:
    with read(over_file(tmp_path / "over.csv", "OVER", often=30, figure=">2000")) as trace:
        samples = list(trace)
    assert samples[1].bounds == ((1, pytest.approx(2000e-6)),)


def test_a_column_of_nothing_but_words_for_over_range_is_a_gap_and_says_so(tmp_path: Path) -> None:
    ledger = Ledger()
    with read(over_file(tmp_path / "over.csv", "OL", figure="OL"), ledger=ledger) as trace:
        (found,) = stretches(trace, response_seconds=40.0)
    assert "carbon_monoxide_dry" not in found.means
    assert found.bounds == {}
    assert any(group.kind == "not a number" and group.column == "CO (ppm)" for group in ledger.groups())


@pytest.mark.parametrize(("often", "kept"), [(11, True), (9, False)])
def test_a_channel_that_is_missing_in_a_tenth_of_the_rows_has_no_mean(often: int, kept: bool, tmp_path: Path) -> None:
    path = over_file(tmp_path / "gaps.csv", "50", often=often, figure="ERR")
    with read(path) as trace:
        (found,) = stretches(trace, response_seconds=40.0)
    assert ("carbon_monoxide_dry" in found.means) == kept
    assert ("no mean of carbon monoxide dry: 34 of 300 rows" in found.reason) != kept


def test_steps_do_not_hide_rows_without_carbon_monoxide(tmp_path: Path) -> None:
    """Two rows in three say ERR: a step of ten rows is a gap too, and the stretch has no mean."""
    with read(over_file(tmp_path / "gaps.csv", "ERR", often=3)) as trace:
        (found,) = stretches(averaged(trace, step_seconds=10.0), response_seconds=40.0)
    assert "carbon_monoxide_dry" not in found.means


def test_a_floor_stands_although_rows_are_missing(tmp_path: Path) -> None:
    """Half of the rows say ERR, the other half >2000: what was beyond the cell is not taken back by gaps."""
    with read(over_file(tmp_path / "both.csv", "ERR", figure=">2000")) as trace:
        for one in (trace, averaged(trace, step_seconds=10.0)):
            (found,) = stretches(one, response_seconds=40.0)
            assert found.side("carbon_monoxide_dry") == "at least"
            assert found.means["carbon_monoxide_dry"] == pytest.approx(2000e-6)
