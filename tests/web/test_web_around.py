"""Around the visit: things entered, found, amended; where a visit begins; shelf, rules, settings, the day."""

import re
from datetime import timedelta
from pathlib import Path

import pytest
from pages_kit import NOW, TOKEN, WHOLE, Pages, visible

from fluewright.visit import changing, demo_shop, kept

HOUSE = Path(__file__).parent.parent / "museum" / "rules" / "house-good.toml"
RULE = "practice-co-act"
CLAUSE = {"document": "Made-up Code", "edition": "2024", "clause": "9.9.9", "page": "123", "initials": "A.B.",
          "text": "not more than 400 ppm", "limit": "400", "unit": "ppm", "law_in": ""}  # fmt: skip


def enter(pages: Pages, kind: str, query: str = "", *, status: int = 200, **fields: str) -> str:
    """Something entered on its page; its id."""
    made = pages.get(f"/{kind}/new{query}")
    hidden = dict(
        re.findall(r'type="hidden" name="(customer|site|space|appliance|group|instrument)" value="([^"]*)"', made)
    )
    pages.post(f"/{kind}/new", {**hidden, **fields}, status=status)
    return pages.at.rpartition("/")[2]


@pytest.fixture
def house(pages: Pages) -> dict[str, str]:
    """A customer with a site and a boiler in it."""
    customer = enter(pages, "customer", name="Ms. Madeup-Owner (invented)")
    site = enter(pages, "site", f"?customer={customer}", address="Made-up Street 1, Nowhere", jurisdiction="US-MN")
    boiler = enter(
        pages, "appliance", f"?site={site}", words="gas boiler", serial="NOT-REAL-7", **{"plate-input": "120 kBtu/h"}
    )
    return {"customer": customer, "site": site, "appliance": boiler}


def test_what_is_entered_is_found_and_leads_on(pages: Pages, house: dict[str, str]) -> None:
    made = visible(pages.get(f"/customer/{house['customer']}"))
    assert "Made-up Street 1, Nowhere" in made
    made = pages.get(f"/site/{house['site']}")
    assert f'href="/appliance/{house["appliance"]}"' in made
    made = visible(pages.get(f"/appliance/{house['appliance']}"))
    assert "NOT-REAL-7" in made
    assert "120 kBtu/h" in made
    assert "Nobody has kept a visit here yet" in made
    for words in ("boiler", "not-real-7", "madeup", "street 1"):
        assert "/appliance/" in pages.get(f"/find?words={words}"), words


def test_a_form_sent_twice_enters_one_thing(pages: Pages) -> None:
    pages.get("/customer/new")
    fields = {**pages.form(), "name": "Ms. Twice (invented)"}
    first, second = (pages.client.post("/customer/new", data=fields).url for _ in range(2))
    assert first == second
    assert len(list(pages.journal.of_kind("customer"))) == 1


def test_a_change_needs_a_reason_and_leaves_the_old_words(pages: Pages, house: dict[str, str]) -> None:
    path = f"/appliance/{house['appliance']}"
    pages.get(f"{path}/amend")
    fields = {"words": "gas boiler", "serial": "NOT-REAL-8", "plate-input": "120 kBtu/h"}
    refused = pages.post(f"{path}/amend", fields, status=422)
    assert "a change without a reason" in visible(refused)
    assert "NOT-REAL-8" in refused, "what was typed is still there"
    pages.get(f"{path}/amend")
    assert "NOT-REAL-8" in visible(pages.post(f"{path}/amend", {**fields, "because": "misread the plate"}))
    amendments = list(pages.journal.of_kind("amendment"))
    assert [set(each.body["fields"]) for each in amendments] == [{"serial"}], "only what differs is amended"
    pages.get(f"{path}/amend")
    pages.post(f"{path}/amend", {**fields, "because": "again"})
    assert len(list(pages.journal.of_kind("amendment"))) == 1, "the same words again change nothing"


def test_what_is_not_understood_is_said_beside_its_field(pages: Pages) -> None:
    pages.get("/site/new")
    made = pages.post("/site/new", {"address": "Made-up Street 2", "place-altitude": "high up"}, status=422)
    at = made.index('name="place-altitude"')
    assert 'role="alert"' in made[at : made.index("<label", at)], "the message stands below the field"
    assert "high up" in made
    assert list(pages.journal.of_kind("site")) == []
    pages.get("/calibration/new")
    assert "FW-U-140" in pages.post("/calibration/new", {"day": "soon"}, status=400)


