"""A hub in the process of the pages: what `serve --listen` and `serve --demo --live` listen to, and how it ends."""

import argparse
import asyncio
import socket
import sys
from typing import TYPE_CHECKING, Any

from fluewright.errors import UseError, printable

if TYPE_CHECKING:
    from fastapi import FastAPI

    from fluewright.live.watching import Watching
    from fluewright.web.shop import Shop


def need_fit(args: argparse.Namespace) -> None:
    """Refuse a live boiler among records that are not for practice, and one beside real instruments."""
    if not args.live or (args.demo and not args.listen):
        return
    raise UseError(
        code="FW-U-208",
        read="--live " + ("with --listen" if args.demo else "without --demo"),
        expected="--demo --live: the invented boiler burns in the invented shop, and nowhere else",
        matters="samples of a virtual appliance could be taken for those of a real one",
        do="add --demo, and leave --listen out; real instruments are listened to without --demo",
    )


def watching(args: argparse.Namespace, shop: "Shop") -> "Watching | None":
    """What is listened to beside the pages, opened and not yet running; None where nothing is."""
    if not args.listen and not args.live:
        return None
    from fluewright.cli.listen import need_own_names
    from fluewright.live.hub import Hub
    from fluewright.live.mapping import load
    from fluewright.live.source import opened
    from fluewright.live.turned import BOILER, House
    from fluewright.live.watching import Watching
    from fluewright.live.window import folder_of
    from fluewright.record.opening import opened as journal_opened

    settings = shop.settings.journal
    hub = Hub(journal_opened(settings).journal, folder_of(settings))
    hub.open()
    house = House() if args.live else None
    mappings = [load(path) for path in args.listen]
    need_own_names([each.name for each in mappings])
    for one in [opened(each, place=hub.place_of(each.name)) for each in mappings]:
        hub.add(one)
    for one in house.streams() if house is not None else ():
        hub.add(one)
    system = shop.settled().get("units", "us")
    return Watching(hub, system="si" if system == "si" else "us", adjusting=BOILER if house else "", house=house)


def page_of(args: argparse.Namespace, shop: "Shop") -> str:
    """The page on which the live boiler is adjusted; empty where there is none."""
    if not args.live:
        return ""
    from fluewright.visit import demo_live

    return f"/visit/{demo_live.visit_of(shop.journal)}/live"


def served(app: "FastAPI", listening: socket.socket, live: "Watching | None", *, stops_within: int, **tls: Any) -> None:
    """Serve until it is stopped; what came is then in the journal, and no stream of a page keeps the server waiting."""
    import uvicorn

    class Server(uvicorn.Server):
        """Begins and ends the hub with the pages."""

        going: "asyncio.Task[None] | None" = None

        async def startup(self, sockets: list[socket.socket] | None = None) -> None:
            await super().startup(sockets)
            if live is not None:
                self.going = asyncio.create_task(live.run())
                self.going.add_done_callback(_told)

        async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
            if live is not None:
                live.end()
            await super().shutdown(sockets)
            if self.going is not None:
                self.going.cancel()
                await asyncio.gather(self.going, return_exceptions=True)

    config = uvicorn.Config(
        app, log_level="error", access_log=False, server_header=False, proxy_headers=False,
        timeout_graceful_shutdown=stops_within, **tls,
    )  # fmt: skip
    Server(config).run([listening])


def _told(task: "asyncio.Task[None]") -> None:
    """Say it when listening ends by a fault; the pages go on, and say of each channel since when it is silent."""
    if not task.cancelled() and (error := task.exception()) is not None:
        print(printable(f"listening has ended: {type(error).__name__}: {error}"), file=sys.stderr, flush=True)
