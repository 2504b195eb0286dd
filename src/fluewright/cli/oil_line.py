"""`fluewright oil line`: vacuum that lift and line make, against what is read and what the pump can bear."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.fuels import load
from fluewright.visit import oil_typed

ABOUT = "vacuum of a suction line by physics and by the rule of the trade, and the pump's cut-off"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("--lift", metavar="X", help="pump above the oil, such as 6ft; below 0 for a tank above it")
    parser.add_argument("--run", metavar="X", help="length of the line, such as 30ft")
    parser.add_argument("--bore", metavar="X", help="its inner width, such as 0.31in or 8mm")
    parser.add_argument("--pipes", choices=("one", "two"), default="", help="one pipe or two")
    parser.add_argument("--flow", metavar="X", help="oil in the line; with two pipes all that the pump moves")
    parser.add_argument("--vacuum", metavar="X", help="read at the pump, such as 5inHg")
    parser.add_argument("--pressure", metavar="X", help="pump pressure while running")
    parser.add_argument("--held", metavar="X", help="pressure the closed pump holds after shut-down")
    parser.add_argument("--oil-temperature", metavar="X", help="oil in the line, such as 40F")
    parser.add_argument("--fuel", metavar="NAME", default="oil-no-2", help="name in the library")


def asked(args: argparse.Namespace) -> Asked:
    """The line as it was typed."""
    table = {
        "lift": args.lift,
        "run": args.run,
        "bore": args.bore,
        "pipes": args.pipes,
        "pump_flow": args.flow,
        "vacuum": args.vacuum,
        "pump_pressure": args.pressure,
        "pressure_held": args.held,
        "oil_temperature": args.oil_temperature,
    }
    return Asked(oil_typed.measured_from({"oil_supply": table}), load.load(args.fuel))
