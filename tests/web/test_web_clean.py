"""The visit page to other eyes and hands: axe, targets, gloves, zoom, greyscale, no wall of numbers, no motion."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hands_kit import DOOR, Door, come_in

from fluewright.visit import adding, changing, kept

pytestmark = pytest.mark.browser
AXE = Path(__file__).resolve().parent.parent.parent / "web" / "node_modules" / "axe-core" / "axe.min.js"
INKS = (
    "paper.regular.normal.right",
    "lamp.regular.normal.right",
    "paper.strong.normal.right",
    "lamp.strong.normal.right",
)
SMALL = """least => [...document.querySelectorAll('a,summary,button,input:not([type=hidden]),textarea')]
.filter(e => e.checkVisibility() && !e.closest('svg'))
.map(e => [e.textContent.trim() || e.name, e.getBoundingClientRect()])
.filter(([_, box]) => box.height < least - .1 || box.width < least - .1).map(([name]) => name)"""
TILES = """() => { const large = 1.4 * parseFloat(getComputedStyle(document.body).fontSize);
const only = /^[-−+<>~]?[\\d.,]+\\s*[%°a-zA-Z/.]{0,8}$/;
return [...document.querySelectorAll('body *')].filter(e => e.checkVisibility() && only.test(e.textContent.trim())
&& parseFloat(getComputedStyle(e).fontSize) > large && e.nextElementSibling
&& only.test(e.nextElementSibling.textContent.trim())).map(e => e.textContent) }"""
MOVING = "document.getAnimations().length"
UNTWINNED = """[...document.querySelectorAll('svg[role=img]')].filter(e => e.checkVisibility())
.filter(e => !e.closest('figure')?.querySelector('table')).length"""


@pytest.fixture(scope="module")
def visit(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Door, str]]:
    found = Door(tmp_path_factory.mktemp("clean"))
    made = kept.begun(found.pages.journal, DOOR).id
    for line in ("room: symptoms=no", "o2 7.1 co 52 stack 431F air 66F at below hood, left of baffle"):
        adding.added(found.pages.journal, made, line)
    changing.stepped(found.pages.journal, made, "air openings cleared")
    adding.added(found.pages.journal, made, "o2 5.6 co 21 stack 389F air 66F at below hood, left of baffle")
    yield found, made
    found.shut()


@pytest.fixture(scope="module")
def context(visit: tuple[Door, str], chromium: Any) -> Iterator[Any]:
    made = chromium.new_context(bypass_csp=True, reduced_motion="reduce")
    come_in(visit[0], made)
    yield made
    made.close()


def looked(visit: tuple[Door, str], context: Any, look: str, width: int = 390, height: int = 844) -> Any:
    door, code = visit
    context.add_cookies([{"name": "fluewright-look", "value": look, "url": door.here}])
    tab = context.new_page()
    tab.set_viewport_size({"width": width, "height": height})
    tab.goto(f"{door.here}/visit/{code}")
    return tab


@pytest.mark.parametrize("look", INKS)
def test_axe_finds_nothing(visit: tuple[Door, str], context: Any, look: str) -> None:
    if not AXE.is_file():
        pytest.skip("axe-core is not here: it comes with the build of the pages (make setup)")
    tab = looked(visit, context, look)
    tab.locator("[data-key=pad]").click()
    tab.add_script_tag(path=str(AXE))
    for flap in (None, ".strip summary >> nth=0", ".strip summary >> nth=1", ".why > summary"):
        if flap:
            tab.locator(flap).click()
        found = tab.evaluate(
            "axe.run().then(r => r.violations.map(v => [v.id, v.nodes.map(n => n.html.slice(0, 120))]))"
        )
        assert found == []
    tab.close()


@pytest.mark.parametrize(("width", "height"), [(360, 740), (740, 360), (820, 1180), (410, 590)])
@pytest.mark.parametrize("look", ["paper.regular.normal.right", "lamp.strong.normal.left", "paper.regular.glove.right"])
def test_every_target_can_be_hit(visit: tuple[Door, str], context: Any, look: str, width: int, height: int) -> None:
    """Phone, phone on its side, tablet, and a tablet at 200 % zoom, with the number keys up."""
    tab = looked(visit, context, look, width, height)
    if tab.is_hidden("#pad"):
        tab.locator("[data-key=pad]").click()
    assert tab.evaluate("document.documentElement.scrollWidth") <= width
    assert tab.evaluate(SMALL, 44) == []
    if "glove" in look:
        keys = "[...document.querySelectorAll('#dock button,#dock .strip>a,#dock .foot>a')]"
        low = f"{keys}.filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 79.9)"
        assert tab.evaluate(f"{low}.map(e => e.textContent)") == []
        assert tab.evaluate("document.querySelector('.foot .main').getBoundingClientRect().height") >= 104
    box = tab.query_selector(".foot").bounding_box()
    assert box["y"] + box["height"] <= height + 0.5, "the keys stand at the foot of the screen"
    tab.close()


def test_nothing_is_a_wall_of_numbers_and_nothing_moves(visit: tuple[Door, str], context: Any) -> None:
    tab = looked(visit, context, INKS[0], 820, 1180)
    assert tab.evaluate(TILES) == []
    assert tab.evaluate(MOVING) == 0
    assert tab.evaluate(UNTWINNED) == 0
    tab.close()


def test_state_is_said_without_colour(visit: tuple[Door, str], context: Any) -> None:
    """Kept and in the hand, chosen and not chosen, danger and not: each pair differs in a shape or a word."""
    tab = looked(visit, context, INKS[0])
    style = "(name, part) => getComputedStyle(document.querySelector(name), part)"
    kept_rule = tab.evaluate(f"({style})('.line:not(.todo) .g', '::after').borderRightStyle")
    to_come = tab.evaluate(f"({style})('.todo:not(.now) .g', '::after').borderRightStyle")
    in_hand = tab.evaluate(f"({style})('.todo.now .g', '::after').borderRightWidth")
    assert (kept_rule, to_come) == ("solid", "dotted")
    assert in_hand != tab.evaluate(f"({style})('.line:not(.todo) .g', '::after').borderRightWidth")
    assert tab.inner_text(".strip .danger").strip() == "danger"
    tab.close()


def test_the_page_prints_as_a_sheet(visit: tuple[Door, str], context: Any) -> None:
    tab = looked(visit, context, INKS[2], 820, 1180)
    tab.emulate_media(media="print")
    assert tab.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(255, 255, 255)"
    assert not tab.is_visible("#dock")
    assert not tab.is_visible("#still")
    assert tab.is_visible(".side-by-side")
    tab.close()


def test_only_events_are_announced(visit: tuple[Door, str], context: Any) -> None:
    """One live region for what happened; what is being typed is no event."""
    tab = looked(visit, context, INKS[0])
    live = "[...document.querySelectorAll('[aria-live],[role=status],[role=alert]')].map(e => e.id || e.className)"
    assert set(tab.evaluate(live)) == {"events", "gone"}
    assert tab.evaluate("document.querySelector('#trying').closest('[aria-live],[role=status]')") is None
    tab.close()
