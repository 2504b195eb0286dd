"""fluewright room unvented: heaters without a flue, ovens, heaters that blow their gas with the air."""

import argparse
from typing import Any

from fluewright.cli.asks import Asked
from fluewright.evidence.unvented import BUILDINGS, KINDS, MOMENTS, UnventedGiven
from fluewright.visit.room_typed import ROOM, reading

ABOUT = "an appliance that gives its gas to the room: its gas, and what it does to the room"

READINGS = {
    "co": ("monoxide", "carbon_monoxide_dry", "carbon monoxide where its gas leaves, as read"),
    "o2": ("oxygen", "oxygen_dry", "oxygen beside it, at the same moment"),
    "before": ("room_before", ROOM, "the room before it was lit"),
    "after": ("room_after", ROOM, "the room after it ran"),
    "delivered": ("delivered", "carbon_monoxide_delivered", "in the air that a direct-fired heater delivers"),
    "inputs": ("inputs", "fuel_input", "heat input of everything without a flue in the room, together"),
    "volume": ("room_volume", "room_volume", "of the room it stands in"),
}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("--kind", choices=KINDS, required=True, help="what it is")
    parser.add_argument("--moment", choices=MOMENTS[1:], default="", help="right after lighting, or at temperature")
    parser.add_argument("--building", choices=BUILDINGS[1:], default="", help="for laws that forbid it there")
    for option, (_, _, words) in READINGS.items():
        parser.add_argument(f"--{option}", metavar="X", help=words)


def asked(args: argparse.Namespace) -> Asked:
    """One appliance at one moment."""
    read: dict[str, Any] = {
        field: reading(text, quantity)
        for option, (field, quantity, _) in READINGS.items()
        if (text := getattr(args, option)) is not None
    }
    return Asked((UnventedGiven(kind=args.kind, moment=args.moment, building=args.building, **read),))
