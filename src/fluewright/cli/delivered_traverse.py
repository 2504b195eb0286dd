"""fluewright delivered traverse: air flow from velocity pressures over a duct, and where the points belong."""

import argparse

from fluewright.cli import delivered_static
from fluewright.cli.asks import Asked
from fluewright.evidence.air_ways import LOG_LINEAR, LOG_TCHEBYCHEFF
from fluewright.evidence.delivered_air import AirSide
from fluewright.kernel.air_side import positions_equal_area
from fluewright.visit import delivered_typed as typed

ABOUT = "air flow from a traverse with a pitot tube: the mean of the roots, at the density of this air"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    duct = parser.add_argument_group("duct and points")
    duct.add_argument(
        "--point", nargs="+", action="extend", default=[], metavar="X", help="velocity pressures: 22Pa ..."
    )
    duct.add_argument("--area", default="", metavar="X", help="inside of the duct, such as 2.2ft2")
    duct.add_argument("--side", default="", metavar="X", help="one side of a rectangular duct, with --other-side")
    duct.add_argument("--other-side", default="", metavar="X", help="the other side")
    duct.add_argument("--diameter", default="", metavar="X", help="of a round duct")
    duct.add_argument("--method", choices=typed.METHODS, default="not said", help="how the points were laid out")
    duct.add_argument("--return-air", metavar="X", required=True, help="temperature of the air in the return")
    duct.add_argument("--supply-air", metavar="X", required=True, help="temperature of the air in the supply")
    duct.add_argument("--flow-at", choices=("return", "supply"), default="return", help="the duct of the traverse")


def asked(args: argparse.Namespace) -> Asked:
    """A traverse as typed."""
    size = typed.area_of(area=args.area, side=args.side, other_side=args.other_side, diameter=args.diameter)
    traverse = typed.traverse_of(args.point, area=size, method=args.method)
    warmth = typed.readings_of(delivered_static.given(args, "return_air", "supply_air"), typed.AIR_READINGS)
    points = {
        "round, equal area, fraction of the diameter": {n: positions_equal_area(parts=n) for n in (4, 6, 8, 10)},
        "round, log-linear, fraction of the diameter": LOG_LINEAR,
        "rectangular, log-Tchebycheff, fraction of the side": LOG_TCHEBYCHEFF,
    }
    return Asked((AirSide(warmth, plane=args.flow_at, traverse=traverse),), data={"where_points_belong": points})
