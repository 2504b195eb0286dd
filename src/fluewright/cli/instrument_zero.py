"""fluewright instrument zero: a zero in air that can be believed, at the start or at the end."""

import argparse

from fluewright.cli.instrument_named import add_instrument, add_visit, tried
from fluewright.evidence.checked import PLACES

ABOUT = "a zero: where, in what air, how long after switching on; --closing for the one at the end"

KEYS = {"on": "on", "o2": "oxygen", "co": "monoxide", "altitude": "altitude", "barometer": "barometer"}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser)
    parser.add_argument("place", choices=PLACES, help="a zero indoors cannot clear a room")
    parser.add_argument("--closing", action="store_true", help="at the end: what it shows in clean air")
    parser.add_argument("--on", metavar="TIME", help="since switching on, such as '12 min'")
    parser.add_argument("--o2", metavar="X", help="oxygen it showed there")
    parser.add_argument("--co", metavar="X", help="carbon monoxide it showed, or another meter knew of")
    where = parser.add_mutually_exclusive_group()
    where.add_argument("--altitude", metavar="X", help="of the place")
    where.add_argument("--barometer", metavar="X", help="read there")
    add_visit(parser)


def run(args: argparse.Namespace) -> int:
    """Keep it and say how it was understood."""
    given = {key: getattr(args, name) for name, key in KEYS.items() if getattr(args, name) is not None}
    return tried(args, {"what": "closing zero" if args.closing else "zero", "place": args.place, **given})
