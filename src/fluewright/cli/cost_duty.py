"""fluewright cost duty: when the law asks again, counted from the day something was done."""

import argparse

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.evidence.cost import CostAndEmissions
from fluewright.evidence.cost_duties import DutyAsked
from fluewright.rules import duties
from fluewright.visit import cost_typed

ABOUT = "duties of the law: tune-up, inspection, records, and their last day"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("duty", nargs="?", metavar="DUTY", help="name of a duty; without one they are listed")
    parser.add_argument("--day", metavar="DATE", help="day it is counted from, such as 2026-01-10")
    asks.add_fuel(parser)


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    said = args.fuel is not None or args.composition is not None
    fuel = asks.fuel_from(args) if said else None
    if args.duty is None:
        return Asked((CostAndEmissions(False, listed=duties.of_place(args.jurisdiction), of_fuel=said),), fuel)
    asked_for = DutyAsked(*cost_typed.day_for(args.duty, args.day))
    return Asked((CostAndEmissions(False, duties=(asked_for,), of_fuel=said),), fuel)