def test_a_thing_without_a_name_or_an_address_that_leads_nowhere(pages: Pages) -> None:
    pages.get("/customer/new")
    assert "FW-J-140" in pages.post("/customer/new", {"name": " "}, status=422)
    for path in ("/customer/nowhere", "/appliance/%27%3B--", "/site/00000000-0000-0000-0000-000000000000"):
        assert "FW-J-141" in pages.get(path, status=404)


def test_a_visit_begun_at_an_appliance_belongs_to_it(pages: Pages, house: dict[str, str]) -> None:
    made = pages.get(f"/visit/new?appliance={house['appliance']}")
    for value in ("gas boiler", "NOT-REAL-7", "Made-up Street 1, Nowhere", "Ms. Madeup-Owner (invented)", "US-MN"):
        assert f'value="{value}"' in made
    fields = dict(re.findall(r'name="([\w-]+)" value="([^"]*)"', made))
    pages.post("/visit/new", {**fields, "fuel": "natural-gas"})
    visit = pages.at.removeprefix("/visit/")
    for kind in house:
        assert len(list(pages.journal.of_kind(kind))) == 1, f"no second {kind}"
    pages.keep(visit, f"{WHOLE} draft -.02")
    made = pages.get(f"/appliance/{house['appliance']}")
    assert f'href="/visit/{visit}"' in made
    assert "stack loss" in made
    assert "<svg" in made
    assert "the same as a table" in visible(made)


def test_another_name_at_the_door_is_another_place(pages: Pages, house: dict[str, str]) -> None:
    made = pages.get(f"/visit/new?appliance={house['appliance']}")
    fields = dict(re.findall(r'name="([\w-]+)" value="([^"]*)"', made))
    pages.post("/visit/new", {**fields, "site": "Made-up Street 99"})
    assert len(list(pages.journal.of_kind("site"))) == 2


def test_several_appliances_share_a_flue(pages: Pages, house: dict[str, str]) -> None:
    heater = enter(pages, "appliance", f"?site={house['site']}", words="water heater")
    ticked = {f"tick-{each}": "yes" for each in (heater, house["appliance"])}
    group = enter(pages, "flue-group", f"?site={house['site']}", words="chimney in the middle", **ticked)
    vent = enter(pages, "vent", f"?group={group}", words="clay liner", marked="400 F")
    made = visible(pages.get(f"/flue-group/{group}"))
    assert "water heater" in made
    assert "gas boiler" in made
    assert "clay liner" in made
    assert "400 F" in visible(pages.get(f"/vent/{vent}"))


def test_the_shelf_says_what_an_instrument_can_decide(pages: Pages) -> None:
    late = enter(pages, "instrument", words="analyser that does not exist", accuracy="service", made="2023-01-01")
    enter(pages, "calibration", f"?instrument={late}", day="2025-06-02", due="2026-06-02")
    enter(pages, "check", f"?instrument={late}", what="zero", result="0 ppm after 60 s", place="outdoors")
    made = visible(pages.get(f"/instrument/{late}"))
    assert "It can raise an alarm and clears nothing: its calibration ran out" in made
    assert "Last zero" in made
    assert "outdoors: 0 ppm after 60 s" in made
    assert "No leak check is kept" in made
    assert "Cells three years old" in made
    assert "Carbon monoxide in room air: at most 9 ppm. Its doubt there is 23" in made
    fit = enter(pages, "instrument", words="another that does not exist", accuracy="statutory")
    enter(pages, "calibration", f"?instrument={fit}", day="2026-06-02", due="2027-06-02")
    shelf = visible(pages.get("/instruments"))
    assert shelf.index("analyser that") < shelf.index("another that"), "what cannot clear stands first"
    assert "clears nothing" not in visible(pages.get(f"/instrument/{fit}"))
    assert "calibrate again" in visible(pages.get("/"))


