"""The pages in real Chromium: they fit phones and hands, and a visit goes from the door to the seal by keyboard."""

import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from pages_kit import TOKEN, WHOLE, Pages

from fluewright.cli.serve import _listening
from fluewright.visit import adding, changing, demonstration, kept

DOOR = {
    "visit": {"title": "Made-up visit", "date": "2026-11-24", "jurisdiction": "US"},
    "appliance": {"words": "water heater"},
    "fuel": {"name": "natural-gas"},
}
WIDTHS = (360, 390, 820)
LOOKS = ("paper.regular.normal.right", "lamp.strong.normal.left", "paper.regular.glove.right")
LEAST = 44
SMALL = """least => [...document.querySelectorAll('a,summary,button,input:not([type=hidden]),textarea')]
.filter(e => e.checkVisibility()).map(e => [e.textContent.trim() || e.name, e.getBoundingClientRect()])
.filter(([_, box]) => box.height < least - .1 || box.width < least - .1).map(([name]) => name)"""

pytestmark = pytest.mark.browser


class Served:
    """The pages on a port of this machine, and the ids of invented visits in them."""

    def __init__(self, folder: Path) -> None:
        self.socket = _listening(0)
        self.here = f"http://127.0.0.1:{self.socket.getsockname()[1]}"
        self.pages = Pages(folder, port=self.socket.getsockname()[1])
        self.server = uvicorn.Server(uvicorn.Config(self.pages.app, log_level="error"))
        self.thread = threading.Thread(target=self.server.run, args=([self.socket],), daemon=True)
        self.thread.start()
        journal = self.pages.journal
        place = folder / "demo"
        place.mkdir()
        self.demo = kept.brought_in(journal, demonstration.lay_out(place)).id
        self.danger = kept.begun(journal, DOOR).id
        adding.added(journal, self.danger, "room: symptoms=yes")
        changing.noticed(journal, self.danger, "flue gas spills into the cellar", consent="refused")
        heater = {"words": "water heater", "class": "natural-draft-water-heater"}
        self.open = kept.begun(journal, {**DOOR, "appliance": heater}).id
        adding.added(journal, self.open, "o2 6 co 150 stack 400F air 68F draft +1Pa")

    def close(self) -> None:
        self.server.should_exit = True
        self.thread.join(10)
        self.pages.close()


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    found = Served(tmp_path_factory.mktemp("served"))
    yield found
    found.close()


@pytest.fixture(scope="module")
def context(served: Served, chromium: Any) -> Iterator[Any]:
    """A browser that has come in."""
    made = chromium.new_context()
    tab = made.new_page()
    tab.goto(f"{served.here}/open?token={TOKEN}")
    tab.close()
    yield made
    made.close()


def paths(served: Served) -> list[str]:
    of_visit = [f"/visit/{served.demo}{page}" for page in ("", "/step", "/notice", "/seal", "/entries")]
    return [
        "/",
        "/find",
        "/find?words=nowhere",
        "/visit/new",
        "/look",
        "/nowhere",
        f"/visit/{served.danger}",
        f"/visit/{served.open}/seal",
        *of_visit,
    ]


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("width", WIDTHS)
def test_every_page_fits_screens_and_hands(served: Served, context: Any, width: int, look: str) -> None:
    context.add_cookies([{"name": "fluewright-look", "value": look, "url": served.here}])
    tab = context.new_page()
    tab.set_viewport_size({"width": width, "height": 800})
    elsewhere: list[str] = []
    tab.on("request", lambda request: None if request.url.startswith(served.here) else elsewhere.append(request.url))
    for path in paths(served):
        tab.goto(served.here + path)
        assert tab.evaluate("document.documentElement.scrollWidth") <= width, path
        assert tab.evaluate(SMALL, LEAST) == [], path
        ink = "rgb(0, 0, 0)" if look.startswith("lamp") else "rgb(242, 245, 236)"
        assert tab.evaluate("getComputedStyle(document.documentElement).backgroundColor") == ink
        if "glove" in look and tab.query_selector(".keys .main"):
            assert tab.evaluate("document.querySelector('.keys .main').getBoundingClientRect().height") >= 104
    assert elsewhere == []
    tab.close()


def test_the_open_line_is_at_thumb_height(served: Served, context: Any) -> None:
    tab = context.new_page()
    tab.set_viewport_size({"width": 390, "height": 844})
    for path in paths(served):
        tab.goto(served.here + path)
        dock = tab.query_selector(".dock")
        assert dock, path
        box = dock.bounding_box()
        assert box["y"] + box["height"] >= 0.9 * 844, path
        assert box["y"] + box["height"] <= 844.5, path
    tab.close()


