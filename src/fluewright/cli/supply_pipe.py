"""`fluewright supply pipe`: the pressure that one pipe takes, by first principles and by the code."""

import argparse

from fluewright.cli.asks import Asked, add_fuel, fuel_from
from fluewright.cli.supply_typed import fittings, gauge, needed, pipe
from fluewright.evidence.gas_given import At, LinePressure
from fluewright.evidence.gas_lines import GasLine, Load, Segment
from fluewright.evidence.gas_pressures import GasSupply
from fluewright.visit.parts.gas_pipes import DWELLINGS

ABOUT = "pressure lost along a gas pipe, by first principles and by the equation of the code"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    of = parser.add_argument_group("the pipe and what burns behind it")
    of.add_argument("--pipe", metavar="NAME", help='such as "steel 3/4", "copper 15 mm", "copper L 1/2"')
    of.add_argument("--inside", metavar="X", help="inside diameter, where the pipe is not on file")
    of.add_argument("--length", metavar="X", help="such as 60ft")
    of.add_argument("--fittings", metavar="TEXT", help='such as "90 elbow=3, ball valve=1"')
    of.add_argument("--input", metavar="X", help="gross heat input of all appliances behind it")
    of.add_argument("--pressure", metavar="X", help="gas pressure into the pipe, everything on")
    of.add_argument("--at-appliance", metavar="X", help="gas pressure at its end, everything on")
    of.add_argument("--dwelling", choices=DWELLINGS, default="", help="kind of house")
    add_fuel(parser)


def asked(args: argparse.Namespace) -> Asked:
    """The pipe."""
    kind = pipe(args)
    load = Load("the appliances behind it", needed(args, "input", "fuel_input"), here=True)
    length, ratio = needed(args, "length", "length"), fittings(args.fittings)
    piece = Segment(
        "A",
        kind.words,
        length,
        kind.inner_diameter,
        kind.roughness,
        kind.source,
        ratio,
        (load.name,),
        kind.size,
    )
    places: tuple[tuple[At, str], ...] = (("meter", "pressure"), ("appliance", "at-appliance"))
    read = [(at, gauge(args, option)) for at, option in places]
    pressures = tuple(LinePressure(at, "everything on", one) for at, one in read if one is not None)
    supply = GasSupply(pressures, dwelling=args.dwelling, line=GasLine((piece,), (load,)))
    return Asked((supply,), fuel_from(args))
