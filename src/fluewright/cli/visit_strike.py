"""fluewright visit strike: an entry that does not count, with the reason; it stays to be seen."""

import argparse
import json

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.visit import changing, kept

ABOUT = "strike an entry out, with the reason"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("entry", help="id of the entry, or the last digits of it; see visit show --entries")
    parser.add_argument("--because", required=True, metavar="WORDS", help="why it does not count")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Strike it out and say by which entry."""
    journal = opened_from(args).journal
    entry = changing.struck_out(journal, kept.found(journal, args.visit), args.entry, because=args.because)
    print(json.dumps({"id": entry.id}) if args.json else entry.id)
    return 0
