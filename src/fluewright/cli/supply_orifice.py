"""fluewright supply orifice: the input that an orifice passes, or the drill that an input asks for."""

import argparse

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.visit import of_options, supply_asked

ABOUT = "the input that an orifice passes, and the drill that an input asks for"
KEYS = ("manifold", "orifice", "orifices", "input", "input_net", "discharge")


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    group = parser.add_argument_group("orifice")
    group.add_argument("--manifold", metavar="X", required=True, help="gauge pressure before the hole, such as 3.5inwc")
    group.add_argument("--orifice", metavar="X", help="as fitted: '#42', 3/64, F, 2.4mm")
    group.add_argument("--orifices", metavar="N", help="how many share the input, 1 when not said")
    group.add_argument("--input", metavar="X", help="gross input wanted, such as 75kBtu/h")
    group.add_argument("--input-net", metavar="X", help="net input wanted, such as 24kW")
    group.add_argument("--discharge", metavar="X", help="discharge coefficient, 0.85 give or take 0.06 when not said")


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    fuel = asks.fuel_from(args)
    named = {"name": args.fuel} if args.fuel is not None else {"composition": args.composition}
    row = {key: getattr(args, key) for key in KEYS if getattr(args, key) is not None}
    tree = {"orifice": row, "fuel": named, "place": {"altitude": args.altitude} if args.altitude else {}}
    return Asked(of_options.of_tree(tree, supply_asked.orifice), fuel)
