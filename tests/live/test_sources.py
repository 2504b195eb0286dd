"""Every kind of source brings what was sent, once, in its words, into blocks of the journal."""

import asyncio
import subprocess
import time
from pathlib import Path
from typing import Any

import pytest
from set_up import CHANNELS, Broker, Wire, broker, free_port, heard, joined, journal_in, kept_rows, mapping_of, texts

from fluewright.live import payload
from fluewright.live.hub import Hub

__all__ = ["broker"]

COLUMNS = 'form = "columns"\nseparator = ";"\ncolumns = ["o2", "co"]'


def test_lines_of_a_serial_port(tmp_path: Path) -> None:
    wire, journal = Wire(), journal_in(tmp_path)
    mapping = mapping_of(
        f'[source]\nname = "meter"\nkind = "serial"\ninstrument = "meter A"\npoint = "stack"\n[connection]\n'
        f'device = "{wire.device}"\n[text]\n{COLUMNS}\nchecksum = "sum8"\n{CHANNELS}'
    )

    async def act(hub: Hub) -> None:
        await asyncio.sleep(0.3)
        for body in (b"4.3;38", b"4.4;OVER", b"---;>1500", b"4.5;39"):
            wire.write(body + b"*%02X\r\n" % payload.sum8(body))
        wire.write(b"9.9;0*00\r\n" + b"half a li")  # damaged, and one that never ends
        await kept_rows(hub, 4)

    hub = heard(journal, tmp_path, [mapping], act)
    assert texts(journal, "meter") == ["4.3", "4.4", "---", "4.5"]
    assert texts(journal, "meter", "carbon_monoxide_dry") == ["38", "OVER", ">1500", "39"]
    assert next(journal.of_kind("trace block")).body["trust"] == "known"
    assert hub.streams["meter"].source.dropped == 1  # type: ignore[attr-defined]
    wire.close()


def test_messages_of_a_broker(tmp_path: Path, broker: Broker) -> None:
    journal = journal_in(tmp_path)
    mapping = mapping_of(
        f'[source]\nname = "meter"\nkind = "mqtt"\ninstrument = "meter A"\n[connection]\nhost = "127.0.0.1"\n'
        f'port = {broker.port}\ntopic = "boiler/1"\n[text]\nform = "json"\n' + CHANNELS.replace('"o2"', '"gas.o2"')
    )

    async def act(hub: Hub) -> None:
        for n in range(20):
            message = f'{{"gas": {{"o2": 4.{n:02d}}}, "co": null}}'
            command = ["mosquitto_pub", "-p", str(broker.port), "-q", "1", "-t", "boiler/1", "-m", message, "-r"]
            await asyncio.to_thread(subprocess.run, command[: -1 if n else None], check=True)
            if not n:
                await kept_rows(hub, 1)
        await kept_rows(hub, 20)

    heard(journal, tmp_path, [mapping], act)
    assert texts(journal, "meter") == [f"4.{n:02d}" for n in range(20)]
    assert texts(journal, "meter", "carbon_monoxide_dry") == [None] * 20  # null is no reading, never a zero
    assert next(journal.of_kind("trace block")).body["trust"] == "unknown"


def test_a_file_that_grows_is_read_on_after_a_restart(tmp_path: Path) -> None:
    journal, file = journal_in(tmp_path), tmp_path / "log.txt"
    file.write_text("1.0;1\n")
    mapping = mapping_of(
        '[source]\nname = "log"\nkind = "tail"\ninstrument = "meter A"\n[connection]\nfile = "log.txt"\n'
        f'start = "beginning"\n[text]\n{COLUMNS}\n{CHANNELS}', tmp_path,
    )  # fmt: skip

    def more(lines: str, count: int) -> Any:
        async def act(hub: Hub) -> None:
            with file.open("a") as to:
                to.write(lines)
            await kept_rows(hub, count)

        return act

    heard(journal, tmp_path, [mapping], more("2.0;2\n3.0", 2))
    with file.open("a") as to:
        to.write(";3\n")  # while nobody listens
    heard(journal, tmp_path, [mapping], more("4.0;4\n", 4))
    assert texts(journal, "log") == ["1.0", "2.0", "3.0", "4.0"]


