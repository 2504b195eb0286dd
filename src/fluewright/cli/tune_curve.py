"""`fluewright tune curve`: where carbon monoxide or smoke begins to rise as air is cut, as an interval of oxygen."""

import argparse

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.errors import UseError
from fluewright.visit import of_options
from fluewright.visit.parts import tune

ABOUT = "the knee of a curve of carbon monoxide or smoke against oxygen, and the least oxygen that is safe"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("points", metavar="O2=CO", nargs="+", help="such as 4.5%%=12ppm, 3%%=30..40ppm, 2%%='>400ppm'")
    parser.add_argument("--up", metavar="O2=CO", action="append", default=[], help="a point as air is given back")
    parser.add_argument("--smoke", action="store_true", help="smoke papers behind the sign: 4%%='1;1;2'")
    parser.add_argument("--rate", metavar="X", help="firing rate, such as 100%%")
    asks.add_fuel(parser)


def _point(text: str, made: str, way: str) -> dict[str, str]:
    oxygen, sign, value = text.partition("=")
    if not sign or not value.strip():
        raise UseError(
            code="FW-U-330",
            read=f"the point {text!r}",
            expected="oxygen, the sign =, and what was read there, such as 4.5%=12ppm",
            matters="a reading without its oxygen is no point of a curve",
            do="write every point that way, in quotes where it holds > or ;",
        )
    return {"o2": oxygen.strip(), made: value.strip(), "way": way}


def asked(args: argparse.Namespace) -> Asked:
    """The curve as it was typed."""
    made = "papers" if args.smoke else "co"
    points = [_point(text, made, "down") for text in args.points] + [_point(text, made, "up") for text in args.up]
    tree = {"tune": {"point": points, **({"rate": args.rate} if args.rate is not None else {})}}
    fuel = asks.fuel_from(args) if asks.fuel_named(args) else None
    return Asked(of_options.of_tree(tree, tune.read), fuel)
