"""The evidence as sentences: no reading is lost, danger stands first, what is expired or mixed says so."""

from dataclasses import replace
from datetime import date

import pytest
import visits

from fluewright.evidence.reading import Instrument, Point, Surroundings
from fluewright.quantity import names
from fluewright.report import phrase
from fluewright.report.pen import joined
from fluewright.report.sheet import build
from fluewright.report.text import text
from fluewright.report.tree import Span
from fluewright.visit import emissions

READ = {
    "o2": "5 %", "co": "<10 ppm", "no": "60 ppm", "stack": "150 C", "air": "20 C", "room": "20 C", "draft": "-.02 in",
    "smoke_spot": "1", "room_co": "3 ppm", "gas_pressure": "3.5 in", "input": "100 kBtu/h", "flame_current": "3 uA",
    "outdoor": "5 C", "oil_pressure": "140 psi",
}  # fmt: skip


def test_no_reading_is_lost() -> None:
    """Every reading typed stands in the margin of exactly one line."""
    made = visits.sheet(visits.visit(visits.stretch("as found", **READ)))
    margins = [span.text for section in made.sections for line in section.lines for span in line.margin]
    typed = [part for text in margins for part in text.split(" · ")]
    assert sorted(part for part in typed if part in READ.values()) == sorted(READ.values())


def test_the_air_free_figure_stands_beside_its_own_gas() -> None:
    said = visits.words(visits.sheet(visits.visit(visits.stretch("as found", **READ))))
    assert said.index("carbon monoxide <10 ppm (") < said.index(" air-free)") < said.index("nitric oxide")
    assert "; carbon monoxide per carbon dioxide " in said


def test_units_that_end_in_a_stop_get_no_second_one() -> None:
    assert "".join(span.text for span in joined([[Span("draft −0.02 in w.c.")]])) == "Draft −0.02 in w.c."
    assert ".." not in visits.words(visits.sheet(visits.visit(visits.stretch("as found", **READ))))


@pytest.mark.parametrize(
    ("due", "said", "mark"),
    [
        (date(2027, 5, 1), "in date until 1\u00a0May\u00a02027", "measured"),
        (date(2026, 11, 25), "in date until 25\u00a0November\u00a02026", "measured"),
        (date(2026, 9, 1), "out of date since 1\u00a0September\u00a02026", "unknown"),
        (None, "nobody has said when its calibration runs out", "unknown"),
    ],
)
def test_the_calibration_on_the_day(due: date | None, said: str, mark: str) -> None:
    instrument = Instrument("analyser", due=due, zero="outdoors", trap=283.15)
    place = Surroundings(95_000.0, 100.0, "typed", 0.6, 520.0)
    made = visits.sheet(visits.visit(visits.stretch("as found", o2="5 %"), instrument=instrument, surroundings=place))
    first = made.sections[0].lines[0]
    assert said in "".join(span.text for span in first.spans)
    assert first.mark == mark
    for words in ("dried in a trap at ", "altitude ", "relative humidity 60"):
        assert words in visits.words(made)


def test_the_room_comes_before_the_flame_and_is_marked() -> None:
    account = visits.visit(visits.stretch("as found", **READ))
    made = visits.sheet(account, visits.finding("stop", "as found", "carbon_monoxide_room"))
    titles = [section.title for section in made.sections]
    assert titles == ["Before lighting", "Room air", "Flame, as found"]
    assert [line.mark for line in made.sections[1].lines] == ["danger"]
    assert made.findings[0].lines == (made.sections[1].lines[0].number,)


def test_room_air_read_by_the_probe_finds_its_line() -> None:
    """A finding about the room may rest on what the probe read there under the name of a flue gas."""
    account = visits.visit(replace(visits.stretch("room", o2="20.9 %", co="85 ppm"), point=Point("the room", "room")))
    made = build(account, ((account.stretches[0], None),), visits.Judged((visits.finding(
        "stop", "room", "carbon_monoxide_room"),)))  # fmt: skip
    assert made.findings[0].lines
    assert "about 85 parts in a million" in made.stops[0].what


@pytest.mark.parametrize(
    ("point", "said"),
    [
        ("flue collar", "Read at flue collar, steady for 60 s."),
        ("below the hood", "Read below the hood, steady for 60 s."),
        ("behind the fan", "Read behind the fan, steady for 60 s."),
    ],
)
def test_where_it_was_read_is_a_sentence(point: str, said: str) -> None:
    one = replace(visits.stretch("as found", o2="5 %"), point=Point(point))
    assert visits.sheet(visits.visit(one)).sections[-1].note == said


