"""fluewright instrument new: an instrument put on the shelf."""

import argparse

from fluewright.cli.instrument_named import said
from fluewright.cli.journal_place import add_place, opened_from
from fluewright.quantity import uncertain

ABOUT = "an instrument put on the shelf, with its accuracy class and its cells"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("words", help="what people call it")
    parser.add_argument("--serial", default="", metavar="X")
    parser.add_argument("--accuracy", default="", choices=uncertain.class_names(), help="accuracy class")
    parser.add_argument("--hydrogen", default="", choices=("yes", "no", "unknown"), help="CO cell compensated for it")
    parser.add_argument("--oxygen-cell", default="", choices=("partial pressure", "capillary", "unknown"))
    parser.add_argument("--made", default="", metavar="DAY", help="such as 2024-03-01")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Keep it and say its id."""
    from fluewright.visit import shelf

    given = {"hydrogen": args.hydrogen, "oxygen_cell": args.oxygen_cell, "made": args.made}
    journal = opened_from(args).journal
    entry = shelf.entered(journal, args.words, serial=args.serial, accuracy=args.accuracy, **given)
    return said(args, entry, entry.id)
