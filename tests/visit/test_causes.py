"""Causes on the sheet: what is said, in which order, resting on which lines, and what a class never hears."""

import re
from pathlib import Path

import pytest

from fluewright.appliance import load
from fluewright.diagnose.next_test import of_page
from fluewright.diagnose.table import looks, page
from fluewright.errors import Problems
from fluewright.evidence.fitting import refused_in
from fluewright.report.cause_lines import TITLE
from fluewright.report.html import page as html_page
from fluewright.report.text import text
from fluewright.report.tree import Section, Sheet
from fluewright.simulate.designs import design_of_kind
from fluewright.simulate.faults import faults
from fluewright.visit import file, work
from fluewright.visit.causes import causes_of
from fluewright.visit.source import Source

OVER = {"o2": "2.8 %", "co": "400 ppm", "stack": "520 F", "air": "68 F", "draft": "-0.01 inwc"}
FINE = {"o2": "8 %", "co": "20 ppm", "stack": "420 F", "air": "68 F"}


def verdict(readings: dict[str, str], kind: str = "natural-draft-furnace", **more: object) -> work.Verdict:
    tables = {
        "visit": {"title": "Made-up visit", "date": "2026-11-25", "jurisdiction": "US"},
        "appliance": {"words": "appliance that does not exist", "class": kind},
        "fuel": {"name": "natural-gas"},
        "stretch": [{"word": "as found", "time": "09:00", "readings": readings}],
        **more,
    }
    return work.judged(file.taken(Source(Path("visit.toml"), tables)))


def section(sheet: Sheet) -> Section:
    return next(each for each in sheet.sections if each.title == TITLE)


def said(sheet: Sheet) -> list[str]:
    return ["".join(span.text for span in line.spans) for line in section(sheet).lines]


def test_what_cannot_be_known_stands_first_then_what_moved() -> None:
    lines = said(verdict(OVER).sheet())
    kinds = [re.split("[:,]", line)[0] for line in lines]
    order = ["Moved", "Danger", "Standing", "Struck through", "Next test"]
    places = [order.index(kind) for kind in kinds if kind in order]
    assert places == sorted(places)
    assert set(places) == set(range(len(order)))
    unknown = [line for line, kind in zip(lines, kinds, strict=True) if kind not in order]
    assert lines[: len(unknown)] == unknown
    assert unknown[0].startswith("These readings cannot show")


def test_every_sentence_names_the_line_it_rests_on() -> None:
    sheet = verdict(OVER).sheet()
    where = {line.number: "".join(span.text for span in line.spans) for each in sheet.sections for line in each.lines}
    moved = next(line for line in said(sheet) if line.startswith("Moved: oxygen"))
    number = int(re.findall(r"\(line (\d+)\)", moved)[0])
    assert "Oxygen 2.8" in where[number]
    standing = next(line for line in said(sheet) if line.startswith("Standing: gas pressure"))
    assert len(re.findall(r"\(line \d+\)", standing)) >= 3


def test_no_odds_stand_in_a_cause() -> None:
    for line in said(verdict(OVER).sheet()):
        assert not re.search(r"in 100|probab|odds|chance", line)
        assert not [each for each in re.findall(r"([\d.]+) %", line) if each not in ("2.8", "6.3", "10.0")]


def test_a_breach_is_only_ever_to_be_inspected() -> None:
    for readings in (OVER, {**OVER, "co": "60 ppm"}, {**FINE, "draft": "+2 Pa"}):
        for line in said(verdict(readings).sheet()):
            if "heat exchanger" in line:
                assert "nspect" in line
                assert "breach" not in line


def test_the_sheet_does_not_grow_where_nothing_is_amiss() -> None:
    assert not [each for each in verdict(FINE).sheet().sections if each.title == TITLE]


@pytest.mark.parametrize("kind", ["clothes-dryer", "range-and-oven", "unvented-room-heater"])
def test_a_class_without_a_virtual_appliance_gets_no_causes(kind: str) -> None:
    assert causes_of(verdict(OVER, kind)) is None


def test_a_struck_cause_is_struck_on_the_page_and_said_in_words() -> None:
    sheet = verdict(OVER).sheet()
    assert "<s>dirty burner</s>" in html_page(sheet)
    assert "Struck through: dirty burner" in text(sheet, plain=True)


def test_a_look_strikes_and_a_later_answer_wins() -> None:
    spilled = {**OVER, "draft": "+1 Pa"}
    free = verdict(spilled, look=[{"look": "flue-seen", "found": "yes"}, {"look": "flue-seen", "found": "no"}])
    blocked = verdict(spilled, look=[{"look": "flue-seen", "found": "yes", "because": "a nest, made up"}])
    assert "a nest, made up" in " ".join(text(blocked.sheet(), plain=True).replace("|", " ").split())
    first = {name: next(line for line in said(each.sheet()) if line.startswith("Standing")) for name, each in
             (("free", free), ("blocked", blocked))}  # fmt: skip
    assert "flue or vent blocked" in first["blocked"]
    assert "flue or vent blocked" not in first["free"]


def test_a_look_that_is_not_listed_is_refused() -> None:
    with pytest.raises(Problems) as refused:
        verdict(OVER, look=[{"look": "crystal-ball", "found": "yes"}])
    assert [each.code for each in refused.value.errors] == ["FW-V-009"]


def test_readings_from_before_a_step_do_not_speak_of_what_was_left() -> None:
    stretches = [
        {"word": "as found", "time": "09:00", "readings": {**OVER, "draft": "+2 Pa"}},
        {"word": "as left", "time": "10:00", "readings": FINE},
    ]
    stepped = verdict({}, stretch=stretches, step=[{"time": "09:30", "word": "pressure set"}])
    found = causes_of(stepped)
    assert found is not None
    assert not [each for each in found.said.moved if each.reading == "draft"]


@pytest.mark.parametrize("kind", sorted(path.stem for path in (Path(load.FOLDER) / "classes").glob("*.toml")))
def test_no_class_hears_what_it_is_never_advised(kind: str) -> None:
    of_class, design = load.load(kind), design_of_kind(kind)
    if design is None:
        assert causes_of(verdict(OVER, kind)) is None
        return
    found = page(design.name)
    advised = [faults()[name].do for name in found.rows if name in faults()]
    advised += [look.words for look in looks().values() if look.reads or of_page(found, look)]
    if "open-shutter" in of_class.never:
        assert all(refused_in(each, of_class) for each in advised if "shutter" in each)
    for readings in (OVER, {**OVER, "co": "900 ppm"}, {**FINE, "co": "500 ppm"}, {**FINE, "o2": "14 %"}):
        told = causes_of(verdict(readings, kind))
        assert told is not None
        steps = [cause.do for cause in told.said.causes] + [each.close for each in told.dangers]
        steps += [look.words for look in (told.said.next.tests if told.said.next is not None else ())]
        assert not [each for each in steps if refused_in(each, of_class) is not None]


def test_a_sealed_base_heater_hears_nothing_of_a_shutter() -> None:
    for readings in (OVER, {**OVER, "co": "900 ppm rising"}, {**FINE, "co": "500 ppm"}):
        sheet = verdict(readings, "vapour-resistant-water-heater").sheet()
        assert not [line for line in said(sheet) if "shutter" in line]


def test_the_attachment_says_what_stands_and_nothing_of_probabilities() -> None:
    data = verdict(OVER).sheet().readings["causes"]
    assert {"moved", "standing", "struck", "dangers"} == set(data)
    assert [each for each in data["dangers"] if each["open"]]
