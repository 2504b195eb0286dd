"""fluewright delivered air: temperature rise, air flow and heat of the air side."""

import argparse

from fluewright.cli import delivered_static
from fluewright.cli.asks import Asked
from fluewright.evidence.delivered_air import AirSide
from fluewright.visit import delivered_typed as typed

ABOUT = "the air side: its rise, the air flow that carries a heat, the heat that a measured flow carries"

OPTIONS = {
    "return_air": "return air temperature, such as 68F",
    "supply_air": "supply air temperature, out of sight of the exchanger, such as 128F",
    "blower": "electric power of the blower, such as 450W",
    "output": "heat that the air carries, where it is known: 80kBtu/h",
}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    read = parser.add_argument_group("air")
    for key, words in OPTIONS.items():
        read.add_argument(f"--{key.replace('_', '-')}", metavar="X", help=words)
    read.add_argument("--plate-rise", metavar="X..Y", help="rise that the plate allows, such as 40..70F")
    read.add_argument(
        "--blower-between",
        choices=("not said", "yes", "no"),
        default="not said",
        help="whether the blower's heat lies between the two thermometers",
    )
    read.add_argument("--compared", action="store_true", help="the two thermometers were held side by side before")
    read.add_argument("--flow-at", choices=("return", "supply"), default="return", help="where flows are stated")
    delivered_static.add_pressures(parser)


def asked(args: argparse.Namespace) -> Asked:
    """The air side as typed."""
    readings = typed.readings_of(delivered_static.given(args, *OPTIONS, *delivered_static.OPTIONS), typed.AIR_READINGS)
    plate, table = delivered_static.plate_of(args), delivered_static.table_of(args)
    given = AirSide(readings, plate, args.motor, args.blower_between, args.flow_at, table, compared=args.compared)
    return Asked((given,))
