"""fluewright draft chimney: the pull of a chimney at rest, by density and by the forms of books."""

import argparse

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.evidence.draft.chimney import Chimney
from fluewright.evidence.reading import Reading
from fluewright.quantity import parse
from fluewright.visit import draft_typed

ABOUT = "what a chimney pulls at rest, by density and by printed forms, and what wind and house leave of it"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    column = parser.add_argument_group("the chimney")
    column.add_argument("--height", metavar="X", required=True, help="over the appliance, such as 25ft")
    column.add_argument("--flue", metavar="X", required=True, help="mean temperature over the whole height")
    column.add_argument("--outdoors", metavar="X", required=True, help="temperature outdoors")
    column.add_argument("--oxygen", metavar="X", help="in the dry flue gas, for the weight of the gas; needs a fuel")
    against = parser.add_argument_group("what works against it")
    against.add_argument("--wind", metavar="X", help="wind at the mouth, such as 15mph")
    against.add_argument("--wind-coefficient", metavar="X", help="1 pressing full on the mouth, below 0 pulling")
    against.add_argument("--drawn-down", metavar="X", help="how far the room lies below outdoors, such as 4Pa")


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    typed = vars(args)
    height, flue, outdoors = (
        Reading(quantity, parse.single(typed[option], quantity=quantity))
        for option, quantity in (
            ("height", "chimney_height"),
            ("flue", "mean_flue_temperature"),
            ("outdoors", "outdoor_temperature"),
        )
    )
    given = Chimney(
        height,
        flue,
        outdoors,
        oxygen=draft_typed.read(typed, "oxygen", "oxygen_dry"),
        wind=draft_typed.read(typed, "wind", "wind_speed"),
        wind_coefficient=draft_typed.read(typed, "wind-coefficient", "wind_coefficient"),
        drawn_down=draft_typed.read(typed, "drawn-down", "depressurisation"),
    )
    named = args.fuel or args.composition or args.oxygen
    return Asked((given,), asks.fuel_from(args) if named else None)