class Hand:
    """Keys pressed, counted."""

    def __init__(self, tab: Any) -> None:
        self.tab = tab
        self.count = 0

    def types(self, text: str) -> None:
        self.tab.keyboard.type(text)
        self.count += len(text)

    def presses(self, key: str, *, leads: bool = False) -> None:
        self.count += 1
        if not leads:
            self.tab.keyboard.press(key)
            return
        was = "(document.querySelector('input[name=sent],input[name=form]') || {}).value"
        before = self.tab.evaluate(was)
        self.tab.keyboard.press(key)
        self.tab.wait_for_function(f"before => document.readyState == 'complete' && {was} != before", arg=before)

    def goes_to(self, name: str) -> None:
        """Tab until something of that name has the focus."""
        for _ in range(160):
            said = "(e => e.textContent.trim() || e.name)(document.activeElement)"
            if self.tab.evaluate(said) == name:
                return
            self.presses("Tab")
        raise AssertionError(f"{name} cannot be reached by keyboard")


@pytest.mark.parametrize("script", [True, False])
def test_a_visit_by_keyboard_alone(served: Served, context: Any, chromium: Any, script: bool) -> None:
    """Nine readings, a step, the seal: at most 140 keys besides the words at the door, of the step and of the name."""
    made = chromium.new_context(java_script_enabled=script, viewport={"width": 390, "height": 844})
    made.add_cookies([{"name": c["name"], "value": c["value"], "url": served.here} for c in context.cookies()])
    tab = made.new_page()
    tab.goto(f"{served.here}/visit/new")
    hand = Hand(tab)
    tab.keyboard.type("boiler that does not exist")
    hand.presses("Enter", leads=True)
    hand.types("o2 7.1 co 52 stack 431F air 66F")
    hand.presses("Enter", leads=True)
    assert "kept on this machine" in tab.inner_text(".said")
    visit = tab.url.partition("?")[0]
    tab.goto(f"{visit}/step")
    hand.count += 1
    tab.keyboard.type("air band closed a quarter turn")
    hand.presses("Enter", leads=True)
    for line in ("o2 5.6 co 21 stack 389F air 66F", "draft -.02 at breech"):
        hand.types(line)
        hand.presses("Enter", leads=True)
    tab.goto(f"{visit}/seal")
    hand.count += 1
    tab.fill("[name=name]", "T. Placeholder (invented)")
    tab.focus("[name=name]")
    hand.presses("Enter", leads=True)
    assert "Sealed by T. Placeholder (invented)" in tab.inner_text("main")
    assert hand.count <= 140
    tab.goto(visit)
    if script:
        hand.goes_to("entries")
    tab.close()
    made.close()


def test_a_danger_notice_takes_six_taps(served: Served, context: Any) -> None:
    tab = context.new_page()
    tab.set_viewport_size({"width": 390, "height": 844})
    context.add_cookies([{"name": "fluewright-look", "value": LOOKS[0], "url": served.here}])
    tab.goto(f"{served.here}/visit/{served.demo}")
    taps = 0
    for target in ("text=danger >> nth=-1", "#f-words", "[value=absent]", "text=keep the notice"):
        tab.click(target)
        taps += 1
        if target == "#f-words":
            tab.keyboard.type("the flue is off its collar")
    tab.wait_for_url("**kept=*")
    assert taps <= 6
    assert "The flue is off its collar." in tab.inner_text(".halt")
    tab.close()


def test_back_goes_back_and_keeps_nothing_twice(served: Served, context: Any) -> None:
    tab = context.new_page()
    visit = f"{served.here}/visit/{served.danger}"
    tab.goto(visit)
    tab.fill("#line", "note asked again")
    tab.press("#line", "Enter")
    tab.wait_for_selector("#said")
    count = served.pages.count(served.danger)
    tab.goto(f"{served.here}/")
    tab.go_back()
    tab.reload()
    assert served.pages.count(served.danger) == count
    assert tab.input_value("#line") == ""
    tab.close()


def test_a_page_is_small_and_soon_there(served: Served, context: Any) -> None:
    """A sheet of typed readings weighs less than 180 kB; one with two whole traces, each drawn for two widths, 350."""
    visit = kept.begun(served.pages.journal, DOOR).id
    adding.added(served.pages.journal, visit, WHOLE)
    for path, most in (("/", 180_000), (f"/visit/{visit}", 180_000), (f"/visit/{served.demo}", 350_000)):
        tab = context.new_page()
        began = time.perf_counter()
        answer = tab.goto(served.here + path)
        assert time.perf_counter() - began < 3, path
        assert len(answer.body()) < most, path
        tab.close()
