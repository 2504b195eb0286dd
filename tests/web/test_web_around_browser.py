"""The pages around the visit in real Chromium: they fit phones and hands, and an empty shop is soon usable."""

import re
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from pages_kit import TOKEN, Pages

from fluewright.cli.serve import _listening
from fluewright.visit import demo_shop

LEAST = 44
SMALL = """least => [...document.querySelectorAll('a,summary,button,input:not([type=hidden]),textarea')]
.filter(e => e.offsetParent).map(e => [e.textContent.trim() || e.name, e.getBoundingClientRect()])
.filter(([_, box]) => box.height < least - .1 || box.width < least - .1).map(([name]) => name)"""
BOXES = """() => [...document.querySelectorAll('main *:not(input)')]
.filter(e => getComputedStyle(e).borderRadius !== '0px').length"""

pytestmark = pytest.mark.browser


class Served:
    """An invented shop on a port of this machine."""

    def __init__(self, folder: Path, *, filled: bool) -> None:
        self.socket = _listening(0)
        port = self.socket.getsockname()[1]
        self.here = f"http://127.0.0.1:{port}"
        told = {"books": folder / "books", "copies": folder / "copies", "practice": filled}
        self.pages = Pages(folder, port=port, **told)
        if filled:
            demo_shop.filled(self.pages.journal, self.pages.app.state.shop.settings.key)
        self.server = uvicorn.Server(uvicorn.Config(self.pages.app, log_level="error"))
        self.thread = threading.Thread(target=self.server.run, args=([self.socket],), daemon=True)
        self.thread.start()

    def close(self) -> None:
        self.server.should_exit = True
        self.thread.join(10)
        self.pages.close()

    def tab(self, chromium: Any, **told: Any) -> Any:
        """A page in a browser of its own that has come in."""
        made = chromium.new_context(viewport={"width": 390, "height": 844}, **told).new_page()
        made.goto(f"{self.here}/open?token={TOKEN}")
        return made


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    found = Served(tmp_path_factory.mktemp("around"), filled=True)
    yield found
    found.close()


@pytest.fixture(scope="module")
def tab(served: Served, chromium: Any) -> Iterator[Any]:
    made = served.tab(chromium)
    yield made
    made.context.close()


def found_at(tab: Any, served: Served, words: str, kind: str) -> str:
    tab.goto(f"{served.here}/find?words={words}")
    links = tab.eval_on_selector_all("main a", "all => all.map(each => each.getAttribute('href'))")
    return str(next(link for link in links if re.match(f"/{kind}/", link)))


def test_every_page_around_fits_screens_and_hands(served: Served, tab: Any) -> None:
    things = [("furnace", "appliance"), ("147", "site"), ("zubbadorf", "customer"), ("analyser two", "instrument")]
    paths = [found_at(tab, served, words, kind) for words, kind in things]
    paths += [
        "/",
        "/instruments",
        "/rules",
        "/rules/of/practice-co-act",
        "/rules/house",
        "/settings",
        "/records",
        "/people",
    ]
    paths += ["/customer/new", "/site/new", "/appliance/new", "/instrument/new", "/check/new", f"{paths[0]}/amend"]
    elsewhere: list[str] = []
    tab.on("request", lambda request: None if request.url.startswith(served.here) else elsewhere.append(request.url))
    for width, look in ((360, "lamp.strong.normal.left"), (820, "paper.regular.glove.right")):
        tab.context.add_cookies([{"name": "fluewright-look", "value": look, "url": served.here}])
        tab.set_viewport_size({"width": width, "height": 800})
        for path in paths:
            tab.goto(served.here + path)
            assert tab.evaluate("document.documentElement.scrollWidth") <= width, (path, width)
            assert tab.evaluate(SMALL, LEAST) == [], (path, width)
            assert tab.evaluate(BOXES) == 0, path
            assert tab.query_selector(".dock .keys"), path
    assert elsewhere == []


def test_an_empty_shop_is_usable_by_hand_without_script(tmp_path: Path, chromium: Any) -> None:
    """From the first page to the first kept reading, with instrument, customer and appliance entered on the way."""
    served = Served(tmp_path, filled=False)
    tab = served.tab(chromium, java_script_enabled=False)
    tab.click("text=enter the instrument you read with")
    tab.fill("[name=words]", "analyser that does not exist")
    tab.click("button.main")
    tab.click("text=begin a visit with it")
    assert tab.input_value("[name=instrument]") == "analyser that does not exist"
    for name, words in (("appliance", "gas boiler"), ("site", "Made-up Street 1"), ("customer", "Ms. Nobody")):
        tab.fill(f"[name={name}]", words)
    tab.click("text=open the visit")
    tab.fill("#line", "o2 4.3 co 38 stack 385F air 66F")
    tab.press("#line", "Enter")
    tab.wait_for_url("**kept=*")
    tab.goto(found_at_link(tab, served, "boiler"))
    assert "Last visited on" in tab.inner_text("main")
    assert tab.locator("svg.dr").first.count() == 1
    tab.go_back()
    assert "boiler" in tab.inner_text("main")
    tab.context.close()
    served.close()


def found_at_link(tab: Any, served: Served, words: str) -> str:
    return served.here + found_at(tab, served, words, "appliance")


def test_a_drawing_says_the_same_as_its_table(served: Served, tab: Any) -> None:
    tab.set_viewport_size({"width": 820, "height": 1180})
    tab.goto(served.here + found_at(tab, served, "furnace", "appliance"))
    discs = tab.locator(".wide svg circle").count()
    tab.click(".twin summary")
    cells = tab.locator(".twin td").all_inner_texts()
    values = sum(cell.count("±") for cell in cells)
    assert discs == values > 8
