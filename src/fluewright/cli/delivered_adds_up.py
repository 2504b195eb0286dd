"""fluewright delivered adds-up: whether the readings of one moment agree, and what they could never show."""

import argparse

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.cli.delivered_static import given
from fluewright.evidence.closure import Closure
from fluewright.evidence.reading import Point, Stretch
from fluewright.visit import delivered_typed as typed
from fluewright.visit.one_reading import readings_of

ABOUT = "whether oxygen, carbon dioxide, fuel in and heat out of one moment agree, and what they cannot show"

FLUE = {
    "o2": "oxygen in the dry gas",
    "co2": "carbon dioxide in the dry gas",
    "co": "carbon monoxide",
    "flue": "flue-gas temperature",
    "air": "combustion-air temperature at the same boundary",
}
HEATS = {
    "input": "gross heat input by one way, such as the meter: 100kBtu/h",
    "second_input": "gross heat input by another way, such as the orifice",
    "output": "heat delivered, measured on its own",
}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    read = parser.add_argument_group("readings of one moment")
    for key, words in {**FLUE, **HEATS}.items():
        read.add_argument(f"--{key.replace('_', '-')}", metavar="X", help=words)
    read.add_argument("--steady", default="", metavar="WORDS", help="how it was known to be steady")


def asked(args: argparse.Namespace) -> Asked:
    """The readings as typed."""
    found = given(args, *FLUE, *HEATS)
    readings = readings_of({key: text for key, text in found.items() if key in FLUE})
    heats = {
        typed.BALANCE_KEYS[key]: typed.reading(text, typed.BALANCE_READINGS[key])
        for key, text in found.items()
        if key in HEATS
    }
    stretch = Stretch("this reading", "", Point("the flue"), readings, steady=args.steady) if readings else None
    return Asked((Closure(heats, stretch),), asks.fuel_from(args))
