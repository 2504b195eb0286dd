"""Seals: what is signed cannot change unseen, cannot move, and cannot be signed twice (trust test 9)."""

import json
import sqlite3
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from made import PEOPLE, Watch, body_of, exchanged, new_journal, reading, seal_of, visit_in

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.amend import amended, struck
from fluewright.record.canonical import canonical, digest
from fluewright.record.entry import Entry, entry_from
from fluewright.record.journal import Draft, Journal
from fluewright.record.kinds import AFTER_SEAL, KINDS
from fluewright.record.seal import Judged, Signer, kept, prepared, rows_of_visit
from fluewright.record.seal_check import verified
from trust import told


def with_text(journal: Journal, entry_id: str, change: Callable[[dict[str, Any]], None]) -> None:
    """Change an entry behind the journal's back: guards off, its hash put right, the chain after it not."""
    with sqlite3.connect(journal.store.settings.path()) as raw:
        raw.execute("DROP TRIGGER IF EXISTS entry_UPDATE")
        held = json.loads(raw.execute("SELECT text FROM entry WHERE id = ?", (entry_id,)).fetchone()[0])
        change(held)
        text = canonical(held)
        raw.execute("UPDATE entry SET text = ?, hash = ?, subject = ? WHERE id = ?",
                    (text, digest(text), entry_from(text).subject(), entry_id))  # fmt: skip
    raw.close()


def signed(tmp_path: Path) -> tuple[Journal, str, str]:
    """A journal with one sealed visit: journal, visit, seal."""
    journal, key = new_journal(tmp_path)
    visit = visit_in(journal)
    return journal, visit, seal_of(journal, visit, key)


def test_a_sealed_visit_holds_and_says_over_what(tmp_path: Path) -> None:
    journal, visit, seal = signed(tmp_path)
    verdict = verified(journal, visit)
    assert verdict.holds and not verdict.later
    assert len(verdict.seals[0].covered) == 3 and verdict.seals[0].entry.id == seal
    assert verdict.sentences() == [
        f"seal of {verdict.seals[0].entry.body['when']} (tested and left so): holds over 3 entries"
    ]
    body = journal.entry(seal).body  # type: ignore[union-attr]
    assert body["name"] == PEOPLE["technician"] and body["recognised"] == "own device"


def test_every_change_below_or_in_a_seal_is_found(tmp_path: Path) -> None:
    """Trust test 9: each value of each entry below, and each field of the seal, changed one at a time."""
    journal, visit, _ = signed(tmp_path)
    visit_in(journal)
    with journal.store.reading() as connection:
        rows = rows_of_visit(connection, visit)
    tried = found = 0
    path = journal.store.settings.path()
    with sqlite3.connect(path) as raw:
        raw.execute("DROP TRIGGER entry_UPDATE")
    for row in rows:
        for changed in mutated(row.text):
            with sqlite3.connect(path) as raw:
                raw.execute("UPDATE entry SET text = ?, hash = ? WHERE id = ?", (changed, digest(changed), row.id))
            tried += 1
            found += not verified(journal, visit).holds
        with sqlite3.connect(path) as raw:
            raw.execute("UPDATE entry SET text = ?, hash = ? WHERE id = ?", (row.text, row.hash, row.id))
    assert verified(journal, visit).holds
    assert tried > 60 and found == tried
    told(9, "signature binds", changes=tried, found=found, missed=tried - found)


def mutated(text: str) -> list[str]:
    """The canonical text with each of its values changed, one at a time; ids keep their form."""
    held = json.loads(text)
    return [canonical(each) for each in _changed(held) if _readable(each)]


def _readable(held: dict[str, Any]) -> bool:
    try:
        entry_from(canonical(held))
    except Exception:
        return False
    return held["body"].get("visit", "") == "" or held["kind"] in ("seal", "reading")


