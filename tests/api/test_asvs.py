"""OWASP ASVS 5.0 as tests, each named for its item; others are named so in their own files (see docs/threats.md)."""

import re
import stat
from pathlib import Path
from typing import Any

import pytest
from api_kit import DOOR, GIVEN, NOW, PASSWORD, WHOLE, Program, ShopDoor
from starlette.testclient import TestClient

from fluewright import clock
from fluewright.errors import EntryError
from fluewright.record import amend
from fluewright.record.accounts import Session
from fluewright.record.guard import kept_form
from fluewright.record.pace import Buckets, Pace
from fluewright.record.sheets import safe
from fluewright.record.tokens import NEVER_GIVEN

COOKIE = "__Host-fluewright-8766"


def hidden(made: str) -> dict[str, str]:
    return dict(reversed(re.findall(r'name="(mark|form)" value="([^"]*)"', made)))


def signed_in(door: ShopDoor, role: str, password: str = PASSWORD) -> tuple[TestClient, Any]:
    client = door.client()
    fields = hidden(client.get("/sign-in").text)
    answer = client.post("/sign-in", data={**fields, "login": role, "password": password}, follow_redirects=False)
    return client, answer


def test_asvs_1_2_10_a_cell_is_no_formula() -> None:
    for text in ("=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "\uff1d1", "\uff201"):
        assert safe(text).startswith("'")
    assert safe("-0.02") == "-0.02"


def test_asvs_2_2_2_what_comes_in_is_looked_at_here(program: Program) -> None:
    visit = program.begin()
    for told in ({"line": 3}, {"line": "o2 4", "source": "streamed"}, {"line": "x" * 4001}, {"readings": "o2"}):
        answer = program.client.post(f"/api/visits/{visit}/lines", json={"id": clock.new_id(), **told})
        assert answer.status_code == 422


def test_asvs_2_3_3_a_line_is_kept_whole_or_not_at_all(door: ShopDoor, program: Program) -> None:
    visit = program.begin()
    count = door.journal.arrived()
    program.send(f"/visits/{visit}/lines", {"line": "o2 4.3 co 38 stack banana"}, status=422)
    readings = [{"name": "o2", "value": "4 %"}, {"name": "nonsense", "value": "1"}]
    program.send(f"/visits/{visit}/lines", {"readings": readings}, status=422)
    assert door.journal.arrived() == count


def test_asvs_3_2_2_what_was_typed_is_shown_as_text(door: ShopDoor, program: Program) -> None:
    visit = program.send("/visits", {**DOOR, "appliance": {"words": "<script>alert(1)</script>"}})["visit"]
    program.send(f"/visits/{visit}/lines", {"line": "note <img src=x onerror=alert(2)>"})
    client, _ = signed_in(door, "technician")
    for path in ("", "/entries", "/seal", "/step", "/notice"):
        made = client.get(f"/visit/{visit}{path}").text
        assert "<script>alert" not in made and "<img src=x" not in made


def test_asvs_3_3_1_to_3_3_4_cookies(door: ShopDoor) -> None:
    _, answer = signed_in(door, "technician")
    told = answer.headers["set-cookie"]
    assert told.startswith(f"{COOKIE}=") and "Domain" not in told
    assert all(part in told for part in ("Secure", "HttpOnly", "SameSite=strict", "Path=/"))


def test_asvs_3_4_1_only_by_https(door: ShopDoor) -> None:
    assert door.client().get("/sign-in").headers["strict-transport-security"] == "max-age=31536000"


def test_asvs_3_4_3_3_4_4_3_4_6_headers_of_both_doors(door: ShopDoor) -> None:
    program = Program(door, door.token["auditor"])
    for answer in (door.client().get("/sign-in"), program.client.get("/api/health"), door.client().get("/api/health")):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy and "frame-ancestors 'none'" in policy and "unsafe-eval" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["cache-control"] == "no-store"


def test_asvs_3_5_1_another_page_cannot_send_for_a_person(door: ShopDoor) -> None:
    client, _ = signed_in(door, "technician")
    told = {"id": clock.new_id(), **DOOR}
    assert client.post("/api/visits", json=told).status_code == 403, "a cookie alone changes nothing"
    for headers in ({"origin": "https://evil.example"}, {"sec-fetch-site": "cross-site"}):
        assert client.post("/api/visits", json=told, headers=headers).status_code == 403
    mark = hidden(client.get("/look").text)["mark"]
    assert client.post("/api/visits", json=told, headers={"x-fluewright-mark": mark}).status_code == 201
    other, _ = signed_in(door, "administrator")
    assert other.post("/api/visits", json=told, headers={"x-fluewright-mark": mark}).status_code == 403


def test_asvs_3_5_3_what_is_read_changes_nothing(door: ShopDoor, program: Program) -> None:
    visit = program.begin()
    count = door.journal.arrived()
    for path in ("lines", "steps", "notices", "seal", "undo"):
        assert program.client.get(f"/api/visits/{visit}/{path}").status_code == 405
    for path in ("", "/plan", "/sheet", "/judgement", "/entries"):
        assert program.client.get(f"/api/visits/{visit}{path}").status_code == 200
    assert door.journal.arrived() == count


def test_asvs_5_3_2_no_path_leads_to_the_disk(door: ShopDoor, program: Program) -> None:
    client, _ = signed_in(door, "technician")
    for name in (
        "../journal.db",
        "..%2fjournal.db",
        "%2e%2e/journal.keys/pages.secret",
        "/etc/passwd",
        "..\\journal.db",
    ):
        assert client.get(f"/static/{name}").status_code in (303, 404)
        assert program.client.get(f"/api/visits/{name}").status_code == 404
    visit = program.begin()
    for line in ("room: trace=/etc/passwd", "fuel: file=/etc/passwd", "room: mapping=../x.toml"):
        assert "passwd" not in str(program.send(f"/visits/{visit}/lines", {"line": line}, status=422)["expected"])


def test_asvs_6_2_1_a_password_of_eight_letters_at_least_and_not_an_obvious_one(door: ShopDoor) -> None:
    for password in ("", "short", "password", "12345678", "technician1", "aaaaaaaaaa"):
        with pytest.raises(EntryError, match="FW-J-063"):
            door.accounts.set_anew(door.people["technician"], password, "technician")


def test_asvs_6_2_8_a_password_is_taken_as_typed(door: ShopDoor) -> None:
    door.accounts.set_anew(door.people["technician"], "  Spaces Before And After  ")
    assert signed_in(door, "technician", "Spaces Before And After")[1].status_code == 401
    assert signed_in(door, "technician", "  Spaces Before And After  ")[1].status_code == 303


def test_asvs_6_3_1_guessing_is_slowed(door: ShopDoor, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(type(door.doors), "seconds", lambda _: 1_795_000_000.0)  # a slow machine waits by itself
    for _ in range(6):
        _, answer = signed_in(door, "technician", "a guess that is wrong")
    assert "seconds of waiting" in answer.text
    assert signed_in(door, "technician")[1].status_code == 401, "the right one waits as well"


def test_asvs_6_3_2_no_account_comes_with_the_program(tmp_path: Path) -> None:
    door = ShopDoor(tmp_path)
    for login in ("admin", "administrator ", "root", "fluewright"):
        assert signed_in(door, login, "admin123")[1].status_code == 401
    door.close()


def test_asvs_7_2_1_to_7_2_4_a_session_is_random_hashed_and_new_each_time(door: ShopDoor) -> None:
    first, second = (signed_in(door, "technician")[0].cookies[COOKIE] for _ in range(2))
    assert first != second and len(first) >= 43
    kept = door.accounts.sessions(door.people["technician"])
    assert {each.kept for each in kept} == {kept_form(first), kept_form(second)}
    assert all(isinstance(each, Session) and first not in repr(each) for each in kept)
    forged = door.client()
    for cookie in ("", "x", first[:-1], kept_form(first)):
        forged.cookies.set(COOKIE, cookie, domain="shop.example")
        assert forged.get("/", follow_redirects=False).headers["location"] == "/sign-in"


def test_asvs_7_4_1_signing_out_ends_the_session(door: ShopDoor) -> None:
    client, _ = signed_in(door, "technician")
    token = client.cookies[COOKIE]
    client.post("/sign-out", data={**hidden(client.get("/sessions").text), "where": "here"})
    again = door.client()
    again.cookies.set(COOKIE, token, domain="shop.example")
    assert again.get("/", follow_redirects=False).status_code == 303


def test_asvs_7_4_2_signing_out_everywhere_and_leaving(door: ShopDoor) -> None:
    first, _ = signed_in(door, "technician")
    second, _ = signed_in(door, "technician")
    assert second.get("/sessions").text.count("used last") == 2
    second.post("/sign-out", data={**hidden(second.get("/sessions").text), "where": "everywhere"})
    assert first.get("/", follow_redirects=False).status_code == 303
    third, _ = signed_in(door, "technician")
    assert third.get("/").status_code == 200
    amend.amended(door.journal, door.people["technician"], {"active": False}, because="works elsewhere")
    assert third.get("/", follow_redirects=False).status_code == 303, "the very next request"
    assert Program(door, door.token["technician"]).client.get("/api/me").status_code == 403


def test_asvs_8_2_2_a_program_may_no_more_than_its_token_and_its_person(door: ShopDoor) -> None:
    reads = Program(door, door.given("technician", ["read"]))
    assert reads.ask("/me")["may"] == ["read"]
    assert reads.send("/visits", DOOR, status=403)["code"] == "FW-N-150"
    wide = Program(door, door.given("auditor", GIVEN))
    assert wide.send("/visits", DOOR, status=403)["code"] == "FW-N-060", "its person may not"
    for right in (*NEVER_GIVEN, "everything", ""):
        with pytest.raises(EntryError, match="FW-J-160"):
            door.given("administrator", [right])


def test_asvs_8_3_1_rights_are_asked_by_the_server_at_each_request(door: ShopDoor) -> None:
    program = Program(door, door.token["technician"])
    visit = program.begin()
    amend.amended(door.journal, door.people["technician"], {"role": "auditor"}, because="other work")
    assert program.send(f"/visits/{visit}/lines", {"line": WHOLE}, status=403)["code"] == "FW-N-060"


def test_asvs_13_4_1_13_4_2_nothing_of_the_inside_is_served(door: ShopDoor, monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = signed_in(door, "administrator")
    for path in ("/.git/config", "/docs", "/redoc", "/openapi.json", "/api/docs", "/api/redoc"):
        assert client.get(path).status_code == 404

    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("inside of the program")

    monkeypatch.setattr("fluewright.visit.kept.latest", broken)
    program = Program(door, door.token["technician"])
    told = program.ask("/visits", status=500)
    assert told["code"] == "FW-Z-132" and "inside of the program" not in str(told) and "Traceback" not in str(told)


def test_asvs_14_2_1_no_secret_stands_in_an_address(door: ShopDoor) -> None:
    anybody = door.client()
    for path in (f"/api/me?token={door.token['technician']}", f"/open?token={door.token['technician']}"):
        assert anybody.get(path, follow_redirects=False).status_code in (303, 401)


def test_asvs_15_3_3_no_field_is_taken_that_was_not_asked_for(program: Program) -> None:
    visit = program.begin()
    for more in ({"author": "somebody"}, {"kind": "seal"}, {"body": {}}, {"sequence": 1}):
        program.send(f"/visits/{visit}/lines", {"line": "o2 4", **more}, status=422)
    seal = {"name": "Somebody Else", "recognised": "by face"}
    program.send(f"/visits/{visit}/lines", {"line": WHOLE})
    program.send(f"/visits/{visit}/seal", seal)
    body = program.ask(f"/visits/{visit}/entries")[-1]["body"]
    assert body["name"] == "Technician Placeholder (invented)", "nobody signs as somebody else"


def test_asvs_16_3_1_who_did_what_is_in_the_journal(door: ShopDoor) -> None:
    program = Program(door, door.token["administrator"])
    visit = program.begin()
    program.send(f"/visits/{visit}/steps", {"word": "brushed"})
    authors = {each["kind"]: each["author"] for each in program.ask(f"/visits/{visit}/entries")}
    assert authors["visit"] == authors["step"] == door.people["administrator"]


def test_asvs_16_5_1_16_5_3_an_error_says_no_more_than_is_needed_and_keeps_nothing(door: ShopDoor) -> None:
    answer = door.client("fw_nothing").get("/api/visits")
    assert answer.status_code == 401 and answer.headers["www-authenticate"] == "Bearer"
    assert answer.json()["code"] == "FW-N-151"
    assert door.journal.arrived() == 1 + len(door.people)


def test_tokens_end_are_hashed_and_can_be_revoked(tmp_path: Path) -> None:
    from datetime import timedelta

    now = [NOW]
    door = ShopDoor(tmp_path)
    door.doors.now = lambda: now[0]
    token = door.tokens.made(door.people["office"], "short one", ["read"], days=1)
    assert Program(door, token).ask("/me")["role"] == "office"
    now[0] += timedelta(days=1, seconds=1)
    assert door.client(token).get("/api/me").status_code == 401
    now[0] = NOW
    lasting = door.tokens.made(door.people["office"], "another", ["read"])
    name = next(each.name for each in door.tokens.all() if each.words == "another")
    assert door.tokens.revoked(name) and not door.tokens.revoked(name)
    assert door.client(lasting).get("/api/me").status_code == 401
    kept = b"".join(path.read_bytes() for path in (tmp_path / "journal.keys").glob("doors.db*"))
    assert token.encode() not in kept and kept_form(token).encode() in kept
    assert stat.S_IMODE((tmp_path / "journal.keys" / "doors.db").stat().st_mode) == 0o600
    door.close()


def test_a_token_opens_no_page(door: ShopDoor) -> None:
    assert door.client(door.token["administrator"]).get("/", follow_redirects=False).headers["location"] == "/sign-in"


def test_an_address_that_asks_without_end_is_told_to_wait(tmp_path: Path) -> None:
    door = ShopDoor(tmp_path, paced=True, seconds=lambda: 0.0)
    anybody = door.client()
    answers = [anybody.get("/sign-in").status_code for _ in range(510)]
    assert answers[:500] == [200] * 500 and answers[500:] == [429] * 10
    told = anybody.get("/api/me")
    assert told.status_code == 429 and int(told.headers["retry-after"]) >= 1 and told.json()["code"] == "FW-N-153"
    door.close()


def test_the_buckets_are_bounded_and_fill_again() -> None:
    at = [0.0]
    buckets = Buckets(Pace(1.0, 2.0), lambda: at[0], most=3)
    assert [buckets.wait("a") for _ in range(3)] == [0.0, 0.0, 1.0]
    at[0] += 1.5
    assert buckets.wait("a") == 0.0 and buckets.wait("a") == pytest.approx(0.5)
    for number in range(50):
        buckets.wait(f"other {number}")
    assert len(buckets._kept) == 3


def test_asvs_8_2_3_the_rights_of_visits_change_nothing_else(door: ShopDoor) -> None:
    program, before = door.client(door.token["technician"]), door.journal.arrived()
    for role in ("technician", "administrator"):
        person = door.people[role]
        ways = {
            f"entries/{person}/amend": {"because": "to have more", "fields": {"role": "administrator"}},
            f"entries/{person}/strike": {"because": "to have fewer"},
            "lines": {"line": "o2 4.3"},
            "notices": {"words": "none", "consent": "yes"},
            "steps": {"word": "none"},
            "seal": {},
        }
        for way, told in ways.items():
            answer = program.post(f"/api/visits/{person}/{way}", json={"id": clock.new_id(), **told})
            assert answer.status_code == 404, (way, answer.text)
        assert program.get(f"/api/visits/{person}").status_code == 404
    assert door.journal.arrived() == before
    assert program.get("/api/me").json()["role"] == "technician"
