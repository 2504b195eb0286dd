"""The shelf: instruments entered and tried, drift and age of their cells, what is due."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from fluewright.errors import EntryError, Problems, TraceError
from fluewright.evidence.ageing import forecast, left_of
from fluewright.evidence.checked import MONOXIDE
from fluewright.evidence.step_response import response_of
from fluewright.record.journal import Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.visit import adding, kept, shelf, shelf_told, stepped_gas

TODAY = date(2026, 11, 25)
TABLES = {"visit": {"title": "invented", "date": "2026-11-25"}, "appliance": {"words": "invented boiler"},
          "fuel": {"name": "natural gas"}, "instrument": {"words": "the grey meter"}}  # fmt: skip


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    found = made(Settings(str(tmp_path / "journal.db")), device_name="test")
    yield found
    found.store.close()


def grey(journal: Journal) -> str:
    """The instrument of these tests."""
    return shelf.entered(journal, "the grey meter", serial="NOT-REAL-18", hydrogen="yes", oxygen_cell="capillary").id


def test_a_visit_takes_over_what_the_shelf_knows_on_the_day_and_keeps_it(journal: Journal) -> None:
    instrument = grey(journal)
    shelf.calibrated(journal, instrument, day="2025-12-01", due="2026-12-01")
    visit = kept.begun(journal, TABLES).id
    taken = dict(kept.tables_of(journal, visit)["instrument"])
    assert taken == {"words": "the grey meter", "calibration_due": "2026-12-01", "hydrogen_compensated": "yes",
                     "oxygen_cell": "capillary"}  # fmt: skip
    shelf.calibrated(journal, instrument, day="2026-11-26", due="2027-11-26")
    shelf.hydrogen_said(journal, instrument, "no", day="2026-11-26")
    assert dict(kept.tables_of(journal, visit)["instrument"]) == taken
    typed = {**TABLES, "instrument": {"words": "the grey meter", "hydrogen_compensated": "unknown"}}
    assert kept.tables_of(journal, kept.begun(journal, typed).id)["instrument"]["hydrogen_compensated"] == "unknown"


def test_a_zero_typed_in_a_visit_stands_in_the_record_of_the_instrument(journal: Journal) -> None:
    instrument = grey(journal)
    visit = kept.begun(journal, TABLES).id
    adding.added(journal, visit, "zero outdoors o2 20.9 co 0 on 12 min")
    row = {"what": "closing zero", "place": "outdoors", "monoxide": "3 ppm", "oxygen": "20.7 %"}
    shelf.tried(journal, instrument, row, day="2026-11-25", visit=visit)
    assert [(one.day, one.what, one.visit) for one in shelf.history(journal, instrument)] == [
        ("2026-11-25", "zero", visit),
        ("2026-11-25", "closing zero", visit),
    ]
    drift = shelf_told.drifts(journal, instrument)[0]
    assert drift.monoxide == pytest.approx(3.0)
    assert drift.oxygen == pytest.approx(-0.246, abs=0.01)
    assert (
        "1 closing zero: carbon monoxide moved by +3 ppm" in shelf_told.told(journal, "NOT-REAL-18", TODAY).sentences[1]
    )


def test_a_check_of_another_instrument_does_not_go_into_a_visit(journal: Journal) -> None:
    grey(journal)
    other = shelf.entered(journal, "the red meter").id
    visit = kept.begun(journal, TABLES).id
    with pytest.raises(EntryError) as caught:
        shelf.tried(journal, other, {"what": "leak", "result": "tight"}, day="2026-11-25", visit=visit)
    assert caught.value.code == "FW-J-135"
    with pytest.raises(Problems):
        shelf.tried(journal, other, {"what": "zero"}, day="2026-11-25")
    assert shelf.history(journal, other) == []


@pytest.mark.parametrize(
    ("text", "share"),
    [("-18 %", -0.18), ("−18 %", -0.18), ("+3,5 %", 0.035), ("0 %", 0.0), ("100 ppm read 82 ppm", -0.18)],
)
def test_what_a_certificate_says_is_understood(text: str, share: float) -> None:
    assert shelf.error_in(text, MONOXIDE) == pytest.approx(share)


@pytest.mark.parametrize("text", ["fine", "82 ppm", "-18", "0 ppm read 3 ppm", "-99 %"])
def test_what_is_no_error_of_a_cell_is_refused(text: str) -> None:
    with pytest.raises(EntryError) as caught:
        shelf.error_in(text, MONOXIDE)
    assert caught.value.code == "FW-J-133"


def test_an_instrument_is_named_by_words_serial_or_id_and_never_guessed(journal: Journal) -> None:
    instrument = grey(journal)
    for code in ("The grey meter", "not-real-18", instrument, instrument[-6:]):
        assert shelf.instrument_of(journal, code, TODAY).id == instrument
    shelf.entered(journal, "the grey meter")
    for code in ("the grey meter", "the red meter", "ab"):
        with pytest.raises(EntryError) as caught:
            shelf.instrument_of(journal, code, TODAY)
        assert caught.value.code == "FW-J-132"


def test_no_calibration_as_found_is_no_ground_for_looking_back(journal: Journal) -> None:
    instrument = grey(journal)
    shelf.calibrated(journal, instrument, day="2026-03-01", left={MONOXIDE: "0 %"})
    with pytest.raises(EntryError) as caught:
        shelf.found_off(journal, instrument)
    assert caught.value.code == "FW-J-134"


def test_a_cell_that_falls_steadily_is_foreseen_with_an_interval_around_the_truth() -> None:
    """Ten per cent of the first response a year: half is left after five."""
    points = [(0.0, 1.0), (1.0, 0.901), (2.0, 0.798), (3.0, 0.702)]
    ahead = forecast(points)
    assert ahead.refused == ""
    assert ahead.years == pytest.approx(5.0, abs=0.1)
    assert ahead.late is not None
    assert ahead.early < 5.0 < ahead.late
    assert ahead.late - ahead.early < 1.0


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([], "0 of the 3"),
        ([(0.0, 1.0), (1.0, 0.9)], "2 of the 3"),
        ([(0.0, 1.0), (1.0, 0.9), (2.0, 0.97)], "scatter"),
        ([(0.0, 1.0), (1.0, 1.01), (2.0, 1.02)], "scatter"),
        ([(0.0, 1.0), (1.0, 0.99), (2.0, 0.98), (3.0, 0.97)], "more than 10 years"),
    ],
)
def test_no_forecast_is_made_where_none_can_be(points: list[tuple[float, float]], words: str) -> None:
    assert words in forecast(points).refused


def test_each_as_found_error_is_on_top_of_those_before() -> None:
    assert left_of([-0.1, -0.1]) == pytest.approx([0.9, 0.81])


def test_a_new_cell_begins_a_new_life(journal: Journal) -> None:
    instrument = grey(journal)
    for day, found in (("2022-01-10", "0 %"), ("2023-01-10", "-20 %"), ("2024-01-10", "-20 %")):
        shelf.calibrated(journal, instrument, day=day, found={MONOXIDE: found})
    assert shelf_told.cells(journal, instrument)[0].points[-1][1] == pytest.approx(0.64)
    shelf.cell_replaced(journal, instrument, MONOXIDE, day="2024-02-01")
    shelf.calibrated(journal, instrument, day="2025-02-01", found={MONOXIDE: "-3 %"})
    cell = shelf_told.cells(journal, instrument)[0]
    assert (cell.since, cell.points) == ("2024-02-01", (("2024-02-01", 1.0), ("2025-02-01", pytest.approx(0.97))))
    assert "no forecast: 2 of the 3 calibrations" in cell.words


def step(t90: float, *, every: float = 1.0, start: float = 20.0, height: float = 100e-6) -> list[tuple[float, float]]:
    """A first-order channel to which gas is put."""
    rate = 2.302585 / t90
    times = [number * every for number in range(int((start + 8 * t90) / every))]
    return [(t, 0.0 if t <= start else height * (1.0 - 2.718281828 ** (-rate * (t - start)))) for t in times]


@pytest.mark.parametrize("t90", [12.0, 43.0, 90.0])
def test_response_is_read_off_a_step_within_its_doubt(t90: float) -> None:
    for began in (20.0, None):
        found = response_of(step(t90), began=began)
        assert abs(found.seconds - t90) < max(2.0 * found.spread, 0.02 * t90)
        assert 0.0 < found.spread < 2.0


def test_a_step_that_was_not_waited_for_or_is_none_is_refused() -> None:
    for samples in (step(60.0)[:70], [(float(t), 1e-6 * (t % 2)) for t in range(100)], step(60.0)[:5]):
        with pytest.raises(TraceError) as caught:
            response_of(samples)
        assert caught.value.code == "FW-T-095"


def test_response_comes_from_a_recorded_trace(tmp_path: Path) -> None:
    path = tmp_path / "step.csv"
    rows = [f"{int(t) // 60:02}:{int(t) % 60:02},{value * 1e6:.1f}" for t, value in step(30.0)]
    times = "\n".join(f"2026-11-25T10:{row}" for row in rows)
    path.write_text(f"time,carbon_monoxide_dry [ppm]\n{times}\n", encoding="utf-8")
    found = stepped_gas.response_in(path, channel="carbon_monoxide_dry", began=20.0)
    assert found.seconds == pytest.approx(30.0, abs=1.0)
    with pytest.raises(TraceError) as caught:
        stepped_gas.response_in(path, channel="oxygen_dry")
    assert caught.value.code == "FW-T-096"
