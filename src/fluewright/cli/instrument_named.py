"""Which instrument a command means, on what day, and in which visit something was tried on it."""

import argparse
import json
from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.errors import printable

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal


def add_instrument(parser: argparse.ArgumentParser, *, day: bool = True) -> None:
    """The instrument, the day, the journal."""
    parser.add_argument("instrument", help="what it is called, its serial, or the last digits of its id")
    if day:
        parser.add_argument("--day", default="", metavar="DAY", help="such as 2026-11-25; today when not said")
    add_place(parser)


def add_visit(parser: argparse.ArgumentParser) -> None:
    """The visit that a try belongs to."""
    parser.add_argument("--visit", default="", metavar="VISIT", help="its id, or the last digits; none when not said")
    parser.add_argument("--time", default="", metavar="HH:MM", help="when; in a visit now when not said")


def meant(args: argparse.Namespace) -> "tuple[Journal, str, date]":
    """The journal, the id of the instrument, and today."""
    from fluewright.visit import shelf

    journal = opened_from(args).journal
    today = journal.now().date()
    return journal, shelf.instrument_of(journal, args.instrument, today).id, today


def said(args: argparse.Namespace, entry: "Entry", words: str) -> int:
    """Print what was kept."""
    print(json.dumps({"id": entry.id, "words": words}, ensure_ascii=False) if args.json else printable(words))
    return 0


def tried(args: argparse.Namespace, row: Mapping[str, str]) -> int:
    """Keep one try, in the visit that is named or outside any, and say how it was understood."""
    from fluewright.visit import shelf

    journal, instrument, today = meant(args)
    whole = {**row, **({"time": args.time} if args.time else {})}
    kept = shelf.tried(journal, instrument, whole, day=args.day or today.isoformat(), visit=args.visit)
    return said(args, kept.entry, kept.words)
