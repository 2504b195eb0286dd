"""The hub: slow lookers-on lose frames and no samples, copies and replays are told apart, one clock, bounded memory."""

import asyncio
import random
from contextlib import suppress
from pathlib import Path

import pytest
from set_up import heard, journal_in, kept_rows, mapping_of, texts

from fluewright import clock
from fluewright.errors import NotAllowed
from fluewright.live.again import KEYS, RUN, Seen, mark_of
from fluewright.live.daybook import Daybook
from fluewright.live.hub import BACK, Hub, stream
from fluewright.live.oneclock import SetClock
from fluewright.live.row import Row
from fluewright.live.source import opened
from fluewright.record.opening import made
from fluewright.record.settings import Settings

TEXT = '[text]\nseparator = ";"\ncolumns = ["o2"]\n'
ONE = '[[channel]]\nfrom = "o2"\nquantity = "oxygen_dry"\nunit = "%"\n'


def tail(folder: Path, lines: int, begin: int = 0, name: str = "log") -> str:
    (folder / f"{name}.txt").open("a").write("".join(f"{n / 1000:.3f}\n" for n in range(begin, begin + lines)))
    return (
        f'[source]\nname = "{name}"\nkind = "tail"\ninstrument = "meter A"\nappliance = "boiler of {name}"\n'
        "[connection]\n"
        f'file = "{name}.txt"\nstart = "beginning"\n{TEXT}{ONE}'
    )


def test_one_that_is_slow_loses_frames_and_no_samples(tmp_path: Path) -> None:
    journal, count = journal_in(tmp_path), 3000
    mapping = mapping_of(tail(tmp_path, count), tmp_path)
    ids: list[int] = []

    async def act(hub: Hub) -> None:
        slow, quick = hub.subscribe(most=10), hub.subscribe(most=10_000)
        await kept_rows(hub, count)
        while len(ids) < count and (frame := await quick.next()) is not None:
            ids.append(frame.id)
        first = await slow.next()
        assert first is not None and (slow.lost, first.id) == (count - 10, count - 9)
        back = hub.subscribe(after=count - 3)  # a page that comes back says what it saw last
        assert [(await back.next()).id for _ in range(3)] == [count - 2, count - 1, count]  # type: ignore[union-attr]
        assert hub.subscribe(after=5, most=BACK).lost == count - BACK - 5
        assert hub.subscribe(after=count).lost == 0
        hub.leave(slow)

    heard(journal, tmp_path, [mapping], act)
    assert ids == list(range(1, count + 1))
    assert texts(journal, "log") == [f"{n / 1000:.3f}" for n in range(count)]


def test_several_instruments_and_appliances_stand_on_one_clock_in_blocks_of_their_own(tmp_path: Path) -> None:
    journal = journal_in(tmp_path)
    mappings = [mapping_of(tail(tmp_path, 5, name=name), tmp_path) for name in ("a", "b", "c")]

    async def act(hub: Hub) -> None:
        await kept_rows(hub, 15)
        await hub.cut()
        for name in ("a", "b"):
            tail(tmp_path, 5, 5, name)
        await kept_rows(hub, 25)

    heard(journal, tmp_path, mappings, act)
    found = [
        (read.body["source"], read.body["appliance_words"], read.body["count"])
        for read in journal.of_kind("trace block")
    ]
    assert found == [(n, f"boiler of {n}", 5) for n in ("a", "b", "c", "a", "b")]
    assert len({read.body["start"][:16] for read in journal.of_kind("trace block")}) <= 2


def test_two_hubs_cannot_keep_in_one_place(tmp_path: Path) -> None:
    one, other = Daybook(tmp_path), Daybook(tmp_path)
    one.take()
    with pytest.raises(NotAllowed) as error:
        other.take()
    assert error.value.code == "FW-N-110"
    one.close()
    other.take()


def test_a_torn_line_is_nothing_and_a_damaged_one_is_put_aside(tmp_path: Path) -> None:
    journal, folder = journal_in(tmp_path), tmp_path / "live"
    mapping = mapping_of(tail(tmp_path, 4), tmp_path)

    async def left() -> None:
        hub = Hub(journal, folder)
        hub.open()
        hub.add(opened(mapping))
        running = asyncio.create_task(hub.run())
        await kept_rows(hub, 4)
        path = hub.daybook.path
        content = path.read_bytes().splitlines(keepends=True)
        content[2] = content[2].replace(b"0.001", b"0.009")  # a flipped bit in the second row
        hub.daybook.close()
        running.cancel()
        await asyncio.gather(running, return_exceptions=True)
        for each in folder.glob("*.rows"):
            each.unlink()
        path.write_bytes(b"".join(content) + b'1234abcd {"source":"log"')

    asyncio.run(left())
    before = len(list(journal.of_kind("trace block")))
    hub = Hub(journal, folder)
    hub.open()
    assert "1 lines" in " ".join(hub.said) or hub._left[0][1] == 1
    hub.daybook.close()
    blocks = list(journal.of_kind("trace block"))[before:]
    assert [read.body["count"] for read in blocks] == [3]


class Deaf:
    """A source that does not hear that it is to stop, as a library may when its answer comes at that very moment."""

    name, wire, real = "log", True, True

    async def next(self) -> Row | None:
        with suppress(asyncio.CancelledError):
            await asyncio.sleep(0.01)
        return Row("log", clock.seconds(), {"o2": "4.3"})

    async def close(self) -> None:
        pass


