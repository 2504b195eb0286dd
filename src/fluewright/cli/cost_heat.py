"""fluewright cost heat: from the price of a fuel to the price of heat delivered."""

import argparse
from typing import get_args

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.evidence.cost import CostAndEmissions
from fluewright.evidence.cost_price import Basis, Price, Standing
from fluewright.evidence.reading import Reading
from fluewright.quantity import parse
from fluewright.visit import cost_typed

ABOUT = "price of heat delivered, and what standing ready takes"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    heat = parser.add_argument_group("price and efficiency")
    heat.add_argument("--price", metavar="X", help="such as '1.50 USD/therm', '$4.00/gal', '0.12 EUR/kWh'")
    heat.add_argument("--basis", choices=get_args(Basis), default="gross", help="how the heat paid for is counted")
    heat.add_argument("--heating-value", metavar="X", help="on the bill, such as 1030Btu/ft3; else that of the fuel")
    heat.add_argument("--efficiency", metavar="X", help="such as 85%%")
    heat.add_argument("--efficiency-basis", choices=get_args(Basis), default="gross", help="how it is counted")
    heat.add_argument("--compare-with", metavar="X", help="another efficiency of the same kind: share of fuel saved")
    standing = parser.add_argument_group("standing ready")
    standing.add_argument("--pilot", metavar="X", help="input of a standing pilot, such as 900Btu/h")
    standing.add_argument("--standby-loss", metavar="X", help="share of the input lost while ready, such as 1%%")
    standing.add_argument("--load-share", metavar="X", help="share of the time that the burner runs, such as 20%%")


def _reading(text: str | None, quantity: str) -> Reading | None:
    return None if text is None else Reading(quantity, parse.parse(text, quantity=quantity))


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    efficiency = _reading(args.efficiency, "efficiency_stated")
    price = None
    if args.price is not None:
        reading, money = cost_typed.price_of(args.price)
        value = cost_typed.heating_value_on_bill(args.heating_value, reading)
        after = _reading(args.compare_with, "efficiency_stated")
        price = Price(reading, money, value, args.basis, efficiency, args.efficiency_basis, after, args.price)
    standing = Standing(
        _reading(args.pilot, "fuel_input"),
        _reading(args.standby_loss, "standby_loss"),
        _reading(args.load_share, "load_share"),
        efficiency,
    )
    cost_typed.need_something(price, standing)
    fuel = asks.fuel_from(args) if args.fuel or args.composition else None
    return Asked((CostAndEmissions(False, price, standing),), fuel)
