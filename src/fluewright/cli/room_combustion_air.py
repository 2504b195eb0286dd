"""fluewright room air: whether flames get the air they need."""

import argparse
from typing import Any

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.visit import air_typed

ABOUT = "air for burning: room, openings, fans, against rules and against what flames take"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    burning = parser.add_argument_group("appliances, as 'input, output', such as '100kBtu/h' or '24kW, 22kW'")
    for option, (_, words) in air_typed.APPLIANCES.items():
        burning.add_argument(f"--{option}", metavar="X", nargs="+", default=[], help=words)
    room = parser.add_argument_group("the room")
    for option, words in air_typed.ROOM.items():
        room.add_argument(f"--{option}", metavar="X", help=words)
    room.add_argument("--air-changes-known", choices=air_typed.KNOWN, default="assumed", help="how they are known")
    room.add_argument("--window", action="store_true", default=None, help="a door or opening window to outdoors")
    room.add_argument("--no-window", dest="window", action="store_false", help="none")
    room.add_argument("--tight-house", action="store_true", default=None, help="built very tight")
    room.add_argument("--manufactured-home", action="store_true", help="the house is a manufactured home")
    openings = parser.add_argument_group("openings, as area or sides, such as 100in2, 10inx12in or 'Ø150mm'")
    for option, (_, words) in air_typed.OPENINGS.items():
        openings.add_argument(f"--{option}", metavar="X", nargs="+", default=[], help=words)
    openings.add_argument("--grille", choices=air_typed.GRILLES, default="none", help="over all of them")
    fans = parser.add_argument_group("fans")
    listed = fans.add_mutually_exclusive_group()
    taken = "air taken out, such as 200cfm, or unknown"
    listed.add_argument("--exhaust", metavar="X", nargs="+", default=[], help=taken)
    listed.add_argument("--no-exhausts", action="store_true", help="somebody looked: no fan, dryer or hood is there")


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    given: dict[str, Any] = vars(args)
    fuel = asks.fuel_from(args) if args.fuel or args.composition else None
    return Asked((air_typed.given_from({name.replace("_", "-"): value for name, value in given.items()}),), fuel)