def test_a_source_that_does_not_hear_to_stop_is_left_all_the_same(tmp_path: Path) -> None:
    journal = journal_in(tmp_path)

    async def all_of_it() -> int:
        hub = Hub(journal, tmp_path / "live")
        hub.open()
        hub.add(stream(mapping_of(tail(tmp_path, 1), tmp_path), Deaf()))
        running = asyncio.create_task(hub.run())
        await kept_rows(hub, 5)
        running.cancel()
        with suppress(asyncio.CancelledError):
            await asyncio.wait_for(running, 10.0)
        return hub.number

    assert len(texts(journal, "log")) == 0
    assert asyncio.run(all_of_it()) == len(texts(journal, "log")) >= 5


def test_a_virtual_appliance_has_no_place_among_real_visits(tmp_path: Path) -> None:
    said = mapping_of('[source]\nname = "v"\nkind = "appliance"\ninstrument = "virtual"\n[connection]\n'
                      'design = "oil"\nfaults = ["exchanger-sooted=0.8"]\nspeed = 0\nseconds = 60\n')  # fmt: skip
    real = Hub(journal_in(tmp_path), tmp_path / "live")
    with pytest.raises(NotAllowed) as error:
        real.add(opened(said))
    assert error.value.code == "FW-N-113"
    practice = made(Settings(str(tmp_path / "practice.db")), device_name="test", practice=True)

    async def act(hub: Hub) -> None:
        await kept_rows(hub, 90)

    heard(practice, tmp_path / "p", [said], act)
    assert len(texts(practice, "v", "flue_temperature")) == 90


def row(n: int, noise: random.Random) -> dict[str, str]:
    return {"o2": f"{4 + noise.gauss(0, 0.1):.1f}", "co": f"{30 + noise.gauss(0, 3):.0f}", "t": f"{150 + n / 20:.1f}"}


def test_a_recorded_stretch_that_is_sent_again_is_noticed() -> None:
    noise = random.Random(1)
    recorded = [row(n, noise) for n in range(300)]
    seen = Seen()
    assert not any(map(seen.look, recorded))
    assert not any(seen.look(row(n, noise)) for n in range(600))
    shows = [seen.look(each) for each in recorded]
    assert shows.count(True) == 1 and seen.replayed
    assert shows.index(True) < RUN + 100
    again = Seen()
    again.restore(seen.state())
    assert again.replayed  # also after a restart


def test_a_display_that_stands_still_is_no_replay() -> None:
    noise = random.Random(2)
    seen = Seen()
    assert not any(
        seen.look({"o2": noise.choice(("4.3", "4.4")), "co": noise.choice(("30", "31"))}) for _ in range(5000)
    )


def test_copies_and_used_up_numbers() -> None:
    seen = Seen()
    seen.keep(key="7:abc", mark="")
    assert seen.found(key="7:abc", again=True, mark="") == "copy"
    assert seen.found(key="7:abc", again=False, mark="") == "new"  # the broker counts round
    last = 1000 + KEYS + 400
    for number in range(1000, last + 1):
        mark = mark_of(number, {"co": "1"}, proven=True)
        assert seen.found(key="", again=False, mark=mark) == "new"
        seen.keep(key="", mark=mark)
    assert seen.found(key="", again=False, mark=str(last - 9)) == "copy"
    assert seen.found(key="", again=False, mark="1001") == "used up"  # forgotten, and refused all the same
    assert (seen.copies, seen.used_up) == (2, 1)
    again = Seen()
    again.restore(seen.state())
    assert again.found(key="", again=False, mark=str(last)) == "copy"
    assert again.found(key="", again=False, mark="1001") == "used up"


def test_numbers_sent_beforehand_do_not_hush_an_alarm() -> None:
    seen = Seen()
    seen.keep(key="", mark=mark_of(8, {"co": "0"}, proven=False))
    assert seen.found(key="", again=False, mark=mark_of(8, {"co": "900"}, proven=False)) == "new"
    assert seen.found(key="", again=False, mark=mark_of(8, {"co": "0"}, proven=False)) == "copy"


@pytest.mark.parametrize("offset", [-7200.0, -3.0, 0.0, 90.0, 7200.0])
def test_a_clock_that_is_wrong_is_set_against_ours(offset: float) -> None:
    clock, noise, worst = SetClock(), random.Random(3), 0.0
    for n in range(300):
        made_at, delay = 1e9 + n, 0.01 + noise.expovariate(20.0)
        at, late = clock.at(stamped=made_at + offset, arrived=made_at + delay)
        assert not late and at <= made_at + delay
        worst = max(worst, abs(at - made_at)) if n > 20 else 0.0
    assert worst < 0.1


def test_rows_that_waited_in_a_broker_keep_their_moment() -> None:
    clock = SetClock()
    for n in range(60):
        clock.at(stamped=1e9 + n, arrived=1e9 + n + 0.02)
    waited = [clock.at(stamped=1e9 + 60 + n, arrived=1e9 + 660 + n * 0.001)[0] - (1e9 + 60 + n) for n in range(600)]
    assert max(map(abs, waited)) < 0.1
    assert clock.jumps == 0


def test_a_row_that_comes_late_is_told_and_a_clock_set_back_is_not_late_for_ever() -> None:
    clock = SetClock()
    for n in range(60):
        clock.at(stamped=1e9 + n, arrived=1e9 + n + 0.02)
    assert clock.at(stamped=1e9 + 50.5, arrived=1e9 + 60.1) == (pytest.approx(1e9 + 50.52, abs=0.01), True)
    late = [clock.at(stamped=1e9 + n - 3600.0, arrived=1e9 + n + 0.02)[1] for n in range(61, 200)]
    assert clock.jumps == 1 and not any(late[40:])