def _changed(value: Any) -> list[Any]:
    if isinstance(value, dict):
        return [{**value, key: other} for key, each in value.items() if key not in ("form", "visit")
                for other in _changed(each)]  # fmt: skip
    if isinstance(value, list):
        return [[*value[:i], other, *value[i + 1 :]] for i, each in enumerate(value) for other in _changed(each)]
    if isinstance(value, bool):
        return [not value]
    if isinstance(value, int):
        return [value + 1]
    return [value[:-1] + ("0" if value[-1:] != "0" else "1"), value + "x"] if value else ["x"]


def test_an_entry_taken_out_or_put_in_below_a_seal_is_found(tmp_path: Path) -> None:
    journal, visit, _ = signed(tmp_path)
    other = visit_in(journal)
    stranger = journal.of_subject(other)[1].entry
    path = journal.store.settings.path()
    lost = journal.of_subject(visit)[1].entry
    with sqlite3.connect(path) as raw:
        raw.execute("DROP TRIGGER entry_DELETE")
        raw.execute("DELETE FROM entry WHERE id = ?", (lost.id,))
    assert "1 of the 3 entries that it covers are not here" in verified(journal, visit).seals[0].wrong
    put_in = replace(stranger, sequence=lost.sequence, body={**stranger.body, "visit": visit})
    with sqlite3.connect(path) as raw:
        raw.execute("DELETE FROM entry WHERE id = ?", (stranger.id,))
        raw.execute(
            "INSERT INTO entry (device, sequence, id, kind, subject, hash, text) VALUES (?, ?, ?, ?, ?, ?, ?)",
            (put_in.device, put_in.sequence, put_in.id, put_in.kind, visit, put_in.hash(), put_in.text()),
        )
    assert not verified(journal, visit).holds


def test_a_seal_moved_to_another_visit_is_found(tmp_path: Path) -> None:
    journal, _, seal = signed(tmp_path)
    other = visit_in(journal)

    def moved(held: dict[str, Any]) -> None:
        held["body"]["visit"] = other

    with_text(journal, seal, moved)
    verdict = verified(journal, other)
    assert verdict.seals and not verdict.holds


def test_a_seal_whose_content_is_recomputed_by_a_stranger_is_found(tmp_path: Path) -> None:
    journal, visit, seal = signed(tmp_path)
    stranger, key = new_journal(tmp_path, "stranger")

    def resigned(held: dict[str, Any]) -> None:
        from fluewright.record.seal import to_sign

        held["body"] |= {"key": key.public, "signature": key.sign(to_sign(held["body"]["content"]))}

    with_text(journal, seal, resigned)
    wrong = " ".join(verified(journal, visit).seals[0].wrong)
    assert "no device or person that this journal knows" in wrong
    assert stranger.device not in wrong


