"""`fluewright tune margin`: what a set point comes to at the worst corner of the year, and what to set today."""

import argparse
from typing import Any, get_args

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.evidence.reading import Appliance
from fluewright.tune.margin import Mechanism
from fluewright.visit import of_options
from fluewright.visit.parts import tune

ABOUT = "the worst corner of the site's year for a set point, by what holds air and fuel together"
KEYS = ("mechanism", *tune.OF_YEAR, "network", "other_gas")
HELP = {
    "air": "combustion air today, as it reaches the burner",
    "outdoors": "outdoors today, where a chimney draws",
    "oil": "oil at the pump today",
    "o2": "oxygen as set",
    "least": "the least oxygen that is safe: the near end of the knee",
    "barometer_low": "lowest barometer of the year at the place",
    "barometer_high": "highest one",
    "wobbe_low": "poorest gas, as a change of the Wobbe index, such as -5%%",
    "wobbe_high": "richest gas, such as 5%%",
    "play": "oxygen by which linkage and control play, such as 0.5%%",
    "chimney": "mean temperature of the gas in the chimney",
}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    group = parser.add_argument_group("the burner and today")
    group.add_argument(
        "--mechanism", choices=get_args(Mechanism), required=True, help="what holds air and fuel together"
    )
    for key in tune.OF_YEAR:
        group.add_argument(f"--{key.replace('_', '-')}", metavar="X", required=key == "air", help=HELP[key])
    group.add_argument("--network", choices=tune.NETWORKS[1:], help="band of the gas: a gas group, or published")
    group.add_argument("--other-gas", metavar="NAME", help="another gas that may come: 'methane 80 + hydrogen 20'")
    group.add_argument("--burner", default="unknown", help="kind of burner, for the window stated for it")
    year = parser.add_argument_group("the ends of the year")
    for end, words in (("cold", "coldest"), ("hot", "hottest")):
        year.add_argument(f"--{end}-air", metavar="X", help=f"combustion air on the {words} days")
        year.add_argument(f"--{end}-outdoors", metavar="X", help=f"outdoors on the {words} days, where a chimney draws")
        year.add_argument(f"--{end}-oil", metavar="X", help=f"oil in the tank on the {words} days")
    asks.add_fuel(parser)


def _seasons(args: argparse.Namespace) -> list[dict[str, str]]:
    """Both ends of the year, as far as they were typed."""
    found = []
    for end, words in (("cold", "the coldest days"), ("hot", "the hottest days")):
        typed = {key: getattr(args, f"{end}_{key}") for key in tune.SEASON}
        row = {key: value for key, value in typed.items() if value is not None}
        if row:
            found.append({"words": words, "air": args.air, **row})
    return found


def asked(args: argparse.Namespace) -> Asked:
    """The year as it was typed."""
    fuel = asks.fuel_from(args)
    named = {"name": args.fuel} if args.fuel is not None else {"composition": args.composition}
    year = {key: getattr(args, key) for key in KEYS if getattr(args, key) is not None}
    tree: dict[str, Any] = {"tune": {"year": year, "season": _seasons(args)}, "fuel": named}
    return Asked(of_options.of_tree(tree, tune.read), fuel, appliance=Appliance("", burner=args.burner))
