"""fluewright visit add: readings, remarks and events, in the trade's own shorthand."""

import argparse
import json
import sys
from typing import TYPE_CHECKING, Any

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.errors import FluewrightError
from fluewright.visit import adding, kept

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

ABOUT = 'add readings and remarks: "o2 4.3 co 38 stack 385F at cell 3"'


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("line", help="readings, or - to read lines from standard input")
    parser.add_argument(
        "--stretch", default="", metavar="WORD", help="such as 'as left'; the one at hand when not said"
    )
    parser.add_argument("--time", default="", metavar="HH:MM", help="when it was read; now when not said")
    parser.add_argument("--paper", action="store_true", help="it was written on paper before")
    add_place(parser)


def _one(args: argparse.Namespace, journal: "Journal", visit: str, line: str) -> adding.Kept:
    source: Any = "from paper" if args.paper else "typed"
    return adding.added(journal, visit, line, source=source, stretch=args.stretch, time=args.time)


def _lines(args: argparse.Namespace, journal: "Journal", visit: str) -> int:
    """Lines from standard input: the id of each entry, alone on a line, once it is on the disk."""
    ended = 0
    for line in sys.stdin:
        if not line.strip():
            continue
        try:
            found = _one(args, journal, visit, line.rstrip("\n"))
        except FluewrightError as error:
            print(error.sentence(), file=sys.stderr, flush=True)
            ended = error.exit_code
            continue
        for entry in found.entries:
            print(entry.id, flush=True)
    return ended


def run(args: argparse.Namespace) -> int:
    """Add them; each is on the disk before its id is printed."""
    journal = opened_from(args).journal
    visit = kept.found(journal, args.visit)
    if args.line == "-":
        return _lines(args, journal, visit)
    found = _one(args, journal, visit, args.line)
    if args.json:
        pairs = zip(found.entries, found.echo, strict=True)
        print(json.dumps([{"id": entry.id, "kind": entry.kind, "understood": said} for entry, said in pairs]))
        return 0
    for entry, said in zip(found.entries, found.echo, strict=True):
        print(f"{entry.id}  {said}")
    return 0