def test_a_second_seal_is_refused_and_a_counter_seal_has_its_own_meaning(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    visit = visit_in(journal)
    seal = seal_of(journal, visit, key)
    with pytest.raises(NotAllowed, match="FW-N-033"):
        seal_of(journal, visit, key)
    with pytest.raises(EntryError, match="FW-J-033"):
        seal_of(journal, visit, key, meaning="  ", of=seal)
    with pytest.raises(NotAllowed, match="FW-N-033"):
        seal_of(journal, visit, key, meaning="seen", of=visit)
    counter = seal_of(journal, visit, key, meaning="seen by the supervisor", of=seal)
    verdict = verified(journal, visit)
    assert [each.entry.id for each in verdict.seals] == [seal, counter]
    assert verdict.holds and seal in verdict.seals[1].covered
    assert "seen by the supervisor" in verdict.sentences()[1]


def test_nothing_is_sealed_that_is_not_here(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    with pytest.raises(EntryError, match="FW-J-034"):
        seal_of(journal, "01980000-0000-7000-8000-000000000000", key)


@pytest.mark.parametrize(
    "kind", sorted(name for name in set(KINDS) - AFTER_SEAL - {"seal"} if KINDS[name].field("visit"))
)
def test_a_sealed_visit_takes_nothing_that_changes_it(tmp_path: Path, kind: str) -> None:
    journal, visit, _ = signed(tmp_path)
    with pytest.raises(NotAllowed, match="FW-N-032"):
        journal.add(Draft(kind, {**body_of(kind), "visit": visit}))


def test_a_sealed_visit_takes_no_answer_that_names_only_the_finding(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    visit = visit_in(journal)
    finding = journal.add(Draft("finding", {**body_of("finding", every=False), "visit": visit})).id
    seal_of(journal, visit, key)
    with pytest.raises(NotAllowed, match="FW-N-032"):
        journal.add(Draft("answer", {"of": finding, "answer": "dismissed"}))


def test_what_is_added_after_a_seal_is_told_and_can_be_signed_for(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    visit = visit_in(journal)
    notice = journal.add(Draft("notice", {"visit": visit, "words": "flue blocked", "consent": "refused"})).id
    seal = seal_of(journal, visit, key)
    reading_id = journal.of_subject(visit)[1].entry.id
    amended(journal, reading_id, {"name": "carbon_monoxide"}, because="the wrong name was tapped")
    struck(journal, journal.of_subject(visit)[2].entry.id, because="probe fell out")
    journal.add(Draft("notice closed", {"of": notice, "because": "flue swept"}))
    verdict = verified(journal, visit)
    assert verdict.holds
    assert [each.entry.kind for each in verdict.later] == ["amendment", "struck out", "notice closed"]
    assert all("stays as it was signed" in each.why for each in verdict.later)
    seal_of(journal, visit, key, meaning="the amendments are mine", of=seal)
    verdict = verified(journal, visit)
    assert verdict.holds and not verdict.later


def test_what_another_device_entered_before_it_knew_of_the_seal_is_told(tmp_path: Path) -> None:
    watch = Watch()
    one, key = new_journal(tmp_path, "one", watch)
    other, other_key = new_journal(tmp_path, "other", watch)
    visit = visit_in(one)
    exchanged(one, other)
    reading(other, visit, "5 %")
    exchanged(one, other)
    seal_of(one, visit, key)
    late = reading(other, visit, "6 %")
    seal_of(other, visit, other_key, meaning="sealed here too")
    exchanged(one, other)
    for journal in (one, other):
        verdict = verified(journal, visit)
        assert verdict.holds
        assert {len(each.covered) for each in verdict.seals} == {4, 5}
        assert "sealed 2 times, on devices that did not know of each other" in " ".join(verdict.sentences())
        assert late not in next(each.covered for each in verdict.seals if each.entry.device == one.device)


def test_an_entry_that_came_late_from_elsewhere_is_nobodys(tmp_path: Path) -> None:
    one, key = new_journal(tmp_path, "one")
    other, _ = new_journal(tmp_path, "other")
    visit = visit_in(one)
    exchanged(one, other)
    late = reading(other, visit, "6 %")
    seal_of(one, visit, key)
    exchanged(one, other)
    verdict = verified(other, visit)
    assert verdict.holds and [each.entry.id for each in verdict.later] == [late]
    assert "did not know of it" in verdict.later[0].why


def test_a_key_that_answers_later_signs_what_was_shown_and_nothing_else(tmp_path: Path) -> None:
    """As a browser does, whose key never leaves it."""
    journal, key = new_journal(tmp_path)
    visit = visit_in(journal)
    signer = Signer(who=journal.device, recognised="finger on the phone")

    def waiting() -> Any:
        return prepared(
            journal, visit, key=key.public, algorithm="Ed25519", signer=signer, meaning="mine", judged=Judged()
        )

    first = waiting()
    with pytest.raises(EntryError, match="FW-J-035"):
        kept(journal, first, key.sign(b"something else"))
    reading(journal, visit, "7 %")
    with pytest.raises(EntryError, match="FW-J-036"):
        kept(journal, first, key.sign(first.to_sign))
    second = waiting()
    found: Entry = kept(journal, second, key.sign(second.to_sign))
    assert found.kind == "seal" and verified(journal, visit).holds


def test_erasing_the_name_of_the_signer_leaves_the_seal_good(tmp_path: Path) -> None:
    journal, visit, seal = signed(tmp_path)
    with journal.store.writing() as connection:
        connection.exec_driver_sql("DELETE FROM secret")
    assert journal.entry(seal).body["name"] == "(erased)"  # type: ignore[union-attr]
    assert verified(journal, visit).holds
