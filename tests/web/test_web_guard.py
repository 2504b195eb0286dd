"""Who may come in, and what a page of somebody else can do: nothing."""

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
from pages_kit import HERE, PORT, TOKEN, WHOLE, Pages, visible

from fluewright.web.guard import LONGEST, Marks


@pytest.fixture
def outside(tmp_path: Path) -> Iterator[Pages]:
    found = Pages(tmp_path)
    yield found
    found.close()


def test_nobody_gets_in_without_the_token(outside: Pages) -> None:
    for path in ("/", "/find", "/visit/new", "/look", "/nowhere"):
        assert "a browser that this door does not know" in visible(outside.get(path, status=401))
    assert outside.client.post("/visit/new", data={"appliance": "boiler"}).status_code == 401
    for token in ("", "wrong", TOKEN[:-1], TOKEN + "x"):
        outside.get(f"/open?token={token}", status=401)
    outside.come_in()


def test_the_token_opens_once(outside: Pages, tmp_path: Path) -> None:
    outside.come_in()
    outside.client.cookies.clear()
    outside.get(f"/open?token={TOKEN}", status=401)


def test_the_cookie_is_the_doors_own_and_outlives_it(outside: Pages, tmp_path: Path) -> None:
    answer = outside.client.get(f"/open?token={TOKEN}", follow_redirects=False)
    told = answer.headers["set-cookie"]
    assert all(part in told for part in ("HttpOnly", "SameSite=strict", "Path=/"))
    cookie = outside.client.cookies[f"fluewright-{PORT}"]
    outside.close()
    again = Pages(tmp_path, token="another")
    again.client.cookies.set(f"fluewright-{PORT}", cookie)
    again.get("/")
    for forged in ("", "x", cookie[:-1] + "0", cookie.partition(".")[0] + ".", Marks(b"other", PORT).new(), "é"):
        assert not Marks(b"known to this door only, 32 byte", PORT).is_ours(forged) or forged == cookie
    again.close()


@pytest.mark.parametrize(
    "host", ["evil.example", f"evil.example:{PORT}", "127.0.0.1:1", f"127.0.0.1.evil.example:{PORT}"]
)
def test_a_name_that_was_made_to_point_here_is_refused(pages: Pages, host: str) -> None:
    answer = pages.client.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert "the address that the program printed" in visible(answer.text)


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": f"http://127.0.0.1:{PORT + 1}"},
        {"origin": HERE, "sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_a_page_of_somebody_else_cannot_write(pages: Pages, headers: dict[str, str]) -> None:
    visit = pages.begin()
    pages.get(f"/visit/{visit}")
    before = pages.count(visit)
    answer = pages.client.post(f"/visit/{visit}/line", data={**pages.form(), "line": WHOLE}, headers=headers)
    assert answer.status_code == 403
    assert pages.count(visit) == before


def test_a_form_without_its_mark_is_refused(pages: Pages) -> None:
    visit = pages.begin()
    pages.get(f"/visit/{visit}")
    before, hidden = pages.count(visit), pages.form()
    for mark in ("", "0" * 64, hidden["mark"][:-1], "é"):
        answer = pages.client.post(f"/visit/{visit}/line", data={**hidden, "mark": mark, "line": WHOLE})
        assert answer.status_code == 409
    for form in ("", "x", "00000000-0000-0000-0000-000000000000"):
        answer = pages.client.post(f"/visit/{visit}/line", data={**hidden, "sent": form, "line": WHOLE})
        assert answer.status_code == 422
    assert pages.count(visit) == before


def test_a_form_of_another_browser_is_no_form_of_this_one(pages: Pages) -> None:
    visit = pages.begin()
    pages.get(f"/visit/{visit}")
    hidden = pages.form()
    pages.carry(f"fluewright-{PORT}", pages.app.state.shop.marks.new())
    assert pages.client.post(f"/visit/{visit}/line", data={**hidden, "line": WHOLE}).status_code == 409


def test_too_much_is_refused_before_it_is_read(pages: Pages) -> None:
    pages.get("/visit/new")
    sent = {**pages.form(), "appliance": "x" * (LONGEST + 1)}
    assert pages.client.post("/visit/new", data=sent).status_code == 413
    assert pages.client.post("/visit/new", content=iter([b"appliance=x"])).status_code == 413
    assert pages.client.post("/visit/new", data={f"a{n}": "x" for n in range(2000)}).status_code in (400, 409)
    assert not list(pages.journal.of_kind("visit"))


def test_every_answer_carries_its_guards(pages: Pages) -> None:
    for path in ("/", "/nowhere", "/visit/abcdef01", "/look", "/favicon.ico"):
        headers = pages.client.get(path).headers
        assert "default-src 'none'" in headers["content-security-policy"]
        assert "frame-ancestors 'none'" in headers["content-security-policy"]
        assert "script-src 'self';" in headers["content-security-policy"]
        assert "unsafe-eval" not in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["cache-control"] == "no-store"
    refused = pages.client.get("/", headers={"host": "evil.example"}).headers
    assert refused["x-frame-options"] == "DENY"


def test_a_fault_of_ours_says_so_and_shows_no_inside(pages: Pages, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("made for this test")

    monkeypatch.setattr("fluewright.visit.letter.of_day", broken)
    made = pages.get("/", status=500)
    assert "this is a fault of the program" in visible(made)
    assert "Traceback" not in made


def test_a_journal_that_is_not_whole_is_read_only_and_says_so(tmp_path: Path) -> None:
    first = Pages(tmp_path).come_in()
    visit = first.begin()
    first.keep(visit, WHOLE)
    first.close()
    with sqlite3.connect(tmp_path / "journal.db") as raw:
        for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            raw.execute(f"DROP TRIGGER {name}")
        raw.execute("DELETE FROM entry WHERE sequence = (SELECT max(sequence) FROM entry)")
    raw.close()
    again = Pages(tmp_path).come_in()
    assert "open for reading only" in visible(again.get(f"/visit/{visit}"))
    answer = again.client.post(f"/visit/{visit}/line", data={**again.form(), "line": "o2 5"})
    assert answer.status_code >= 400
    again.close()


def test_a_body_in_chunks_has_no_length_to_be_believed(tmp_path: Path) -> None:
    pages = Pages(tmp_path).come_in()
    pages.get("/visit/new")
    told = {"content-length": "9", "transfer-encoding": "chunked", "content-type": "application/x-www-form-urlencoded"}
    answer = pages.client.post("/visit/new", content=b"a=" + b"b" * 200_000, headers=told)
    assert answer.status_code == 413
    pages.close()
