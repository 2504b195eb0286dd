"""fluewright instrument span: a cell tried on a known gas, between calibrations."""

import argparse

from fluewright.cli.instrument_named import add_instrument, meant, said
from fluewright.visit.shelf import CELLS

ABOUT = "a cell tried on a known gas: good ends the time that a later bad calibration puts in doubt"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser)
    parser.add_argument("cell", choices=CELLS)
    parser.add_argument("shown", help="such as '100 ppm read 98 ppm', or '-2 %%'")


def run(args: argparse.Namespace) -> int:
    """Keep it and say whether it counts as good."""
    from fluewright.visit import shelf

    journal, instrument, today = meant(args)
    entry, words = shelf.spanned(journal, instrument, args.cell, args.shown, day=args.day or today.isoformat())
    return said(args, entry, words)
