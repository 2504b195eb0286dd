"""The plan of a visit: from route, class, place, rules and history; people first; shorter as readings come in."""

import argparse
from dataclasses import replace
from pathlib import Path

import pytest

from fluewright.appliance import load as classes
from fluewright.cli.main import main
from fluewright.errors import RuleError
from fluewright.evidence.reading import Account
from fluewright.rules import visits
from fluewright.visit import file, kept, work
from fluewright.visit.plan import plan_of

WHOLE = Path(__file__).parent / "whole.toml"


def visit(**changed: object) -> Account:
    """The invented visit with every measurement, on the yearly route."""
    return replace(file.read(WHOLE), **{"route": "annual", **changed})  # type: ignore[arg-type]


def test_lines_come_in_walking_order_each_with_a_reason() -> None:
    lines = plan_of(visit()).lines
    places = [visits.WALK.index(line.at) for line in lines]
    assert places == sorted(places)
    assert len(set(places)) >= 6
    assert all(line.why for line in lines)
    assert len({line.key for line in lines}) == len(lines)


def test_a_law_of_the_place_is_a_reason_with_its_clause() -> None:
    laws = {why.words for line in plan_of(visit()).lines for why in line.why if why.kind == "law"}
    assert any("905.1 (3.1)b" in words for words in laws)
    elsewhere = {w.words for line in plan_of(visit(jurisdiction="GB")).lines for w in line.why if w.kind == "law"}
    assert not any("Minnesota" in words for words in elsewhere)


def test_readings_that_come_in_close_lines_and_findings_open_new_ones() -> None:
    empty = plan_of(visit(stretches=(), parts=()))
    whole = visit()
    full = plan_of(whole, work.judged(whole))
    done = {line.key for line in full.lines if line.done}
    assert [line.key for line in empty.lines if line.done] == [
        "opening-zero"
    ]  # of the instrument, said when it was opened
    assert {"people-asked", "entry", "pressures", "spillage", "device high-limit-water"} <= done
    assert {line.key for line in full.lines} - {line.key for line in empty.lines} >= {"spillage-by-fan"}


@pytest.mark.parametrize("kind", sorted(path.stem for path in (Path(classes.FOLDER) / "classes").glob("*.toml")))
def test_an_alarm_asks_about_people_before_any_appliance(kind: str) -> None:
    account = visit(route=visits.PEOPLE_FIRST, parts=(), stretches=())
    plan = plan_of(replace(account, appliance=replace(account.appliance, kind=kind)))
    assert {line.at for line in plan.lines} == {"people"}
    assert plan.held > 5
    assert plan.next is not None
    assert plan.next.key == "people-asked"


def test_once_people_are_well_the_rest_is_asked_and_where_they_are_not_nothing_else_is() -> None:
    whole = visit(route=visits.PEOPLE_FIRST)
    assert plan_of(whole, work.judged(whole)).held == 0
    (room, *rest) = [part for part in whole.parts if hasattr(part, "symptoms")]
    assert not rest
    others = tuple(part for part in whole.parts if part is not room)
    unwell = visit(parts=(replace(room, symptoms="yes"), *others))  # type: ignore[type-var]
    assert {line.at for line in plan_of(unwell).lines} == {"people"}


def test_what_was_wrong_last_time_is_read_again() -> None:
    earlier = work.judged(visit()).judged.findings
    keys = {line.key for line in plan_of(visit(), earlier=earlier).lines}
    assert any(key.startswith("last ") for key in keys)


def test_a_route_that_nobody_has_is_refused_with_those_there_are() -> None:
    with pytest.raises(RuleError, match="alarm answered"):
        plan_of(visit(route="sunday stroll"))
    assert len(visits.routes()) >= 9


def test_the_plan_of_a_kept_visit_is_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from fluewright.cli.journal_place import opened_from

    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    assert main(["journal", "new"]) == 0
    journal = opened_from(argparse.Namespace(journal=None, files=None, keys=None)).journal
    tables = {
        "visit": {"title": "Invented", "date": "2026-11-25", "jurisdiction": "US-MN"},
        "appliance": {"words": "boiler", "class": "natural-draft-boiler"},
        "fuel": {"name": "natural-gas"},
    }
    entry = kept.begun(journal, tables)
    capsys.readouterr()
    assert main(["visit", "plan", entry.id]) == 1
    said = capsys.readouterr().out
    assert "annual: 0 of" in said
    assert "open  how everybody feels" in said
    assert main(["visit", "plan", entry.id, "--route", "alarm answered"]) == 1
    assert "wait until people were asked" in capsys.readouterr().out
