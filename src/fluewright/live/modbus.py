"""Registers of a Modbus device over TCP or a serial line, asked every so often; one that was refused is no value."""

import asyncio
import math
from decimal import Decimal
from itertools import pairwise
from typing import Any

from fluewright import clock
from fluewright.live.mapping import Channel, Mapping, seconds_in
from fluewright.live.row import Lost, Row
from fluewright.live.spelled import FORMS

EVERY = 1.0
"""s between polls where the mapping names none."""

ANSWERS = 2.0
"""s that an answer may take where the mapping does not say."""

MOST_AT_ONCE = 60
"""Registers asked for at once; the protocol allows 125 (Modbus application protocol V1.1b3, 6.3)."""


def asked(channels: tuple[Channel, ...]) -> list[tuple[str, int, int]]:
    """Which registers are asked for together: table, first one, how many; those far apart are asked for apart."""
    spans = sorted({(each.table, each.register, each.register + FORMS[each.type]) for each in channels})
    found: list[tuple[str, int, int]] = []
    for table, first, end in spans:
        if found and found[-1][0] == table and first <= found[-1][1] + found[-1][2]:
            begun = found[-1][1]
            if max(end, begun + found[-1][2]) - begun <= MOST_AT_ONCE:
                found[-1] = (table, begun, max(end - begun, found[-1][2]))
                continue
        found.append((table, first, end - first))
    assert all(a != b for a, b in pairwise(found))
    return found


def text_of(value: Any, channel: Channel) -> str | None:
    """A number of a device as it is kept: scaled without rounding; None where it is none."""
    if isinstance(value, float):
        if not math.isfinite(value):
            return None
        plain = Decimal(format(value, ".7g" if channel.type == "float32" else ".16g"))
    else:
        plain = Decimal(int(value))
    return format((plain * Decimal(channel.scale)).normalize() + 0, "f")


class ModbusDevice:
    """One device, asked for all its channels together.

    wire     True on a serial line; who answers over TCP is not proven
    refused  answers that were exceptions, which gave no value
    """

    real = True

    def __init__(self, mapping: Mapping) -> None:
        self.mapping = mapping
        self.name = mapping.name
        self.wire = mapping.kind == "modbus-rtu"
        self.refused = 0
        self._client: Any = None
        self._next = 0.0
        self._every = seconds_in(str(mapping.connection.get("every", ""))) or EVERY
        self._asked = asked(mapping.channels)

    async def next(self) -> Row | None:
        """The next poll in which at least one register was had; Lost when the device does not answer."""
        from pymodbus.exceptions import ModbusException

        while True:
            if self._client is None:
                await self._connect()
            await asyncio.sleep(max(0.0, self._next - clock.seconds()))
            self._next = max(self._next + self._every, clock.seconds())
            try:
                cells = await self._polled()
            except (TimeoutError, ModbusException, OSError) as error:
                await self.close()
                raise Lost(f"the device does not answer: {error}") from error
            task = asyncio.current_task()
            if task is not None and task.cancelling():  # told to stop as the answer came, which wait_for forgets
                raise asyncio.CancelledError
            if cells:
                return Row(self.name, clock.seconds(), cells)

    async def _connect(self) -> None:
        from pymodbus.client import AsyncModbusSerialClient, AsyncModbusTcpClient

        told = self.mapping.connection
        # the pause between attempts is ours; the library would try again behind our back
        rules: dict[str, Any] = {"timeout": seconds_in(str(told.get("timeout", ""))) or ANSWERS, "retries": 1,
                                 "reconnect_delay": 0}  # fmt: skip
        if self.mapping.kind == "modbus-tcp":
            client: Any = AsyncModbusTcpClient(told["host"], port=int(told.get("port", 502)), **rules)
        else:
            client = AsyncModbusSerialClient(
                told["device"], baudrate=int(told.get("baud", 9600)), parity=told.get("parity", "N"), **rules
            )
        if not await client.connect():
            client.close()
            raise Lost("the device cannot be reached")
        self._client = client

    async def _polled(self) -> dict[str, str]:
        """Texts by channel; a channel whose registers were refused has none."""
        held: dict[tuple[str, int], int] = {}
        unit = int(self.mapping.connection.get("unit", 1))
        for table, first, count in self._asked:
            ask = self._client.read_holding_registers if table == "holding" else self._client.read_input_registers
            answer = await ask(first, count=count, device_id=unit)
            if answer.isError():
                self.refused += 1
                continue
            held |= {(table, first + at): word for at, word in enumerate(answer.registers)}
        found = {}
        for channel in self.mapping.channels:
            text = self._cell(channel, held)
            if text is not None:
                found[channel.come_from] = text
        return found

    def _cell(self, channel: Channel, held: dict[tuple[str, int], int]) -> str | None:
        places = [(channel.table, channel.register + at) for at in range(FORMS[channel.type])]
        if any(place not in held for place in places):
            return None
        form = self._client.DATATYPE[channel.type.upper()]
        words = [held[place] for place in places]
        value = self._client.convert_from_registers(words, form, word_order=channel.words)
        return None if str(value) in self.mapping.text.gap else text_of(value, channel)

    async def close(self) -> None:
        """Let go of the connection."""
        if self._client is not None:
            self._client.close()
            self._client = None
