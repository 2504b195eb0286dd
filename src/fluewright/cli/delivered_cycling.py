"""fluewright delivered cycling: mean input and output of a burner that cycles, its pilot and idle loss with it."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.cli.delivered_static import given
from fluewright.evidence.delivered_cycling import Cycling
from fluewright.visit import delivered_typed as typed

ABOUT = "a burner that cycles: share of the time on, mean input with its pilot, mean output less idle loss"

OPTIONS = {
    "on": "time with the burner on, whole cycles together, such as 12min",
    "off": "time with the burner off, of the same cycles",
    "input": "gross heat input while on, the pilot not counted",
    "pilot": "gross heat input of the pilot, such as 900Btu/h",
    "output": "heat delivered while on",
    "idle_loss": "heat lost by the warm appliance while it is off",
}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    read = parser.add_argument_group("cycles as watched")
    for key, words in OPTIONS.items():
        read.add_argument(f"--{key.replace('_', '-')}", metavar="X", help=words)


def asked(args: argparse.Namespace) -> Asked:
    """The cycles as typed."""
    return Asked((Cycling(typed.readings_of(given(args, *OPTIONS), typed.CYCLING_READINGS)),))
