"""fluewright journal import: takes an export in, under equal hashes, all of it or nothing."""

import argparse
from pathlib import Path

from fluewright.cli.journal_place import add_place, opened_or_made, say

ABOUT = "take an exported journal in, beside what is here"
DAMAGED = 4


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("folder", type=Path, metavar="FOLDER", help="of an export of a whole journal")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Take it in and say what became of it; exit 4 when some could not be taken."""
    from fluewright.record.take_in import taken_in

    journal = opened_or_made(args)
    taken = taken_in(journal, args.folder)
    facts: dict[str, object] = {"taken in": taken.entries, "were here": taken.already}
    facts |= {"texts about people": taken.values, "files": taken.files}
    more = ["left where they are, since what stood before them is missing:", *taken.left] if taken.left else []
    say(args, facts | ({"left": taken.left} if args.json else {}), *more)
    return DAMAGED if taken.left else 0
