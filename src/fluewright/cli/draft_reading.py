"""fluewright draft reading: one draft with its baseline, put to the limits of its place as odds."""

import argparse
from typing import get_args

from fluewright.cli import asks
from fluewright.cli.asks import Asked
from fluewright.evidence.draft import readings
from fluewright.evidence.draft.baseline import Hose
from fluewright.evidence.draft.readings import Draft, DraftReading
from fluewright.visit import draft_typed

ABOUT = "one draft with its baseline, put to the limits of its place as odds"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    asks.add_fuel(parser)
    read = parser.add_argument_group("the reading, counted from the room: minus is suction")
    read.add_argument("--draft", metavar="X", required=True, help="such as -0.02inwc or -5Pa")
    read.add_argument("--place", choices=readings.SPOTS, required=True, help="where it was read")
    read.add_argument("--pushes", action="store_true", help="the gauge showed the flue pushing")
    read.add_argument("--pushes-by-design", action="store_true", help="the vent is made to push")
    read.add_argument("--state", choices=readings.STATES, default="burner on", help="of the burner")
    read.add_argument("--fans", choices=readings.FANS, default="as it stands", help="of the house")
    read.add_argument("--since-lit", metavar="X", help="time since the burner lit, such as 6min")
    read.add_argument("--outdoors", metavar="X", help="temperature outdoors, for the table by weather")
    add_baseline(parser, "baseline", "values with the hose open, such as '0; -1; 0; 0; -1 Pa'")


def add_baseline(parser: argparse.ArgumentParser, option: str, words: str) -> None:
    """The options of a baseline.

    option  by which its values come
    words   what they are
    """
    base = parser.add_argument_group("its baseline: 5 values or 60 s")
    base.add_argument(f"--{option}", metavar="X", help=words)
    base.add_argument("--span", metavar="X", help="lowest to highest instead, such as=-2..1Pa")
    base.add_argument("--over", metavar="X", help="time of the span, such as 60s")
    base.add_argument("--doubt", metavar="X", help="standard uncertainty of a reading here, when it is known")
    base.add_argument("--hose", choices=get_args(Hose), default="not said", help="where the gauge was zeroed again")
    base.add_argument("--gauge", metavar="WORDS", help="how the gauge lay or hung")


def asked(args: argparse.Namespace) -> Asked:
    """The question as it was typed."""
    typed = vars(args)
    reading = draft_typed.asked_of("draft", args.draft, pushes=args.pushes, by_design=args.pushes_by_design)
    lit = draft_typed.read(typed, "since-lit", "minutes_since_lit")
    one = DraftReading(args.place, reading, args.state, args.fans, lit)
    given = Draft(
        (one,),
        draft_typed.baseline_from(typed, "draft"),
        args.pushes_by_design,
        draft_typed.read(typed, "outdoors", "outdoor_temperature"),
    )
    return Asked((given,), asks.fuel_from(args) if args.fuel or args.composition else None)
