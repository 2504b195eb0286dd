"""What the page of a visit proposes, keeps and refuses, without a browser."""

import re
from io import BytesIO

import pytest
from hands_kit import DOOR, picture
from pages_kit import WHOLE, Pages, visible

from fluewright.errors import EntryError
from fluewright.visit import adding, changing, kept, pictures, proposing, shown, trade, uploads
from fluewright.visit.plan import account_so_far, plan_of
from fluewright.web import dock


def asks(pages: Pages, visit: str) -> list[str]:
    seen = shown.seen(pages.journal, visit)
    shop = pages.app.state.shop
    return [each.key for each in dock.asks(shop, visit, seen, dock.account_in(shop, visit, seen))]


def opened(pages: Pages) -> str:
    return kept.begun(pages.journal, DOOR).id


@pytest.mark.parametrize(
    ("before", "after", "unit", "typed", "line"),
    [
        ("o2", "at below hood", "", "4.3", "o2 4.3 at below hood"),
        ("stack", "", "°C", "196", "stack 196 °C"),
        ("stack", "", "°C", "385F", "stack 385F"),
        ("co", "at cell 3", "ppm", "40..120 rising", "co 40..120 ppm rising at cell 3"),
        ("co", "at cell 3", "", "38 because the hose was long", "co 38 at cell 3 because the hose was long"),
        ("draft", "at breech", "", "-.02", "draft -.02 at breech"),
        ("room: entry=", "", "", "0", "room: entry=0"),
        ("o2", "at below hood", "", "co 38", "co 38"),
        ("", "", "", "4.3", "4.3"),
    ],
)
def test_a_number_is_the_proposals(before: str, after: str, unit: str, typed: str, line: str) -> None:
    assert proposing.composed(before, after, unit, typed) == line


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [("431F", "°F", "431 °F"), ("-.02", "in w.c.", "−.02 in w.c."), (">2000", "ppm", ">2000 ppm"),
     ("40..120 rising", "ppm", "40..120 ppm, rising"), ("trace", "1", "trace"), ("3 1/2", "in w.c.", "3 1/2")],
)  # fmt: skip
def test_a_value_is_said_as_it_was_typed(typed: str, unit: str, said: str) -> None:
    assert trade.value(typed, unit) == said


def test_people_come_first_and_then_the_walk(pages: Pages) -> None:
    visit = opened(pages)
    assert asks(pages, visit)[0] == "people-asked"
    adding.added(pages.journal, visit, "room: symptoms=yes")
    assert not any(key.startswith(("oxygen", "pressure")) for key in asks(pages, visit)), "nothing but people"


def test_both_gas_pressures_are_asked(pages: Pages) -> None:
    visit = opened(pages)
    adding.added(pages.journal, visit, "room: symptoms=no")
    adding.added(pages.journal, visit, "standing_pressure 7.2 in w.c. at appliance")
    left = asks(pages, visit)
    assert "pressure everything on" in left
    assert "pressure standing" not in left


def test_after_a_step_what_was_read_is_read_again(pages: Pages) -> None:
    visit = opened(pages)
    for line in ("room: symptoms=no", "o2 7.1 co 52 stack 431F air 66F at below hood, left of baffle"):
        adding.added(pages.journal, visit, line)
    changing.stepped(pages.journal, visit, "air openings cleared")
    assert asks(pages, visit)[0] == "again oxygen_dry below hood, left of baffle"
    pages.get(f"/visit/{visit}")
    assert "before the step 7.1" in visible(pages.last)


def test_every_proposal_can_be_kept(pages: Pages) -> None:
    """A proposal that its own answer does not take in would be a trap."""
    visit = opened(pages)
    adding.added(pages.journal, visit, "room: symptoms=no")
    account = account_so_far(pages.journal, visit)
    known = proposing.Known(account, None, kept.entries_of(pages.journal, visit))
    for ask in proposing.proposed(plan_of(account), known):
        lines = [tap.line for tap in ask.taps if tap.whole and tap.line != "room: symptoms=yes"]
        if ask.before:
            lines.append(
                proposing.composed(ask.before, ask.after, "" if ask.stated else ask.units[0], "-1" if ask.sign else "1")
            )
        for line in lines:
            other = opened(pages)
            assert adding.added(pages.journal, other, line).entries, line


def test_last_year_stands_in_the_margin(pages: Pages) -> None:
    old = kept.begun(pages.journal, {**DOOR, "visit": {**DOOR["visit"], "date": "2025-11-12"}}).id
    adding.added(pages.journal, old, "o2 5.3 co 24 stack 391F at below hood, left of baffle")
    visit = opened(pages)
    adding.added(pages.journal, visit, "room: symptoms=no")
    made = visible(pages.get(f"/visit/{visit}?ask=flue_temperature below hood, left of baffle"))
    assert "Stack, below hood, left of baffle 391F, " in made


