"""fluewright supply derate: the input allowed at a height, rule by rule."""

import argparse

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.fuels import plate
from fluewright.visit import of_options, supply_asked

ABOUT = "the input allowed at a height, rule by rule"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question; the height itself is --altitude."""
    asks.add_fuel(parser)
    group = parser.add_argument_group("plate and maker")
    group.add_argument("--plate", metavar="X", help="input on the plate at sea level; by volume it needs a fuel")
    group.add_argument("--altitude-rule", metavar="ID", help="the one rule that counts here")
    group.add_argument("--altitude-table", metavar="TEXT", help="the maker's table: '0ft=100%%; 2000ft=93.6%%'")


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    if args.plate is not None and not asks.fuel_named(args) and plate.is_flow(args.plate):
        asks.fuel_from(args)  # says that a flow needs its fuel
    named = {key: value for key, value in (("name", args.fuel), ("composition", args.composition)) if value is not None}
    row = {key: getattr(args, key) for key in ("plate", "altitude_rule") if getattr(args, key) is not None}
    if args.altitude_table is not None:
        row["altitude_table"] = supply_asked.heights_of(args.altitude_table)
    tree = {
        "derate": row,
        "fuel": named or {"name": "natural-gas"},  # a plate in units of power rests on none
        "place": {"altitude": args.altitude} if args.altitude else {},
    }
    return Asked(of_options.of_tree(tree, supply_asked.height))
