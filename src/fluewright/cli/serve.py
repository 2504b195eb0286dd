"""fluewright serve: the pages of a journal for a browser on this machine, at an address that opens once."""

import argparse
import json
import os
import secrets
import socket
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.cli.journal_place import NAME, add_place, settings_from
from fluewright.cli.where import places
from fluewright.errors import UseError

if TYPE_CHECKING:
    from fluewright.web.settings import Settings
    from fluewright.web.shop import Shop

PORT = 8766
SECRET = "pages.secret"
"""File beside the device's key: it signs what browsers come back with, so that a restart locks nobody out."""
SECRET_BYTES = 32

DEMO, DEMO_BOOKS, COPIES = "invented-shop", "books", "copies"
"""Folders: of the invented shop in the data folder, of its house book, and of copies beside a journal."""


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("--port", type=int, default=PORT, metavar="PORT", help=f"of 127.0.0.1; {PORT} when not given")
    parser.add_argument("--shop", default="Fluewright", metavar="NAME", help="name at the head of the pages")
    parser.add_argument(
        "--demo", action="store_true", help="an invented shop to look around in, in a journal of its own; pages say so"
    )
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Serve until it is stopped; prints the address with a token that opens the door once."""
    import uvicorn

    from fluewright.web.app import closed, create_app

    listening = _listening(args.port)
    port, token = int(listening.getsockname()[1]), secrets.token_urlsafe(32)
    app = create_app(_settings(args, port, token))
    if args.demo:
        _fill(app.state.shop)
    address = f"http://127.0.0.1:{port}/open?token={token}"
    said = f"{address}\nopens once, in one browser; stop it with Ctrl-C"
    print(json.dumps({"address": address}) if args.json else said, flush=True)
    config = uvicorn.Config(
        app, log_level="error", access_log=False, server_header=False, proxy_headers=False, timeout_graceful_shutdown=1
    )
    try:
        uvicorn.Server(config).run([listening])
    finally:
        closed(app)
        listening.close()
    return 0


def _settings(args: argparse.Namespace, port: int, token: str) -> "Settings":
    from dataclasses import replace

    from fluewright.record.keys_ed25519 import key_of
    from fluewright.web.settings import Settings

    journal = settings_from(args)
    if args.demo:
        journal = replace(journal, database=str(_demo_file(args)))
    key, folder = key_of(journal), places()["config"]
    return Settings(
        journal,
        secret_in(journal.keys_folder()),
        port=port,
        token=token,
        key=key,
        shop=args.shop,
        books=journal.keys_folder().with_name(DEMO_BOOKS) if args.demo else folder,
        copies=journal.path().with_name(COPIES) if journal.is_sqlite() else None,
        practice=args.demo,
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


def _listening(port: int) -> socket.socket:
    """A socket of this machine's own address; UseError when the port cannot be had."""
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name == "posix":
            found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        found.bind(("127.0.0.1", port))
        found.listen()  # so that the address that is printed answers from then on
    except (OSError, OverflowError) as error:
        found.close()
        raise UseError(
            code="FW-U-163",
            read=f"port {port} of 127.0.0.1: {getattr(error, 'strerror', None) or error}",
            expected="a port from 1024 to 65535 that nobody listens on, or 0 for any free one",
            matters="no browser could reach the pages",
            do="stop what listens there, or choose another with --port",
        ) from error
    return found
