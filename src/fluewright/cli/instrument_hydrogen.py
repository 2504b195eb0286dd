"""fluewright instrument hydrogen: whether the carbon monoxide cell is compensated for hydrogen."""

import argparse

from fluewright.cli.instrument_named import add_instrument, meant, said
from fluewright.visit.shelf import HYDROGEN

ABOUT = "whether the carbon monoxide cell is compensated for hydrogen"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser)
    parser.add_argument("answer", choices=HYDROGEN)


def run(args: argparse.Namespace) -> int:
    """Keep it."""
    from fluewright.visit import shelf

    journal, instrument, today = meant(args)
    entry = shelf.hydrogen_said(journal, instrument, args.answer, day=args.day or today.isoformat())
    return said(args, entry, f"compensated for hydrogen: {args.answer}")
