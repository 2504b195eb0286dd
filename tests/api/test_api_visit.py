"""A visit worked by a program: the same record as by hand, twice sent once kept, every error in four parts."""

from typing import Any

import pytest
from api_kit import DOOR, WHOLE, Program, ShopDoor

from fluewright import clock
from fluewright.visit import kept, shown


def test_a_whole_visit(door: ShopDoor, program: Program) -> None:
    visit = program.begin()
    told = program.send(f"/visits/{visit}/lines", {"line": WHOLE})
    assert told["understood"] and told["at"].startswith("2026-11-25T10:42")
    step = {"word": "air band closed a quarter turn", "meant": "less excess air"}
    program.send(f"/visits/{visit}/steps", step)
    readings = [{"name": "o2", "value": "3.9 %"}, {"name": "co", "value": "21 ppm"}, {"name": "stack", "value": "371F"},
                {"name": "air", "value": "66F"}]  # fmt: skip
    program.send(f"/visits/{visit}/lines", {"readings": readings, "steady": "steady for 90 s"})
    program.send(f"/visits/{visit}/lines", {"row": {"table": "room", "fields": {"symptoms": "no"}}})
    judged = program.ask(f"/visits/{visit}/judgement")
    assert judged["unjudged"] == ""
    left = judged["results"]["as left"]["excess_air"]
    assert left["unit"] == "%" and left["uncertainty"] > 0 and left["working"]["formula"]
    assert program.ask(f"/visits/{visit}/plan")["lines"]
    assert "Oxygen 3.9" in program.ask(f"/visits/{visit}/sheet")["text"]
    seal = program.send(f"/visits/{visit}/seal", {})
    again = program.send(f"/visits/{visit}/seal", {})
    assert seal["entries"] == again["entries"]
    assert program.ask(f"/visits/{visit}")["sealed"] is True
    body = program.ask(f"/visits/{visit}/entries")[-1]
    assert body["author"] == door.people["technician"]
    assert body["body"]["recognised"] == "a program with a token"
    late = program.send(f"/visits/{visit}/lines", {"line": "o2 5"}, status=409)
    assert late["code"].startswith("FW-N-")


def test_twice_sent_is_once_kept(door: ShopDoor, program: Program) -> None:
    visit = program.begin()
    entry = program.send(f"/visits/{visit}/lines", {"line": WHOLE})["entries"][1]
    danger = program.send(f"/visits/{visit}/notices", {"words": "spills", "consent": "refused"})["entries"][0]
    sendings: list[tuple[str, dict[str, Any]]] = [
        ("/visits", DOOR),
        (f"/visits/{visit}/lines", {"line": "note asked again"}),
        (f"/visits/{visit}/steps", {"word": "brushed"}),
        (f"/visits/{visit}/entries/{entry}/amend", {"fields": {"value": "4.4 %"}, "because": "misread"}),
        (f"/visits/{visit}/entries/{entry}/strike", {"because": "the hose was off"}),
        (f"/visits/{visit}/notices", {"words": "hot to touch", "consent": "yes"}),
        (f"/visits/{visit}/notices/{danger}/close", {"because": "the collar was put back"}),
    ]
    for path, told in sendings:
        chosen = clock.new_id()
        first = program.send(path, told, chosen=chosen)
        count = door.journal.arrived()
        assert program.send(path, told, chosen=chosen) == first, path
        assert door.journal.arrived() == count, path


def test_other_words_under_the_same_id_are_another_thing(program: Program) -> None:
    visit, chosen = program.begin(), clock.new_id()
    first = program.send(f"/visits/{visit}/lines", {"line": "note one"}, chosen=chosen)
    second = program.send(f"/visits/{visit}/lines", {"line": "note two"}, chosen=chosen)
    assert first["entries"] != second["entries"]
    words = [each["words"] for each in program.ask(f"/visits/{visit}/entries")]
    assert any("one" in each for each in words) and any("two" in each for each in words)


def test_a_line_is_undone_and_stays_to_be_seen(program: Program) -> None:
    visit = program.begin()
    told = program.send(f"/visits/{visit}/lines", {"line": "o2 19"})
    answer = program.client.post(f"/api/visits/{visit}/undo", json={"line": told["line"]})
    assert answer.status_code == 201, answer.text
    struck = [each for each in program.ask(f"/visits/{visit}/entries") if each["id"] in told["entries"]]
    assert struck and not any(each["counts"] for each in struck)


