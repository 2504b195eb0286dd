"""A broker, a pair of joined terminals, a journal and a hub of the tests' own, all on this machine."""

import asyncio
import os
import pty
import shutil
import socket
import subprocess
import threading
import time
import tomllib
import tty
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import pytest

from fluewright.live.hub import Hub
from fluewright.live.mapping import Mapping, from_data
from fluewright.live.source import opened
from fluewright.record import blocks
from fluewright.record.files import content_of
from fluewright.record.journal import Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings

CHANNELS = """
[[channel]]
from = "o2"
quantity = "oxygen_dry"
unit = "%"
t90 = "20 s"
step = "0.1 %"
[[channel]]
from = "co"
quantity = "carbon_monoxide_dry"
unit = "ppm"
top = "2000 ppm"
"""


def mapping_of(text: str, folder: Path = Path()) -> Mapping:
    """A mapping from TOML."""
    return from_data(tomllib.loads(text), folder=folder)


def free_port() -> int:
    """A port of this machine that nobody listens on."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def until(true: Callable[[], bool], seconds: float = 15.0, what: str = "it") -> None:
    """Wait until something is so."""
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, f"{what} did not come within {seconds} s"
        time.sleep(0.02)


class Broker:
    """A real broker on a free port, that can be killed and begun again on the same port with what it kept."""

    def __init__(self, folder: Path) -> None:
        found = shutil.which("mosquitto") or "/usr/sbin/mosquitto"
        if not Path(found).exists():
            pytest.skip("no broker here (on Debian: apt-get install mosquitto)")
        self.program, self.port, self.folder = found, free_port(), folder
        self.process: subprocess.Popen[bytes] | None = None
        self.config = folder / "mosquitto.conf"
        self.config.write_text(
            f"listener {self.port} 127.0.0.1\nallow_anonymous true\npersistence true\n"
            f"persistence_location {folder}/\nautosave_interval 1\nautosave_on_changes true\n"
            f"max_queued_messages 100000\nuser {'root' if os.getuid() == 0 else ''}\n"
        )

    def begin(self) -> None:
        """Start it; returns when it answers."""
        self.process = subprocess.Popen([self.program, "-c", str(self.config)], stderr=subprocess.DEVNULL)
        until(self.answers, what="the broker")

    def answers(self) -> bool:
        with socket.socket() as found:
            return found.connect_ex(("127.0.0.1", self.port)) == 0

    def kill(self) -> None:
        """End it as a cut power would."""
        assert self.process is not None
        self.process.kill()
        self.process.wait()


@pytest.fixture
def broker(tmp_path: Path) -> Iterator[Broker]:
    """A running broker."""
    folder = tmp_path / "broker"
    folder.mkdir()
    made_one = Broker(folder)
    made_one.begin()
    yield made_one
    made_one.kill()


class Wire:
    """Two terminals joined: what is written to the one comes out of the other, which has a name."""

    def __init__(self) -> None:
        self.ours, theirs = pty.openpty()
        tty.setraw(self.ours)
        tty.setraw(theirs)
        self.theirs, self.device = theirs, os.ttyname(theirs)

    def write(self, data: bytes) -> None:
        os.write(self.ours, data)

    def close(self) -> None:
        for end in (self.ours, self.theirs):
            os.close(end)


@contextmanager
def joined() -> Iterator[tuple[str, str]]:
    """The names of two terminals joined by a pump, for a line that both sides speak on."""
    left, right = Wire(), Wire()
    going = True

    def pump(source: int, target: int) -> None:
        while going:
            try:
                os.write(target, os.read(source, 1024))
            except OSError:
                return

    for one, other in ((left, right), (right, left)):
        threading.Thread(target=pump, args=(one.ours, other.ours), daemon=True).start()
    yield left.device, right.device
    going = False


def journal_in(folder: Path) -> Journal:
    """A new journal."""
    return made(Settings(str(folder / "journal.db")), device_name="test")


def heard(
    journal: Journal,
    folder: Path,
    mappings: list[Mapping],
    act: Callable[[Hub], Awaitable[Any]],
    *,
    block: float = 60.0,
) -> Hub:
    """Listen to sources while something is done; -> the hub, all that came being in the journal."""

    async def all_of_it() -> Hub:
        hub = Hub(journal, folder / "live", block=block)
        hub.open()
        for mapping in mappings:
            hub.add(opened(mapping, place=hub.place_of(mapping.name)))
        running, acting = asyncio.create_task(hub.run()), asyncio.ensure_future(act(hub))
        await asyncio.wait([running, acting], return_when=asyncio.FIRST_COMPLETED)
        running.cancel()
        with suppress(asyncio.CancelledError):
            await running
        await acting
        return hub

    return asyncio.run(all_of_it())


async def kept_rows(hub: Hub, count: int, seconds: float = 15.0) -> None:
    """Wait until so many rows are kept."""
    end = asyncio.get_running_loop().time() + seconds
    while hub.number < count:
        assert asyncio.get_running_loop().time() < end, f"{hub.number} of {count} rows came within {seconds} s"
        await asyncio.sleep(0.02)


def texts(journal: Journal, source: str, channel: str = "oxygen_dry") -> list[str | None]:
    """All texts of one channel of a source in the journal, in the order of its blocks."""
    found: list[str | None] = []
    for read in journal.of_kind("trace block"):
        if read.body["source"] == source:
            block = blocks.unpacked(content_of(journal.store.settings.files_folder(), read.body["file"]))
            found += next(each.values for each in block.channels if each.name.partition("@")[0] == channel)
    return found
