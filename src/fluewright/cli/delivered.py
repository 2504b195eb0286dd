"""fluewright delivered: heat delivered by air and by water, and whether the readings of a moment add up."""

import argparse

from fluewright.cli import (
    asks,
    delivered_adds_up,
    delivered_air,
    delivered_cycling,
    delivered_static,
    delivered_traverse,
    delivered_water,
)

QUESTIONS = {
    "air": delivered_air,
    "static": delivered_static,
    "traverse": delivered_traverse,
    "water": delivered_water,
    "cycling": delivered_cycling,
    "adds-up": delivered_adds_up,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    asks.add_questions(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer one of them."""
    return asks.run(args, QUESTIONS)
