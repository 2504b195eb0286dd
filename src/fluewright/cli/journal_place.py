"""Which journal a command means: the one it names, else the one in the data folder of this person."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.cli.where import places

if TYPE_CHECKING:
    from fluewright.record.journal import Journal
    from fluewright.record.opening import Opened
    from fluewright.record.settings import Settings

NAME = "journal.db"
"""The journal's file in the data folder."""


def add_place(parser: argparse.ArgumentParser) -> None:
    """The options that name a journal."""
    place = parser.add_argument_group("which journal")
    place.add_argument(
        "--journal", metavar="FILE", help="its file, or postgresql+psycopg://...; else that of this person"
    )
    place.add_argument("--files", type=Path, metavar="FOLDER", help="photos and traces; beside the file when not given")
    place.add_argument("--keys", type=Path, metavar="FOLDER", help="the key of this device; beside the file")


def settings_from(args: argparse.Namespace) -> "Settings":
    """The journal that the options name."""
    from fluewright.record.settings import Settings

    return Settings(args.journal or str(places()["data"] / NAME), files=args.files, keys=args.keys)


def opened_from(args: argparse.Namespace) -> "Opened":
    """The journal opened; what is wrong with it, or newer, is said on standard error, and it is then read only."""
    from fluewright.record.opening import opened

    found = opened(settings_from(args))
    for sentence in found.wrong:
        print(f"the journal is not whole: {sentence}", file=sys.stderr)
    if found.newer:
        print(f"the journal is open for reading only: {found.newer}", file=sys.stderr)
    if found.wrong:
        print("it is open for reading only; see `fluewright journal check --all`", file=sys.stderr)
    return found


def opened_or_made(args: argparse.Namespace) -> "Journal":
    """The journal opened, or a new one where none has ever been."""
    from fluewright.record.opening import made
    from fluewright.record.store import Store

    settings = settings_from(args)
    if not Store(settings).is_there():
        return made(settings, device_name="this computer")
    return opened_from(args).journal
