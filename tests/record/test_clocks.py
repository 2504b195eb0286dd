"""Trust test 15: a clock that lies. Order is by number, never by clock; what the clock said is kept and doubted."""

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from fluewright import clock
from fluewright.record.check import every
from fluewright.record.clocks import clock_doubts, time_in
from fluewright.record.doctor import looks
from fluewright.record.opening import made, opened
from record_example import reading, settings_in
from trust import told

NOON = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
SUMMER, WINTER = timezone(timedelta(hours=2)), timezone(timedelta(hours=1))

LIES: dict[str, tuple[list[datetime], list[str]]] = {
    "right": ([NOON + timedelta(minutes=at) for at in range(5)], []),
    "back by an hour": ([NOON, NOON + timedelta(minutes=1), NOON - timedelta(hours=1), NOON], ["before entry 3"]),
    "forward by ten years": ([NOON, NOON.replace(year=2036), NOON], ["its id was made at", "before entry 3"]),
    "no battery": ([NOON, datetime(1970, 1, 1, 0, 0, 7, tzinfo=UTC)], ["had lost the day"]),
    "summer time ends": (
        [NOON.astimezone(SUMMER), (NOON + timedelta(minutes=40)).astimezone(WINTER), NOON + timedelta(hours=1)], []),
    "a leap second, told twice": ([NOON, NOON + timedelta(seconds=1), NOON + timedelta(seconds=1)], []),
    "at midnight of the year": ([datetime(2026, 12, 31, 23, 59, 59, tzinfo=UTC), datetime(2027, 1, 1, tzinfo=UTC)], []),
}  # fmt: skip


@pytest.mark.parametrize("name", LIES)
def test_order_is_by_number_and_a_lying_clock_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    moments, expected = LIES[name]
    told_by = iter([moments[0], *moments])
    real = moments * 3 if name.startswith("a") else [NOON + timedelta(minutes=at) for at in range(20)]
    ids = iter(real)
    monkeypatch.setattr(clock.time, "time_ns", lambda: int(next(ids).timestamp() * 1e9))
    journal = made(settings_in(tmp_path), device_name="tablet", now=lambda: next(told_by))
    kept = [journal.add(reading(at)) for at in range(len(moments))]
    assert [entry.sequence for entry in kept] == list(range(2, len(moments) + 2))
    assert [entry.entered for entry in kept] == [moment.isoformat() for moment in moments]
    assert all(datetime.fromisoformat(entry.entered).utcoffset() is not None for entry in kept)
    there = [read.entry for read in opened(settings_in(tmp_path)).journal.of_kind("reading")]
    assert [entry.id for entry in there] == [entry.id for entry in kept]
    doubts = clock_doubts(kept)
    assert bool(doubts) is bool(expected)
    assert all(any(words in doubt for doubt in doubts) for words in expected), doubts
    assert every(journal.store).holds(), "a lying clock breaks no chain"
    told(15, f"clock: {name}", acknowledged=len(kept), lost=0, doubts=len(doubts))


def test_two_devices_are_not_compared_with_each_other(tmp_path: Path) -> None:
    first = made(settings_in(tmp_path / "a"), device_name="a").add(reading())
    second = made(settings_in(tmp_path / "b"), device_name="b", now=lambda: clock.now() - timedelta(hours=5)).add(
        reading()
    )
    assert [each for each in clock_doubts([first, second]) if "before entry" in each] == []


def test_the_doctor_says_that_the_clock_is_behind_the_last_entry(tmp_path: Path) -> None:
    late = clock.now() + timedelta(days=2)
    journal = made(settings_in(tmp_path), device_name="tablet", now=lambda: late)
    journal.add(reading())
    look = next(each for each in looks(journal.store) if each.name == "clock")
    assert not look.good and "before the last entry" in look.found


def test_the_moment_within_an_id() -> None:
    # RFC 9562, appendix A.6: this id was made on 22 February 2022 at 14:22:22 UTC-05:00.
    found = time_in("017f22e2-79b0-7cc3-98c4-dc0c0c07398f")
    assert found == datetime(2022, 2, 22, 19, 22, 22, tzinfo=UTC)
