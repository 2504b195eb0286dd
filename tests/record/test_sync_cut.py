"""Trust test 14: the link drops after any byte; what was whole is kept, the rest comes again, nothing comes twice."""

import os
from collections.abc import Sequence

import pytest
from histories import InMemory
from on_store import whole_of

from fluewright.record.journal import Draft, Journal
from fluewright.record.merge import taken_in
from fluewright.record.opening import made
from fluewright.record.parcel import lines_in
from fluewright.record.sync import answered, ends_of, message, synced, taken_from
from postgres import NewPlace
from trust import told

BYTES = 5000
NIGHT = bool(os.environ.get("FLUEWRIGHT_NIGHT"))
CUTS: Sequence[int] = range(BYTES) if NIGHT else range(0, BYTES, 250)
"""Where the link drops between real stores; in memory it drops after every byte each time."""


def test_a_message_cut_after_each_byte_in_memory() -> None:
    source = InMemory()
    while sum(map(len, source.message(InMemory().ends()))) < BYTES:
        source.write(Draft("customer", {"name": "Invented Person", "reference": "K"}))
    lines, again = source.message(InMemory().ends()), 0
    whole = b"".join(lines)
    for cut in range(BYTES):
        target = InMemory()
        first = taken_in(target, lines_in(whole[:cut]))
        assert first.new == whole[:cut].count(b"\n") and first.spoilt <= 1
        second = taken_in(target, source.message(target.ends()))
        assert first.new + second.new == len(lines) and second.already == 0
        assert [each.text for each in target.chains[source.name]] == [each.text for each in source.arrived]
        again += second.new
    told(14, "a message cut after each byte, stores in memory", acknowledged=BYTES * len(lines), lost=0, cuts=BYTES,
         again=again)  # fmt: skip


class LinkDown(Exception):
    """The link dropped."""


def cut_and_resumed(van: Journal, office: Journal, cut: int) -> int:
    """One exchange whose request ends after some bytes, then another; -> entries that went over in both."""
    whole, count, _ = message(van, ends_of(office))
    came = taken_from(office, lines_in(whole[:cut]))

    def dropped(request: bytes) -> bytes:
        raise LinkDown

    with pytest.raises(LinkDown):
        synced(van, dropped)
    met = synced(van, lambda request: answered(office, request))
    assert came.new + met.sent == count and met.taken.new == 1
    return came.new + met.sent


def test_an_exchange_cut_and_taken_up_again(new_place: NewPlace) -> None:
    went = 0
    for cut in CUTS:
        van, office = made(new_place(), device_name="van"), made(new_place(), device_name="office")
        van.add_all([Draft("customer", {"name": f"Invented Person {number}"}) for number in range(9)])
        went += cut_and_resumed(van, office, cut)
        assert whole_of(van) == whole_of(office)
        for each in (van, office):
            each.store.close()
    kind = "SQLite" if van.store.settings.is_sqlite() else "PostgreSQL"
    told(14, f"an exchange cut and taken up again, {kind}", acknowledged=went, lost=10 * len(CUTS) - went,
         cuts=len(CUTS))  # fmt: skip
    assert went == 10 * len(CUTS)
