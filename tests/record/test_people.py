"""Roles and rights cell by cell, tickets that gate sealing only."""

from datetime import date

import pytest

from fluewright.errors import NotAllowed
from fluewright.record.amend import amended
from fluewright.record.journal import Draft, Journal
from fluewright.record.kinds import ROLES as WORDS
from fluewright.record.opening import made
from fluewright.record.people import (
    ACTIONS,
    RIGHTS,
    ROLES,
    Action,
    may,
    need,
    need_tickets,
    persons,
    role_of,
    tickets_missing,
)
from postgres import NewPlace

#                        technician office auditor administrator
TABLE = """
read                     yes        yes    yes     yes
work                     yes        -      -       yes
seal                     yes        -      -       yes
counter-seal             yes        -      -       yes
close notice             yes        yes    -       yes
keep customers           yes        yes    -       yes
keep instruments         yes        yes    -       yes
keep people              -          -      -       yes
keep settings            -          yes    -       yes
keep clauses             yes        yes    -       yes
export                   -          yes    yes     yes
import                   -          yes    -       yes
back up                  -          yes    -       yes
sync                     yes        yes    -       yes
pair device              -          -      -       yes
revoke key               -          -      -       yes
hold                     -          yes    -       yes
erase                    -          -      -       yes
"""


def cells() -> list[tuple[str, str, bool]]:
    """The table above: action, role, whether it may."""
    rows = [(line[:25].strip(), line[25:].split()) for line in TABLE.strip().splitlines()]
    return [(action, role, word == "yes") for action, words in rows for role, word in zip(ROLES, words, strict=True)]


@pytest.mark.parametrize(("action", "role", "allowed"), cells())
def test_each_cell_of_the_rights(action: Action, role: str, allowed: bool) -> None:
    assert may(role, action) is allowed
    if allowed:
        need(role, action)
    else:
        with pytest.raises(NotAllowed) as error:
            need(role, action)
        assert error.value.exit_code == 5 and "administrator" in error.value.expected


def test_the_table_has_every_cell_and_is_printed() -> None:
    assert {action for action, _, _ in cells()} == set(ACTIONS) == set(RIGHTS)
    assert len(cells()) == len(ACTIONS) * len(ROLES) and ROLES == WORDS
    print("\n" + " " * 25 + "  ".join(ROLES) + TABLE)
    for stranger in ("", "owner", "Administrator", "technician "):
        assert not any(may(stranger, action) for action in ACTIONS)
    assert not any(may(role, "fly") for role in ROLES)


def person(journal: Journal, role: str, name: str = "Invented Person") -> str:
    """A person entered; their id."""
    return journal.add(Draft("person", {"name": name, "role": role})).id


def test_a_lone_local_user_may_do_all_until_there_is_an_administrator(new_place: NewPlace) -> None:
    journal = made(new_place(), device_name="van")
    assert all(may(role_of(journal, ""), action) for action in ACTIONS)
    technician = person(journal, "technician")
    assert role_of(journal, "") == "administrator" and role_of(journal, technician) == "technician"
    administrator = person(journal, "administrator")
    assert role_of(journal, "") == "" and role_of(journal, administrator) == "administrator"
    assert role_of(journal, "01980000-0000-7000-8000-000000000000") == ""


def test_a_role_changes_by_amendment_and_ends_with_leaving(new_place: NewPlace) -> None:
    journal = made(new_place(), device_name="van")
    one = person(journal, "office")
    amended(journal, one, {"role": "auditor"}, because="moved")
    assert role_of(journal, one) == "auditor"
    amended(journal, one, {"active": False}, because="left")
    assert role_of(journal, one) == "" and [each.active for each in persons(journal)] == [False]


DAY = date(2026, 3, 1)


def ticket(journal: Journal, who: str, expires: str = "2026-12-31", **more: object) -> str:
    """A ticket entered; its id."""
    return journal.add(Draft("ticket", {"person": who, "words": "gas ticket", "expires": expires, **more})).id


def lacking(journal: Journal, who: str, place: str = "US", kind: str = "furnace", day: date = DAY) -> list[str]:
    """What somebody lacks, in sentences."""
    return [m.sentence(day) for m in tickets_missing(journal, who, jurisdiction=place, classes=[kind], day=day)]


def test_a_ticket_counts_to_its_last_day_in_its_place_for_its_classes(new_place: NewPlace) -> None:
    journal = made(new_place(), device_name="van")
    one, other = person(journal, "technician"), person(journal, "technician")
    assert lacking(journal, one) == []
    ticket(journal, one, "2026-03-01", jurisdiction="US", classes=["furnace"])
    assert lacking(journal, one) == [] and lacking(journal, one, place="US-MN") == []
    assert lacking(journal, one, day=date(2026, 3, 2)) == [
        "gas ticket for furnace ended on 2026-03-01, before 2026-03-02"
    ]
    assert lacking(journal, one, place="DE") == lacking(journal, one, place="USX") == ["no ticket for furnace"]
    assert lacking(journal, one, kind="boiler") == ["no ticket for boiler"]
    assert lacking(journal, other) == ["no ticket for furnace"]
    amended(journal, ticket(journal, other, "2020-01-01"), {"expires": "2027-01-01"}, because="renewed")
    assert lacking(journal, other) == []


def test_an_expired_ticket_gates_the_seal_and_not_the_work(new_place: NewPlace) -> None:
    journal = made(new_place(), device_name="van")
    one, second, office = person(journal, "technician"), person(journal, "technician"), person(journal, "office")
    ticket(journal, one, "2025-12-31")
    ticket(journal, second)
    ticket(journal, office)
    visit = journal.add(Draft("visit", {"title": "Invented house", "day": "2026-03-01", "technician": one}, author=one))
    journal.add(Draft("note", {"visit": visit.id, "word": "work goes on"}, author=one))
    for nobody in ("", one, office):
        with pytest.raises(NotAllowed) as error:
            need_tickets(journal, one, jurisdiction="US", classes=["furnace"], day=DAY, second=nobody)
        assert error.value.code == "FW-N-061" and "2025-12-31" in error.value.read
    need_tickets(journal, one, jurisdiction="US", classes=["furnace"], day=DAY, second=second)
    need_tickets(journal, second, jurisdiction="US", classes=["furnace"], day=DAY)
