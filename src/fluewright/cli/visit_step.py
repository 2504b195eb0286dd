"""fluewright visit step: one adjustment made, and what it was meant to do."""

import argparse
import json

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.visit import changing, kept

ABOUT = "one adjustment made: what was done, and what it was meant to do"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("word", help="what was done, such as 'air band closed a quarter turn'")
    parser.add_argument("--meant", default="", metavar="WORDS", help="what it was meant to do")
    parser.add_argument("--time", default="", metavar="HH:MM", help="when; now when not said")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Keep it; readings after it belong to a new stretch."""
    journal = opened_from(args).journal
    visit = kept.found(journal, args.visit)
    entry = changing.stepped(journal, visit, args.word, meant=args.meant, time=args.time)
    print(json.dumps({"id": entry.id}) if args.json else entry.id)
    return 0
