"""fluewright instrument leak-check: whether hose and probe are tight."""

import argparse

from fluewright.cli.instrument_named import add_instrument, add_visit, tried

ABOUT = "whether hose and probe are tight, and how that was tried"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser)
    parser.add_argument("result", choices=("tight", "leaks"))
    parser.add_argument("--how", default="", metavar="WORDS", help="such as 'bulb held 30 s'")
    add_visit(parser)


def run(args: argparse.Namespace) -> int:
    """Keep it and say how it was understood."""
    return tried(args, {"what": "leak", "result": args.result, **({"how": args.how} if args.how else {})})
