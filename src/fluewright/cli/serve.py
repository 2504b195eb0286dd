"""fluewright serve: the pages and the door for programs, for a browser on this machine or for a shop's own network."""

import argparse
import json
import os
import secrets
import socket
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fluewright.cli.journal_place import NAME, add_place, settings_from
from fluewright.cli.where import places
from fluewright.errors import UseError

if TYPE_CHECKING:
    from fluewright.web.settings import Settings
    from fluewright.web.shop import Shop

PORT = 8766
HERE = "127.0.0.1"
SECRET = "pages.secret"
"""File beside the device's key: it signs what browsers come back with, so that a restart locks nobody out."""
SECRET_BYTES = 32
STOPS_WITHIN = 1
"""Seconds that requests which are under way have when the server is stopped."""

DEMO, DEMO_BOOKS, COPIES = "invented-shop", "books", "copies"
"""Folders: of the invented shop in the data folder, of its house book, and of copies beside a journal."""


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument(
        "--port", type=int, default=PORT, metavar="PORT", help=f"{PORT} when not given; 0 for a free one"
    )
    parser.add_argument("--shop", default="Fluewright", metavar="NAME", help="name at the head of the pages")
    parser.add_argument(
        "--demo", action="store_true", help="an invented shop to look around in, in a journal of its own; pages say so"
    )
    parser.add_argument(
        "--live",
        action="store_true",
        help="with --demo: an invented boiler burns there, to be adjusted while it is watched",
    )
    parser.add_argument(
        "--listen", nargs="+", type=Path, default=[], metavar="MAPPING",
        help="listen to these live sources too, one TOML file each (docs/live.md), for the pages to watch",
    )  # fmt: skip
    network = parser.add_argument_group("for the shop's own network: all four, and people sign in with a password")
    network.add_argument("--address", default=HERE, metavar="IP", help=f"of this machine; {HERE} when not given")
    network.add_argument("--name", default="", metavar="HOST", help="name under which it is reached")
    network.add_argument(
        "--certificate", type=Path, metavar="FILE", help="the shop's own for that name, PEM, with its chain"
    )
    network.add_argument("--key", type=Path, metavar="FILE", help="the certificate's private key, PEM")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Serve until it is stopped; prints the address, on this machine with a token that opens the door once."""
    from fluewright.cli import beside_pages
    from fluewright.serving import closed, create_app

    beside_pages.need_fit(args)
    tls = _network(args)
    listening = _listening(args.port, args.address)
    port, token = int(listening.getsockname()[1]), "" if tls else secrets.token_urlsafe(32)
    app = create_app(_settings(args, port, token, shared=bool(tls)))
    if args.demo:
        _fill(app.state.shop)
    live = beside_pages.watching(args, app.state.shop)
    app.state.live = live
    address = f"https://{args.name}:{port}/" if tls else f"http://{HERE}:{port}/open?token={token}"
    said = "people sign in with their accounts" if tls else "opens once, in one browser"
    _say(args, address, said, beside_pages.page_of(args, app.state.shop))
    try:
        beside_pages.served(app, listening, live, stops_within=STOPS_WITHIN, **tls)
    finally:
        closed(app)
        listening.close()
    return 0


def _say(args: argparse.Namespace, address: str, said: str, page: str) -> None:
    """Where the pages are, and which of them is to be watched."""
    if args.json:
        print(json.dumps({"address": address} | ({"live": page} if page else {})), flush=True)
        return
    print(f"{address}\n{said}; stop it with Ctrl-C", flush=True)
    if page:
        print(f"the live boiler is adjusted at {page}, once the address above was opened", flush=True)


def _network(args: argparse.Namespace) -> dict[str, Any]:
    """What the server needs to speak https; empty on this machine's own address."""
    given = {"--name": args.name, "--certificate": args.certificate, "--key": args.key}
    if args.address == HERE and not any(given.values()):
        return {}
    lacking = [name for name, value in given.items() if not value] + ["--address"] * (args.address == HERE)
    if lacking:
        raise UseError(
            code="FW-U-198",
            read=f"a server for others than this machine, without {', '.join(lacking)}",
            expected="--address, --name, --certificate and --key: the shop's own certificate for that name",
            matters="without it passwords and records would cross the network for everybody to read and change",
            do="have a certificate made for a name that the shop owns, or leave all four out to work on this machine",
        )
    from fluewright.cli.certificate import need_fit

    need_fit(args.certificate, args.key, args.name)
    return {"ssl_certfile": str(args.certificate), "ssl_keyfile": str(args.key)}


def _settings(args: argparse.Namespace, port: int, token: str, *, shared: bool) -> "Settings":
    from dataclasses import replace

    from fluewright.record.doors import Doors
    from fluewright.record.keys_ed25519 import key_of
    from fluewright.web.settings import Settings

    journal = settings_from(args)
    if args.demo:
        journal = replace(journal, database=str(_demo_file(args)))
    return Settings(
        journal,
        secret_in(journal.keys_folder()),
        port=port,
        names=(args.name,) if shared else (),
        token=token,
        key=key_of(journal),
        shop=args.shop,
        books=journal.keys_folder().with_name(DEMO_BOOKS) if args.demo else places()["config"],
        copies=journal.path().with_name(COPIES) if journal.is_sqlite() else None,
        practice=args.demo,
        doors=Doors(journal),
        shared=shared,
        secure=shared,
        paced=True,
    )


def _demo_file(args: argparse.Namespace) -> Path:
    """Where the invented shop is kept; UseError where --journal names one, which may hold real records."""
    if args.journal:
        raise UseError(
            code="FW-U-164",
            read=f"--demo with --journal {args.journal}",
            expected="one of them",
            matters="invented visits among real records could be taken for real ones",
            do="leave --journal out; the invented shop has a journal of its own",
        )
    return places()["data"] / DEMO / NAME


def _fill(shop: "Shop") -> None:
    """The invented shop entered, where its journal is new."""
    from fluewright.visit import demo_shop

    print("an invented shop is being made ready, which takes some seconds the first time", file=sys.stderr, flush=True)
    demo_shop.filled(shop.journal, shop.settings.key)


def secret_in(folder: Path) -> bytes:
    """What signs the cookies of this machine's pages, made when there is none yet, for its owner's eyes only.

    folder  of the device's key; made when it is not there
    -> its bytes; throw the file away to sign every browser out
    """
    path = folder / SECRET
    if path.is_file() and len(found := path.read_bytes()) == SECRET_BYTES:
        return found
    folder.mkdir(parents=True, exist_ok=True)
    new = secrets.token_bytes(SECRET_BYTES)
    path.unlink(missing_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(new)
    return new


def _listening(port: int, address: str = HERE) -> socket.socket:
    """A socket of an address of this machine; UseError when the port cannot be had."""
    found = socket.socket(socket.AF_INET6 if ":" in address else socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name == "posix":
            found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        found.bind((address, port))
        found.listen()  # so that the address that is printed answers from then on
    except (OSError, OverflowError) as error:
        found.close()
        raise UseError(
            code="FW-U-163",
            read=f"port {port} of {address}: {getattr(error, 'strerror', None) or error}",
            expected="a port from 1024 to 65535 that nobody listens on, or 0 for any free one",
            matters="no browser could reach the pages",
            do="stop what listens there, or choose another with --port",
        ) from error
    return found
