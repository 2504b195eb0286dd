"""fluewright supply newgas: another gas, or a swing of the network's, in the burner as it is set."""

import argparse

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.visit import of_options
from fluewright.visit.parts import gas_change

ABOUT = "heat, air and flame when another gas comes, or when the network's gas swings"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question; --fuel is the gas that the burner was set with."""
    asks.add_fuel(parser)
    group = parser.add_argument_group("the gas that may come")
    group.add_argument("--to", metavar="NAME", help="name in the library, or a blend: 'natural-gas 80 + hydrogen 20'")
    group.add_argument("--to-composition", metavar="TEXT", help="such as CH4=85,N2=15")
    group.add_argument("--swing", choices=gas_change.SWINGS[1:], help="band of the network: a gas group, or published")
    group.add_argument("--air-ratio", metavar="X", help="as the burner burns now, such as 1.25")


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    fuel = asks.fuel_from(args)
    named = {"name": args.fuel} if args.fuel is not None else {"composition": args.composition}
    keys = gas_change.FORM.tables["gas_change"]
    row = {key: getattr(args, key) for key in keys if getattr(args, key) is not None}
    tree = {"gas_change": row or {"swing": ""}, "fuel": named}
    return Asked(of_options.of_tree(tree, gas_change.read), fuel)
