"""fluewright cost bill: fuel bills against degree days, and what was saved."""

import argparse
from pathlib import Path

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.evidence.cost import CostAndEmissions
from fluewright.evidence.cost_bills import Bills
from fluewright.evidence.cost_price import Price
from fluewright.evidence.reading import Reading
from fluewright.quantity import parse
from fluewright.visit import cost_typed

ABOUT = "fuel bills against degree days: base load, fuel for each degree, savings with their interval"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    bills = parser.add_argument_group("metered periods")
    bills.add_argument(
        "--table", metavar="F", type=Path, help="CSV with headers use, degree_days, days or from and to, when"
    )
    for when in ("before", "after"):
        bills.add_argument(
            f"--{when}", metavar="X", nargs="+", default=[], help="each as '31 d, 95 therm, 820 hdd'; hdd are °F days"
        )
    bills.add_argument("--usual-year", metavar="X", help="degree days that years are carried to, such as '5500 hdd'")
    bills.add_argument("--price", metavar="X", help="for the saving in money, such as '1.50 USD/therm'")


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    periods = list(cost_typed.periods_in(args.table, system=args.units)) if args.table else []
    periods += [cost_typed.period_on_line(text, when="before", system=args.units) for text in args.before]
    periods += [cost_typed.period_on_line(text, when="after", system=args.units) for text in args.after]
    cost_typed.need_periods(periods)
    usual = args.usual_year
    normal = None if usual is None else Reading("degree_days", parse.single(usual, quantity="degree_days"))
    price = Price(*cost_typed.price_of(args.price), typed=args.price) if args.price else None
    fuel = asks.fuel_from(args) if args.fuel or args.composition else None
    return Asked((CostAndEmissions(False, price, None, Bills(tuple(periods), normal)),), fuel)
