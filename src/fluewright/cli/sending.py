"""Lines that are sent as an instrument would: to standard output, to a new terminal, or to a broker."""

import argparse
import contextlib
import os
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from fluewright import clock
from fluewright.cli.reached import broker_in
from fluewright.errors import UseError
from fluewright.live.mapping import Channel

Send = Callable[[str], None]

BAUD = 9600


def add(parser: argparse.ArgumentParser) -> None:
    """The options of verbs that send lines."""
    parser.add_argument(
        "--speed", type=float, default=1.0, metavar="N", help="times faster than it happened; 0: at once"
    )
    parser.add_argument(
        "--to", default="-", metavar="WHERE", help="- for standard output, pty for a new terminal whose name is "
        "printed, mqtt://HOST:PORT/TOPIC",
    )  # fmt: skip
    parser.add_argument(
        "--write-mapping", default="", metavar="FILE", help="also write the mapping that fits the lines"
    )


@contextmanager
def sending(where: str) -> Iterator[tuple[Send, dict[str, object]]]:
    """What sends a line, and the connection by which a mapping reaches it."""
    if where == "-":
        yield lambda line: print(line, flush=True), {}
    elif where == "pty":
        yield from _terminal()
    else:
        yield from _broker(where)


def _terminal() -> Iterator[tuple[Send, dict[str, object]]]:
    try:
        import pty
        import tty
    except ImportError as error:
        raise UseError(
            code="FW-U-175",
            read="--to pty on a system without terminals of its own",
            expected="Linux or another Unix",
            matters="there is nothing that a serial port could be pretended with",
            do="use --to - or a broker",
        ) from error
    ours, theirs = pty.openpty()
    for end in (ours, theirs):
        tty.setraw(end)
    os.set_blocking(ours, False)
    name = os.ttyname(theirs)
    print(name, flush=True)

    def send(line: str) -> None:
        with contextlib.suppress(BlockingIOError):  # nobody reads: an instrument sends all the same
            os.write(ours, line.encode() + b"\r\n")

    try:
        yield send, {"kind": "serial", "device": name, "baud": BAUD}
    finally:
        os.close(ours)
        os.close(theirs)


def _broker(where: str) -> Iterator[tuple[Send, dict[str, object]]]:
    import paho.mqtt.client as paho
    from paho.mqtt.enums import CallbackAPIVersion

    host, port, topic = broker_in(where)
    client = paho.Client(CallbackAPIVersion.VERSION2)
    try:
        client.connect(host, port)
    except OSError as error:
        raise UseError(
            code="FW-U-176",
            read=f"a broker at {host}:{port}, which does not answer: {error}",
            expected="a broker that takes messages there",
            matters="nothing was sent",
            do="see that it runs and that host and port are right",
        ) from error
    client.loop_start()
    try:
        yield (
            lambda line: client.publish(topic, line, qos=1).wait_for_publish(10.0),
            {"kind": "mqtt", "host": host, "port": port, "topic": topic},
        )
    finally:
        client.disconnect()
        client.loop_stop()


def sent(
    args: argparse.Namespace,
    channels: tuple[Channel, ...],
    rows: Iterable[tuple[float, dict[str, str]]],
    *,
    lasts: float,
) -> int:
    """Send rows at their pace, semicolons between the columns, three dashes where nothing was read.

    The first column is the time at which a row was read. Of what is sent faster than it happened, the last row is of
    now and the others of before, as when a logger is emptied.

    args      with the options of `add`
    channels  of the columns
    rows      s from the first, and texts by channel
    lasts     s from the first row to the last
    -> 0
    """
    with sending(args.to) as (send, connection):
        if args.write_mapping:
            Path(args.write_mapping).write_text(mapping_text(channels, connection), "utf-8")
        begun = clock.seconds()
        first = begun - lasts * (1.0 - (1.0 / args.speed if args.speed > 0.0 else 0.0))
        try:
            for after, cells in rows:
                if args.speed > 0.0:
                    time.sleep(max(0.0, begun + after / args.speed - clock.seconds()))
                texts = (cells.get(channel.come_from, "---") for channel in channels)
                send(";".join((f"{first + after:.1f}", *texts)))
        except KeyboardInterrupt:
            return 130
    return 0


def mapping_text(channels: tuple[Channel, ...], connection: dict[str, object]) -> str:
    """The mapping for lines that this program sends.

    channels    of the columns
    connection  how they are reached; a file to be followed where it is not said
    """
    told = {"kind": "tail", "file": "lines.txt", "start": "beginning", **connection}
    if connection:
        told = dict(connection)
    kind = told.pop("kind")
    lines = ["[source]", 'name = "practice"', f'kind = "{kind}"', 'instrument = "virtual meter"', "", "[connection]"]
    lines.insert(4, "practice = true")
    lines += [f'{key} = "{value}"' if isinstance(value, str) else f"{key} = {value}" for key, value in told.items()]
    names = ", ".join(f'"{channel.come_from}"' for channel in channels)
    lines += ["", "[text]", 'separator = ";"', f'columns = ["t", {names}]', 'time = "t"']
    for channel in channels:
        lines += ["", "[[channel]]", f'from = "{channel.come_from}"', f'quantity = "{channel.quantity}"']
        lines += [f'unit = "{channel.unit}"'] + ([f't90 = "{channel.t90:g} s"'] if channel.t90 else [])
    return "\n".join(lines) + "\n"
