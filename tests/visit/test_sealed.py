"""A visit with its traces in the journal, sealed, and what may still be said of it afterwards."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from visit_door import DOOR

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.draft import Draft
from fluewright.record.journal import Journal
from fluewright.record.keys_ed25519 import FileKey, made_in
from fluewright.record.opening import made
from fluewright.record.seal import Signer
from fluewright.record.settings import Settings
from fluewright.report.text import text
from fluewright.visit import adding, changing, closing, demonstration, file, hand_over, kept, sealing, work
from fluewright.words import speaking

LAWS = ("us-area-source-boiler", "us-major-source-boiler")
"""Laws on keeping records that do not apply to an invented cellar."""
ME = Signer(who="", recognised="sat before this machine", name="T. Placeholder (invented)")


@pytest.fixture
def place(tmp_path: Path) -> Iterator[tuple[Journal, FileKey]]:
    settings = Settings(str(tmp_path / "journal.db"))
    key = made_in(settings.keys_folder())
    journal = made(settings, device_name="test", key=key.public)
    yield journal, key
    journal.store.close()


def worked(journal: Journal) -> str:
    visit = kept.begun(journal, DOOR).id
    adding.added(journal, visit, "o2 4.3 co 38 stack 385F air 66F")
    return visit


def test_the_traces_of_a_visit_go_with_it_into_the_journal(place: tuple[Journal, FileKey], tmp_path: Path) -> None:
    journal, _ = place
    folder = tmp_path / "door"
    folder.mkdir()
    path = demonstration.lay_out(folder)
    before = text(hand_over.sheet_of(work.judged(file.read(path))), plain=True)
    visit = kept.brought_in(journal, path).id
    for each in folder.iterdir():
        each.unlink()
    after = text(hand_over.sheet_of(work.judged(kept.account_of(journal, visit))), plain=True)
    cut = before.index("Not kept in a journal")
    assert after[:cut] == before[:cut]


def test_a_sealed_visit_holds_and_takes_no_more_readings(place: tuple[Journal, FileKey]) -> None:
    journal, key = place
    visit = worked(journal)
    assert not sealing.checked(journal, visit).seals
    sealing.sealed(journal, visit, key=key, signer=ME)
    verdict = sealing.checked(journal, visit)
    assert verdict.holds
    seal = verdict.seals[0].entry.body
    assert seal["report"] and seal["engine"]
    assert all("sha256:" in stamp for stamp in seal["books"].values()) and seal["books"]
    with pytest.raises(NotAllowed, match="sealed"):
        adding.added(journal, visit, "o2 5")
    with pytest.raises(NotAllowed, match="second seal"):
        sealing.sealed(journal, visit, key=key, signer=ME)
    sealing.counter_sealed(journal, visit, key=key, signer=ME, meaning="looked over")
    assert sealing.checked(journal, visit).holds
    sheet = text(work.judged(kept.account_of(journal, visit)).sheet(), plain=True)
    assert "Sealed by T. Placeholder (invented)" in " ".join(sheet.split())


def test_a_seal_holds_whatever_language_the_door_speaks(place: tuple[Journal, FileKey], compiled: None) -> None:
    journal, key = place
    visit = worked(journal)
    with speaking("de"):
        assert text(work.judged(kept.account_of(journal, visit)).sheet()).count("4,3") > 0
        sealing.sealed(journal, visit, key=key, signer=ME)
        held = sealing.checked(journal, visit)
    assert held.holds
    assert held.seals[0].entry.body["report"] == sealing._judged(journal, visit, None).report
    assert sealing.checked(journal, visit).holds


def test_an_amendment_after_the_seal_is_seen_with_what_was_before(place: tuple[Journal, FileKey]) -> None:
    journal, key = place
    visit = worked(journal)
    reading = next(each for each in kept.entries_of(journal, visit) if each.body.get("name") == "oxygen_dry")
    sealing.sealed(journal, visit, key=key, signer=ME)
    changing.amended(journal, visit, reading.read.entry.id, {"value": "5.3 %"}, because="misread by one")
    stands = next(e for e in kept.entries_of(journal, visit) if e.read.entry.id == reading.read.entry.id)
    assert stands.body["value"]["typed"] == "5.3 %"
    assert stands.history[0].before["value"]["typed"] == "4.3"
    verdict = sealing.checked(journal, visit)
    assert verdict.holds
    assert [each.entry.kind for each in verdict.later] == ["amendment"]
    with pytest.raises(EntryError):
        changing.amended(journal, visit, reading.read.entry.id, {"value": "5.4 %"}, because="")


def test_working_needs_no_ticket_and_sealing_does(place: tuple[Journal, FileKey]) -> None:
    journal, key = place
    boss = journal.add(Draft("person", {"name": "Invented Boss", "role": "administrator"})).id
    tech = journal.add(Draft("person", {"name": "Invented Tech", "role": "technician"})).id
    ticket = {"person": tech, "words": "invented ticket", "expires": "2020-01-01"}
    journal.add(Draft("ticket", ticket))
    visit = worked(journal)
    with pytest.raises(NotAllowed, match="without a role"):
        sealing.sealed(journal, visit, key=key, signer=ME)
    with pytest.raises(NotAllowed, match="ticket"):
        sealing.sealed(journal, visit, key=key, signer=Signer(who=tech, recognised="key"))
    journal.add(Draft("ticket", {**ticket, "expires": "2030-01-01"}))
    sealing.sealed(journal, visit, key=key, signer=Signer(who=tech, recognised="key"))
    assert sealing.checked(journal, visit).holds
    assert boss != tech


def test_the_same_customer_site_and_appliance_are_entered_once(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    door = {
        **DOOR,
        "visit": {**DOOR["visit"], "customer": "Ms. Madeup", "site": "Made-up Street 1"},
        "instrument": {"words": "analyser NOT-REAL"},
    }
    first, second = (kept.begun(journal, door) for _ in range(2))
    assert {first.body[key] for key in ("customer", "site")} == {second.body[key] for key in ("customer", "site")}
    assert first.body["appliances"] == second.body["appliances"]
    kinds = [read.entry.kind for read in journal.of_kind("customer", "site", "appliance", "instrument")]
    assert sorted(kinds) == ["appliance", "customer", "instrument", "site"]
    other = kept.begun(journal, {**door, "visit": {**door["visit"], "site": "Made-up Street 2"}})
    assert other.body["customer"] == first.body["customer"]
    assert other.body["appliances"] != first.body["appliances"]
    reading = adding.added(journal, first.id, "o2 4").entries[-1]
    assert reading.body["instrument"] == next(iter(journal.of_kind("instrument"))).entry.id


def test_a_visit_whose_people_were_erased_still_makes_a_sheet(place: tuple[Journal, FileKey]) -> None:
    from fluewright.record.erase import erased
    from fluewright.record.views.catching_up import looked_at
    from fluewright.record.views.looking_up import found

    journal, key = place
    visit = kept.brought_in(journal, Path(__file__).parent / "whole.toml")
    still = [each.name for each in closing.dangers_of(journal, visit.id) if each.open]
    closing.closed(journal, visit.id, still, how="made safe", words="Ms. Madeup-Owner saw the heater shut off")
    sealing.sealed(journal, visit.id, key=key, signer=ME)
    with looked_at(journal.store) as connection:
        assert found(connection, "madeup", 20)
    erased(journal, visit.body["customer"], because="asked to be forgotten", not_under=LAWS)
    with looked_at(journal.store) as connection:
        assert not found(connection, "madeup", 20)
    sheet = text(work.judged(kept.account_of(journal, visit.id)).sheet(), plain=True)
    assert "(erased)" in sheet
    assert sealing.checked(journal, visit.id).holds
    journal.store.close()
    held = b"".join(each.read_bytes() for each in journal.store.settings.path().parent.rglob("*") if each.is_file())
    for word in (b"Madeup-Owner", b"Made-up Street", b"dryer next", b"iced"):
        assert word not in held


def test_a_danger_that_was_amended_stands_with_what_was_told_first(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    visit = worked(journal)
    notice = changing.noticed(journal, visit, "carbon monoxide in the bedroom", consent="refused")
    for fields in ({"words": "a smell"}, {"words": "nothing", "consent": "yes"}):
        changing.amended(journal, visit, notice.id, fields, because="it was not so bad")
    sheet = " ".join(text(work.judged(kept.account_of(journal, visit)).sheet(), plain=True).split())
    assert "Nothing (amended; told first as consent: refused; words: carbon monoxide in the bedroom)" in sheet
