"""Amendments and strike-outs: what stands now, what stood before, and that the order of arrival does not matter."""

import itertools
from collections.abc import Mapping
from typing import Any

from hypothesis import given
from hypothesis import strategies as some

from fluewright.record.entry import NOTHING_BEFORE, Entry
from fluewright.record.fold import current, in_order
from fluewright.record.reading import Read

NOON = "2026-11-25T12:00:00+00:00"


def read(kind: str, name: str, body: Mapping[str, Any], device: str = "d", number: int = 1, at: str = NOON) -> Read:
    return Read(Entry(name, kind, 1, device, number, NOTHING_BEFORE, at, "", device, "typed", body), body)


def amends(name: str, of: str, fields: Mapping[str, Any], device: str = "d", number: int = 2, at: str = NOON) -> Read:
    return read("amendment", name, {"of": of, "fields": fields, "because": "seen again"}, device, number, at)


def strikes(name: str, of: str, number: int = 3) -> Read:
    return read("struck out", name, {"of": of, "because": "wrong house"}, number=number)


NOTE = read("note", "n", {"visit": "v", "word": "soot at the door"})


def test_an_amendment_shows_both() -> None:
    (found,) = current([NOTE, amends("a", "n", {"word": "soot at the draft hood", "time": "10:20"})])
    assert found.body == {"visit": "v", "word": "soot at the draft hood", "time": "10:20"}
    assert found.read.body["word"] == "soot at the door"
    assert found.history[0].before == {"word": "soot at the door", "time": None}
    assert found.counts and not found.disputed


def test_a_field_can_be_taken_away() -> None:
    timed = amends("a", "n", {"word": "x", "time": "1:00"})
    (found,) = current([NOTE, timed, amends("b", "n", {"time": None}, number=3)])
    assert found.body == {"visit": "v", "word": "x"}


def test_within_a_device_the_number_decides_and_not_the_clock() -> None:
    early = amends("a", "n", {"word": "first"}, number=2, at="2036-01-01T00:00:00+00:00")
    late = amends("b", "n", {"word": "second"}, number=3, at="1970-01-01T00:00:00+00:00")
    for order in itertools.permutations([NOTE, early, late]):
        assert current(order)[0].body["word"] == "second"


def test_two_devices_that_differ_are_shown_and_settled_by_striking_one_out() -> None:
    ours = amends("a", "n", {"word": "ours"}, "d", 2)
    theirs = amends("b", "n", {"word": "theirs"}, "e", 2, "2026-11-25T07:00:01-05:00")
    (found,) = current([theirs, ours, NOTE])
    assert found.disputed == ("word",) and found.body["word"] == "theirs"
    (found,) = current([theirs, ours, NOTE, strikes("s", "b")])
    assert found.disputed == () and found.body["word"] == "ours"


def test_a_strike_out_of_a_strike_out_lets_the_entry_count_again() -> None:
    assert not current([NOTE, strikes("s", "n")])[0].counts
    assert current([NOTE, strikes("s", "n"), strikes("t", "s", 4)])[0].counts
    assert not current([NOTE, strikes("s", "n"), strikes("t", "s", 4), strikes("u", "t", 5)])[0].counts


def test_strike_outs_in_a_circle_strike_nothing() -> None:
    assert current([NOTE, strikes("s", "t"), strikes("t", "s", 4)])[0].counts
    assert current([NOTE, strikes("s", "n"), strikes("n2", "s", 4), strikes("s2", "n2", 5)])[0].struck


def test_an_amended_amendment_has_its_new_fields() -> None:
    (found,) = current([NOTE, amends("a", "n", {"word": "x"}), amends("b", "a", {"fields": {"word": "y"}}, number=3)])
    assert found.body["word"] == "y"


def test_one_of_a_newer_form_changes_nothing_here() -> None:
    newer = amends("a", "n", {"word": "x"})
    assert current([NOTE, Read(newer.entry, newer.body, known=False)])[0].body["word"] == "soot at the door"


_AMENDMENTS = some.lists(
    some.tuples(
        some.sampled_from("de"), some.sampled_from(["word", "time"]), some.text("xyz", max_size=2),
        some.integers(0, 23), some.sampled_from(["n", "0", "1", "2"]), some.booleans(),
    ), max_size=7,
)  # fmt: skip


@given(_AMENDMENTS, some.randoms(use_true_random=False))
def test_the_order_of_arrival_never_matters(said: list[tuple[str, str, str, int, str, bool]], chance: Any) -> None:
    reads = [NOTE]
    for number, (device, field, value, hour, of, strike) in enumerate(said, 2):
        at = f"2026-11-25T{hour:02}:00:00+00:00"
        body = {"of": of, "because": "b"} | ({} if strike else {"fields": {field: value}})
        reads.append(read("struck out" if strike else "amendment", str(number - 2), body, device, number, at))
    shuffled = list(reads)
    chance.shuffle(shuffled)
    assert current(shuffled) == current(reads)
    assert in_order(shuffled) == in_order(reads)
