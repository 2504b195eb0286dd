"""fluewright room decay: air changes from a room that clears."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.evidence.room_balance import DecayGiven
from fluewright.visit.room_typed import ROOM, reading

ABOUT = "air changes from two readings of a room that clears with everything off"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("--from", dest="first", metavar="X", required=True, help="first reading, such as 48ppm")
    parser.add_argument("--to", dest="later", metavar="X", required=True, help="later reading, such as 20ppm")
    parser.add_argument("--over", metavar="X", required=True, help="time between, such as 40min")
    parser.add_argument("--outdoor", metavar="X", help="outdoors, same instrument; clean air when not said")


def asked(args: argparse.Namespace) -> Asked:
    """Two readings and the time between."""
    outdoor = None if args.outdoor is None else reading(args.outdoor, "carbon_monoxide_outdoor")
    over = reading(args.over, "time_between")
    return Asked((DecayGiven(reading(args.first, ROOM), reading(args.later, ROOM), over, outdoor),))
