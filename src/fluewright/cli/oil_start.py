"""`fluewright oil start`: lighting, lock-out, and the order seal, draft, air."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.fuels import load
from fluewright.visit import oil_typed

ABOUT = "how an oil burner lights and locks out, and what is put right first: leaks, draft, air"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("--lit-after", metavar="X", help="from oil on to flame, such as 2s")
    parser.add_argument("--lock-out", metavar="X", help="to lock-out without a flame, such as 14s, or >60s")
    parser.add_argument("--lock-out-plate", metavar="X", help="the time on the plate of the control")
    parser.add_argument("--over-fire-oxygen", metavar="X", help="oxygen over the fire")
    parser.add_argument("--breech-oxygen", metavar="X", help="oxygen at the breech")
    parser.add_argument("--over-fire-draft", metavar="X", help="draft over the fire, below the room negative")
    parser.add_argument("--breech-draft", metavar="X", help="draft at the breech, below the room negative")


def asked(args: argparse.Namespace) -> Asked:
    """The start as it was typed."""
    keys = ("lit_after", "lock_out", "lock_out_plate", "over_fire_oxygen", "breech_oxygen", "over_fire_draft",
            "breech_draft")  # fmt: skip
    table = {key: getattr(args, key) for key in keys}
    return Asked(oil_typed.measured_from({"oil_supply": table}), load.load("oil-no-2"))
