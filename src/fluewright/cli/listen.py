"""fluewright listen: live sources by their mappings, kept before they are shown."""

import argparse
import asyncio
import json
import os
import signal
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fluewright.cli.journal_place import add_place, opened_or_made, settings_from
from fluewright.cli.reached import connection_from
from fluewright.errors import UseError, printable

if TYPE_CHECKING:
    from fluewright.live.hub import Hub, Stream

LEARNS = 10.0
"""s that a source is looked at for a proposal, or tried dry, where --seconds does not say."""


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("mapping", nargs="*", type=Path, metavar="MAPPING", help="one TOML file for each source")
    parser.add_argument("--dry", action="store_true", help="show what would be taken; nothing is kept")
    parser.add_argument(
        "--learn", default="", metavar="WHERE", help="look at what comes and print a mapping to be finished: a serial "
        "device such as /dev/ttyUSB0@9600, mqtt://HOST:PORT/TOPIC, or a file",
    )  # fmt: skip
    parser.add_argument("--seconds", type=float, default=0.0, metavar="S", help="stop after that; else with Ctrl-C")
    parser.add_argument("--block", type=float, default=120.0, metavar="S", help="seconds of samples in one trace block")
    parser.add_argument("--quiet", action="store_true", help="show no samples")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Listen; 1 when a source was never heard."""
    if args.learn:
        return asyncio.run(_learnt(args))
    if not args.mapping:
        raise UseError(
            code="FW-U-172",
            read="no mapping",
            expected="at least one MAPPING, or --learn WHERE for a proposal",
            matters="without one nobody knows which number is what",
            do="write one by docs/live.md, or let --learn propose it",
        )
    return asyncio.run(_dry(args) if args.dry else _kept(args))


async def _learnt(args: argparse.Namespace) -> int:
    """What came, as a mapping to be finished."""
    from fluewright.live import learn
    from fluewright.live.mapping import Channel, Mapping, Text
    from fluewright.live.mqtt import PASSING
    from fluewright.live.source import opened

    kind, connection = connection_from(args.learn)
    raw = Channel("", "oxygen_dry", "%")
    one = opened(Mapping("learn", kind, "", (raw,), connection={**connection, PASSING: True}, text=Text("value")))
    came: list[str] = []
    with suppress(TimeoutError):
        async with asyncio.timeout(args.seconds or LEARNS):
            async for row in _rows(one):
                came.append(row.cells[""])
                row.kept()
    await one.source.close()
    if not came:
        trouble = getattr(one.source, "trouble", "")
        print(f"nothing came from {args.learn} within {args.seconds or LEARNS:g} s {trouble}".rstrip(), file=sys.stderr)
        return 1
    print(learn.proposed(came, kind=kind, connection=connection), end="")
    return 0


async def _rows(one: "Stream") -> Any:
    """All rows of a source, told on standard error when it is lost."""
    from fluewright.live.row import Lost

    while True:
        try:
            row = await one.source.next()
        except Lost as error:
            print(f"{one.mapping.name}: {error}", file=sys.stderr)
            await asyncio.sleep(0.5)
            continue
        if row is None:
            return
        yield row


async def _dry(args: argparse.Namespace) -> int:
    """What each mapping would take, for a while; nothing is kept."""
    from dataclasses import replace

    from fluewright.live.hub import shown
    from fluewright.live.mapping import load
    from fluewright.live.mqtt import PASSING
    from fluewright.live.source import opened

    counts: dict[str, int] = {}

    async def tried(path: Path) -> None:
        said = load(path)
        if said.kind == "mqtt":  # under another name, so that nothing is taken from the one that keeps
            passing = {"client": f"fluewright-{said.name}-dry", PASSING: True}
            said = replace(said, connection={**said.connection, **passing})
        one = opened(said)
        counts[said.name] = 0
        try:
            async for row in _rows(one):
                row.kept()
                counts[said.name] += 1
                found = one.decoder.samples(row, at=row.at, seq=counts[said.name], late=False, trust=one.grade[0])
                _say(args, shown(found) or {"source": said.name, "at": row.at, "trust": one.grade[0], "samples": []})
        finally:
            await one.source.close()
            _summary(one, counts[said.name])

    with suppress(TimeoutError, asyncio.CancelledError):
        async with asyncio.timeout(args.seconds or LEARNS):
            await asyncio.gather(*map(tried, args.mapping))
    return 0 if all(counts.values()) else 1


async def _kept(args: argparse.Namespace) -> int:
    """Listen and keep until it is stopped."""
    from fluewright.live.hub import Hub
    from fluewright.live.mapping import load
    from fluewright.live.source import opened
    from fluewright.live.window import folder_of

    mappings = [load(path) for path in args.mapping]
    need_own_names([each.name for each in mappings])
    hub = Hub(opened_or_made(args), folder_of(settings_from(args)), block=args.block)
    hub.open()
    before = hub.number
    for each in mappings:
        hub.add(opened(each, place=hub.place_of(each.name)))
    running = asyncio.create_task(hub.run())
    loop = asyncio.get_running_loop()
    for sign in (signal.SIGINT, signal.SIGTERM):
        with suppress(NotImplementedError):
            loop.add_signal_handler(sign, running.cancel)
    if args.seconds:
        loop.call_later(args.seconds, running.cancel)
    looking = asyncio.create_task(_shown(args, hub))
    with suppress(asyncio.CancelledError):
        await running
    await looking
    for one in hub.streams.values():
        _summary(one, one.rows)
    for sentence in hub.said:
        print(sentence, file=sys.stderr)
    return 0 if hub.number > before else 1


def need_own_names(names: Sequence[str]) -> None:
    """Refuse two sources of one name."""
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise UseError(
            code="FW-U-173",
            read=f"two sources called {twice[0]!r}",
            expected="a name of its own for each",
            matters="their samples would be taken for those of one instrument",
            do="give each mapping another name",
        )


async def _shown(args: argparse.Namespace, hub: "Hub") -> None:
    """Print each row once it is kept."""
    one = hub.subscribe()
    while not args.quiet and (frame := await one.next()) is not None:
        try:
            _say(args, {"id": frame.id, **frame.samples}) if frame.samples else None
        except BrokenPipeError:  # nobody looks on any more; what comes is kept all the same
            sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123 for the rest of the run
            break
    hub.leave(one)


def _say(args: argparse.Namespace, told: dict[str, Any]) -> None:
    """One row: as JSON, or as a line with the values as they came."""
    if args.json:
        print(json.dumps(told, ensure_ascii=False), flush=True)
        return
    from datetime import UTC, datetime

    from fluewright.quantity import names, show

    at = datetime.fromtimestamp(told["at"], UTC).astimezone().strftime("%H:%M:%S")
    read = []
    for each in told["samples"]:
        sign = {"at least": ">", "at most": "<"}.get(each.get("bound", ""), "")
        value = show.shown(each["value"], quantity=each["quantity"], system="si", plain=True)
        read.append(
            f"{names.of(each['quantity']).words} {sign}{value}" + (f" at {each['point']}" if "point" in each else "")
        )
    grade = "" if told["trust"] == "known" else "   (sender not proven: may alarm, clears nothing)"
    print(printable(f"{at}  {told['source']}  {'; '.join(read) or 'no reading'}{grade}"), flush=True)


def _summary(one: "Stream", count: int) -> None:
    """What became of a source, on standard error."""
    trust, why = one.grade
    parts = [f"{one.mapping.name}: {count} rows kept, sender {'proven' if trust == 'known' else 'not proven'} ({why})"]
    parts += [f"{one.seen.copies} copies told apart"] if one.seen.copies else []
    parts += [f"{one.seen.used_up} with a used-up number refused"] if one.seen.used_up else []
    dropped = getattr(one.source, "dropped", 0)
    parts += [f"{dropped} messages damaged or of another form"] if dropped else []
    parts += [f"{number} cells {why_not}" for why_not, number in sorted(one.decoder.left_out.items())]
    parts += [trouble] if (trouble := getattr(one.source, "trouble", "")) else []
    print(printable("; ".join(parts)), file=sys.stderr)
    for sentence in list(one.said)[-1:]:
        print(printable(f"  {sentence}"), file=sys.stderr)
