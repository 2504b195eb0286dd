"""fluewright draft flue: a flue and what hangs on it: drafts, shares, and which appliance spills first."""

import argparse
from typing import Any

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.errors import UseError
from fluewright.evidence.flue_given import WALLS
from fluewright.visit import of_options
from fluewright.visit.parts import flue

ABOUT = "a flue and what hangs on it: drafts, shares, and which appliance spills first"
KEYS = flue.FORM.tables["flue.appliance"]
EXAMPLE = (
    "'words=boiler; input=120 kBtu/h; oxygen=7.5 %; outlet=400 F; height=4.1 ft; joins=6 ft; "
    "diameter=6 in; length=5 ft'"
)


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    group = parser.add_argument_group("the flue and what hangs on it")
    group.add_argument(
        "--height", required=True, metavar="X", help="of the mouth above the appliances' floor, such as 24ft"
    )
    group.add_argument("--diameter", required=True, metavar="X", help="inside, such as 6in")
    group.add_argument("--wall", required=True, choices=tuple(WALLS), help="what the flue is built of")
    group.add_argument(
        "--appliance",
        required=True,
        action="append",
        metavar="TEXT",
        help=f"once for each: {EXAMPLE}; also kind, state, opening, bends".replace("%", "%%"),
    )
    group.add_argument("--outdoors", metavar="X", help="outdoor temperature, such as 35F")
    group.add_argument("--room", metavar="X", help="room temperature, such as 66F")
    group.add_argument("--room-pressure", metavar="X", help="room against outdoors at the floor, such as -1Pa")
    group.add_argument("--fans-pressure", metavar="X", help="the same with every fan on")


def appliance_of(text: str) -> dict[str, str]:
    """One appliance as typed: words=boiler; input=120 kBtu/h; ...

    text -> table as in a visit file; UseError FW-U-275 for a part that is no key with a value
    """
    row: dict[str, str] = {}
    for part in filter(None, (part.strip() for part in text.split(";"))):
        key, equals, value = (side.strip() for side in part.partition("="))
        if not equals or key not in KEYS or key in row or not value:
            raise UseError(
                code="FW-U-275",
                read=f"{part!r} in --appliance",
                expected=f"each key once, with = and a value: {', '.join(KEYS)}",
                matters="a part nobody understood would be an appliance half described",
                do=f"write it as {EXAMPLE}",
            )
        row[key] = value
    return {"kind": "hood", **row}


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    typed = {key: getattr(args, key) for key in ("height", "diameter", "wall", "outdoors", "room")}
    typed |= {"room_pressure": args.room_pressure, "fans_pressure": args.fans_pressure}
    table: dict[str, Any] = {key: value for key, value in typed.items() if value is not None}
    table["appliance"] = [appliance_of(text) for text in args.appliance]
    of_options.need(flue.FORM, {"flue": table})
    return Asked(of_options.of_tree({"flue": table}, flue.read), asks.fuel_from(args))
