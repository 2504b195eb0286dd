"""A set of curves beside a visit, and the knee of a walked curve on the operating plane."""

from pathlib import Path

import pytest

from fluewright.errors import Problems
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.report.drawing import Plane, svg
from fluewright.report.text import text
from fluewright.visit import file, kept, work

ADJUSTING = Path(__file__).parent / "adjusting.toml"
CURVES = "fuel,rate_percent,way,oxygen_dry_percent,carbon_monoxide_dry_ppm,position_air_percent\n"
ROWS = ("natural gas,30,up,5.0,12,20", "natural gas,60,up,4.2,15,45", "natural gas,100,up,3.6,20,80")


def visit_with(folder: Path, *, before: bool = False, alone: bool = False) -> Path:
    """The visit about adjusting with a table of curves beside it."""
    (folder / "after.csv").write_text(CURVES + "\n".join(ROWS) + "\n", encoding="utf-8")
    (folder / "before.csv").write_text(CURVES + "\n".join(ROWS).replace("3.6", "2.2") + "\n", encoding="utf-8")
    keys = "" if alone else 'curves = "after.csv"\n'
    keys += 'curves_before = "before.csv"\n' if before or alone else ""
    path = folder / "visit.toml"
    path.write_text(ADJUSTING.read_text(encoding="utf-8").replace("[tune]\n", f"[tune]\n{keys}", 1), encoding="utf-8")
    return path


def test_the_curves_stand_on_the_sheet_with_what_moved(tmp_path: Path) -> None:
    said = text(work.judged(file.read(visit_with(tmp_path, before=True))).sheet(), plain=True)
    assert "Adjusting: the curves" in said
    assert "3 points, rate 30 to 100 %" in " ".join(said.replace("|", " ").split())


def test_the_curves_go_into_the_journal_with_the_visit(tmp_path: Path) -> None:
    (tmp_path / "door").mkdir()
    path = visit_with(tmp_path / "door", before=True)
    before = text(work.judged(file.read(path)).sheet(), plain=True)
    journal = made(Settings(str(tmp_path / "journal.db")), device_name="test")
    visit = kept.brought_in(journal, path).id
    for each in path.parent.iterdir():
        each.unlink()
    after = text(work.judged(kept.account_of(journal, visit)).sheet(), plain=True)
    journal.store.close()
    cut = before.index("Not kept in a journal")
    assert after[:cut] == before[:cut]


def test_curves_before_without_those_after_are_refused(tmp_path: Path) -> None:
    with pytest.raises(Problems, match="1 problem") as refused:
        file.read(visit_with(tmp_path, alone=True))
    assert [each.code for each in refused.value.errors] == ["FW-V-326"]


def test_a_table_that_is_not_there_is_told(tmp_path: Path) -> None:
    path = visit_with(tmp_path)
    (tmp_path / "after.csv").unlink()
    with pytest.raises(Problems) as refused:
        file.read(path)
    assert [each.code for each in refused.value.errors] == ["FW-U-338"]


def test_the_knee_is_a_band_on_the_plane_where_a_curve_was_walked() -> None:
    verdict = work.judged(file.read(ADJUSTING))
    sheet = verdict.sheet()
    figure = next(each for each in sheet.figures if isinstance(each.data, Plane))
    curve = next(part for part in verdict.parts if part.word == "tuning curve")
    band = curve.results["knee_down"]
    assert band.low is not None and band.high is not None
    assert figure.data.knee == pytest.approx((100.0 * band.low, 100.0 * band.high))
    assert "the knee is somewhere in here" in svg(figure.data, width=700.0).replace("\n", " ")
    assert figure.twin.rows[-2][0] == "the knee" or figure.twin.rows[-1][0] == "the knee"
    assert "Band: where the knee" in figure.caption


def test_without_a_curve_there_is_no_band() -> None:
    sheet = work.judged(file.read(Path(__file__).parent / "whole.toml")).sheet()
    planes = [each.data for each in sheet.figures if isinstance(each.data, Plane)]
    assert planes and all(plane.knee is None for plane in planes)
