"""fluewright journal find: customers, sites, appliances, instruments and visits by words, also mistyped ones."""

import argparse
import json
from dataclasses import asdict

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.cli.journal_views import list_of, say_unread

ABOUT = "find customers, sites, appliances and visits by words, also mistyped ones"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("words", nargs="+", metavar="WORD", help="a word or its beginning; all of them must be there")
    parser.add_argument("--most", type=int, default=20, metavar="N", help="how many; 20 when not said")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """One line for each: what it is, when, the end of its id, its title and place."""
    from fluewright.record.views.catching_up import looked_at, unread
    from fluewright.record.views.looking_up import found

    with looked_at(opened_from(args).journal.store) as connection:
        hits = found(connection, " ".join(args.words), args.most)
        left = unread(connection)
    if args.json:
        print(json.dumps([asdict(hit) for hit in hits], ensure_ascii=False, indent=2))
        return 0
    rows = [(hit.kind, hit.day, hit.id[-8:], f"{hit.title}; {hit.place}" if hit.place else hit.title) for hit in hits]
    print(list_of(rows, nothing="nothing holds all of these words"))
    say_unread(left)
    return 0
