"""`fluewright supply pressure`: gas pressure standing, working, with everything on and shut off; the regulator."""

import argparse
from functools import partial

from fluewright.cli.asks import Asked, add_fuel, fuel_from, fuel_named
from fluewright.cli.supply_typed import above_nothing, gauge
from fluewright.evidence.gas_given import At, LinePressure, State
from fluewright.evidence.gas_pressures import GasSupply
from fluewright.evidence.sizes import need_rising
from fluewright.visit.parts.gas_pipes import DWELLINGS

ABOUT = "gas pressure from the meter to the appliance, and how the regulator holds it"

READ: tuple[tuple[str, At, State, str], ...] = (
    ("standing", "appliance", "standing", "at the appliance, nothing on"),
    ("this-on", "appliance", "this appliance", "at the appliance, with it on"),
    ("everything-on", "appliance", "everything on", "at the appliance, with everything on"),
    ("shut-off", "appliance", "shut off", "at the appliance, just after shutting off"),
    ("meter-standing", "meter", "standing", "at the meter, nothing on"),
    ("meter-this-on", "meter", "this appliance", "at the meter, with this appliance on"),
    ("meter-everything-on", "meter", "everything on", "at the meter, with everything on"),
    ("meter-shut-off", "meter", "shut off", "at the meter, just after shutting off"),
)


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    read = parser.add_argument_group("read, with its unit")
    for option, _, _, words in READ:
        read.add_argument(f"--{option}", metavar="X", help=words)
    plate = parser.add_argument_group("what it should be")
    plate.add_argument("--set", metavar="X", help="set point of the regulator")
    plate.add_argument("--least", metavar="X", help="least pressure of the appliance's plate")
    plate.add_argument("--most", metavar="X", help="greatest pressure of the appliance's plate")
    plate.add_argument("--dwelling", choices=DWELLINGS, default="", help="kind of house")
    add_fuel(parser)


def asked(args: argparse.Namespace) -> Asked:
    """What was read."""
    read = partial(gauge, args)
    pressures = []
    for option, at, state, _ in READ:
        reading = read(option)
        if reading is not None:
            pressures.append(LinePressure(at, state, reading))
    set_point, least, most = (
        None if (one := read(option)) is None else above_nothing(one, option) for option in ("set", "least", "most")
    )
    need_rising(least, most, "pressures of the plate")
    supply = GasSupply(tuple(pressures), set_point, least, most, args.dwelling, gas_named=fuel_named(args))
    return Asked((supply,), fuel_from(args) if fuel_named(args) else None)
