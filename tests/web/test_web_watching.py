"""The page that is watched: rights, frames, what is done from it, and what it says where nothing is listened to."""

import itertools
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from pages_kit import Pages, visible
from watched_kit import PUSHED

from fluewright import clock
from fluewright.live.channel import amount
from fluewright.live.hub import Hub
from fluewright.live.mapping import from_data
from fluewright.live.push import HttpPush
from fluewright.live.row import Row
from fluewright.live.source import opened as source_of
from fluewright.live.turned import BOILER, FAN, NEIGHBOUR, House
from fluewright.live.watching import Watching
from fluewright.live.window import folder_of
from fluewright.record.opening import opened
from fluewright.visit import demo_live, kept

ROWS = 420
"""Rows with which the boiler, its cells and the window of both kinds of steady have settled."""


def _watching(pages: Pages, house: House) -> Watching:
    settings = pages.journal.store.settings
    hub = Hub(opened(settings).journal, folder_of(settings))
    hub.open()
    for one in house.streams():
        hub.add(one)
    return Watching(hub, system="us", adjusting=BOILER, house=house)


@pytest.fixture
def watched(tmp_path: Path) -> Any:
    """A practice journal with a live boiler whose hours go by as fast as they are taken."""
    pages = Pages(tmp_path, practice=True, now=clock.now).come_in()
    house = House(speed=0.0)
    live = _watching(pages, house)
    pages.app.state.live = live
    visit = demo_live.visit_of(pages.journal)
    yield pages, live, visit
    pages.close()


FORGED = {"o2": "5.0", "co": "0"}
"""What anybody could send."""


def run(live: Watching, rows: int) -> None:
    """Let so many rows of each appliance come in, kept and watched as by a server, one second after the other."""
    hub = live.hub
    if hub.daybook._file is None:
        hub.daybook.begin(hub._head())
    for _ in range(rows):
        at = hub.now() + 1.0
        hub.now = lambda at=at: at  # type: ignore[misc]
        frames = []
        for one in hub.streams.values():
            cells = FORGED if isinstance(one.source, HttpPush) else next(one.source.moments)[1]  # type: ignore[attr-defined]
            kept_row = hub._taken(one, Row(one.mapping.name, at, cells))
            assert kept_row is not None
            hub.daybook.keep([kept_row[0]])
            frames.append(kept_row[1])
        live._step(frames)


def test_a_server_that_listens_to_nothing_says_so(pages: Pages) -> None:
    visit = pages.begin()
    said = visible(pages.get(f"/visit/{visit}/live"))
    assert "Live sources are listened to by the machine of the shop" in said
    assert "fluewright serve --listen MAPPING" in said
    pages.get(f"/visit/{visit}/live/stream", status=400)
    pages.get(f"/visit/{visit}")
    assert "FW-U-206" in pages.post(f"/visit/{visit}/live/keep", {"word": "as found"}, status=400)


def test_the_sheet_leads_to_the_page_that_is_watched(pages: Pages) -> None:
    visit = pages.begin()
    assert f'href="/visit/{visit}/live"' in pages.get(f"/visit/{visit}")


def test_the_order_of_what_is_said_is_that_of_the_argument(watched: Any) -> None:
    """Expectation of practice.md (c): captions in another order than an instrument's cells."""
    pages, live, visit = watched
    run(live, ROWS)
    page = visible(pages.get(f"/visit/{visit}/live"))
    places = [page.index(word) for word in ("air-free,", "as read", ", oxygen ", "flue temperature", "draft −")]
    assert places == sorted(places)


def test_a_stretch_is_kept_with_its_doubt_once(watched: Any) -> None:
    pages, live, visit = watched
    run(live, ROWS)
    pages.get(f"/visit/{visit}/live")
    own = pages.form()
    said = visible(pages.post(f"/visit/{visit}/live/keep", {"word": "as found", "appliance": BOILER}))
    assert "Kept on this machine" in said
    assert "±" in said
    count = pages.count(visit)
    pages.client.post(f"/visit/{visit}/live/keep", data={**own, "word": "as found", "appliance": BOILER})
    assert pages.count(visit) == count
    kinds = [each.read.entry.kind for each in kept.entries_of(pages.journal, visit)]
    assert kinds.count("stretch") == kinds.count("trace block") == 1
    assert "as found" in visible(pages.get(f"/visit/{visit}"))


