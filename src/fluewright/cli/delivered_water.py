"""fluewright delivered water: heat of the water side from flow and rise, or the flow that carries a heat."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.cli.delivered_static import given
from fluewright.evidence.delivered_water import WaterSide
from fluewright.visit import delivered_typed as typed

ABOUT = "the water side: heat from flow and rise with what really flows, or the flow that carries a heat"

OPTIONS = {
    "return": "return water temperature, such as 140F",
    "supply": "supply water temperature",
    "flow": "water flow, such as 6gpm or 1160L/h",
    "glycol": "share of glycol by mass, such as 30%%",
    "output": "heat that the water carries, where it is known and no flow is",
}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    read = parser.add_argument_group("water")
    for key, words in OPTIONS.items():
        read.add_argument(f"--{key}", metavar="X", help=words)
    read.add_argument(
        "--liquid",
        choices=("not said", "water", "ethylene glycol", "propylene glycol"),
        default="not said",
        help="what flows",
    )
    read.add_argument("--compared", action="store_true", help="the two thermometers were held side by side before")
    read.add_argument("--meter-at", choices=("return", "supply"), default="return", help="where the flow is counted")


def asked(args: argparse.Namespace) -> Asked:
    """The water side as typed."""
    readings = typed.readings_of(given(args, *OPTIONS), typed.WATER_READINGS)
    return Asked((WaterSide(readings, args.liquid, args.meter_at, args.compared),))
