"""A visit worked on pages: what was typed is kept once, what is not understood stays in the field, the seal closes."""

import re

import pytest
from pages_kit import WHOLE, Pages, visible

from fluewright.report import html, html_parts, phrase
from fluewright.visit import kept, shown

PLAIN = ("/", "/find", "/find?words=nowhere", "/visit/new", "/look")
OF_VISIT = ("", "/step", "/notice", "/seal", "/entries")


def every_page(pages: Pages) -> list[str]:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    return [pages.get(path) for path in (*PLAIN, *(f"/visit/{visit}{path}" for path in OF_VISIT))]


def test_a_visit_from_the_door_to_the_seal(pages: Pages) -> None:
    visit = pages.begin()
    assert "Nothing was measured yet" in visible(pages.get(f"/visit/{visit}"))
    said = visible(pages.keep(visit, WHOLE))
    assert "As found: oxygen 4.3 %" in said
    assert re.search(r"kept on this machine \d\d:\d\d", said)
    pages.get(f"/visit/{visit}/step")
    assert "keep as left" in visible(pages.post(f"/visit/{visit}/step", {"word": "air band closed", "meant": ""}))
    assert "As left: oxygen" in visible(pages.keep(visit, "o2 5.1 co 20 stack 380F air 66F"))
    pages.get(f"/visit/{visit}/seal")
    signed = {"name": "T. Placeholder (invented)", "recognised": "sat before this machine", "meaning": "I did this"}
    after = pages.post(f"/visit/{visit}/seal", signed)
    assert "Sealed by T. Placeholder (invented)" in visible(after)
    assert 'name="line"' not in after, "a sealed visit has no open line"


def test_the_page_is_the_sheet_and_nothing_less(pages: Pages) -> None:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    tree = phrase.linked(shown.sheet_of(pages.journal, visit))
    made = pages.get(f"/visit/{visit}")
    lines = f"/visit/{visit}/lines"
    report = html.page(shown.sheet_of(pages.journal, visit))
    for part in tree.sections:
        assert html.section(tree, part) in report
        assert html.section(tree, part, lines) in made
    assert html.findings(tree) in made
    for opened in tree.workings:  # on a page of its own, behind its line
        behind = pages.get(f"{lines}/{opened.line}")
        assert html_parts.working(opened, folded=False) in behind
    assert html.findings(tree) in report


def test_kept_is_said_only_of_what_is_on_the_disk(pages: Pages) -> None:
    visit = pages.begin()
    before = pages.count(visit)
    assert "kept on this machine" not in pages.get(f"/visit/{visit}?kept=01a21438-b0e6-774b-aafb-9323b370dd8d")
    assert "kept on this machine" not in pages.keep(visit, "foo 3", status=422)
    assert pages.count(visit) == before


@pytest.mark.parametrize("line", ["foo 3", "o2 400", "", "o2", "co 38 at", "<script>alert(1)</script>", "x" * 5000])
def test_what_is_not_understood_is_refused_whole_in_four_parts(pages: Pages, line: str) -> None:
    visit = pages.begin()
    before = pages.count(visit)
    made = pages.keep(visit, line, status=400 if len(line) > 4000 else 422)
    assert 'role="alert"' in made
    assert all(f"<dt>{part}</dt>" in made for part in ("expected", "because", "do"))
    assert "<script>" not in made
    assert pages.count(visit) == before
    if 0 < len(line) < 200:
        assert re.search(r'name="line"[^>]*aria-invalid', made), "the message belongs to the field"
        assert line.replace("<", "&lt;").replace(">", "&gt;") in made, "what was typed is still there"


def test_every_form_sent_twice_is_kept_once(pages: Pages) -> None:
    pages.get("/visit/new")
    hidden = pages.form()
    door = {**hidden, "appliance": "boiler", "fuel": "natural-gas", "site": "Made-up Street 1"}
    first, second = (pages.client.post("/visit/new", data=door).url for _ in range(2))
    assert first == second
    assert len(list(pages.journal.of_kind("visit"))) == len(list(pages.journal.of_kind("site"))) == 1
    visit = first.path.removeprefix("/visit/")
    asked = (("line", {"line": WHOLE}), ("step", {"word": "cleaned"}), ("line", {"line": "o2 5.0 co 12"}),
             ("notice", {"words": "spills", "consent": "refused"}))  # fmt: skip
    for path, fields in asked:
        pages.get(f"/visit/{visit}")
        sent = {**pages.form(), **fields}
        pages.client.post(f"/visit/{visit}/{path}", data=sent)
        count = pages.count(visit)
        pages.client.post(f"/visit/{visit}/{path}", data=sent)
        assert pages.count(visit) == count
    pages.get(f"/visit/{visit}/seal")
    sent = {**pages.form(), "name": "T. Placeholder", "recognised": "seen", "meaning": "mine"}
    assert [pages.client.post(f"/visit/{visit}/seal", data=sent).status_code for _ in range(2)] == [200, 200]
    assert sum(read.entry.kind == "seal" for read in pages.journal.of_subject(visit)) == 1


