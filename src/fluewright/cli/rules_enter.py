"""fluewright rules enter: a clause that somebody of the shop read in its own code book."""

import argparse
import json

from fluewright import clock
from fluewright.cli.journal_place import add_place, opened_from
from fluewright.rules.entered import Clause

ABOUT = "enter a clause from the shop's own code book, so that its limit counts as read"

WORDS = {
    "document": "name of the code book",
    "edition": "as printed on it",
    "clause": "its number",
    "page": "on which it stands",
    "initials": "of whoever read it",
    "text": "its words, or as many as carry the limit",
    "limit": "the figure as printed, without its unit",
    "unit": "of that figure, such as ppm",
}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("rule", help="id of the limit; see `fluewright rules list`")
    for name, words in WORDS.items():
        parser.add_argument(f"--{name}", required=True, metavar="X", help=words)
    parser.add_argument("--law-in", default="", metavar="CODE", help="where this code book is law, such as US-OH")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Keep it; from then on the limit counts as read in this shop."""
    from fluewright.visit import own_books

    told = {name: getattr(args, name) for name in WORDS}
    clause = Clause(rule=args.rule, **told, day=clock.now().date(), law_in=args.law_in.upper())
    entry = own_books.enter(opened_from(args).journal, clause)
    print(json.dumps({"id": entry.id}) if args.json else f"{entry.id}  {args.rule} counts as read in this shop.")
    return 0
