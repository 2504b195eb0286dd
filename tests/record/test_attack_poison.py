"""Entries that only another program would write, from a device that was let in: kept, counted, and in nobody's way."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from forger import Forger
from made import new_journal, seal_of, visit_in

from fluewright.errors import EntryError, FluewrightError, NotAllowed
from fluewright.record.check import every
from fluewright.record.clocks import clock_doubts
from fluewright.record.conflict import conflicts_in
from fluewright.record.doctor import looks
from fluewright.record.erase import erased
from fluewright.record.export import exported
from fluewright.record.files import named_in
from fluewright.record.held import holds_in_force
from fluewright.record.journal import Draft, Journal
from fluewright.record.keys import known_keys, revocations
from fluewright.record.keys_ed25519 import FileKey
from fluewright.record.kinds import KINDS
from fluewright.record.opening import opened
from fluewright.record.parcel import said_in
from fluewright.record.people import persons, tickets_of
from fluewright.record.retention import laws
from fluewright.record.salvage import sound_secrets
from fluewright.record.seal_check import verified
from fluewright.record.sheets import laid_out
from fluewright.record.sync import answered, synced, taken_from
from fluewright.record.views.catching_up import looked_at, rebuild, unread

ODD = (5, "x", [], {}, [5], {"x": 5}, True, None, "9999-12-31", "0001-01-01T00:00:00+14:00", {"commitment": 5},
       "9999-12-31T23:59:59-14:00", -(2**53) + 1)  # fmt: skip


class Nowhere:
    """Rows of tables that nobody keeps."""

    def row(self, *_: object) -> None:
        """Take one."""

    def close(self) -> None:
        """End."""


def poisoned(journal: Journal, visit: str) -> Forger:
    """Every kind with every field of every wrong form, and with none at all."""
    forger = Forger()
    for kind in KINDS.values():
        forger.say(kind.name, {})
        for value in ODD:
            body = {field.name: value for field in kind.fields if field.name not in ("visit", "of")}
            bond = {name: visit for name in ("visit", "of") if kind.field(name)}
            forger.say(kind.name, body | bond)
    forger.say("note", {"visit": visit, "word": "late"}, id="ffffffff-ffff-7fff-8fff-ffffffffffff")
    return forger


def uses(journal: Journal, key: FileKey, visit: str, folder: Path) -> dict[str, Callable[[], object]]:
    """What people do with a journal."""
    return {
        "revocations": lambda: revocations(journal),
        "keys": lambda: known_keys(journal),
        "holds": lambda: holds_in_force(journal, date(2026, 11, 25)),
        "files": lambda: list(named_in(journal)),
        "people": lambda: (persons(journal), tickets_of(journal, visit)),
        "rebuild": lambda: rebuild(journal.store),
        "conflicts": lambda: list(conflicts_in(journal)),
        "clocks": lambda: clock_doubts(read.entry for read in journal.of_kind(*KINDS)),
        "doctor": lambda: looks(journal.store),
        "open": lambda: opened(journal.store.settings),
        "sheets": lambda: laid_out(journal, Nowhere()),  # type: ignore[arg-type]
        "seals": lambda: verified(journal, visit),
        "secrets": lambda: list(sound_secrets(journal.store)),
        "export": lambda: exported(journal, folder),
        "check": lambda: every(journal.store),
        "erase": lambda: erased(journal, visit, because="asked for", not_under=[law.id for law in laws()]),
    }


def test_nothing_trips_over_bodies_that_are_not_of_their_kind(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    visit, clean = visit_in(journal), visit_in(journal)
    seal_of(journal, visit, key)
    forger = poisoned(journal, visit)
    taken = taken_from(journal, forger.lines)
    assert taken.new == len(forger.lines) and not taken.spoilt
    failed = []
    for name, use in uses(journal, key, visit, tmp_path / "out").items():
        try:
            use()
        except NotAllowed:
            assert name == "erase"  # one of the holds among them is a hold
        except FluewrightError as error:
            failed.append(f"{name}: {error.read}")
        except Exception as error:
            failed.append(f"{name}: {type(error).__name__} {error}")
    assert failed == []
    assert every(journal.store).wrong == []
    seal_of(journal, clean, key)
    assert verified(journal, clean).holds
    with looked_at(journal.store) as connection:
        assert sum(row["entries"] for row in unread(connection)) > 300
    office, _ = new_journal(tmp_path, "office")
    synced(journal, lambda request: answered(office, request))
    assert office.entry(visit) is not None and every(office.store).wrong == []


@pytest.mark.parametrize("entered", ["", "yesterday", "2026-11-25T10:00:00", "0001-01-01T00:00:00+14:00"])
def test_an_entry_that_does_not_say_when_is_no_entry(entered: str) -> None:
    forger = Forger()
    forger.say("note", {"visit": forger.device, "word": "x"}, entered=entered)
    assert "when it was entered" in str(said_in(forger.lines[-1]))


def test_a_time_without_its_offset_is_not_kept(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    visit = visit_in(journal)
    draft = Draft("note", {"visit": visit, "word": "x"}, observed=datetime(2026, 11, 25, 10, 0))
    with pytest.raises(EntryError, match="offset"):
        journal.add(draft)
    journal.add(Draft("note", draft.body, observed=datetime(2026, 11, 25, 10, 0, tzinfo=UTC)))
