"""Every page there is, by the table of routes: axe, targets, narrow screens, zoom, grey, still, small, reachable."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from whole_kit import FILES, Whole, pages_of_routes

from fluewright.web.app import ROUTES

pytestmark = pytest.mark.browser
AXE = Path(__file__).resolve().parent.parent.parent / "web" / "node_modules" / "axe-core" / "axe.min.js"
PICTURES = os.environ.get("FLUEWRIGHT_PICTURES", "")
"""A folder into which each page is also written as a picture, in both inks; none where nobody says."""
INKS = (
    "paper.regular.normal.right",
    "lamp.regular.normal.right",
    "paper.strong.normal.right",
    "lamp.strong.normal.right",
)
PAGES = pages_of_routes()
RUN = "axe.run().then(r => r.violations.map(v => [v.id, v.nodes.map(n => n.html.slice(0, 160))]))"
SMALL = """least => [...document.querySelectorAll('a,summary,button,input:not([type=hidden]),textarea')]
.filter(e => e.checkVisibility() && !e.closest('svg'))
.map(e => [e.textContent.trim() || e.name, e.getBoundingClientRect()])
.filter(([_, box]) => box.height < least - .1 || box.width < least - .1).map(([name]) => name)"""
KEYS = "[...document.querySelectorAll('.dock button,.dock .keys a')].filter(e => e.checkVisibility())"
LOW = f"{KEYS}.filter(e => e.getBoundingClientRect().height < 79.9).map(e => e.textContent)"
MAIN = "[...document.querySelectorAll('.dock .main')].map(e => e.getBoundingClientRect().height)"
TILES = """() => { const large = 1.4 * parseFloat(getComputedStyle(document.body).fontSize);
const only = /^[-−+<>~]?[\\d.,]+\\s*[%°a-zA-Z/.]{0,8}$/;
return [...document.querySelectorAll('body *')].filter(e => e.checkVisibility() && only.test(e.textContent.trim())
&& parseFloat(getComputedStyle(e).fontSize) > large && e.nextElementSibling
&& only.test(e.nextElementSibling.textContent.trim())).map(e => e.textContent) }"""
UNTWINNED = """[...document.querySelectorAll('svg[role=img]')].filter(e => e.checkVisibility())
.filter(e => !e.closest('figure')?.querySelector('table')).map(e => e.getAttribute('aria-label'))"""
WIDE = "document.documentElement.scrollWidth"
ROUND = """[...document.querySelectorAll('body :not(input)')]
.filter(e => parseFloat(getComputedStyle(e).borderRadius) > 0).length"""
FOCUS = """() => { const e = document.activeElement; const box = e.getBoundingClientRect(); return [e.tagName,
(e.textContent || e.name || '').trim().slice(0, 40), box.top, getComputedStyle(e).outlineStyle] }"""


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Whole]:
    found = Whole(tmp_path_factory.mktemp("whole"))
    yield found
    found.close()


@pytest.fixture(scope="module")
def context(whole: Whole, chromium: Any) -> Iterator[Any]:
    made = chromium.new_context(bypass_csp=True, reduced_motion="reduce")
    whole.come_in(made).close()
    yield made
    made.close()


@pytest.fixture(scope="module")
def tab(context: Any) -> Iterator[Any]:
    made = context.new_page()
    yield made
    made.close()


@pytest.fixture(scope="module")
def addresses(whole: Whole) -> dict[str, str]:
    return whole.addresses()


def look(whole: Whole, tab: Any, address: str, words: str, width: int = 390, height: int = 844) -> Any:
    """One page in one ink at one size; the answer has to be a page."""
    tab.context.add_cookies([{"name": "fluewright-look", "value": words, "url": whole.here}])
    tab.set_viewport_size({"width": width, "height": height})
    answer = tab.goto(whole.here + address)
    assert answer.status == 200, (address, answer.status)
    return answer


def test_the_table_of_pages_is_whole() -> None:
    """A new page is looked at by itself; a new file has to say here that it is one."""
    asked = {path for method, path, *_ in ROUTES if method == "GET"}
    assert asked - set(FILES) == set(PAGES)
    assert len(PAGES) > 40


@pytest.mark.parametrize("ink", INKS)
@pytest.mark.parametrize("path", PAGES)
def test_axe_finds_nothing(whole: Whole, tab: Any, addresses: dict[str, str], path: str, ink: str) -> None:
    if not AXE.is_file():
        pytest.skip("axe-core is not here: it comes with the build of the pages (make setup)")
    look(whole, tab, addresses[path], ink)
    tab.add_script_tag(path=str(AXE))
    assert tab.evaluate(RUN) == []
    if PICTURES and ".regular." in ink:
        name = path.strip("/").translate(str.maketrans("/{}", "-  ")).replace(" ", "") or "today"
        Path(PICTURES).mkdir(parents=True, exist_ok=True)
        tab.screenshot(path=Path(PICTURES) / f"{name}-{ink.partition('.')[0]}.png", full_page=True)


@pytest.mark.parametrize("path", PAGES)
def test_every_page_fits_screens_and_hands(whole: Whole, tab: Any, addresses: dict[str, str], path: str) -> None:
    """From 320 px, on its side, at 200 % zoom of a tablet; in gloves keys of the foot are 80 px, the main one 104."""
    for words, width, height in (
        ("paper.regular.normal.right", 320, 640),
        ("lamp.strong.normal.left", 360, 740),
        ("paper.regular.glove.left", 360, 740),
        ("paper.strong.glove.right", 410, 590),
        ("paper.regular.normal.right", 1180, 820),
    ):
        look(whole, tab, addresses[path], words, width, height)
        assert tab.evaluate(WIDE) <= width, (words, width)
        assert tab.evaluate(SMALL, 44) == [], (words, width)
        dock = tab.locator(".dock").bounding_box()
        assert 0.8 * height <= dock["y"] + dock["height"] <= height + 0.5, ("the foot of the screen", words, width)
        if "glove" in words:
            assert tab.evaluate(LOW) == []
            assert all(each >= 104 for each in tab.evaluate(MAIN))


@pytest.mark.parametrize("path", PAGES)
def test_nothing_is_a_wall_of_numbers_and_nothing_moves(
    whole: Whole, tab: Any, addresses: dict[str, str], path: str
) -> None:
    look(whole, tab, addresses[path], INKS[0], 820, 1180)
    assert tab.evaluate(TILES) == []
    assert tab.evaluate(UNTWINNED) == []
    assert tab.evaluate(ROUND) == 0, "paper has no round corners"
    assert tab.evaluate("document.getAnimations().length") == 0
    assert tab.locator("h1").count() == 1
    assert tab.title()


@pytest.mark.parametrize("path", PAGES)
def test_a_page_prints_without_its_keys_and_in_black(
    whole: Whole, tab: Any, addresses: dict[str, str], path: str
) -> None:
    """From lamp ink, since paper is white whatever the screen is; what only a hand needs is left out."""
    look(whole, tab, addresses[path], "lamp.regular.normal.right", 820, 1180)
    tab.emulate_media(media="print")
    try:
        assert tab.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(255, 255, 255)"
        assert not tab.locator(".dock").first.is_visible()
        assert not tab.locator(".way").first.is_visible()
        ink = tab.evaluate("getComputedStyle(document.querySelector('main')).color")
        assert max(map(int, ink.removeprefix("rgb(").removesuffix(")").split(","))) < 60
    finally:
        tab.emulate_media(media="screen")


@pytest.mark.parametrize("path", PAGES)
def test_a_page_is_small(whole: Whole, chromium: Any, context: Any, addresses: dict[str, str], path: str) -> None:
    """What is fetched for a page, script and style too, without photographs and typefaces: bytes, not seconds."""
    fresh = chromium.new_context()
    fresh.add_cookies([{"name": c["name"], "value": c["value"], "url": whole.here} for c in context.cookies()])
    tab, bodies, elsewhere = fresh.new_page(), [], []
    tab.on("response", lambda each: bodies.append(each))
    tab.on("request", lambda asked: None if asked.url.startswith(whole.here) else elsewhere.append(asked.url))
    tab.goto(whole.here + addresses[path])
    weights = {each.url: len(each.body()) for each in bodies if each.request.resource_type != "font" and each.ok
               and each.status != 204}  # fmt: skip
    fresh.close()
    assert elsewhere == [], "no request leaves the machine"
    assert weights[next(iter(weights))] > 0
    assert sum(weights.values()) <= 180_000, weights


def test_typefaces_are_few_and_kept(whole: Whole, context: Any) -> None:
    """They are asked for once and kept by name; all that a sheet asks for weigh less than half a megabyte."""
    tab, fonts = context.new_page(), []
    tab.on("response", lambda each: fonts.append(each) if each.request.resource_type == "font" else None)
    tab.goto(f"{whole.here}/visit/{whole.visit}")
    tab.wait_for_function("() => document.fonts.status == 'loaded'")
    assert sum(len(each.body()) for each in fonts) < 500_000
    assert all("immutable" in each.headers["cache-control"] for each in fonts)
    tab.close()


def test_every_page_is_reached_in_words_and_in_few_taps(whole: Whole, tab: Any, addresses: dict[str, str]) -> None:
    """Following links from the letter of the day, at most four deep, all pages without an id of their own are found."""
    tab.set_viewport_size({"width": 390, "height": 844})
    plain = {address for path, address in addresses.items() if "{" not in path and not path.endswith("/new")}
    found, layer = {"/"}, ["/"]
    for _ in range(2):
        links: set[str] = set()
        for address in layer:
            tab.goto(whole.here + address)
            every = tab.eval_on_selector_all("a[href^='/']", "all => all.map(e => e.getAttribute('href'))")
            links |= {each.partition("?")[0].partition("#")[0] for each in every}
        layer = sorted((links - found) & plain)
        found |= links
    assert plain - found - {"/dangers", "/sign-in"} == set(), "the first when there are many, the second when asked"
    tab.goto(whole.here)
    assert tab.locator(".way > a, .way > span > a").count() <= 4, "no wall of links"


@pytest.mark.parametrize("path", PAGES)
def test_the_keyboard_reaches_what_a_finger_does(whole: Whole, tab: Any, addresses: dict[str, str], path: str) -> None:
    """By Tab alone through a page: the focus is seen, never trapped, and comes to the key that goes on."""
    look(whole, tab, addresses[path], INKS[0])
    count = tab.locator("a,button,input:not([type=hidden]),textarea,summary").count()
    main = tab.locator(".dock .main").first
    wanted = main.inner_text().strip() if main.count() else ""
    reached = set()
    for _ in range(min(count, 250) + 2):
        tab.keyboard.press("Tab")
        tag, words, _, outline = tab.evaluate(FOCUS)
        reached.add(words)
        if tag in ("A", "BUTTON", "SUMMARY"):
            assert outline != "none", (tag, words)
        if wanted and words == wanted[:40]:
            break
    assert not wanted or wanted[:40] in reached