def test_other_words_in_the_same_form_are_another_line(pages: Pages) -> None:
    visit = pages.begin()
    pages.get(f"/visit/{visit}")
    hidden = pages.form()
    for line in ("note the owner was out", "note the owner came back"):
        assert pages.client.post(f"/visit/{visit}/line", data={**hidden, "line": line}).status_code == 200
    notes = [read.body["word"] for read in pages.journal.of_subject(visit) if read.entry.kind == "note"]
    assert notes == ["the owner was out", "the owner came back"]


def test_undo_strikes_out_all_that_a_line_made_and_hides_nothing(pages: Pages) -> None:
    visit = pages.begin()
    made = pages.keep(visit, WHOLE)
    line = re.search(r'name="line" value="([0-9a-f-]{36})"', made)
    assert line is not None
    after = visible(pages.post(f"/visit/{visit}/undo", {"line": line[1]}))
    assert "struck out again" in after
    assert "Nothing was measured yet" in after
    entries = visible(pages.get(f"/visit/{visit}/entries"))
    assert entries.count("struck out: a slip, undone at once") == 5
    count = pages.count(visit)
    pages.get(f"/visit/{visit}")
    pages.post(f"/visit/{visit}/undo", {"line": line[1]})
    assert pages.count(visit) == count


def test_striking_out_needs_a_reason_and_stays_to_be_seen(pages: Pages) -> None:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    entry = next(read.entry.id for read in pages.journal.of_subject(visit) if read.entry.kind == "reading")
    pages.get(f"/visit/{visit}/entries")
    assert "a change without a reason" in visible(
        pages.post(f"/visit/{visit}/entries/{entry}/strike", {"because": " "}, status=422)
    )
    made = pages.post(f"/visit/{visit}/entries/{entry}/strike", {"because": "read off the wrong line"})
    assert "<s>oxygen in dry flue gas 4.3 %, as found</s>" in made
    assert "struck out: read off the wrong line" in visible(made)


def test_a_danger_is_first_until_it_is_closed(pages: Pages) -> None:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    pages.get(f"/visit/{visit}/notice")
    assert "does not say whether anybody consented" in visible(
        pages.post(f"/visit/{visit}/notice", {"words": "spills"}, status=422)
    )
    made = pages.post(f"/visit/{visit}/notice", {"words": "flue gas spills", "consent": "refused", "told": ""})
    body = made[made.index("<main") :]
    assert body.index('class="halt"') < body.index("<h1")
    assert "Nobody was told yet" in visible(made)
    letter = visible(pages.get("/"))
    assert letter.index("Open, because somebody could be hurt") < letter.index("Begun and not sealed")
    notice = next(read.entry.id for read in pages.journal.of_subject(visit) if read.entry.kind == "notice")
    pages.get(f"/visit/{visit}/notice/{notice}")
    after = pages.post(f"/visit/{visit}/notice/{notice}", {"because": "chimney cleared, seen to vent"})
    assert 'class="halt"' not in after
    assert "could be hurt" not in visible(pages.get("/"))


def test_a_stop_sentence_interrupts_at_once(pages: Pages) -> None:
    visit = pages.begin()
    made = pages.keep(visit, "room: symptoms=yes")
    assert made.index('class="halt" role="alert"') < made.index("<h1")
    assert "autofocus" not in made, "nothing draws the eye away from it"


def test_a_danger_is_closed_on_the_page_of_the_seal(pages: Pages) -> None:
    visit = pages.begin(**{"class": "natural-draft-water-heater"})
    pages.keep(visit, "o2 6 co 150 stack 400F air 68F draft +1Pa")
    asked = visible(pages.get(f"/visit/{visit}/seal"))
    assert "Dangers that are still open" in asked
    assert "flue or vent blocked" in asked
    signed = {"name": "T. Placeholder (invented)", "recognised": "seen", "meaning": "mine"}
    refused = visible(pages.post(f"/visit/{visit}/seal", signed, status=409))
    assert "FW-N-107" in refused
    assert "look through the flue with mirror or camera" in refused
    way = {"how": "escalated", "words": "needs a roofer", "flue-blocked": "yes"}
    kept_words = pages.post(f"/visit/{visit}/seal/close", way, status=422)
    assert 'value="needs a roofer"' in kept_words, "what was typed stays in its field"
    names = re.findall(r'type="checkbox" name="([a-z-]+)"', pages.get(f"/visit/{visit}/seal"))
    assert "flue-blocked" in names
    told = {**way, **dict.fromkeys(names, "yes"), "to": "Made-up Chimneys", "when": "10:40"}
    after = visible(pages.post(f"/visit/{visit}/seal/close", told))
    assert "Dangers that are still open" not in after
    pages.post(f"/visit/{visit}/seal", signed)
    assert "Sealed by T. Placeholder (invented)" in visible(pages.get(f"/visit/{visit}"))


