"""fluewright instrument cell: a new cell put in."""

import argparse

from fluewright.cli.instrument_named import add_instrument, meant, said
from fluewright.visit.shelf import CELLS

ABOUT = "a new cell put in; what was learned of the old one's ageing ends there"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser)
    parser.add_argument("cell", choices=CELLS)
    parser.add_argument("--how", default="", metavar="WORDS", help="by whom, which part")


def run(args: argparse.Namespace) -> int:
    """Keep it."""
    from fluewright.visit import shelf

    journal, instrument, today = meant(args)
    day = args.day or today.isoformat()
    entry = shelf.cell_replaced(journal, instrument, args.cell, day=day, how=args.how)
    return said(args, entry, f"{args.cell.replace('_', ' ')} cell replaced, {day}")
