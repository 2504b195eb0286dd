"""fluewright cost factors: carbon dioxide of a fuel by what it is made of, beside published figures."""

import argparse

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.evidence.cost import CostAndEmissions

ABOUT = "carbon dioxide of a fuel beside published figures, gross beside net"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    return Asked((CostAndEmissions(),), asks.fuel_from(args))
