"""The PDF: both standards, tagged, readings attached, the same bytes each time, danger first."""

import io
import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import example
import pypdf
import pytest
import visits
from hypothesis import given, settings
from hypothesis import strategies as st
from same import missing, squeezed

from fluewright.errors import OurFault
from fluewright.report import pdf, phrase
from fluewright.report.pdf import document
from fluewright.report.tree import Line, Section, Sheet, Span
from fluewright.visit import file, hand_over

pytest.importorskip("typst")
SHEETS = {"calm": example.calm(), "danger": example.danger()}


@cache
def read(name: str, paper: str = "letter") -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(document(SHEETS[name], paper=paper, workings=True)))  # type: ignore[arg-type]


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_sentence_is_there(name: str, paper: str) -> None:
    printed = "\n".join(each.extract_text() for each in read(name, paper).pages)
    assert missing(SHEETS[name], printed) == []


@pytest.mark.parametrize("name", SHEETS)
def test_it_claims_both_standards_and_is_tagged(name: str) -> None:
    reader = read(name)
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or bool(root["/MarkInfo"]["/Marked"])
    assert "/StructTreeRoot" in root
    assert root["/Lang"] == "en"
    xmp = root["/Metadata"].get_data().decode()
    assert "<pdfaid:part>3</pdfaid:part>" in xmp
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in xmp
    assert "<pdfuaid:part>1</pdfuaid:part>" in xmp
    assert reader.metadata is not None
    assert reader.metadata.title == SHEETS[name].title


def test_paper_has_the_workings_of_what_asks_for_something_and_the_attachment_all() -> None:
    path = Path(__file__).parent.parent / "visit" / "common-flue.toml"
    sheet = hand_over.sheet_of(hand_over.judged_file(path, file.read(path)))
    reader = pypdf.PdfReader(io.BytesIO(document(sheet)))
    text = squeezed("\n".join(each.extract_text() for each in reader.pages))
    asking = {opened.heading for opened in phrase.behind_findings(sheet).workings}
    headings = {opened.heading for opened in sheet.workings}
    assert asking
    assert headings - asking
    assert {heading for heading in headings if squeezed(heading) in text} == asking
    data = json.loads(reader.attachments["readings.json"][0])
    assert [each["of"] for each in data["workings"]] == [opened.heading for opened in sheet.workings]
    assert all(each["formula"] and each["went in"] for each in data["workings"])


def test_all_readings_are_attached() -> None:
    reader = read("calm")
    assert len(reader.trailer["/Root"]["/AF"]) == 1
    (attached,) = reader.attachments["readings.json"]
    data = json.loads(attached)
    assert data["readings"] == example.calm().readings
    assert data["invented"] is True


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert document(example.calm()) == document(example.calm())


def test_pages_and_their_footers() -> None:
    reader = read("calm")
    assert 3 <= len(reader.pages) <= 6
    for number, each in enumerate(reader.pages, start=1):
        assert squeezed(f"{number} of {len(reader.pages)}") in squeezed(each.extract_text())
    widths = {float(each.mediabox.width) for each in reader.pages}
    assert widths == {612.0}
    assert round(float(read("calm", "a4").pages[0].mediabox.width)) == 595


def test_the_first_page_is_the_customers() -> None:
    words = read("calm").pages[0].extract_text()
    for each in ("What was wrong", "What this did not buy", "As found", "As left", "If the alarm sounds", "Not sealed"):
        assert squeezed(each) in squeezed(words)


def test_danger_is_first_and_no_efficiency_is_near_it() -> None:
    words = squeezed(read("danger").pages[0].extract_text())
    assert words.startswith(squeezed("Stop. Everybody out now, you too."))
    for word in ("efficien", "drygas", "ribbon", "fuel126"):
        assert word not in words.lower()


