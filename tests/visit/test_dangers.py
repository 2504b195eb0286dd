"""Dangerous causes: in view on the sheet, closed before the seal, open again when a later reading brings them back."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.fold import current
from fluewright.record.journal import Journal
from fluewright.record.keys_ed25519 import FileKey, made_in
from fluewright.record.opening import made
from fluewright.record.seal import Signer
from fluewright.record.settings import Settings
from fluewright.record.sync import answered, synced
from fluewright.report.text import text
from fluewright.visit import adding, changing, closing, kept, sealing, work
from fluewright.visit.before import visit_before
from fluewright.visit.closed import closings_in
from fluewright.visit.plan import plan_of

ME = Signer(who="", recognised="sat before this machine", name="T. Placeholder (invented)")
DOOR = {
    "visit": {"title": "Made-up visit", "date": "2026-11-25", "jurisdiction": "US"},
    "appliance": {"words": "water heater that does not exist", "class": "natural-draft-water-heater"},
    "fuel": {"name": "natural-gas"},
}
SPILLS = "o2 6 co 150 stack 400F air 68F draft +1Pa"
DRAWS = "o2 6 co 20 stack 400F air 68F draft -5Pa"


@pytest.fixture
def place(tmp_path: Path) -> Iterator[tuple[Journal, FileKey]]:
    settings = Settings(str(tmp_path / "journal.db"))
    key = made_in(settings.keys_folder())
    journal = made(settings, device_name="test", key=key.public)
    yield journal, key
    journal.store.close()


def begun(journal: Journal, *lines: str) -> str:
    visit = kept.begun(journal, DOOR).id
    for line in lines:
        adding.added(journal, visit, line)
    return visit


def open_in(journal: Journal, visit: str) -> list[str]:
    return [each.name for each in closing.dangers_of(journal, visit) if each.open]


def sheet(journal: Journal, visit: str) -> str:
    return " ".join(text(work.judged(kept.account_of(journal, visit)).sheet(), plain=True).replace("|", " ").split())


def test_a_danger_is_closed_before_the_seal(place: tuple[Journal, FileKey]) -> None:
    journal, key = place
    visit = begun(journal, SPILLS)
    still = open_in(journal, visit)
    assert "flue-blocked" in still
    before = len(kept.entries_of(journal, visit))
    with pytest.raises(NotAllowed) as refused:
        sealing.sealed(journal, visit, key=key, signer=ME)
    told = refused.value
    assert told.code == "FW-N-107"
    assert all(f"[{name}]" in told.read and f"[{name}]" in told.do for name in still)
    assert "look through the flue with mirror or camera" in told.do
    assert len(kept.entries_of(journal, visit)) == before, "a refused seal leaves nothing behind"
    closing.closed(journal, visit, ["flue-blocked"], how="tested out", words="camera to the cap, all free")
    rest = [name for name in still if name != "flue-blocked"]
    assert open_in(journal, visit) == rest
    closing.closed(
        journal, visit, rest, how="escalated", words="needs a roofer", to="Made-up Chimneys", when="10:40 today"
    )
    assert open_in(journal, visit) == []
    seal = sealing.sealed(journal, visit, key=key, signer=ME)
    assert seal.kind == "seal"
    said = sheet(journal, visit)
    assert "Closed, tested out: camera to the cap, all free." in said
    assert "Closed, escalated to Made-up Chimneys; 10:40 today: needs a roofer." in said


def test_a_later_reading_brings_it_back(place: tuple[Journal, FileKey]) -> None:
    journal, key = place
    visit = begun(journal, SPILLS)
    closing.closed(journal, visit, open_in(journal, visit), how="made safe", words="connector pulled out and set again")
    assert open_in(journal, visit) == []
    changing.stepped(journal, visit, "connector set")
    adding.added(journal, visit, DRAWS)
    assert open_in(journal, visit) == [], "better readings open nothing"
    adding.added(journal, visit, SPILLS)
    assert "flue-blocked" in open_in(journal, visit)
    assert "open again: draft" in sheet(journal, visit)
    with pytest.raises(NotAllowed):
        sealing.sealed(journal, visit, key=key, signer=ME)


def test_a_reading_of_something_else_brings_nothing_back(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    visit = begun(journal, SPILLS)
    closing.closed(journal, visit, open_in(journal, visit), how="made safe", words="set again")
    adding.added(journal, visit, "look: look=flame-yellow; found=no")
    assert open_in(journal, visit) == []


def test_an_amended_reading_brings_it_back(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    visit = begun(journal, SPILLS)
    closing.closed(journal, visit, open_in(journal, visit), how="made safe", words="set again")
    reading = next(each.read.entry.id for each in kept.entries_of(journal, visit) if each.body.get("name") == "draft")
    changing.amended(journal, visit, reading, {"value": "+3 Pa"}, because="misread")
    assert "flue-blocked" in open_in(journal, visit)


def test_striking_out_a_closing_opens_it(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    visit = begun(journal, SPILLS)
    still = open_in(journal, visit)
    entries = closing.closed(journal, visit, still, how="tested out", words="mirror, smoke, camera")
    changing.struck_out(journal, visit, entries[0].id, because="wrong visit")
    assert open_in(journal, visit) == still[:1]


def test_a_look_strikes_a_danger_by_itself(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    visit = begun(journal, SPILLS)
    assert "flue-blocked" in open_in(journal, visit)
    adding.added(journal, visit, "look: look=flue-seen; found=no; because=camera to the cap")
    adding.added(journal, visit, "look: look=fans-off; found=yes; because=draws at once")
    assert "flue-blocked" not in open_in(journal, visit)
    assert "Look through the flue with mirror or camera: free; camera to the cap." in sheet(journal, visit)


def test_readings_that_the_closer_did_not_know_count_as_later(place: tuple[Journal, FileKey]) -> None:
    """A reading kept on another device before the closing, and fetched after it, was not known to who closed."""
    journal, _ = place
    visit = begun(journal, SPILLS)
    closing.closed(journal, visit, ["flue-blocked"], how="tested out", words="camera")
    entries = kept.entries_of(journal, visit)
    closer = next(each for each in entries if each.read.entry.kind == "danger closed")
    draft = next(each.read.entry.id for each in entries if each.body.get("name") == "draft")
    assert draft in closer.body["knows"]
    assert closings_in(entries)[0].since == frozenset()
    closer.body["knows"].remove(draft)
    assert closings_in(entries)[0].since == {"draft"}


def test_a_healthy_visit_grows_no_section_and_needs_no_closing(place: tuple[Journal, FileKey]) -> None:
    journal, key = place
    visit = begun(journal, DRAWS)
    assert "Causes" not in sheet(journal, visit)
    assert sealing.sealed(journal, visit, key=key, signer=ME).kind == "seal"


def test_without_a_class_the_sheet_does_not_grow(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    visit = kept.begun(journal, {**DOOR, "appliance": {"words": "heater that does not exist"}}).id
    adding.added(journal, visit, SPILLS)
    assert closing.dangers_of(journal, visit) == ()
    assert "Causes" not in sheet(journal, visit)


@pytest.mark.parametrize(
    ("dangers", "told", "code"),
    [
        (["flue-blocked"], {"how": "tested out", "words": " "}, "FW-J-125"),
        (["flue-blocked"], {"how": "escalated", "words": "needs a roofer"}, "FW-J-125"),
        (["flue-blocked"], {"how": "made safe", "words": "set again", "to": "somebody"}, "FW-J-125"),
        (["exchanger-of-cheese"], {"how": "made safe", "words": "set again"}, "FW-J-126"),
        ([], {"how": "made safe", "words": "set again"}, "FW-J-126"),
        (["flue-blocked"], {"how": "forgotten", "words": "set again"}, "FW-J-127"),
    ],
)
def test_a_closing_says_what_can_be_looked_up(
    place: tuple[Journal, FileKey], dangers: list[str], told: dict[str, str], code: str
) -> None:
    journal, _ = place
    visit = begun(journal, SPILLS)
    before = len(kept.entries_of(journal, visit))
    with pytest.raises(EntryError) as refused:
        closing.closed(journal, visit, dangers, **told)
    assert refused.value.code == code
    assert len(current(each.read for each in kept.entries_of(journal, visit))) == before


def test_the_same_form_closes_once(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    visit = begun(journal, SPILLS)
    form = "0190a0b0-c0d0-7000-8000-000000000001"
    first = closing.closed(journal, visit, ["flue-blocked"], how="made safe", words="set again", form=form)
    again = closing.closed(journal, visit, ["flue-blocked"], how="made safe", words="set again", form=form)
    assert [each.id for each in first] == [each.id for each in again]


def test_the_plan_asks_for_the_tests_of_open_dangers(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    visit = begun(journal, SPILLS)
    account = kept.account_of(journal, visit)
    lines = {line.key: line for line in plan_of(account, work.judged(account)).lines}
    assert "look through the flue with mirror or camera" in lines["danger flue-blocked"].what
    assert not lines["danger flue-blocked"].done
    closing.closed(journal, visit, ["flue-blocked"], how="tested out", words="camera")
    account = kept.account_of(journal, visit)
    assert {line.key: line for line in plan_of(account, work.judged(account)).lines}["danger flue-blocked"].done


def test_the_visit_before_is_that_of_the_same_appliance(place: tuple[Journal, FileKey]) -> None:
    journal, _ = place
    door = {**DOOR, "appliance": {**DOOR["appliance"], "serial": "made-up 1"}}
    first, second, other = (
        kept.begun(journal, {**door, "visit": {**DOOR["visit"], "date": day}, **more}).id
        for day, more in (
            ("2024-11-25", {}),
            ("2025-11-25", {}),
            ("2025-11-26", {"appliance": {**DOOR["appliance"], "serial": "made-up 2"}}),
        )
    )
    for each in (second, other, first):
        adding.added(journal, each, DRAWS)
    now = kept.begun(journal, door).id
    assert visit_before(journal, now) == second
    assert visit_before(journal, second) == first
    assert visit_before(journal, first) == ""
    changing.struck_out(journal, second, second, because="entered twice")
    assert visit_before(journal, now) == first


def test_a_closing_holds_against_readings_of_another_device(place: tuple[Journal, FileKey], tmp_path: Path) -> None:
    """Two devices apart: one closes, the other reads on; met in either order, both say the same."""
    phone, _ = place
    tablet = made(Settings(str(tmp_path / "tablet" / "journal.db")), device_name="tablet")
    visit = begun(phone, SPILLS)
    synced(tablet, lambda request: answered(phone, request))
    changing.stepped(tablet, visit, "connector set")
    adding.added(tablet, visit, SPILLS.replace("+1Pa", "+2Pa"))
    still = open_in(phone, visit)
    closing.closed(phone, visit, still, how="tested out", words="camera, mirror, fans off")
    assert open_in(phone, visit) == []
    synced(tablet, lambda request: answered(phone, request))
    assert "flue-blocked" in open_in(phone, visit), "who closed did not know that reading, whatever the clocks say"
    assert open_in(phone, visit) == open_in(tablet, visit)
    tablet.store.close()
