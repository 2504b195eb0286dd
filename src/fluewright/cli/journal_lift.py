"""fluewright journal lift: ends a hold."""

import argparse

from fluewright.cli.journal_place import add_place, opened_from, say

ABOUT = "end a hold"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("hold", metavar="ID", help="of the hold")
    parser.add_argument("--because", required=True, metavar="REASON", help="why it is not needed any more")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Lift it."""
    from fluewright.record.erase import lifted

    entry = lifted(opened_from(args).journal, args.hold, because=args.because)
    say(args, {"lifted": args.hold, "entry": entry.id})
    return 0
