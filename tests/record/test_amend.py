"""Amendments and strike-outs: old and new both stay, with who, when and why (trust test 8)."""

from pathlib import Path
from typing import Any

import pytest
from made import PEOPLE, Watch, body_of, exchanged, new_journal, reading, value_for, visit_in

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.amend import FIXED, STAY, STRUCK_TOO, amended, standing, struck
from fluewright.record.fold import current
from fluewright.record.journal import Draft
from fluewright.record.kinds import KINDS
from trust import told


def test_every_kind_is_amended_with_both_shown_or_refused_with_the_way_out(tmp_path: Path) -> None:
    """Trust test 8, for each kind and each of its fields."""
    journal, _ = new_journal(tmp_path)
    shown = refused = 0
    for kind in KINDS.values():
        entry = journal.add(Draft(kind.name, body_of(kind.name, every=False)))
        for field in kind.fields:
            if field.name in ("visit", "of"):
                continue
            new = value_for(field) if field.type == "word" or field.type == "flag" else changed(value_for(field))
            if kind.name in STAY:
                with pytest.raises(NotAllowed, match="FW-N-034"):
                    amended(journal, entry.id, {field.name: new}, because="it was otherwise")
                refused += 1
                continue
            if field.name in FIXED.get(kind.name, ()):
                with pytest.raises(EntryError, match="FW-J-039"):
                    amended(journal, entry.id, {field.name: new}, because="it was otherwise")
                refused += 1
                continue
            change = amended(journal, entry.id, {field.name: new}, because="it was otherwise", author=journal.device)
            now = standing(journal, entry.id)
            assert now is not None and now.body[field.name] == new
            assert now.read.body.get(field.name) == body_of_entry(journal, entry.id).get(field.name)
            last = now.history[-1].read
            assert last.entry.id == change.id and last.body["because"] == "it was otherwise"
            assert last.entry.author == journal.device and last.entry.entered
            assert now.history[-1].after == {field.name: new}
            shown += 1
    assert shown > 100 and refused > 20
    told(8, "amendment shows both", amended=shown, refused=refused, hidden=0)


def changed(value: object) -> object:
    """Another value of the same type."""
    if isinstance(value, str):
        if value.startswith("2026"):
            return value.replace("2026", "2025")
        return value.replace("a", "b") if set(value) <= set("0123456789abcdef-") else value + ", amended"
    if isinstance(value, int):
        return value + 1
    return [*value, "more"] if isinstance(value, list) else {**value, "more": "x"}  # type: ignore[dict-item]


def body_of_entry(journal, entry_id):  # type: ignore[no-untyped-def]
    return journal.entry(entry_id).body


@pytest.mark.parametrize("because", ["", " ", "\t\n"])
def test_a_change_without_a_reason_is_refused(tmp_path: Path, because: str) -> None:
    journal, _ = new_journal(tmp_path)
    visit = visit_in(journal)
    with pytest.raises(EntryError, match="FW-J-037"):
        amended(journal, visit, {"title": "other words"}, because=because)
    with pytest.raises(EntryError, match="FW-J-037"):
        struck(journal, visit, because=because)


