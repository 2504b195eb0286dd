"""fluewright room rise: the source behind a rise, and where the room is heading."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.evidence.room_balance import RiseGiven
from fluewright.visit.room_typed import ROOM, reading

ABOUT = "what is let into a room, from how fast it rises, and where it is heading"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("--from", dest="first", metavar="X", required=True, help="first reading, such as 1ppm")
    parser.add_argument("--to", dest="later", metavar="X", required=True, help="later reading, such as 14ppm")
    parser.add_argument("--over", metavar="X", required=True, help="time between, such as 30min")
    parser.add_argument("--volume", metavar="X", required=True, help="of the room, such as 2400ft3 or 68m3")
    parser.add_argument(
        "--air-changes", metavar="X", help="such as 0.5/h, from room decay; at least none when not said"
    )
    parser.add_argument("--outdoor", metavar="X", help="outdoors, same instrument; clean air when not said")


def asked(args: argparse.Namespace) -> Asked:
    """Two readings, the time between, and the room."""
    given = RiseGiven(
        first=reading(args.first, ROOM),
        later=reading(args.later, ROOM),
        duration=reading(args.over, "time_between"),
        volume=reading(args.volume, "room_volume"),
        air_changes=None if args.air_changes is None else reading(args.air_changes, "air_changes"),
        outdoor=None if args.outdoor is None else reading(args.outdoor, "carbon_monoxide_outdoor"),
    )
    return Asked((given,))