def test_what_was_not_measured_has_a_reason_and_is_not_asked_again(pages: Pages) -> None:
    visit = opened(pages)
    adding.added(pages.journal, visit, "room: symptoms=no")
    pages.get(f"/visit/{visit}")
    sent = {"what": "worn meter", "because": "it was not running"}
    said = visible(pages.post(f"/visit/{visit}/unread", sent))
    assert "Worn meter: not measured, because it was not running" in said
    assert "worn-meter" not in asks(pages, visit)
    pages.get(f"/visit/{visit}")
    assert "why it was not" in visible(pages.post(f"/visit/{visit}/unread", {"what": "spillage"}, status=422))


def test_while_typing_nothing_is_kept(pages: Pages) -> None:
    visit = opened(pages)
    count = pages.count(visit)
    pages.get(f"/visit/{visit}")
    said = visible(pages.post(f"/visit/{visit}/tried", {"line": "o2 4.3 co"}))
    assert "As found: oxygen 4.3 %" in said
    assert "not understood yet: co" in said
    assert pages.count(visit) == count


def sent_picture(pages: Pages, visit: str, content: bytes, name: str = "picture.jpg") -> int:
    pages.get(f"/visit/{visit}/photo")
    files = {"picture": (name, content, "image/jpeg")}
    answer = pages.client.post(f"/visit/{visit}/photo", data={**pages.form(), "place": "stack"}, files=files)
    pages.last = answer.text
    return answer.status_code


def test_a_photograph_is_known_by_its_content(pages: Pages, tmp_path: "object") -> None:
    visit = opened(pages)
    count = pages.count(visit)
    for content in (b"<html><script>alert(1)</script>", b"\xff\xd8\xff no picture at all", b"RIFF....WAVE", b""):
        assert sent_picture(pages, visit, content) in (400, 422)
    assert pages.count(visit) == count
    assert "a photograph as JPEG" in visible(pages.last) or "a photograph" in visible(pages.last)


def test_a_picture_that_unpacks_to_a_mountain_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    from PIL import Image

    made = BytesIO()
    Image.new("1", (400, 400)).save(made, "PNG")
    monkeypatch.setattr(uploads, "PIXELS", 399 * 400)
    with pytest.raises(EntryError, match="FW-J-161"):
        uploads.shown(made.getvalue())


def test_the_same_place_a_year_ago_stands_beside(pages: Pages, tmp_path_factory: pytest.TempPathFactory) -> None:
    photo = picture(tmp_path_factory.mktemp("photo")).read_bytes()
    old = kept.begun(pages.journal, {**DOOR, "visit": {**DOOR["visit"], "date": "2025-11-12"}}).id
    adding.added(pages.journal, old, "o2 5.3 co 24")
    pictures.taken(pages.journal, old, photo, place="stack")
    visit = opened(pages)
    assert sent_picture(pages, visit, photo) == 200
    shown_now = re.findall(r'<img src="([^"]+)"', pages.last)
    assert len(shown_now) == 2
    assert "the same, 12\u00a0November\u00a02025" in pages.last
    for where in shown_now:
        content = pages.client.get(where).content
        assert content.startswith(b"\xff\xd8\xff")
        assert b"Invented Maker" not in content
    kept_as_it_was = pages.journal.store.settings.files_folder()
    assert any(path.read_bytes() == photo for path in kept_as_it_was.rglob("*") if path.is_file())


def test_what_is_struck_out_after_the_seal_is_shown_as_later(pages: Pages) -> None:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    pages.get(f"/visit/{visit}/seal")
    pages.post(f"/visit/{visit}/seal", {"name": "T. Placeholder", "recognised": "seen", "meaning": "mine"})
    reading = next(e for e in kept.entries_of(pages.journal, visit) if e.read.entry.kind == "reading")
    number = shown.sheet_of(pages.journal, visit).where["as found", "oxygen_dry"]
    assert 'value="amend"' not in pages.get(f"/visit/{visit}/lines/{number}")
    sent = {"entry": reading.read.entry.id, "because": "of the wrong house", "do": "strike"}
    made = visible(pages.post(f"/visit/{visit}/lines/{number}", sent))
    assert "After the seal Struck out: oxygen in dry flue gas 4.3 %, as found. Because: of the wrong house." in made
    assert 'id="open"' not in pages.last


def test_a_line_that_is_not_there_says_so(pages: Pages) -> None:
    visit = opened(pages)
    assert "a number that stands in its gutter" in visible(pages.get(f"/visit/{visit}/lines/999", status=404))