def test_a_danger_stops_before_anything_is_judged(program: Program) -> None:
    visit = program.begin()
    notice = program.send(f"/visits/{visit}/notices", {"words": "flue gas spills", "consent": "absent"})["entries"][0]
    judged = program.ask(f"/visits/{visit}/judgement")
    assert "lue gas spills" in judged["stops"][0]["what"] and judged["unjudged"]
    assert [each["id"] for each in program.ask("/notices")] == [notice]
    program.send(f"/visits/{visit}/notices/{notice}/close", {"because": "shut off by the supplier"})
    assert program.ask("/notices") == []


def test_lists_and_rules_and_one_reading(door: ShopDoor, program: Program) -> None:
    visit = program.begin()
    assert [each["id"] for each in program.ask("/visits")] == [visit]
    assert visit in [each["id"] for each in program.ask("/find", words="made-up")]
    assert program.ask("/things/appliance")[0]["words"] == "boiler that does not exist"
    assert program.ask("/due") == []
    rules = program.ask("/rules", jurisdiction="DE", fuel="oil-no-2")
    assert rules and all(each["document"] and each["known"] for each in rules)
    answer = program.client.post("/api/flue", json={"fuel": "natural-gas", "readings": {"o2": "5 %", "stack": "400 F",
                                                                                    "air": "66 F"}})  # fmt: skip
    assert answer.status_code == 200, answer.text
    assert 80 < answer.json()["results"]["efficiency_gross"]["value"] < 85
    health = program.ask("/health")
    assert health["whole"] and health["anchors"] and health["seals"]
    assert program.ask("/me")["role"] == "technician"


def test_the_answer_is_what_the_page_says(door: ShopDoor, program: Program) -> None:
    visit = program.begin()
    program.send(f"/visits/{visit}/lines", {"line": WHOLE})
    tree = shown.sheet_of(door.journal, visit)
    leads = {each["lead"] for each in program.ask(f"/visits/{visit}/judgement")["findings"]}
    assert {each.finding.lead for each in tree.findings} <= leads
    assert len(kept.entries_of(door.journal, visit)) == program.ask(f"/visits/{visit}")["entries"]


@pytest.mark.parametrize(
    ("path", "told", "status"),
    [
        ("/visits/{visit}/lines", {"line": "o2 banana"}, 422),
        ("/visits/{visit}/lines", {"line": ""}, 400),
        ("/visits/{visit}/lines", {"line": "o2 4", "steady": 3}, 422),
        ("/visits/{visit}/lines", {"line": "o2 4", "more": "x"}, 422),
        ("/visits/{visit}/lines", {"line": "room: trace=secret.csv"}, 422),
        ("/visits/{visit}/entries/nosuch/strike", {"because": "x"}, 404),
        ("/visits/nosuchvisit/lines", {"line": "o2 4"}, 404),
        ("/visits", {**DOOR, "fuel": {"name": "moon dust"}}, 422),
        ("/visits", {**DOOR, "fuel": {"file": "secret.toml"}}, 422),
    ],
)
def test_an_error_is_a_problem_in_four_parts(program: Program, path: str, told: dict[str, Any], status: int) -> None:
    visit = program.begin()
    found = program.client.post(f"/api{path.format(visit=visit)}", json={"id": clock.new_id(), **told})
    assert found.status_code == status, found.text
    assert found.headers["content-type"] == "application/problem+json"
    problem = found.json()
    assert problem["type"] == f"docs/errors.md#{problem['code']}"
    assert problem["status"] == status and problem["instance"].startswith("/api/visits")
    assert all(problem[part] for part in ("title", "detail", "read", "expected", "matters", "do"))
    assert problem["errors"]


def test_the_export_is_an_archive_that_can_be_checked(door: ShopDoor, program: Program) -> None:
    program.begin()
    assert program.ask("/export", status=403)["code"] == "FW-N-060", "a technician may not take the records along"
    office = Program(door, door.token["office"])
    answer = office.client.get("/api/export")
    assert answer.status_code == 200 and answer.content[:2] == b"PK"
    import io
    import zipfile

    names = zipfile.ZipFile(io.BytesIO(answer.content)).namelist()
    assert {"export/journal.jsonl", "export/verify_journal.py"} <= set(names)
