"""fluewright supply clock: the heat input by the gas meter, against the plate."""

import argparse
from typing import Any

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.visit import of_options, supply_asked
from fluewright.visit.parts import gas_input

ABOUT = "the heat input by the gas meter, against the plate"

_COUNT = (
    ("dial", "volume of one turn of the dial, such as 2ft3"),
    ("turns", "how many turns, 1 when not said"),
    ("pulse", "volume of one pulse, such as 0.01m3"),
    ("pulses", "how many pulses"),
    ("volume", "volume counted, such as 0.076m3 or 76L"),
    ("from", "index at the start, such as 1234.500m3"),
    ("to", "index at the end"),
    ("time", "time counted, such as 66s"),
    ("step", "smallest change the meter shows, such as 1L; leave out for the turn of a dial"),
    ("time-step", "how near start and stop were caught, 0.5s when not said"),
)
_METER = (
    ("meter-pressure", "gauge pressure in the meter, such as 7inwc"),
    ("meter-temperature", "temperature of the gas in the meter"),
    ("meter-accuracy", "how far off the meter may be by its own check, such as 1%%"),
    ("factor", "the supplier's correction from volume counted to the heating value's reference"),
)
_HEAT = (
    ("heating-value", "such as 1035Btu/ft3, 39.5MJ/m3 or 11.2kWh/m3"),
    ("heating-by", "who said so"),
    ("heating-when", "for which day, week or month"),
)
_APPLIANCE = (
    ("plate", "input on the plate, gross, such as 100kBtu/h or 97cfh"),
    ("plate-net", "the same, net, as European plates have it"),
    ("plate-at-height", "input that the plate itself states for this height"),
    ("altitude-table", "the maker's table: '0ft=100%%; 2000ft=93.6%%'"),
    ("others", "what else the meter feeds: 'water heater off; range pilots off'"),
    ("manifold", "manifold pressure as read"),
    ("manifold-plate", "manifold pressure on the plate"),
    ("orifice", "orifice as fitted: '#42', 3/64, 2.4mm"),
    ("orifices", "how many of them"),
)


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    heads = (("what was counted", _COUNT), ("the meter", _METER), ("the gas", _HEAT), ("the appliance", _APPLIANCE))
    groups = {}
    for head, options in heads:
        groups[head] = parser.add_argument_group(head)
        for option, words in options:
            groups[head].add_argument(f"--{option}", metavar="X", help=words, required=option == "time")
    meter, gas, appliance = groups["the meter"], groups["the gas"], groups["the appliance"]
    meter.add_argument("--compensated", choices=gas_input.COMPENSATED, default="unknown", help="what it makes up for")
    meter.add_argument("--meter", choices=gas_input.METERS[1:], help="whose: the sealed one that bills are made by")
    meter.add_argument("--base", choices=gas_input.REFERENCES[1:-1], help="what a meter that makes up counts at")
    gas.add_argument("--heating-basis", choices=("gross", "net"), default="gross", help="of the heating value")
    gas.add_argument("--heating-reference", choices=gas_input.REFERENCES[1:], help="what its volume is counted at")
    appliance.add_argument("--altitude-rule", metavar="ID", help="rule that the maker names; see supply derate")
    appliance.add_argument("--alone", action="store_true", help="the meter feeds nothing else")


def asked(args: argparse.Namespace) -> Asked:
    """The count as it was typed."""
    given = {key: value for key, value in vars(args).items() if value not in (None, False)}
    keys = set(gas_input.FORM.tables["gas_input"]) - {"other", "altitude_table"}
    row: dict[str, Any] = {key: value for key, value in given.items() if key in keys}
    if args.others is not None:
        row["other"] = supply_asked.others_of(args.others)
    if args.altitude_table is not None:
        row["altitude_table"] = supply_asked.heights_of(args.altitude_table)
    fuel = asks.fuel_from(args)
    named = {"name": args.fuel} if args.fuel is not None else {"composition": args.composition}
    tree = {"gas_input": [row], "fuel": named, "place": {"altitude": args.altitude} if args.altitude else {}}
    return Asked(of_options.of_tree(tree, gas_input.read), fuel)
