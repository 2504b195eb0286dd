"""fluewright delivered static: pressures of the air side, against the plate and the common budget."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.errors import UseError
from fluewright.evidence.air_ways import BlowerTable
from fluewright.evidence.delivered_air import AirPlate, AirSide
from fluewright.visit import delivered_typed as typed

ABOUT = "static pressures of the air side: the total, what each part takes, the flow of a blower table"

OPTIONS = {
    "supply_static": "behind the blower, against the room, such as 0.32inwc",
    "return_static": "before the blower, with its minus, such as -0.28inwc",
    "filter": "drop of the filter",
    "coil": "drop of the coil",
    "supply_ducts": "drop of the supply ducts",
    "return_ducts": "drop of the return ducts",
}


def add_pressures(parser: argparse.ArgumentParser) -> None:
    """Options about pressures, the plate and the blower."""
    read = parser.add_argument_group("static pressures")
    for key, words in OPTIONS.items():
        read.add_argument(f"--{key.replace('_', '-')}", metavar="X", help=words)
    plate = parser.add_argument_group("from the plate or the maker's sheet")
    plate.add_argument("--plate-static", metavar="X", help="most external static pressure")
    plate.add_argument("--plate-flow", metavar="X", help="least air flow")
    plate.add_argument("--filter-budget", metavar="X", help="most that the filter may take")
    plate.add_argument("--coil-budget", metavar="X", help="most that the coil may take")
    plate.add_argument("--tap", default="", help="words of the speed tap in use")
    plate.add_argument(
        "--row", action="extend", nargs="+", default=[], metavar="P=FLOW", help="rows of its table: 0.5inwc=1200cfm ..."
    )
    plate.add_argument("--motor", choices=("not said", "fixed speed", "constant torque", "constant airflow"),
                       default="not said", help="how the blower's motor is driven")  # fmt: skip


def plate_of(args: argparse.Namespace) -> AirPlate:
    """What the plate says, as typed."""
    rise = typed.range_of(args.plate_rise, "air_rise") if getattr(args, "plate_rise", None) else (None, None)

    def figure(text: str | None, quantity: str) -> float | None:
        return None if text is None else typed.figure(text, quantity)

    return AirPlate(
        rise[0],
        rise[1],
        figure(args.plate_static, "external_static"),
        figure(args.plate_flow, "air_flow"),
        figure(args.filter_budget, "filter_drop"),
        figure(args.coil_budget, "coil_drop"),
    )


def table_of(args: argparse.Namespace) -> BlowerTable | None:
    """The blower table, None without rows."""
    if not args.row:
        return None
    return typed.table_of([typed.pair_of(each) for each in args.row], tap=args.tap)


def given(args: argparse.Namespace, *keys: str) -> dict[str, str]:
    """What was typed, by key."""
    found = {key: getattr(args, key) for key in keys if getattr(args, key, None) is not None}
    if not found:
        raise UseError(
            code="FW-U-280",
            read="no reading",
            expected="at least one of " + ", ".join(f"--{key.replace('_', '-')}" for key in keys),
            matters="nothing follows from nothing",
            do="give what was read, with its unit",
        )
    return found


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_pressures(parser)


def asked(args: argparse.Namespace) -> Asked:
    """The air side without its temperatures."""
    readings = typed.readings_of(given(args, *OPTIONS), typed.AIR_READINGS)
    return Asked((AirSide(readings, plate_of(args), args.motor, table=table_of(args)),))
