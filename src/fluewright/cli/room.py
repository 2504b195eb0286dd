"""fluewright room: carbon monoxide in the air people breathe: people first, limits, source, air changes, means."""

import argparse

from fluewright.cli import (
    asks,
    room_air,
    room_combustion_air,
    room_decay,
    room_exposure,
    room_mean,
    room_rise,
    room_unvented,
)

QUESTIONS = {
    "air": room_air,
    "mean": room_mean,
    "rise": room_rise,
    "decay": room_decay,
    "unvented": room_unvented,
    "combustion-air": room_combustion_air,
    "exposure": room_exposure,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    asks.add_questions(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer the question; exit 1 when something must be mended."""
    return asks.run(args, QUESTIONS)
