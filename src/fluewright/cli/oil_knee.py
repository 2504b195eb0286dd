"""`fluewright oil knee`: where smoke begins to rise as air is cut, and the air to set."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.errors import UseError
from fluewright.fuels import load
from fluewright.visit import oil_typed

ABOUT = "the knee of a curve of smoke against carbon dioxide or oxygen, as an interval"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("points", metavar="AIR=SMOKE", nargs="+", help="such as 11.5%%=0, or 12%%=1;1 for two papers")
    parser.add_argument("--by", choices=("co2", "o2"), default="co2", help="what stands before the sign")
    parser.add_argument("--fuel", metavar="NAME", default="oil-no-2", help="name in the library")


def _point(text: str, by: str) -> dict[str, str]:
    air, sign, smoke = text.partition("=")
    if not sign:
        raise UseError(
            code="FW-U-260",
            read=f"the point {text!r}",
            expected="air, the sign =, and the smoke papers taken there, such as 11.5%=0 or 12%=1;1",
            matters="a smoke number without its air is no point of a curve",
            do="write every point that way, in quotes where several papers are parted by ;",
        )
    return {by: air.strip(), "papers": smoke.strip()}


def asked(args: argparse.Namespace) -> Asked:
    """The curve as it was typed."""
    points = [_point(text, args.by) for text in args.points]
    return Asked(oil_typed.measured_from({"smoke": {"point": points}}), load.load(args.fuel))