def test_a_sealed_visit_takes_no_more(pages: Pages) -> None:
    visit = pages.begin()
    pages.keep(visit, WHOLE)
    pages.get(f"/visit/{visit}/seal")
    hidden = pages.form()
    assert "a seal without a name" in visible(pages.post(f"/visit/{visit}/seal", {"name": ""}, status=409))
    pages.post(f"/visit/{visit}/seal", {"name": "T. Placeholder", "recognised": "seen", "meaning": "mine"})
    count = pages.count(visit)
    for path, fields in (
        ("line", {"line": "o2 5"}),
        ("step", {"word": "turned"}),
        ("seal", {"name": "Somebody", "recognised": "seen", "meaning": "mine"}),
    ):
        answer = pages.client.post(f"/visit/{visit}/{path}", data={**hidden, **fields})
        assert answer.status_code == 409, path
        assert "expected" in answer.text
    assert pages.count(visit) == count


def test_what_was_said_once_is_not_asked_again(pages: Pages) -> None:
    pages.begin(instrument="analyser NOT-REAL-A7", emergency="911")
    made = pages.get("/visit/new")
    assert 'value="T. Placeholder (invented)"' in made
    assert 'value="analyser NOT-REAL-A7"' in made
    assert 'name="appliance" value=""' in made


def test_a_new_visit_that_cannot_be_keeps_what_was_typed(pages: Pages) -> None:
    pages.get("/visit/new")
    made = pages.post("/visit/new", {"appliance": "boiler", "fuel": "moonshine", "site": "Pretend Row 12"}, status=422)
    assert 'value="Pretend Row 12"' in made
    assert "moonshine" in visible(made)
    assert kept.latest(pages.journal, most=5) == []


def test_find_goes_by_words_also_mistyped(pages: Pages) -> None:
    visit = pages.begin()
    assert f"/visit/{visit}" in pages.get("/find?words=made-up nowhere boilr")
    assert "Nothing holds all of these words" in visible(pages.get("/find?words=submarine"))
    assert f"/visit/{visit}" in pages.get("/find"), "the latest, when nothing was typed"
    assert "&lt;b&gt;" in pages.get("/find?words=<b>")


def test_an_empty_shop_says_how_to_begin(pages: Pages) -> None:
    assert "Nothing is kept here yet" in visible(pages.get("/"))


def test_nothing_on_a_page_leads_off_this_machine(pages: Pages) -> None:
    for made in every_page(pages):
        assert not re.search(r"(https?:)?//(?!www\.w3\.org/2000/svg)[\w.]", made.partition("<main")[0])
        assert not re.search(r'(?:href|src|action)="(?!/|#)', made)
        assert not re.search(
            r"<script(?! src=\"/static/pages\.\w+\.js\" defer></script>)|<iframe|<img|\son\w+=|javascript:", made
        )
        assert 'type="number"' not in made
    style = pages.client.get(re.findall(r'href="(/static/[^"]+)"', pages.last)[0]).text
    assert all(where.startswith("/static/") for where in re.findall(r"url\(([^)]+)\)", style))
    for where in set(re.findall(r"url\(([^)]+)\)", style)):
        assert pages.client.get(where).headers["content-type"] == "font/woff2"


def test_every_form_has_an_id_and_every_field_a_label(pages: Pages) -> None:
    for made in every_page(pages):
        for form in re.findall(r'<form[^>]*method="post".*?</form>', made, re.DOTALL):
            assert len(re.findall(r'name="(?:mark|form|sent)" value="[^"]+"', form)) == 2
        for name in re.findall(r'<(?:input|textarea) id="([^"]+)"', made):
            assert f'for="{name}"' in made


def test_what_is_not_here_says_so(pages: Pages) -> None:
    assert "a page of this door" in visible(pages.get("/nowhere", status=404))
    assert "the id of a visit in this journal" in visible(pages.get("/visit/abcdef01", status=404))
    assert pages.client.get("/static/../settings.py").status_code == 404
    assert pages.client.get("/static/%2e%2e%2fapp.py").status_code == 404


def test_the_look_is_kept_in_the_browser(pages: Pages) -> None:
    pages.get("/look")
    made = pages.post("/look", {"ink": "lamp", "weight": "strong", "density": "glove", "hand": "left"})
    assert 'data-ink="lamp" data-weight="strong" data-density="glove" data-hand="left"' in made
    pages.carry("fluewright-look", 'lamp"><script>')
    assert 'data-ink="paper"' in pages.get("/look")


def test_no_message_scolds(pages: Pages) -> None:
    for made in every_page(pages):
        assert not re.search(r"\b(invalid|please|sorry|forbidden)\b", visible(made).lower())
