"""`fluewright oil smoke`: smoke papers and their mean against the rules of the place."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.fuels import load
from fluewright.visit import oil_typed

ABOUT = "smoke papers, their mean, and the limits that speak here"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("papers", metavar="PAPER", nargs="*", help="spot number of each paper: 1 1 2, or trace")
    parser.add_argument("--head", choices=("retention", "older"), default="", help="kind of burner head")
    parser.add_argument("--built", metavar="YEAR", type=int, help="year of the burner, for limits of old ones")
    parser.add_argument("--unchanged", action="store_true", help="the burner was not changed since it was built")
    parser.add_argument("--burner", choices=oil_typed.burners(), default="oil pressure jet", help="kind of burner")
    parser.add_argument("--output", metavar="X", help="nominal heat output, such as 20kW")
    parser.add_argument("--colour", choices=("grey", "yellow", "oily"), default="", help="of the spot")
    parser.add_argument("--wet", action="store_true", help="a paper was wet")
    parser.add_argument("--uneven", action="store_true", help="a paper was uneven")
    parser.add_argument("--since-lit", metavar="X", help="from lighting to the first paper, such as 8min")
    parser.add_argument("--transmission", metavar="X", help="light passing the spot, by densitometer")
    parser.add_argument("--reflectance", metavar="X", help="light thrown back, against clean paper")
    parser.add_argument("--fuel", metavar="NAME", default="oil-no-2", help="name in the library")


def asked(args: argparse.Namespace) -> Asked:
    """The papers as they were typed."""
    table = {
        "papers": args.papers,
        "head": args.head,
        "built": args.built,
        "changed": False if args.unchanged else None,
        "colour": args.colour,
        "wet": args.wet or None,
        "uneven": args.uneven or None,
        "since_lit": args.since_lit,
        "transmission": args.transmission,
        "reflectance": args.reflectance,
    }
    appliance = oil_typed.appliance_from(burner=args.burner, output=args.output, plate=None)
    return Asked(oil_typed.measured_from({"smoke": table}), load.load(args.fuel), appliance=appliance)
