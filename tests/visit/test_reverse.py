"""Looking back from a calibration: every verdict that would change is found, no other is, and nothing is touched.

Five thousand visits are gone through in `benchmarks/b20_suspect.py`; here are a thousand.
"""

import random
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from doubted_shop import BACK, ERROR, Doubted, drafts, made, tree

from fluewright.errors import Problems
from fluewright.evidence.checked import MONOXIDE, OXYGEN
from fluewright.evidence.corrected import changes, corrected
from fluewright.record.journal import Journal
from fluewright.record.keys_ed25519 import key_of, made_in
from fluewright.record.opening import made as journal_made
from fluewright.record.seal import Signer
from fluewright.record.settings import Settings
from fluewright.record.views import shown
from fluewright.record.views.catching_up import looked_at
from fluewright.rules.shop import PROGRAM
from fluewright.visit import adding, changing, file, kept, reverse, reverse_told, sealing, shelf, work
from fluewright.visit.could_flip import Sieve
from fluewright.visit.source import Source

VISITS, FLIPS = 1_000, 37
LIMIT = 10.0
"""s of this program's own work; the clock on the wall belongs to whatever else runs here."""


def opened(folder: Path) -> Journal:
    """An empty journal whose device can sign."""
    settings = Settings(str(folder / "journal.db"))
    return journal_made(settings, device_name="test", key=made_in(settings.keys_folder()).public)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Journal, Doubted]]:
    journal = opened(tmp_path_factory.mktemp("shop"))
    yield journal, made(journal, count=VISITS, flips=FLIPS)
    journal.store.close()


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    found = opened(tmp_path)
    yield found
    found.store.close()


def test_all_known_flips_are_found_none_false_and_in_time(shop: tuple[Journal, Doubted]) -> None:
    journal, doubted = shop
    found = shelf.found_off(journal, doubted.instrument)
    entries = sum(anchor.sequence for anchor in journal.anchors())
    start = time.process_time()
    traced = reverse.traced(journal, found)
    taken = time.process_time() - start
    assert {one.visit for one in traced.flips} == set(doubted.flips)
    assert (traced.visits, traced.unread) == (VISITS, {})
    assert traced.opened < VISITS / 4
    assert taken < LIMIT
    assert sum(anchor.sequence for anchor in journal.anchors()) == entries  # looking changes nothing


def test_what_was_left_unopened_cannot_flip(shop: tuple[Journal, Doubted]) -> None:
    """The truth without the sieve and without the walk through readings: other figures typed, judged as any visit."""
    journal, doubted = shop
    for visit in doubted.visits[::9]:
        tables = kept.tables_of(journal, visit)
        put_right = tree(0, date.fromisoformat(tables["visit"]["date"]), 0, tables["stretch"][0]["readings"]["o2"])
        there = float(tables["stretch"][0]["readings"]["co"]) / (1.0 + ERROR)
        put_right["stretch"][0]["readings"]["co"] = f"{there!r} ppm"
        room = float(tables["room"]["reading"][0]["monoxide"].split()[0]) / (1.0 + ERROR)
        put_right["room"]["reading"][0]["monoxide"] = f"{room!r} ppm"
        before = work.judged(kept.account_of(journal, visit)).judged
        after = work.judged(file.taken(Source(Path("put right"), put_right))).judged
        assert bool(changes(before, after)) == (visit in doubted.flips)


def test_the_worst_comes_first_and_says_which_limit(shop: tuple[Journal, Doubted]) -> None:
    journal, doubted = shop
    flips = reverse.traced(journal, shelf.found_off(journal, doubted.instrument)).flips
    grades = [one.changes[0].grade for one in flips]
    assert grades == sorted(grades, key=("stop", "act", "advise", "open", "cured", "fine", "").index)
    assert {"act", "advise"} <= set(grades)
    assert all(one.changes[0].limit and one.changes[0].after and 0.0 < one.share <= 1.0 for one in flips)


def one_visit(journal: Journal, monoxide: int = 75, *, day: date = date(2026, 3, 3)) -> tuple[str, str]:
    """A shop with one visit: ids of instrument and visit."""
    instrument = shelf.entered(journal, "the grey meter").id
    shelf.calibrated(journal, instrument, day="2025-10-01", found={MONOXIDE: "0 %"})
    visit = journal.add_all(drafts(1, tree(1, day, monoxide, "5.0"), instrument))[0].id
    shelf.calibrated(journal, instrument, day=BACK.isoformat(), found={MONOXIDE: "-18 %"})
    return instrument, visit


def test_a_sealed_visit_stays_as_it_was_and_is_referred_to_once(journal: Journal) -> None:
    instrument, visit = one_visit(journal)
    key = key_of(journal.store.settings)
    sealing.sealed(journal, visit, key=key, signer=Signer(who="", recognised="in a test", name="Invented Person"))
    before = {read.entry.id: read.entry for read in journal.of_subject(visit)}
    traced = reverse.traced(journal, shelf.found_off(journal, instrument))
    assert [(one.visit, one.state, one.sealed) for one in traced.flips] == [(visit, "sealed", True)]
    first = reverse_told.referred(journal, traced, revisit="2026-12-24")
    assert [entry.kind for entry in first] == ["amendment", "due"]
    assert reverse_told.referred(journal, traced) == ()
    after = {read.entry.id: read.entry for read in journal.of_subject(visit)}
    assert {key: after[key] for key in before} == before
    said = kept.account_of(journal, visit).kept
    assert any("Referred to later: calibration of 2026-09-30 found carbon monoxide −18 %" in each for each in said)
    assert sealing.checked(journal, visit).holds
    again = reverse.traced(journal, shelf.found_off(journal, instrument)).flips
    assert [one.visit for one in again] == [visit]