def test_danger_leaves_no_page_half_empty_and_its_drawings_come_last() -> None:
    """The customer's page stays one page, and the record is filled to the lower quarter of each page up to its end."""
    account = visits.visit(
        visits.stretch("as found", o2="2 %", co="3000 ppm", room_co="85 ppm", stack="250 C", air="20 C")
    )
    flame = visits.finding("stop", "as found", limit="at most 1000 ppm")
    room = visits.finding("stop", "as found", "carbon_monoxide_room", limit="at most 35 ppm")
    others = [visits.finding("act", "as found", code=code) for code in ("air-short", "saturated-cell", "inside-zero")]
    made = visits.sheet(account, flame, room, *others)
    pages = pypdf.PdfReader(io.BytesIO(document(made))).pages
    texts = [page.extract_text() for page in pages]
    wanted = (made.disclaimer[:30], phrase.RECORD, phrase.WORKINGS, phrase.TWINS)
    order = [next(i for i, text in enumerate(texts) if words in text) for words in wanted]
    assert order == sorted(order)
    assert order[:2] == [0, 1]
    for page in pages[1 : order[-1] - 1]:
        assert lowest(page) < 0.25 * float(page.mediabox.height)


def lowest(page: pypdf.PageObject) -> float:
    """Height of the lowest line of a page above its foot, the footer left out."""
    heights: list[float] = []

    def seen(text: str, matrix: list[float], line: list[float], *_: object) -> None:
        height = line[4] * matrix[1] + line[5] * matrix[3] + matrix[5]
        if text.strip() and height > FOOTER:
            heights.append(height)

    page.extract_text(visitor_text=seen)
    return min(heights)


FOOTER = 52.0
"""pt: the footer stands in the lower margin of 18 mm."""


def small(typed: str) -> Sheet:
    spans = tuple(Span(typed, voice) for voice in ("page", "measured", "derived", "hand"))
    return Sheet(
        title=typed or "x", lede=spans, running_left=typed, running_right="", disclaimer=typed, stops=(),
        sections=(Section(1, typed, (Line(1, "measured", "", spans, spans),)),), findings=(), cannot_tell=(typed,),
        done=(), next=(), figures=(), workings=(), closing=(typed,), customer={f"x{typed}": (typed,)},
    )  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(st.text(max_size=30))
def test_whatever_is_typed_is_set(typed: str) -> None:
    assert document(small(typed)).startswith(b"%PDF")


def test_a_very_long_text_runs_over_and_is_not_lost() -> None:
    """Letters below the footer, 28 pt above the edge, would be off the paper."""
    long = "word " * 800 + "end"
    stop = replace(example.danger().stops[0], why=long)
    finding = replace(example.calm().findings[0], finding=replace(example.calm().findings[0].finding, body=long))
    line = Line(1, "measured", "", (Span(long),), (Span(long),))
    sheet = replace(
        small("short"),
        stops=(stop,),
        findings=(finding,),
        sections=(Section(1, "One", (line,), long),),
        customer={"What": (long,)},
        cannot_tell=(long,),
        done=(long,),
        closing=(long,),
        running_left=long,
    )
    heights: list[float] = []

    def seen(text: str, page: list[float], line: list[float], *_: object) -> None:
        if text.strip():
            heights.append(line[4] * page[1] + line[5] * page[3] + page[5])

    ends = 0
    for each in pypdf.PdfReader(io.BytesIO(document(sheet))).pages:
        ends += each.extract_text(visitor_text=seen).count("end")
    assert min(heights) > 28
    assert ends >= 8


def test_markup_is_shown_and_not_run() -> None:
    typed = "#panic[x] *bold* $x$ \\ @ref <label> `raw` // comment"
    words = "".join(each.extract_text() for each in pypdf.PdfReader(io.BytesIO(document(small(typed)))).pages)
    assert squeezed(typed) in squeezed(words)


def test_signs_without_a_letter_are_said_to_be_missing() -> None:
    words = "".join(each.extract_text() for each in pypdf.PdfReader(io.BytesIO(document(small("锅炉 Łódź Ωμ")))).pages)
    assert "□□" in words
    assert squeezed("Łódź") in squeezed(words)
    assert squeezed(phrase.UNPRINTED) in squeezed(words)


def test_drawings_may_hold_other_letters_too() -> None:
    knots = (replace(example.plane().knots[0], word="Łódź Ж Ω", note="锅炉"),)
    figure = replace(example.calm().figures[1], data=replace(example.plane(), knots=knots))
    assert document(replace(example.calm(), figures=(figure,))).startswith(b"%PDF")


def test_a_warning_is_an_error(monkeypatch: pytest.MonkeyPatch, tmp_path: object) -> None:
    """A face that is not there is only a warning to the writer; here it stops the document."""
    monkeypatch.setattr(pdf, "type_folder", lambda: tmp_path)
    with pytest.raises(OurFault) as refused:
        document(example.calm())
    assert refused.value.code == "FW-Z-301"