def test_a_step_is_kept_and_marked_and_the_flame_answers(watched: Any) -> None:
    pages, live, visit = watched
    run(live, ROWS)
    before = live.told(rows=10).frame["air_free"][BOILER]
    pages.get(f"/visit/{visit}/live")
    for way in ("shutter:1", "shutter:1", "shutter:1"):
        pages.post(f"/visit/{visit}/live/turn", {"turn": way, "appliance": BOILER})
    run(live, ROWS)
    after = live.told(rows=10).frame["air_free"][BOILER]
    assert after < 0.5 * before
    steps = [each for each in kept.entries_of(pages.journal, visit) if each.read.entry.kind == "step"]
    assert [each.body["word"] for each in steps] == ["air shutter opened a little"] * 3


def test_a_stop_stands_first_until_it_is_seen_and_then_on_the_sheet(watched: Any) -> None:
    pages, live, visit = watched
    run(live, 60)
    pages.get(f"/visit/{visit}/live")
    pages.post(f"/visit/{visit}/live/turn", {"turn": "exhaust:1", "appliance": BOILER})
    run(live, 30)
    page = pages.get(f"/visit/{visit}/live")
    assert page.index('role="alert"') < page.index('data-part="lead"')
    said = visible(page)
    assert f"{NEIGHBOUR.capitalize()}: the draft is gone" in said
    assert f"while the {BOILER} is adjusted" in said
    number = re.search(r'name="number" value="(\d+)"', page)
    assert number is not None
    pages.post(f"/visit/{visit}/live/seen", {"number": number[1], "appliance": BOILER})
    assert 'role="alert"' not in pages.get(f"/visit/{visit}/live").split('data-part="lead"')[0].split("<main")[1]
    assert "and seen: Water heater: the draft is gone" in visible(pages.get(f"/visit/{visit}"))
    assert "Water heater: the draft is gone" in visible(pages.get(f"/visit/{visit}/live"))  # among what arose


def test_no_lever_of_a_real_boiler_is_turned_from_a_page(watched: Any) -> None:
    pages, live, visit = watched
    run(live, 5)
    pages.get(f"/visit/{visit}/live")
    assert "FW-N-114" in pages.post(f"/visit/{visit}/live/turn", {"turn": "load:1", "appliance": BOILER}, status=409)
    live.house = None
    assert "FW-N-114" in pages.post(f"/visit/{visit}/live/turn", {"turn": "shutter:1"}, status=409)
    assert "turn the invented boiler" not in pages.get(f"/visit/{visit}/live")


def test_nothing_to_keep_is_said_in_four_parts(watched: Any) -> None:
    pages, _, visit = watched
    pages.get(f"/visit/{visit}/live")
    text = pages.post(f"/visit/{visit}/live/keep", {"word": "as found", "appliance": BOILER}, status=400)
    assert "FW-U-205" in text


def test_show_7_a_forged_calm_clears_nothing_through_the_page_too(pages: Pages) -> None:
    visit = pages.begin()
    settings = pages.journal.store.settings
    hub = Hub(opened(settings).journal, folder_of(settings))
    hub.open()
    hub.add(source_of(from_data(tomllib.loads(PUSHED.format(port=9, trust="")))))
    live = Watching(hub)
    pages.app.state.live = live
    run(live, 200)
    assert "Nobody proved who sends meter: it may alarm, and clears nothing." in visible(
        pages.get(f"/visit/{visit}/live")
    )
    said = visible(pages.post(f"/visit/{visit}/live/keep", {"word": "as left"}))
    assert "Kept on this machine" in said
    assert "Nobody proved who sent it: it may alarm, and clears nothing." in said
    sheet = pages.get(f"/visit/{visit}")
    assert "nobody proved who sent" in sheet.lower()
    assert 'class="k fine"' not in sheet


def test_the_house_holds_its_levers_within_reach() -> None:
    house = House()
    house.turn({"shutter": 99.0, "exhaust": 99.0, "load": 3.0})
    assert house.settings() == {"shutter": 1.6, "setting": 1.12, "exhaust": FAN}
    pulls = [dict(itertools.islice(one.source.moments, 30)) for one in house.streams()]  # type: ignore[attr-defined]
    last = [float(rows[max(rows)]["draft"]) for rows in pulls]
    assert last[0] < last[1], "the neighbour loses its draft before the boiler does"
    assert last[1] > 0.5, amount("draft", last[1])
