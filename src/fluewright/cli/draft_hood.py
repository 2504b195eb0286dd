"""fluewright draft hood: room air that a hood or damper lets in, by gas and by temperature."""

import argparse

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.evidence.draft.hood import Hood
from fluewright.visit import draft_typed

ABOUT = "room air that a hood or damper lets in, by gas and by temperature, side by side"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    gas = parser.add_argument_group("gas before and after, dry")
    for option in ("oxygen-before", "oxygen-after", "carbon-dioxide-before", "carbon-dioxide-after"):
        gas.add_argument(f"--{option}", metavar="X", help="such as 7%%")
    heat = parser.add_argument_group("temperatures")
    heat.add_argument("--flue", metavar="X", help="before the hood")
    heat.add_argument("--mixed", metavar="X", help="after it, well mixed")
    heat.add_argument("--room", metavar="X", help="of the air let in")


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    typed = vars(args)
    given = Hood(
        draft_typed.read(typed, "oxygen-before", "oxygen_dry"),
        draft_typed.read(typed, "oxygen-after", "oxygen_dry"),
        draft_typed.read(typed, "carbon-dioxide-before", "carbon_dioxide_dry"),
        draft_typed.read(typed, "carbon-dioxide-after", "carbon_dioxide_dry"),
        draft_typed.read(typed, "flue", "flue_temperature"),
        draft_typed.read(typed, "mixed", "diluted_temperature"),
        draft_typed.read(typed, "room", "room_temperature"),
    )
    return Asked((given,), asks.fuel_from(args))
