"""`fluewright oil nozzle`: what a nozzle lets through at the pump's pressure, and the heat of it."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.fuels import load
from fluewright.visit import oil_typed

ABOUT = "flow and heat input of an oil nozzle at the pressure of its pump"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("stamp", metavar="STAMP", nargs="*", help="such as 0.85 60B 140psi")
    parser.add_argument("--removed", metavar="STAMP", help="the nozzle that was taken out")
    parser.add_argument("--plate-nozzle", metavar="STAMP", help="the nozzle that the plate asks for")
    parser.add_argument("--pressure", metavar="X", help="pump pressure by gauge, such as 140psi or 10bar")
    parser.add_argument("--held", metavar="X", help="pressure the closed pump holds after shut-down")
    parser.add_argument("--measured", metavar="X", help="oil flow by meter or tank and clock, such as 0.95gph")
    parser.add_argument("--oil-temperature", metavar="X", help="oil at the burner, such as 60F")
    parser.add_argument("--plate", metavar="X", help="gross input of the plate, such as 140kBtu/h")
    parser.add_argument("--plate-net", metavar="X", help="the same, net, as European plates have it")
    parser.add_argument("--fuel", metavar="NAME", default="oil-no-2", help="name in the library")


def asked(args: argparse.Namespace) -> Asked:
    """The nozzle as it was typed."""
    words = (("as removed", args.removed), ("as fitted", " ".join(args.stamp)), ("plate", args.plate_nozzle))
    table = {
        "nozzle": [{"word": word, "stamp": stamp} for word, stamp in words if stamp],
        "pump_pressure": args.pressure,
        "pressure_held": args.held,
        "measured_flow": args.measured,
        "oil_temperature": args.oil_temperature,
    }
    fuel = load.load(args.fuel)
    appliance = oil_typed.appliance_from(
        burner="unknown", output=None, plate=args.plate, plate_net=args.plate_net, fuel=fuel
    )
    return Asked(oil_typed.measured_from({"oil_supply": table}), fuel, appliance=appliance)