def test_the_rules_of_a_place_are_cited_and_say_how_they_are_known(pages: Pages) -> None:
    here = visible(pages.get("/rules?jurisdiction=us-mn&class=natural-draft-boiler"))
    assert "limits speak in US-MN to a natural-draft-boiler today" in here
    assert "warns and cannot clear" in here
    everywhere = visible(pages.get("/rules"))
    assert everywhere != here
    assert "FW-" in pages.get("/rules?fuel=no-such-fuel", status=422)
    made = visible(pages.get(f"/rules/of/{RULE}"))
    assert "common practice, no source" in made
    pages.get("/rules/of/no-such-rule", status=422)


def test_a_clause_of_ones_own_book_counts_as_read_once_entered(pages: Pages) -> None:
    path = f"/rules/of/{RULE}"
    pages.get(path)
    refused = pages.post(path, {**CLAUSE, "limit": "500"}, status=422)
    assert "FW-B-051" in refused
    assert 'value="Made-up Code"' in refused, "what was typed is still there"
    pages.get(path)
    sent = {**pages.form(), **CLAUSE}
    for _ in range(2):
        assert pages.client.post(path, data=sent).status_code == 200
    assert len(list(pages.journal.of_kind("clause"))) == 1
    assert "read by A.B. for the shop, page 123" in visible(pages.get(path))


def test_a_sheet_is_judged_by_the_clauses_of_its_shop(pages: Pages) -> None:
    visit = pages.begin()
    pages.keep(visit, "o2 6 co 450 stack 400F air 66F")
    before = visible(pages.get(f"/visit/{visit}"))
    pages.get(f"/rules/of/{RULE}")
    pages.post(f"/rules/of/{RULE}", CLAUSE)
    after = visible(pages.get(f"/visit/{visit}"))
    assert "Made-up Code" not in before
    assert "Made-up Code" in after


def test_a_house_book_takes_effect_only_when_its_change_was_seen(tmp_path: Path) -> None:
    pages = Pages(tmp_path, books=tmp_path / "books").come_in()
    text = HOUSE.read_text("utf-8")
    pages.get("/rules/house")
    seen = pages.post("/rules/house", {"text": text})
    assert "What it would change" in visible(seen)
    assert not (tmp_path / "books" / "house-book.toml").exists()
    stamp = re.search(r'name="seen" value="([^"]+)"', seen)
    assert stamp is not None
    pages.post("/rules/house", {"text": text + "# another", "seen": stamp[1]})
    assert not (tmp_path / "books" / "house-book.toml").exists(), "another text was not seen"
    pages.post("/rules/house", {"text": text, "seen": stamp[1]})
    assert (tmp_path / "books" / "house-book.toml").exists()
    pages.get("/rules/house")
    assert "FW-B" in pages.post("/rules/house", {"text": "no book"}, status=422)
    pages.close()


def test_without_a_folder_there_is_no_house_book(pages: Pages) -> None:
    assert "FW-N-120" in pages.get("/rules/house", status=409)


def test_what_the_shop_settles_stands_on_every_page_and_at_the_door(pages: Pages) -> None:
    pages.get("/settings")
    said = {"shop name": "Invented Heating Co.", "emergency": "112", "units": "si"}
    pages.post("/settings", said)
    pages.get("/settings")
    pages.post("/settings", said)
    assert len(list(pages.journal.of_kind("settings"))) == 3, "what stays the same is not entered again"
    assert "Invented Heating Co." in pages.get("/find")
    assert 'value="112"' in pages.get("/visit/new")
    pages.get("/settings")
    pages.post("/settings", {**said, "shop name": ""})
    assert "Invented Heating Co." not in pages.get("/find")
    pages.get("/settings")
    assert "FW-U-141" in pages.post("/settings", {"units": "cubits"}, status=400)


def test_the_letter_tells_what_is_planned_and_what_is_only_here(pages: Pages) -> None:
    later = (NOW + timedelta(days=5)).date().isoformat()
    pages.begin(date=later, site="Pretend Row 12")
    made = visible(pages.get("/"))
    assert "Planned a Pretend Row 12" in made
    assert "in five days" in made
    assert "Only on this machine" in made
    assert "no copy was ever made here" in made
    assert made.index("Planned") < made.index("Only on this machine"), "fresh entries are no alarm"


