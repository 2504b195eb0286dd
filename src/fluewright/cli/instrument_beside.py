"""fluewright instrument beside: two instruments on the same gas."""

import argparse

from fluewright.cli.instrument_named import add_instrument, add_visit, tried

ABOUT = "two instruments on the same gas at the same moment, held against their joint doubt"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser)
    parser.add_argument("--here", required=True, metavar="X", help="what this one reads")
    parser.add_argument("--there", required=True, metavar="X", help="what the other one reads")
    parser.add_argument("--other", required=True, metavar="WORDS", help="what the other one is called")
    parser.add_argument("--gas", default="", metavar="NAME", help="carbon monoxide when not said")
    add_visit(parser)


def run(args: argparse.Namespace) -> int:
    """Keep it and say how it was understood."""
    row = {"what": "cross-check", "here": args.here, "there": args.there, "other": args.other}
    return tried(args, row | ({"gas": args.gas} if args.gas else {}))
