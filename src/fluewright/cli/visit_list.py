"""fluewright visit list: the visits of a journal, the latest first."""

import argparse
import json

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.errors import printable
from fluewright.visit import kept

ABOUT = "the visits in the journal, the latest first"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("--most", type=int, default=20, metavar="N", help="how many; 20 when not said")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """One line for each: the end of its id, day, title, where, sealed or not."""
    listed = kept.latest(opened_from(args).journal, most=args.most)
    if args.json:
        print(json.dumps(listed, ensure_ascii=False, indent=2))
        return 0
    for each in listed:
        where = f", {each['site']}" if each["site"] else ""
        print(printable(f"{each['id'][-8:]}  {each['day']}  {each['title']}{where}; {each['state']}"))
    if not listed:
        print("no visit yet; `fluewright visit new --help` tells how to open one")
    return 0