async def _raw(port: int, request: bytes) -> int:
    """The status that a request is answered with which no client of ours would send."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    writer.write(request)
    status = await asyncio.wait_for(reader.readline(), 5)
    writer.close()
    return int(status.split()[1])


@pytest.mark.parametrize("cell", ["\\ud800", "\\u0000", "\\u2028", "\\udc80", "1e400", "NaN"])
def test_no_letter_of_a_sender_ends_the_listening(tmp_path: Path, cell: str) -> None:
    journal, port = journal_in(tmp_path), free_port()
    mapping = mapping_of(
        f'[source]\nname = "meter"\nkind = "push"\ninstrument = "meter A"\n[connection]\nport = {port}\n'
        f'[text]\nform = "json"\n{CHANNELS}'
    )
    bad = b'{"o2": "%s", "co": 5}' % cell.encode()
    head = b"POST / HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: %d\r\n\r\n"

    async def act(hub: Hub) -> None:
        for _ in range(100):
            try:
                await _raw(port, head % len(bad) + bad)
                break
            except OSError:
                await asyncio.sleep(0.05)
        good = b'{"o2": "4.5", "co": 5}'
        assert await _raw(port, head % len(good) + good) == 204

    heard(journal, tmp_path, [mapping], act)
    assert texts(journal, "meter")[-1] == "4.5"


def test_what_is_pushed_is_answered_when_it_is_kept(tmp_path: Path) -> None:
    import httpx2

    journal, port = journal_in(tmp_path), free_port()
    mapping = mapping_of(
        f'[source]\nname = "meter"\nkind = "push"\ninstrument = "meter A"\n[connection]\nport = {port}\n'
        f'[text]\nform = "json"\nsequence = "n"\n{CHANNELS}'
    )

    async def act(hub: Hub) -> None:
        async with httpx2.AsyncClient(trust_env=False) as client:
            for _ in range(50):
                try:
                    await client.post(f"http://127.0.0.1:{port}/", content=b"{}")
                    break
                except httpx2.ConnectError:
                    await asyncio.sleep(0.05)
            at = f"http://127.0.0.1:{port}/anything"
            for n in (1, 2, 2, 3):  # a sender that was not answered sends again
                found = await client.post(at, json={"n": n, "o2": 4.0 + n, "co": 5})
                assert found.status_code == 204
                assert hub.number == min(n, 3)
            assert (await client.post(at, content=b"not json")).status_code == 422
            assert (await client.get(at)).status_code == 405
            assert (await client.post(at, json={"n": 9}, headers={"origin": "http://elsewhere"})).status_code == 403
            assert await _raw(port, b"POST / HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: \xb2\r\n\r\n") == 405

    heard(journal, tmp_path, [mapping], act)
    assert texts(journal, "meter") == ["5.0", "6.0", "7.0"]


MODBUS = """
[[channel]]
register = 10
type = "float32"
words = "{words}"
quantity = "flue_temperature"
unit = "°C"
[[channel]]
register = 20
scale = "0.1"
quantity = "oxygen_dry"
unit = "%"
[[channel]]
register = 900
quantity = "carbon_monoxide_dry"
unit = "ppm"
"""


async def _served(words: str, where: dict[str, Any]) -> Any:
    """A real server with a flue temperature in two registers, oxygen in one, and none for carbon monoxide."""
    import struct

    from pymodbus.server import ModbusSerialServer, ModbusTcpServer
    from pymodbus.simulator import DataType, SimData, SimDevice

    high, low = struct.unpack(">HH", struct.pack(">f", 201.5))
    pair = [high, low] if words == "big" else [low, high]
    data = [SimData(10, values=pair, datatype=DataType.REGISTERS), SimData(20, values=43, datatype=DataType.REGISTERS)]
    device = SimDevice(1, simdata=data)
    if "port" in where and isinstance(where["port"], int):
        server: Any = ModbusTcpServer(device, address=("127.0.0.1", where["port"]))
    else:
        server = ModbusSerialServer(device, port=where["port"], baudrate=19200)
    await server.serve_forever(background=True)
    return server


@pytest.mark.parametrize("words", ["big", "little"])
@pytest.mark.parametrize("kind", ["modbus-tcp", "modbus-rtu"])
def test_registers_of_a_device(tmp_path: Path, kind: str, words: str) -> None:
    journal, port = journal_in(tmp_path), free_port()
    with joined() as (ours, theirs):
        reach = f'host = "127.0.0.1"\nport = {port}' if kind == "modbus-tcp" else f'device = "{ours}"\nbaud = 19200'
        mapping = mapping_of(
            f'[source]\nname = "plant"\nkind = "{kind}"\ninstrument = "board"\n[connection]\n{reach}\n'
            f'every = "100 ms"\n' + MODBUS.format(words=words)
        )

        async def act(hub: Hub) -> None:
            await asyncio.sleep(0.5)  # the device is not there yet: it is tried again
            server = await _served(words, {"port": port if kind == "modbus-tcp" else theirs})
            await kept_rows(hub, 3)
            await server.shutdown()

        heard(journal, tmp_path, [mapping], act)
    assert set(texts(journal, "plant", "flue_temperature")) == {"201.5"}
    assert set(texts(journal, "plant")) == {"4.3"}
    assert set(texts(journal, "plant", "carbon_monoxide_dry")) == {None}  # refused, which is no zero
    grade = next(journal.of_kind("trace block")).body["trust"]
    assert grade == ("unknown" if kind == "modbus-tcp" else "known")


def test_a_device_that_is_being_asked_can_be_left(tmp_path: Path) -> None:
    port, journal = free_port(), journal_in(tmp_path)
    mapping = mapping_of(
        f'[source]\nname = "plant"\nkind = "modbus-tcp"\ninstrument = "board"\n[connection]\nhost = "127.0.0.1"\n'
        f'port = {port}\nevery = "10 ms"\ntimeout = "30 s"\n' + MODBUS.format(words="big")
    )

    async def silent(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        await reader.read()

    async def act(hub: Hub) -> None:
        async with await asyncio.start_server(silent, "127.0.0.1", port):
            await asyncio.sleep(1.0)

    begun = time.monotonic()
    heard(journal, tmp_path, [mapping], act)
    assert time.monotonic() - begun < 10.0
    assert not list(journal.of_kind("trace block"))
