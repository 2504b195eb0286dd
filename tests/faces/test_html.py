"""The HTML sheet: self-contained, escaped, every link answered, readable by hand, eye and screen reader."""

import re
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import example
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from same import missing

from fluewright.report.html import page
from fluewright.report.tree import Line, Section, Sheet, Span

VOID = {"meta", "br", "link", "img"}
SHEETS = {"calm": example.calm(), "danger": example.danger()}


class Reader(HTMLParser):
    """Collects tags, ids, links and visible text, and sees that every tag is closed in order."""

    def __init__(self, made: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.tags: set[str] = set()
        self.words: list[str] = []
        self.feed(made)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        for name, value in attrs:
            assert not name.startswith("on"), name
            if name == "id":
                self.ids.append(value or "")
            if name in ("href", "src", "action"):
                self.links.append(value or "")
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not {"style", "svg"} & set(self.open):
            self.words.append(data)


@pytest.mark.parametrize("name", SHEETS)
def test_every_sentence_is_there(name: str) -> None:
    reader = Reader(page(SHEETS[name]))
    assert reader.open == []
    assert missing(SHEETS[name], "".join(reader.words)) == []


@pytest.mark.parametrize("name", SHEETS)
def test_the_file_needs_nothing_else(name: str) -> None:
    made = page(SHEETS[name])
    assert len(made.encode()) < 700_000
    reader = Reader(made)
    assert not {"script", "link", "iframe", "object", "form", "img"} & reader.tags
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", made)
    assert re.findall(r"url\((?!data:)", made) == []
    assert "default-src 'none'" in unescape(made)


def test_every_link_has_its_place_and_every_id_is_one() -> None:
    reader = Reader(page(example.calm()))
    assert len(reader.ids) == len(set(reader.ids))
    assert {link.removeprefix("#") for link in reader.links} <= set(reader.ids)
    assert "#w-loss-found" in reader.links
    assert "#w-co-left" not in reader.links, "this working is not in the appendix"


def test_every_drawing_has_its_table() -> None:
    made = page(example.calm())
    assert made.count("<figure") == made.count('class="twin"') == 3


def test_a_stop_sentence_is_first() -> None:
    made = page(example.danger())
    body = made[made.index("<body>") :]
    assert body.index('class="halt"') < body.index("<h1")
    assert 'role="alert"' in body
    assert "<details" not in body[body.index('class="halt"') : body.index("<h1")], "it cannot be folded away"


@settings(max_examples=30, deadline=None)
@given(st.text(alphabet=st.characters(blacklist_categories=("Cs",)), max_size=40))
def test_nothing_typed_acts_on_the_page(typed: str) -> None:
    hostile = f'{typed}</style></title><script>alert(1)</script><img src=x onerror="x">"\'&'
    spans = tuple(
        Span(hostile, voice) for voice in ("page", "measured", "derived", "plate", "unknown", "hand", "strong")
    )
    sheet = Sheet(
        title=hostile, lede=spans, running_left=hostile, running_right=hostile, disclaimer=hostile, stops=(),
        sections=(Section(1, hostile, (Line(1, "measured", hostile, spans, spans),), hostile),), findings=(),
        cannot_tell=(hostile,), done=(hostile,), next=(hostile,), figures=(), workings=(), closing=(hostile,),
        customer={hostile: (hostile,)},
    )  # fmt: skip
    reader = Reader(page(sheet))
    assert not {"script", "img"} & reader.tags
    assert reader.open == []


def test_further_letters_come_only_when_they_are_needed() -> None:
    few, more = page(example.calm()), page(replace(example.calm(), title="Kocioł w Łodzi"))
    assert len(more) > len(few) + 100_000
    assert len(more.encode()) < 850_000


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("pages")
    made = {}
    for name, sheet in SHEETS.items():
        made[name] = folder / f"{name}.html"
        made[name].write_text(page(sheet), encoding="utf-8")
    return made


@pytest.mark.browser
@pytest.mark.parametrize("name", SHEETS)
def test_it_fits_hands_and_screens(name: str, files: dict[str, Path], chromium: Any) -> None:
    for width in (320, 360, 390, 820, 1180):
        tab = chromium.new_page(viewport={"width": width, "height": 800})
        tab.goto(files[name].as_uri())
        assert tab.evaluate("document.documentElement.scrollWidth") <= width
        small = tab.evaluate(
            """[...document.querySelectorAll('a,summary')].filter(e => e.offsetParent)
            .map(e => [e.textContent, e.getBoundingClientRect().height]).filter(x => x[1] < 43.9)"""
        )
        assert small == []
        tab.close()


@pytest.mark.browser
def test_a_number_opens_its_working(files: dict[str, Path], chromium: Any) -> None:
    tab = chromium.new_page(viewport={"width": 390, "height": 800})
    tab.goto(files["calm"].as_uri())
    formula = tab.locator("#w-loss-found .eq").first
    assert not formula.is_visible()
    tab.click('a[href="#w-loss-found"]')
    assert formula.is_visible()
    tab.close()


TILES = """() => {
  const body = parseFloat(getComputedStyle(document.body).fontSize), found = [];
  const tile = e => /^[\\s±<>≤≥~−+-]*[\\d.,]+(\\s*±\\s*[\\d.,]+)?\\s*\\S{0,8}$/.test(e.textContent.trim())
    && parseFloat(getComputedStyle(e).fontSize) > 1.4 * body;
  for (const e of document.querySelectorAll('main *')) {
    if ([...e.children].filter(tile).length > 1) found.push(e.className);
  }
  return found;
}"""


@pytest.mark.browser
def test_no_wall_of_large_numbers(files: dict[str, Path], chromium: Any) -> None:
    """No two siblings that are only number and unit, set larger than 1.4 times the body."""
    for path in files.values():
        for width in (390, 1180):
            tab = chromium.new_page(viewport={"width": width, "height": 800})
            tab.goto(path.as_uri())
            assert tab.evaluate(TILES) == []
            tab.evaluate(
                "document.querySelector('main').innerHTML += '<div><b style=\"font-size:60px\">5 %</b>"
                '<b style="font-size:60px">9 ppm</b></div>\''
            )
            assert tab.evaluate(TILES), "the test itself would see one"
            tab.close()


@pytest.mark.browser
def test_marks_differ_in_grey(files: dict[str, Path], chromium: Any) -> None:
    tab = chromium.new_page(viewport={"width": 820, "height": 800}, device_scale_factor=2)
    tab.goto(files["danger"].as_uri())
    tab.add_style_tag(content="html{filter:grayscale(1)} .k{margin:3px}")
    marks = tab.query_selector_all(".legend .k")
    assert len({mark.screenshot() for mark in marks}) == len(marks) == 5
    tab.close()


@pytest.mark.browser
def test_the_two_switches_exchange_ink_and_weight(files: dict[str, Path], chromium: Any) -> None:
    tab = chromium.new_page(viewport={"width": 820, "height": 800})
    tab.goto(files["calm"].as_uri())

    def colours() -> list[str]:
        ground = "getComputedStyle(document.documentElement).backgroundColor"
        weight = "getComputedStyle(document.body).fontWeight"
        return [tab.evaluate(ground), tab.evaluate(weight)]

    assert colours() == ["rgb(242, 245, 236)", "420"]
    tab.click("#ink summary")
    assert colours() == ["rgb(0, 0, 0)", "420"]
    tab.click("#weight summary")
    assert colours() == ["rgb(0, 0, 0)", "560"]
    tab.emulate_media(media="print")
    assert colours()[0] == "rgb(255, 255, 255)"
    tab.close()
