"""A visit with every measurement on one sheet: cautions first, every number with its working, and does it add up."""

from pathlib import Path

import pytest

from fluewright.evidence.finding import ORDER
from fluewright.report.html import page
from fluewright.report.text import text
from fluewright.report.tree import Sheet
from fluewright.visit import file, work
from fluewright.visit.work import Verdict

VISIT = Path(__file__).parent / "whole.toml"


@pytest.fixture(scope="module")
def verdict() -> Verdict:
    return work.judged(file.read(VISIT))


@pytest.fixture(scope="module")
def sheet(verdict: Verdict) -> Sheet:
    return verdict.sheet()


def test_the_sections_stand_in_the_order_of_the_job(sheet: Sheet) -> None:
    titles = [section.title for section in sheet.sections]
    in_order = [
        "Before lighting",
        "The air of the room",
        "Air for burning",
        "Gas input",
        "Gas supply",
        "Tightness of the gas pipes",
        "Gas lines looked over",
        "Draft and venting",
        "Worst case for venting",
        "Spillage",
        "The vent",
        "The flue and what hangs on it",
        "Flame, as found",
        "Adjusting",
        "Flame, as left",
        "Heat delivered to the water",
        "Does it add up",
        "Safety devices",
        "The house around it",
    ]
    assert [title for title in titles if title in in_order] == in_order
    assert [section.number for section in sheet.sections] == list(range(1, len(titles) + 1))


def test_what_stops_stands_before_everything_else(sheet: Sheet) -> None:
    assert sheet.stops
    printed = text(sheet, plain=True)
    assert printed.index("Stop.") < printed.index(sheet.title)
    grades = [ORDER.index(found.finding.grade) for found in sheet.findings]
    assert grades == sorted(grades)
    html = page(sheet)
    assert html.index("Stop.") < html.index("Before lighting")
    assert "Combustion efficiency" not in html[: html.index("Before lighting")]


def test_every_worked_out_number_opens_its_working(sheet: Sheet) -> None:
    known = {opened.key for opened in sheet.workings}
    derived = [
        span for section in sheet.sections for line in section.lines for span in line.spans if span.voice == "derived"
    ]
    assert len(derived) > 60
    silent = [span.text for span in derived if span.ref not in known]
    assert not silent
    for opened in sheet.workings:
        working = opened.result.working
        assert working is not None
        assert working.formula, opened.key
        assert working.substitution, opened.key
        assert working.source, opened.key
        assert working.holds, opened.key


def test_findings_of_every_part_point_at_lines(sheet: Sheet) -> None:
    numbers = {line.number for section in sheet.sections for line in section.lines}
    for found in sheet.findings:
        assert set(found.lines) <= numbers
        if found.finding.odds is not None:
            assert found.lines, found.finding.code


def test_it_does_not_add_up_and_says_why(verdict: Verdict) -> None:
    (found,) = [finding for finding in verdict.judged.findings if finding.code in ("adds-up", "does-not-add-up")]
    assert found.code == "does-not-add-up"
    assert "gas input, by orifice" in found.body


def test_it_adds_up_once_the_odd_one_is_read_again(tmp_path: Path) -> None:
    path = tmp_path / "visit.toml"
    path.write_text(VISIT.read_text(encoding="utf-8").replace('orifice = "#42"', 'orifice = "#37"'), encoding="utf-8")
    codes = {finding.code for finding in work.judged(file.read(path)).judged.findings}
    assert "adds-up" in codes
    assert "does-not-add-up" not in codes


def test_the_record_holds_every_part(sheet: Sheet, verdict: Verdict) -> None:
    assert [part["word"] for part in sheet.readings["parts"]] == [part.word for part in verdict.parts]
    assert len(verdict.parts) >= 19


def test_the_customer_is_told_what_stops_and_nothing_of_efficiency(sheet: Sheet) -> None:
    told = " ".join(words for paragraphs in sheet.customer.values() for words in paragraphs)
    assert "flue gas comes back into the room" in told
    assert "Flue gas comes out of the appliance into the room" in told
    assert "100 parts of the fuel" not in told