def test_what_is_refused_is_told_apart() -> None:
    """Names hold commas themselves, so semicolons stand between them."""
    diluted = replace(visits.stretch("as found", o2="12 %"), point=Point("hood", "diluted"))
    account = visits.visit(diluted)
    lines = [line for line in visits.words(visits.sheet(account)).split("\n") if line.startswith("Refused: ")]
    results = visits.told(account)[0][1]
    assert results is not None
    refused = [names.of(result.name).words for result in results.results.values() if result.refused]
    listed = [name for line in lines for name in line.removeprefix("Refused: ").split(". ")[0].split("; ")]
    assert sorted(listed) == sorted(refused)
    assert " ." not in "".join(lines)


def test_a_mixed_boundary_is_marked_where_the_efficiency_is() -> None:
    account = visits.visit(visits.stretch("as found", o2="5 %", stack="150 C", air="20 C"))
    mixed = visits.finding("open", "as found", "flue_temperature", code="mixed-boundary")
    for findings, mark in (((), "derived"), ((mixed,), "unknown")):
        made = visits.sheet(account, *findings)
        heat = [line for line in made.sections[-1].lines if "fficiency" in "".join(span.text for span in line.spans)]
        assert [line.mark for line in heat] == [mark]
        assert ("boundaries mixed" in heat[0].margin[0].text) == bool(findings)


def test_weighed_water_did_condense() -> None:
    read = {"o2": "5 %", "co": "20 ppm", "stack": "35 C", "air": "20 C"}
    weighed = visits.words(
        visits.sheet(visits.visit(visits.stretch("as found", **read, condensate_weighed="60 g/kWh")))
    )
    assert "of the water condensed (weighed)." in weighed
    assert "can have" not in weighed
    assert "of the water can have condensed." in visits.words(visits.sheet(visits.visit(visits.stretch("a", **read))))


def test_a_trend_is_said() -> None:
    said = visits.words(visits.sheet(visits.visit(visits.stretch("as found", o2="5 %", co="250 ppm rising"))))
    assert ", rising (" in said


def test_the_units_of_rules_are_one_line_for_each_gas() -> None:
    account = visits.visit(visits.stretch("as found", o2="5 %", co="50 ppm", no="60 ppm", stack="150 C", air="20 C"))
    worked = visits.told(account)[0][1]
    assert worked is not None
    made = visits.sheet(account, extra=emissions.of_stretch(worked))
    section = made.sections[-1]
    assert section.title == "In the units of rules"
    assert len(section.lines) == 2
    said = visits.words(replace(made, sections=(section,)))
    assert all(words in said for words in ("Nitric oxide, as itself: ", "of gross heat", "of heat delivered"))
    assert {opened.line for opened in made.workings} >= {line.number for line in section.lines}


def test_a_result_that_a_finding_rests_on_has_a_line() -> None:
    account = visits.visit(visits.stretch("as found", o2="5 %", co="50 ppm", stack="150 C", air="20 C"))
    made = visits.sheet(account, visits.finding("advise", "as found", "loss_siegert", limit="at most 11 %"))
    assert made.findings[0].lines
    assert "Flue loss by the legal short formula" in visits.words(made)


@pytest.mark.parametrize(
    ("read", "why"),
    [
        ({"o2": "5 %"}, "Nothing could be judged: no carbon monoxide was read in the flue."),
        (
            {"o2": "5 %", "co": "20 ppm"},
            "Nothing could be judged: the rule books hold no limit for this fuel, appliance",
        ),
    ],
)
def test_without_findings_the_heading_says_why(read: dict[str, str], why: str) -> None:
    made = visits.sheet(visits.visit(visits.stretch("as found", **read)))
    assert made.unjudged.startswith(why)
    printed = " ".join(text(made).replace("│", " ").split())
    assert why in printed


def test_a_stop_says_whose_limit_it_is_once() -> None:
    account = visits.visit(visits.stretch("as found", o2="5 %", co="2000 ppm"))
    stop = replace(visits.finding("stop", "as found"), clause=visits.PRACTICE)
    why = visits.sheet(account, stop, replace(stop, code="another", body="Body too.")).stops[0].why
    assert why == "Body of it. Body too. By common practice of the trade, which has no source."


def test_a_citation_says_nothing_twice() -> None:
    assert phrase.clause_lines(visits.PRACTICE) == (
        "house book",
        "common practice of the trade; 2026; everywhere; no source: it may warn, it never clears",
    )
    assert phrase.authority(visits.LAW) == "By Made-up Rules, 12, 2026; its text was read."
