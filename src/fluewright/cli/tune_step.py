"""`fluewright tune step`: what comes before the next turn, which way, roughly how far, what it should come to."""

import argparse
from typing import Any, get_args

from fluewright.appliance import load
from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.evidence.reading import Appliance
from fluewright.tune.advise import Lever
from fluewright.visit import of_options
from fluewright.visit.parts import tune

ABOUT = "the next turn: what comes first, which way, roughly how far, and what it should come to"
HELP = {
    "o2": "oxygen as it stands",
    "co": "carbon monoxide as it stands",
    "papers": "smoke papers as it stands, such as '1;1;2'",
    "stack": "flue gas temperature",
    "air": "combustion air",
    "target": "oxygen to come to, such as 4%% or 3.5..4.5%%",
    "gas_pressure": "gas pressure at the burner, where it would be moved",
    "pump_pressure": "oil pressure, where it would be moved",
    "draft": "draft over the fire, where a damper would be moved",
    "water": "temperature of the water that takes the heat",
    "over_fire_oxygen": "oxygen over the fire",
    "breech_oxygen": "oxygen behind the passes",
    "input_share": "heat input as a share of the plate, such as 108%%",
}
SEEN = {
    "spills": "flue gas comes into the room",
    "rising": "carbon monoxide climbs by itself",
    "sooty": "soot or dirt in the passes, or an oily spot",
    "draft_off": "the draft is not where it belongs",
}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    group = parser.add_argument_group("as it stands")
    group.add_argument("--lever", choices=get_args(Lever), required=True, help="what would be turned")
    for key, words in HELP.items():
        group.add_argument(f"--{key.replace('_', '-')}", metavar="X", help=words)
    for key, words in SEEN.items():
        group.add_argument(f"--{key.replace('_', '-')}", action="store_true", help=words)
    group.add_argument("--least", metavar="X", help="the least oxygen that is safe, from the curve")
    group.add_argument("--class", dest="kind", default="", help="class of appliance, see `fluewright appliance`")
    group.add_argument("--burner", default="unknown", help="kind of burner, for the window stated for it")
    asks.add_fuel(parser)


def asked(args: argparse.Namespace) -> Asked:
    """The turn as it was typed."""
    fuel = asks.fuel_from(args)
    typed = {key: getattr(args, key) for key in (*HELP, "lever", "least") if getattr(args, key) is not None}
    seen = {key: True for key in SEEN if getattr(args, key)}
    tree: dict[str, Any] = {"tune": {**typed, **seen}}
    if args.kind:
        load.load(args.kind)
    return Asked(of_options.of_tree(tree, tune.read), fuel, appliance=Appliance("", burner=args.burner, kind=args.kind))
