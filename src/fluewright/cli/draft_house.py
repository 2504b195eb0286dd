"""fluewright draft house: pressure of the room with fans off and on, by reading or by flows and leaks."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.cli.draft_reading import add_baseline
from fluewright.evidence.draft.house import ZONES
from fluewright.visit import draft_typed

ABOUT = "the room against outdoors: what fans change, by reading or by flows and leaks; what warmth does"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    read = parser.add_argument_group("the room against outdoors, minus is drawn down")
    read.add_argument("--fans-on", metavar="X", help="with every fan on, such as -4Pa")
    read.add_argument("--zone", choices=tuple(ZONES), help="which appliances burn there")
    add_baseline(parser, "fans-off", "with fans off, such as '0; -1; 0; 0; -1 Pa'")
    fans = parser.add_argument_group("fans and leaks, to reckon with")
    fans.add_argument("--fan", metavar="X", nargs="+", help="air taken out by each, such as 200cfm, or unknown")
    fans.add_argument("--leakage", metavar="X", help="flow of a leakage test, such as 1500cfm")
    fans.add_argument("--air-changes", metavar="X", help="air changes of that test instead, with --volume")
    fans.add_argument("--volume", metavar="X", help="of the house")
    fans.add_argument("--at", metavar="X", help="pressure of that test, 50 Pa when not said")
    fans.add_argument("--exponent", metavar="X", help="of the leaks, 0.65 when not said")
    warm = parser.add_argument_group("the house as a chimney")
    warm.add_argument("--distance", metavar="X", help="from its low to its high opening, such as 5m")
    warm.add_argument("--outdoors", metavar="X", help="temperature outdoors")
    warm.add_argument("--room", metavar="X", help="temperature indoors")
    warm.add_argument("--low-opening", metavar="X", help="free area")
    warm.add_argument("--high-opening", metavar="X", help="free area")


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    return Asked((draft_typed.house_from(vars(args)),))
