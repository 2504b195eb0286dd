"""`fluewright oil tank`: a tank in the weather at both ends of the year."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.fuels import load
from fluewright.visit import oil_typed

ABOUT = "what cold and warm oil from an outdoor tank does to a flame that was set today"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("--oil-temperature", metavar="X", help="oil when the flame was set, such as 75F")
    parser.add_argument("--coldest", metavar="X", help="the coldest it gets in the tank, such as 10F")
    parser.add_argument("--warmest", metavar="X", help="the warmest it gets in the tank")
    parser.add_argument("--oxygen", metavar="X", help="oxygen at which the flame was left")
    parser.add_argument("--buried", action="store_true", help="the tank lies in the ground")
    parser.add_argument("--fuel", metavar="NAME", default="oil-no-2", help="name in the library")


def asked(args: argparse.Namespace) -> Asked:
    """The tank as it was typed."""
    table = {
        "tank": "buried" if args.buried else "outdoors",
        "oil_temperature": args.oil_temperature,
        "coldest_oil": args.coldest,
        "warmest_oil": args.warmest,
        "tuned_oxygen": args.oxygen,
    }
    return Asked(oil_typed.measured_from({"oil_supply": table}), load.load(args.fuel))