def test_a_change_to_what_is_not_here_or_not_a_field_is_refused(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    visit = visit_in(journal)
    one = journal.of_subject(visit)[1].entry.id
    with pytest.raises(EntryError, match="FW-J-038"):
        struck(journal, "01980000-0000-7000-8000-000000000000", because="not here")
    for fields in ({"visit": visit}, {}):
        with pytest.raises(EntryError, match="FW-J-039"):
            amended(journal, one, fields, because="moved")
    with pytest.raises(EntryError, match="FW-J-002"):
        amended(journal, one, {"colour": "blue"}, because="seen so")
    with pytest.raises(EntryError, match="FW-J-002"):
        amended(journal, one, {"value": "4.3"}, because="no reading")
    for kind in sorted(STAY - STRUCK_TOO):
        entry = journal.add(Draft(kind, body_of(kind, every=False)))
        with pytest.raises(NotAllowed, match="FW-N-034"):
            struck(journal, entry.id, because="no")


def test_a_strike_out_stays_readable_and_can_itself_be_struck_out(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    visit = visit_in(journal)
    one = journal.of_subject(visit)[1].entry.id
    strike = struck(journal, one, because="probe fell out")
    found = {each.read.entry.id: each for each in current(journal.of_subject(visit))}
    assert [each.body["because"] for each in found[one].struck] == ["probe fell out"]
    assert found[one].body["value"]["typed"] == "4.3 %"
    struck(journal, strike.id, because="it had not fallen out")
    after = standing(journal, one)
    assert after is not None and after.counts


def test_a_struck_out_amendment_counts_no_more(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    customer = journal.add(Draft("customer", {"name": PEOPLE["name"]})).id
    first = amended(journal, customer, {"name": "Somebody Else"}, because="married")
    amended(journal, customer, {"name": "Somebody Third"}, because="married again")
    assert standing(journal, customer).body["name"] == "Somebody Third"  # type: ignore[union-attr]
    struck(journal, first.id, because="it was a joke")
    now = standing(journal, customer)
    assert now is not None and now.body["name"] == "Somebody Third"
    assert [each.read.body["because"] for each in now.history] == ["married again"]
    assert first.id in {each.entry.id for each in journal.of_subject(customer)}


def test_what_is_amended_about_a_person_can_be_erased_too(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    customer = journal.add(Draft("customer", {"name": "A Name"})).id
    change = amended(journal, customer, {"name": PEOPLE["name"]}, because="misheard")
    assert PEOPLE["name"] not in change.text() and "misheard" not in change.text()


def test_two_devices_that_amend_one_field_apart_are_shown_as_they_are(tmp_path: Path) -> None:
    watch = Watch()
    one, _ = new_journal(tmp_path, "one", watch)
    other, _ = new_journal(tmp_path, "other", watch)
    visit = visit_in(one)
    target = reading(one, visit, "5 %")
    amended(one, target, {"point": "throat"}, because="agreed before")
    exchanged(one, other)
    amended(one, target, {"point": "cell 3"}, because="as I saw it")
    amended(other, target, {"point": "cell 4", "name": "carbon_monoxide"}, because="as she saw it")
    exchanged(one, other)
    for journal in (one, other):
        each = standing(journal, target)
        assert each is not None and each.disputed == ("point",) and each.body["name"] == "carbon_monoxide"
        assert {change.after["point"] for change in each.history} == {"throat", "cell 3", "cell 4"}
    other.now = Watch(watch.at.replace(year=1970))  # its battery died
    amended(other, target, {"point": "cell 3"}, because="we looked together")
    exchanged(one, other)
    settled = standing(one, target)
    assert settled is not None and settled.body["point"] == "cell 3" and not settled.disputed
    assert settled.history[-1].read.body["because"] == "we looked together"


def test_a_field_is_taken_away_by_an_amendment(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    customer = journal.add(Draft("customer", {"name": "A Name", "phone": PEOPLE["phone"]})).id
    amended(journal, customer, {"phone": None}, because="a number of somebody else")
    assert "phone" not in standing(journal, customer).body  # type: ignore[union-attr]
    with pytest.raises(EntryError, match="FW-J-002"):
        amended(journal, customer, {"name": None}, because="unnamed")


@pytest.mark.parametrize(
    ("kind", "body", "fields"),
    [
        ("trace block", {"channels": ["a"], "start": "2026-11-25T10:00:00+00:00", "count": 1, "file": "0" * 64,
                         "trust": "unknown"}, {"trust": "known"}),
        ("file", {"content": "0" * 64, "type": "image/png", "bytes": 1}, {"content": "1" * 64}),
        ("danger closed", {"danger": "one", "how": "made safe", "words": "mended"}, {"danger": "another"}),
    ],
)  # fmt: skip
def test_what_the_program_vouches_for_is_not_amended(
    tmp_path: Path, kind: str, body: dict[str, Any], fields: dict[str, Any]
) -> None:
    journal, _ = new_journal(tmp_path)
    visit = journal.add(Draft("visit", {"title": "Made-up visit", "day": "2026-11-25"})).id
    entry = journal.add(Draft(kind, {"visit": visit, **body})).id
    with pytest.raises((EntryError, NotAllowed)):
        amended(journal, entry, fields, because="it suits better")
    struck(journal, entry, because="it was another")  # but it can be struck out, and that is seen
