"""fluewright room mean: running means of a recorded or typed series against the limits over time."""

import argparse
from pathlib import Path

from fluewright.cli.asks import Asked
from fluewright.errors import UseError
from fluewright.evidence.room import RoomGiven
from fluewright.evidence.room_means import Timed
from fluewright.visit import room_typed
from fluewright.visit.parts.room import PLACES, SYMPTOMS, ZEROS

ABOUT = "means over 15 minutes to 24 hours of a recorded or typed series, against the limits over time"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("trace", nargs="?", type=Path, help="CSV or Parquet with times and a column of carbon monoxide")
    parser.add_argument("--readings", metavar="LIST", help="instead of a file: '10:05 4 ppm; 10:20 12 ppm'")
    parser.add_argument("--zero", choices=ZEROS[1:], default="", help="where the instrument was zeroed")
    parser.add_argument("--where", choices=PLACES, default=PLACES[0], help="whose limits speak")
    parser.add_argument("--symptoms", choices=SYMPTOMS, default=SYMPTOMS[0], help="whether anybody feels unwell")


def _series(args: argparse.Namespace) -> tuple[Timed, ...]:
    if (args.trace is None) == (args.readings is None):
        raise UseError(
            code="FW-U-222",
            read="no series" if args.trace is None else "a file, and readings typed beside it",
            expected="a file, or --readings",
            matters="a mean is made of one series on one clock",
            do="give one of them",
        )
    return room_typed.recorded(args.trace) if args.readings is None else room_typed.readings_of(args.readings)


def asked(args: argparse.Namespace) -> Asked:
    """The series; a recorded one is told by its ends and its highest reading."""
    series = RoomGiven(
        symptoms=args.symptoms,
        readings=_series(args),
        zero=args.zero,
        where=args.where,
    )
    return Asked((series,))
