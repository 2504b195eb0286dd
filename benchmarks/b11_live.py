"""B11: from a sample sent to the same sample in a page, kept on the disk in between; 50 sources at 10 Hz, 10 pages.

A real broker, a real Modbus server, the hub, the senders and the pages are processes of their own. `--full` runs ten
minutes. The peer is a bare loop that writes as many events to as many pages and keeps nothing.
"""

import asyncio
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from benchmarks import measure
from benchmarks.measure import Aim, Report, Times

HERTZ, OVER_MODBUS = 10.0, 5
WARM = 300.0
"""s that a run has to take before its memory says anything."""
ROOT = Path(__file__).resolve().parent.parent


@dataclass(frozen=True, slots=True)
class Size:
    """How much is run: sources in all, pages, seconds."""

    sources: int = 50
    pages: int = 10
    seconds: float = 20.0


def free_port() -> int:
    """A port of this machine that nobody listens on."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def broker_program() -> str | None:
    """The broker; None where it is not installed."""
    return shutil.which("mosquitto") or next(iter(map(str, Path("/usr/sbin").glob("mosquitto"))), None)


def mapping_text(number: int, ports: dict[str, int], modbus: bool) -> str:
    """The mapping of one source: carbon monoxide and, as the second channel, when it was sent."""
    if modbus:
        reach = (
            f'kind = "modbus-tcp"\ninstrument = "board"\n[connection]\nhost = "127.0.0.1"\nport = {ports["modbus"]}\n'
        )
        channel = 'register = 10\nquantity = "carbon_monoxide_dry"\nunit = "ppm"\n'
        return f'[source]\nname = "s{number}"\n{reach}every = "{1000 / HERTZ:.0f} ms"\n[[channel]]\n{channel}'
    reach = f'kind = "mqtt"\ninstrument = "meter"\n[connection]\nhost = "127.0.0.1"\nport = {ports["mqtt"]}\n'
    channel = 'from = "co"\nquantity = "carbon_monoxide_dry"\nunit = "ppm"\n'
    text = '[text]\nform = "json"\nsequence = "n"\ntime = "t"\n'
    return f'[source]\nname = "s{number}"\n{reach}topic = "s/{number}"\n{text}[[channel]]\n{channel}'


# the processes


async def hub(told: dict[str, Any]) -> None:
    """The hub, with a small server of events for the pages."""
    import tomllib

    from fluewright.live.hub import Hub
    from fluewright.live.mapping import from_data
    from fluewright.live.source import opened
    from fluewright.record.opening import made
    from fluewright.record.settings import Settings

    folder = Path(told["folder"])
    one = Hub(made(Settings(str(folder / "journal.db")), device_name="bench"), folder / "live", block=told["block"])
    one.open()
    for number, modbus in told["sources"]:
        one.add(opened(from_data(tomllib.loads(mapping_text(number, told["ports"], modbus)))))
    server = await asyncio.start_server(lambda r, w: page_of(one, r, w), "127.0.0.1", told["ports"]["page"])
    running = asyncio.create_task(one.run())
    asyncio.get_running_loop().add_signal_handler(signal.SIGTERM, running.cancel)
    memory = asyncio.create_task(remembered(folder / "memory"))
    with suppress(asyncio.CancelledError):
        await running
    memory.cancel()
    server.close()


async def remembered(path: Path) -> None:
    """Write the resident memory down each second, in MB."""
    with path.open("w") as file:
        while True:
            pages = int(Path("/proc/self/statm").read_text().split()[1])
            file.write(f"{pages * os.sysconf('SC_PAGE_SIZE') / 1e6:.1f}\n")
            file.flush()
            await asyncio.sleep(1.0)


async def asked(reader: asyncio.StreamReader) -> bool:
    """Whether somebody asks, and does not only look whether the port is open."""
    with suppress(asyncio.IncompleteReadError, ConnectionError):
        return bool(await reader.readuntil(b"\r\n\r\n"))
    return False


async def page_of(one: Any, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
    """The events of one page."""
    if not await asked(reader):
        writer.close()
        return
    writer.write(b"HTTP/1.1 200 OK\r\ncontent-type: text/event-stream\r\n\r\n")
    looking = one.subscribe()
    with suppress(ConnectionError):
        while (frame := await looking.next()) is not None:
            writer.write(b"".join(each.event for each in (frame, *looking.rest())))
            await writer.drain()
    one.leave(looking)
    writer.close()


async def bare(told: dict[str, Any]) -> None:
    """The peer: as many events to as many pages, nothing kept and nothing understood."""
    writers: list[asyncio.StreamWriter] = []

    async def opened(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        if await asked(reader):
            writer.write(b"HTTP/1.1 200 OK\r\ncontent-type: text/event-stream\r\n\r\n")
            writers.append(writer)

    await asyncio.start_server(opened, "127.0.0.1", told["ports"]["page"])
    each, number, begun = 1.0 / (HERTZ * len(told["sources"])), 0, time.time()
    while True:
        number += 1
        await asyncio.sleep(max(0.0, begun + number * each - time.time()))
        frame = f'id: {number}\ndata: {{"stamped": {time.time()!r}}}\n\n'.encode()
        for writer in [each for each in writers if not each.is_closing()]:
            with suppress(ConnectionError):
                writer.write(frame)
                await writer.drain()


async def pages(told: dict[str, Any]) -> None:
    """Pages that read events and note how old the sample is that each shows, in s."""
    ages: list[float] = []

    async def page() -> None:
        reader, writer = await asyncio.open_connection("127.0.0.1", told["ports"]["page"])
        writer.write(b"GET / HTTP/1.1\r\nhost: 127.0.0.1\r\n\r\n")
        with suppress(asyncio.IncompleteReadError, ConnectionError):
            while line := await reader.readline():
                if line.startswith(b"data: "):
                    stamped = json.loads(line[6:]).get("stamped")
                    if stamped:
                        ages.append(time.time() - stamped)

    reading = [asyncio.create_task(page()) for _ in range(told["pages"])]
    await asyncio.wait(reading, timeout=told["seconds"] + 3.0)
    Path(told["folder"], "ages").write_text(json.dumps(ages))


async def modbus(told: dict[str, Any]) -> None:
    """A Modbus server with one register."""
    from pymodbus.server import ModbusTcpServer
    from pymodbus.simulator import DataType, SimData, SimDevice

    device = SimDevice(1, simdata=[SimData(10, values=38, datatype=DataType.REGISTERS)])
    await ModbusTcpServer(device, address=("127.0.0.1", told["ports"]["modbus"])).serve_forever()


async def senders(told: dict[str, Any]) -> None:
    """Instruments: each sends its number, its time and a figure, ten times a second, evenly spread."""
    import paho.mqtt.client as paho
    from paho.mqtt.enums import CallbackAPIVersion

    client = paho.Client(CallbackAPIVersion.VERSION2)
    client.max_queued_messages_set(0)
    client.max_inflight_messages_set(1000)
    client.connect("127.0.0.1", told["ports"]["mqtt"])
    client.loop_start()
    topics = [number for number, over_modbus in told["sources"] if not over_modbus]
    rounds, each, begun = int(told["seconds"] * HERTZ), 1.0 / (HERTZ * len(topics)), time.time()
    for count in range(rounds * len(topics)):
        await asyncio.sleep(max(0.0, begun + count * each - time.time()))
        body = json.dumps({"n": count // len(topics) + 1, "t": time.time(), "co": 30 + count % 9})
        last = client.publish(f"s/{topics[count % len(topics)]}", body, qos=1)
    last.wait_for_publish(20.0)
    client.loop_stop()


# the run


def _begun(role: str, told: dict[str, Any]) -> "subprocess.Popen[bytes]":
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join((str(ROOT / "src"), str(ROOT)))}
    return subprocess.Popen([sys.executable, "-m", "benchmarks.b11_live", role, json.dumps(told)], env=environment)


def _wait(port: int) -> None:
    for _ in range(600):
        with socket.socket() as found:
            if found.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.05)
    raise RuntimeError(f"nobody listens on port {port}")


def kept_in_journal(folder: Path) -> dict[str, int]:
    """Samples in the trace blocks of the journal, by source."""
    from fluewright.record.opening import opened
    from fluewright.record.settings import Settings

    rows: dict[str, int] = {}
    journal = opened(Settings(str(folder / "journal.db"))).journal
    for read in journal.of_kind("trace block"):
        rows[read.body["source"]] = rows.get(read.body["source"], 0) + read.body["count"]
    journal.store.close()
    return rows


def run_live(size: Size, folder: Path) -> dict[str, Any]:
    """One run of the hub; -> ages of the samples as pages showed them, memory, and what was kept of what was sent."""
    ports = {name: free_port() for name in ("mqtt", "modbus", "page")}
    over_modbus = min(OVER_MODBUS, size.sources - 1)
    block = 120.0 if size.seconds >= WARM else 8.0  # so that blocks are made also in a short run
    told = {"folder": str(folder), "ports": ports, "seconds": size.seconds, "pages": size.pages, "block": block,
            "sources": [(n, n < over_modbus) for n in range(size.sources)]}  # fmt: skip
    config = folder / "broker.conf"
    config.write_text(f"listener {ports['mqtt']} 127.0.0.1\nallow_anonymous true\nmax_inflight_messages 0\n")
    program = broker_program()
    assert program is not None
    started = [subprocess.Popen([program, "-c", str(config)], stderr=subprocess.DEVNULL), _begun("modbus", told)]
    try:
        _wait(ports["mqtt"])
        _wait(ports["modbus"])
        started.append(keeping := _begun("hub", told))
        _wait(ports["page"])
        time.sleep(2.0)  # so that every source is connected
        started.append(looking := _begun("pages", told))
        time.sleep(1.0)
        started.append(sending := _begun("senders", told))
        sending.wait(size.seconds + 60.0)
        looking.wait(30.0)
        keeping.terminate()
        keeping.wait(60.0)
    finally:
        for each in started:
            each.kill()
    rows, wanted = kept_in_journal(folder), int(size.seconds * HERTZ)
    lost = sum(wanted - rows[f"s{n}"] for n in range(over_modbus, size.sources))
    memory = [float(line) for line in (folder / "memory").read_text().split()]
    polled = min(rows[f"s{n}"] for n in range(over_modbus))
    return {"ages": json.loads((folder / "ages").read_text()), "lost": lost, "memory": memory,
            "rows": sum(rows.values()), "polled": polled, "wanted": wanted}  # fmt: skip


def run_bare(size: Size, folder: Path) -> list[float]:
    """The peer; -> ages of its events."""
    told = {"folder": str(folder), "ports": {"page": free_port()}, "seconds": min(size.seconds, 10.0),
            "pages": size.pages, "sources": list(range(size.sources))}  # fmt: skip
    started = [_begun("bare", told)]
    try:
        _wait(told["ports"]["page"])
        started.append(looking := _begun("pages", told))
        looking.wait(60.0)
    finally:
        for each in started:
            each.kill()
    ages: list[float] = json.loads((folder / "ages").read_text())
    return ages


def quantile(ages: list[float], share: float) -> float:
    """The age that so many are not older than."""
    return sorted(ages)[min(len(ages) - 1, int(share * len(ages)))]


def report(size: Size) -> Report:
    """One run of ours and one of the peer."""
    with tempfile.TemporaryDirectory() as ours, tempfile.TemporaryDirectory() as peer:
        found, plain = run_live(size, Path(ours)), run_bare(size, Path(peer))
    ages, memory = found["ages"], found["memory"]
    p50, p95, p99 = (quantile(ages, share) for share in (0.5, 0.95, 0.99))
    early, late = memory[len(memory) // 3], memory[-1]
    words = f"{size.sources} sources at {HERTZ:g} Hz for {size.seconds:g} s, {size.pages} pages: sent, kept, shown"
    flat = Aim(f"memory flat, within 5 %: {early:.0f} MB after a third, {late:.0f} MB at the end", late <= 1.05 * early)
    aims = (
        Aim(f"lost: {found['lost']} of {found['rows']:,} samples kept", found["lost"] == 0),
        Aim(f"p99 at most 50 ms: p50 {p50 * 1e3:.1f}, p95 {p95 * 1e3:.1f}, p99 {p99 * 1e3:.1f} ms", p99 <= 0.05),
        *((flat,) if size.seconds >= WARM else ()),
    )
    agreement = f"every page showed samples; polls {found['polled']} of about {found['wanted']}"
    best = Times((quantile(plain, 0.5), quantile(plain, 0.99)))
    return Report("B11", words, "sample", Times((p50, p95, p99)), {"bare loop of events": best},
                  best.best / p50, "median of the bare loop, which keeps nothing", agreement, aims)  # fmt: skip


def run() -> list[Report]:
    """Ten minutes when at full size; nothing where no broker is installed."""
    if broker_program() is None:
        print("B11: no broker here (on Debian: apt-get install mosquitto)", file=sys.stderr)
        return []
    return [report(Size(seconds=600.0 if measure.FULL else 20.0))]


if __name__ == "__main__":
    roles = {"hub": hub, "bare": bare, "pages": pages, "modbus": modbus, "senders": senders}
    asyncio.run(roles[sys.argv[1]](json.loads(sys.argv[2])))
