"""fluewright supply: the gas side of an appliance, one question at a time."""

import argparse

from fluewright.cli import (
    asks,
    supply_clock,
    supply_derate,
    supply_newgas,
    supply_orifice,
    supply_pipe,
    supply_pressure,
    supply_tightness,
)

QUESTIONS = {
    "pressure": supply_pressure,
    "tightness": supply_tightness,
    "pipe": supply_pipe,
    "clock": supply_clock,
    "orifice": supply_orifice,
    "derate": supply_derate,
    "newgas": supply_newgas,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    asks.add_questions(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer one question."""
    return asks.run(args, QUESTIONS)