def test_old_entries_without_a_copy_come_before_what_is_due(tmp_path: Path) -> None:
    pages = Pages(tmp_path, now=lambda: NOW - timedelta(days=20)).come_in()
    site = enter(pages, "site", address="Made-up Street 1")
    enter(pages, "due", f"?site={site}", what="annual visit", due=NOW.date().isoformat())
    pages.close()
    again = Pages(tmp_path, copies=tmp_path / "copies").come_in()
    made = visible(again.get("/"))
    assert made.index("Only on this machine") < made.index("Due")
    again.get("/records")
    assert "Copied, and the copy was opened and proven" in visible(again.post("/records/copy", {}))
    assert "Only on this machine" not in visible(again.get("/"))
    again.close()


def test_a_letter_names_forty_dangers_and_leads_to_all(pages: Pages) -> None:
    visit = pages.begin()
    for number in range(43):
        changing.noticed(pages.journal, visit, f"danger number {number}", consent="refused")
    made = pages.get("/")
    assert "43 dangers are still open" in visible(made)
    assert 'href="/dangers">three more dangers</a>' in made
    assert "danger number 42" not in made
    assert "danger number 42" in pages.get("/dangers?after=40")


def test_a_history_is_worked_out_anew_when_a_reading_is_struck_out(pages: Pages, house: dict[str, str]) -> None:
    made = pages.get(f"/visit/new?appliance={house['appliance']}")
    fields = dict(re.findall(r'name="([\w-]+)" value="([^"]*)"', made))
    pages.post("/visit/new", {**fields, "fuel": "natural-gas"})
    visit = pages.at.removeprefix("/visit/")
    pages.keep(visit, f"{WHOLE} draft -.02")
    path = f"/appliance/{house['appliance']}"
    assert "draft" in visible(pages.get(path))
    reading = next(r for r in pages.journal.of_kind("reading") if r.body["name"] == "draft")
    changing.struck_out(pages.journal, visit, reading.entry.id, because="hose was off")
    assert "draft" not in visible(pages.get(path))


def test_an_empty_shop_says_how_to_begin(pages: Pages) -> None:
    made = pages.get("/")
    for path in ("/visit/new", "/settings", "/instrument/new", "/records"):
        assert f'href="{path}"' in made
    assert "serve --demo" in visible(made)


def _interrupted(*_: object) -> None:
    raise KeyboardInterrupt


def test_the_invented_shop_says_so_on_every_page_and_is_filled_once(tmp_path: Path) -> None:
    pages = Pages(tmp_path, practice=True).come_in()
    shop = pages.app.state.shop
    with pytest.MonkeyPatch.context() as cut, pytest.raises(KeyboardInterrupt):
        cut.setattr(demo_shop, "_open_ends", _interrupted)
        demo_shop.filled(pages.journal, shop.settings.key)
    half = len(list(pages.journal.of_kind("visit")))
    assert demo_shop.filled(pages.journal, shop.settings.key) == half > 30
    assert len(list(pages.journal.of_kind("visit"))) == half + 1, "gone on with, and nothing twice"
    assert demo_shop.filled(pages.journal, shop.settings.key) == 0
    for path in ("/", "/find", "/instruments", "/rules", "/records", "/settings", "/people", "/visit/new"):
        assert "PRACTICE, not a real visit." in pages.get(path), path
    visits = kept.latest(pages.journal, most=100)
    bodies = [read.body for read in pages.journal.of_kind("visit")]
    assert len(bodies) == len(visits)
    assert all(body["invented"] is True for body in bodies)
    assert "One danger is still open" in visible(pages.get("/"))
    hits = re.findall(r'href="(/appliance/[^"]+)"', pages.get("/find?words=furnace"))
    made = visible(pages.get(hits[0]))
    assert "has risen three visits running at equal load" in made
    assert TOKEN not in made
    pages.close()


def test_a_house_book_may_be_longer_than_a_line_on_a_sheet(tmp_path: Path) -> None:
    pages = Pages(tmp_path, books=tmp_path / "books").come_in()
    pages.get("/rules/house")
    text = HOUSE.read_text("utf-8") + "# a remark of the shop\n" * 600
    answer = pages.client.post("/rules/house", data={**pages.form(), "text": text}, files={"none": ("", b"")})
    assert answer.status_code == 200, visible(answer.text)
    pages.close()
