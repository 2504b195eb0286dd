"""Which journal a command means: the one it names, else the one in the data folder of this person."""

import argparse
import json
import sys
from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.cli.where import places
from fluewright.errors import UseError, printable

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
    """The journal opened; what is wrong with it is said on standard error, and it is then read only."""
    from fluewright.record.opening import opened

    found = opened(settings_from(args))
    for sentence in found.wrong:
        print(f"the journal is not whole: {sentence}", file=sys.stderr)
    if found.wrong:
        print("it is open for reading only; see `fluewright journal check --all`", file=sys.stderr)
    return found


def opened_or_made(args: argparse.Namespace) -> "Journal":
    """The journal opened, or a new one where none has ever been."""
    from fluewright.record.keys_ed25519 import key_of
    from fluewright.record.opening import made
    from fluewright.record.store import Store

    settings = settings_from(args)
    if not Store(settings).is_there():
        return made(settings, device_name="this computer", key=key_of(settings).public)
    return opened_from(args).journal


def say(args: argparse.Namespace, facts: Mapping[str, object], *more: str) -> None:
    """Print what was done: as JSON, or one fact a line and then sentences."""
    if args.json:
        print(json.dumps(facts, indent=2, ensure_ascii=False))
        return
    wide = max(len(name) for name in facts)
    shown = {name: f"{fact:,}" if isinstance(fact, int) else str(fact) for name, fact in facts.items()}
    lines = [f"{name:<{wide}}  {fact}" for name, fact in shown.items() if fact != ""]
    print(printable("\n".join([*lines, *more])))


def words_from(args: argparse.Namespace) -> str:
    """The words in the file that an option names; - is standard input; empty when it names none."""
    if not args.words_from:
        return ""
    if args.words_from == "-":
        return sys.stdin.read()
    from fluewright.record.files import disk_told

    with disk_told(Path(args.words_from)):
        return Path(args.words_from).read_text("utf-8", "replace")


def _no_time(text: str, expected: str) -> UseError:
    return UseError(
        code="FW-U-611",
        read=f"{text[:60]!r} as a time",
        expected=expected,
        matters="what is held or revoked from a wrong time on is not held or revoked at all",
        do="write it so",
    )


def day_from(text: str) -> date:
    """A day as it is typed after an option."""
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise _no_time(text, "a day such as 2026-11-25") from error


def moment_from(text: str) -> datetime:
    """A moment as it is typed after an option; without an offset it is of this machine."""
    try:
        return datetime.fromisoformat(text).astimezone()
    except ValueError as error:
        raise _no_time(text, "a moment such as 2026-11-25T10:20:00-06:00") from error
