"""A technician's hands: whole visits by shorthand and by taps, each counted; dangers, photographs, a machine gone."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hands_kit import DOOR, Door, Hand, come_in, picture

from fluewright.visit import adding, kept

pytestmark = pytest.mark.browser
PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
TABLET = {"viewport": {"width": 820, "height": 1180}}


@pytest.fixture(scope="module")
def door(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Door]:
    found = Door(tmp_path_factory.mktemp("hands"))
    yield found
    found.shut()


@pytest.fixture(scope="module")
def phone(door: Door, chromium: Any) -> Iterator[Any]:
    made = chromium.new_context(**PHONE)
    come_in(door, made)
    yield made
    made.close()


@pytest.fixture(scope="module")
def tablet(phone: Any, door: Door, chromium: Any) -> Iterator[Any]:
    made = chromium.new_context(**TABLET)
    made.add_cookies([{"name": c["name"], "value": c["value"], "url": door.here} for c in phone.cookies()])
    yield made
    made.close()


def opened(door: Door, context: Any) -> tuple[str, Any]:
    visit = kept.begun(door.pages.journal, DOOR).id
    tab = context.new_page()
    tab.goto(f"{door.here}/visit/{visit}")
    return visit, tab


def told(what: str, hand: Hand, most: int) -> None:
    print(f"\n{what}: {hand.count} of at most {most}, {hand.read} readings and answers")
    assert hand.count <= most


def whole(hand: Hand, folder: Path, line: str = "") -> None:
    """Everything that is proposed, two steps with what they did, a photograph, the seal, the paper.

    line  shorthand for four readings at once, typed where the first point of the flame is proposed
    """
    hand.photograph(picture(folder))
    while hand.answer():
        if line and hand.what().startswith("oxygen, below hood, left"):
            hand.tap(".strip summary:has-text('point')")
            hand.tap(".points a:has-text('left of baffle')")
            hand.tab.wait_for_url("**at=below**")
            hand.line(line, readings=4)
            line = ""
    for step in ("air openings cleared", "gas pressure set"):
        hand.step(step)
        while hand.tab.query_selector("#asked .what b") and hand.tab.query_selector("#open input[name=before]"):
            hand.answer()
    hand.seal()
    assert hand.tab.locator("text=the paper").count() == 1
    hand.count += 1


def test_a_whole_visit_by_shorthand(door: Door, tablet: Any, tmp_path: Path) -> None:
    visit, tab = opened(door, tablet)
    hand = Hand(tab, touch=False)
    whole(hand, tmp_path, "o2 6.1 co 38 stack 385 air 66")
    told("a whole gas visit at a keyboard, with shorthand", hand, 140)
    assert hand.read >= 26
    answer = tab.request.get(f"{door.here}/visit/{visit}/paper.pdf")
    assert answer.body().startswith(b"%PDF")
    tab.close()


def test_a_whole_visit_by_taps_alone(door: Door, phone: Any, tmp_path: Path) -> None:
    _, tab = opened(door, phone)
    hand = Hand(tab, touch=True)
    whole(hand, tmp_path)
    told("a whole gas visit by taps alone", hand, 260)
    assert hand.read >= 26
    tab.close()


def test_a_routine_visit_of_twelve_readings(door: Door, phone: Any) -> None:
    _, tab = opened(door, phone)
    hand = Hand(tab, touch=True)
    wanted = ("how everybody feels", "worn meter", "carbon monoxide on entry", "carbon monoxide alarms", "gas pipes",
              "gas pressure", "spillage", "draft", "oxygen", "carbon monoxide, ", "stack", "air to")  # fmt: skip
    for _ in range(60):
        if hand.read >= 12:
            break
        if hand.what().startswith(wanted):
            hand.answer()
        else:
            hand.until_kept(lambda: tab.evaluate("document.querySelector('.foot a').click()"))
    assert hand.read >= 12
    told("a routine visit of twelve readings", hand, 45)
    tab.close()


def test_a_danger_by_taps_alone(door: Door, phone: Any) -> None:
    for consent in ("refused", "agreed to shutting down"):
        _, tab = opened(door, phone)
        hand = Hand(tab, touch=True)
        hand.tap(".strip .danger")
        hand.tap("label:has-text('flue gas spills')")
        hand.tap("label:has-text('shut off and labelled')")
        hand.tap(f"label:has-text('{consent}')")
        hand.tap("button.main")
        tab.wait_for_selector(".halt[role=alert]")
        told(f"a danger notice, {consent}", hand, 6)
        assert tab.locator(".halted").is_visible()
        tab.close()


def test_a_danger_interrupts(door: Door, tablet: Any) -> None:
    """A stop sentence that arises with a line has the screen, and is an alert; the words of the bar lead to it."""
    _, tab = opened(door, tablet)
    hand = Hand(tab, touch=False)
    hand.until_kept(lambda: (tab.fill("#line", "room: symptoms=no"), tab.press("#line", "Enter")))
    hand.until_kept(lambda: (tab.fill("#line", "room_co 120 rising"), tab.press("#line", "Enter")))
    assert tab.evaluate("scrollY") == 0
    assert tab.evaluate("document.activeElement.closest('.halt[role=alert]') !== null")
    tab.close()


def test_what_is_typed_is_understood_while_it_is_typed(door: Door, tablet: Any) -> None:
    visit, tab = opened(door, tablet)
    refused: list[str] = []
    tab.on("console", lambda said: refused.append(said.text) if said.type == "error" else None)
    count = door.pages.count(visit)
    tab.fill("#line", "o2 4.3 co 40..120 rising stack 385F foo")
    tab.wait_for_selector("#trying .rest")
    said = tab.inner_text("#trying")
    assert "oxygen 4.3 %, carbon monoxide 40..120 ppm, rising" in said
    assert "not understood yet: foo" in said
    assert tab.query_selector("#four") is None, "nobody is scolded while typing"
    assert door.pages.count(visit) == count, "nothing is kept by it"
    tab.press("#line", "Enter")
    tab.wait_for_selector("#four")
    assert tab.input_value("#line").endswith("foo"), "what was typed stands beside its error"
    assert not [each for each in refused if "Content Security Policy" in each or "Refused" in each]
    tab.close()


def test_a_line_opens_what_stands_behind_it(door: Door, tablet: Any) -> None:
    visit, tab = opened(door, tablet)
    adding.added(door.pages.journal, visit, "o2 4.3 co 38 stack 385F air 66F at below hood, left of baffle")
    tab.reload()
    line = tab.locator(".line.opens", has_text="carbon monoxide 38").first
    line.click(position={"x": 300, "y": 10})
    tab.wait_for_selector(".opened .strike")
    tab.locator(".opened .strike summary").first.click()
    tab.locator(".opened [name=value]").first.fill("4.6")
    tab.locator(".opened [name=because]").first.fill("read the wrong line")
    tab.locator(".opened button:has-text('amend')").first.click()
    tab.wait_for_url("**#now")
    assert "4.6" in tab.inner_text("main")
    tab.goto(f"{door.here}/visit/{visit}/entries")
    assert "read the wrong line" in tab.inner_text("main")
    tab.close()


def test_the_point_is_chosen_from_the_drawing(door: Door, phone: Any) -> None:
    _, tab = opened(door, phone)
    hand = Hand(tab, touch=True)
    hand.until_kept(lambda: hand.tap(".taps button"))
    hand.tap(".strip summary:has-text('point')")
    hand.tap(".choose svg a:has-text('2')")
    tab.wait_for_url("**at=below**")
    assert "below hood, right of baffle" in hand.what()
    assert tab.locator(".points a").count() == 5, "the table twin of the drawing"
    tab.close()


def test_a_photograph_carries_nothing_of_its_camera(door: Door, phone: Any, tmp_path: Path) -> None:
    visit, tab = opened(door, phone)
    hand = Hand(tab, touch=True)
    hand.photograph(picture(tmp_path, 90))
    assert hand.count == 2
    shown = tab.get_attribute(".photos img", "src")
    content = tab.request.get(f"{door.here}{shown}").body()
    assert content.startswith(b"\xff\xd8\xff")
    assert b"Invented Maker" not in content
    assert b"Exif" not in content
    assert len(door.pages.journal.of_subject(visit)) > 0
    tab.close()


def test_a_machine_that_goes_away_loses_nothing(door: Door, phone: Any) -> None:
    visit, tab = opened(door, phone)
    hand = Hand(tab, touch=True)
    hand.until_kept(lambda: hand.tap(".taps button"))
    count = door.pages.count(visit)
    door.shut()
    tab.fill("#line", "o2 4.3 co 38 stack 385F")
    tab.press("#line", "Enter")
    tab.wait_for_selector("#gone:not([hidden])")
    assert tab.input_value("#line") == "o2 4.3 co 38 stack 385F"
    assert "kept on this machine" not in tab.inner_text("#open")
    before = hand._made()
    door.open_again()
    tab.wait_for_function("before => document.querySelector('#open input[name=sent]').value != before", arg=before)
    assert "kept on this machine" in tab.inner_text("#said")
    assert door.pages.count(visit) == count + 4, "a stretch and three readings, once"
    tab.close()