def test_a_good_check_on_gas_ends_the_doubt(journal: Journal) -> None:
    instrument, _ = one_visit(journal)
    shelf.spanned(journal, instrument, MONOXIDE, "100 ppm read 97 ppm", day="2026-06-01")
    found = shelf.found_off(journal, instrument)
    assert found.since == "2026-06-01"
    assert reverse.traced(journal, found).visits == 0


def test_a_check_on_gas_that_was_off_ends_nothing(journal: Journal) -> None:
    instrument, visit = one_visit(journal)
    shelf.spanned(journal, instrument, MONOXIDE, "-9 %", day="2026-06-01")
    flips = reverse.traced(journal, shelf.found_off(journal, instrument)).flips
    assert [one.visit for one in flips] == [visit]


@pytest.mark.parametrize(
    "line", ["co 75 at flue", "instrument: zero = outdoors", "room.reading: time = 10:20; monoxide = 8 ppm"]
)
def test_what_a_figure_does_not_tell_is_opened(journal: Journal, line: str) -> None:
    """A reading typed into a table, one without oxygen beside it: none of these is left out unread."""
    instrument, visit = one_visit(journal, 2)
    adding.added(journal, visit, line)
    traced = reverse.traced(journal, shelf.found_off(journal, instrument))
    assert traced.opened == (0 if line.startswith("instrument") else 1)


def test_an_amended_or_struck_visit_counts_as_it_stands(journal: Journal) -> None:
    instrument, visit = one_visit(journal)
    reading = next(each.read.entry.id for each in kept.entries_of(journal, visit)
                   if each.body.get("name") == "co")  # fmt: skip
    changing.amended(journal, visit, reading, {"value": "12 ppm"}, because="read off the wrong line")
    assert reverse.traced(journal, shelf.found_off(journal, instrument)).flips == ()


def test_two_cells_off_are_judged_each_alone_and_together() -> None:
    account = file.taken(Source(Path("visit"), tree(1, date(2026, 3, 3), 60, "5.0")))
    alone = reverse.flips_of(account, {MONOXIDE: -0.1})[0]
    both = reverse.flips_of(account, {MONOXIDE: -0.1, OXYGEN: -0.3})[0]
    assert not any(one.grade == "advise" for one in alone)
    assert any(one.grade == "advise" for one in both)


def test_readings_of_another_meter_are_left_alone() -> None:
    found = tree(1, date(2026, 3, 3), 20, "5.0", room=4)
    found["room"]["personal"] = "7 ppm"
    account = file.taken(Source(Path("visit"), found))
    room = corrected(account, {MONOXIDE: -0.5}).parts[0]
    assert room.personal.figure == pytest.approx(7e-6)  # type: ignore[attr-defined]
    assert room.readings[0].reading.figure == pytest.approx(8e-6)  # type: ignore[attr-defined]
    assert corrected(account, {}) == replace(account)


def varied(noise: random.Random, number: int) -> dict[str, Any]:
    """A visit anywhere: oxygen, carbon monoxide, place, burner and temperatures as they come."""
    monoxide = round(noise.choice((0.0, 3.0, 60.0, 200.0, 1200.0)) * noise.uniform(0.6, 1.6))
    found = tree(number, date(2026, 3, 3), monoxide,
                 f"{noise.choice((0.5, 2.0, 3.9, 4.4, 5.0, 6.5, 8.8, 11.0, 17.0)) * noise.uniform(0.95, 1.05):.1f}",
                 room=noise.choice((0, 2, 8)))  # fmt: skip
    found["visit"]["jurisdiction"] = noise.choice(("US", "US-MN", "DE", "GB", ""))
    found["appliance"] |= noise.choice(
        ({}, {"burner": "induced draft"}, {"burner": "atmospheric"}, {"output": "20 kW"})
    )
    stack = noise.choice(("60 C", "120 C", "190 C", ""))
    readings = found["stretch"][0]["readings"]
    readings |= {"stack": stack}
    if not stack:
        del readings["stack"], readings["air"]
    return found


@pytest.mark.parametrize("share", [-0.06, -0.02, 0.04])
def test_an_error_of_the_oxygen_cell_flips_nothing_that_was_left_unopened(journal: Journal, share: float) -> None:
    noise = random.Random(round(share * 1000))
    meter = shelf.entered(journal, "the grey meter").id
    made_of = {}
    for number in range(120):
        told = varied(noise, number)
        try:
            some = drafts(number, told, meter)
        except Problems:  # a burner that this law's books do not know
            continue
        made_of[journal.add_all(some)[0].id] = told
    shelf.calibrated(journal, meter, day=BACK.isoformat(), found={"oxygen": f"{share * 100:g} %"})
    found = shelf.found_off(journal, meter)
    with looked_at(journal.store) as connection:
        rows = shown.between(connection, meter, found.since, found.day)
    suspects = set(Sieve(PROGRAM, found.errors).through(rows))
    left = [visit for visit in made_of if visit not in suspects]
    assert len(left) > len(made_of) / 10
    assert not [made_of[visit] for visit in left if reverse.flips_of(kept.account_of(journal, visit), found.errors)[0]]


def test_what_rests_on_the_flame_beside_it_is_opened_for_the_oxygen_cell(journal: Journal) -> None:
    meter = shelf.entered(journal, "the grey meter").id
    told = tree(1, date(2026, 3, 3), 5, "5.0")
    more = {**told, "water_side": {"return": "60 C", "supply": "70 C", "flow": "1.2 m3/h"}}
    plain, part = (journal.add_all(drafts(1, one, meter))[0].id for one in (told, more))
    with looked_at(journal.store) as connection:
        rows = shown.between(connection, meter, "", BACK.isoformat())
    assert Sieve(PROGRAM, {OXYGEN: -0.02}).through(rows) == [part]
    assert plain
