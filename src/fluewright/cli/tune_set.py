"""`fluewright tune set`: a table of curves by fuel, mode, way and rate: gaps, actuators, play, before and after."""

import argparse
from pathlib import Path

from fluewright.cli.asks import Asked
from fluewright.errors import UseError
from fluewright.tune import curve_set
from fluewright.tune.set_told import CurveSetGiven

ABOUT = "a table of curves by fuel, rate, way and mode: gaps, actuators that turn round, play, before and after"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument(
        "file", metavar="FILE", help="CSV with fuel, rate_percent and readings such as oxygen_dry_percent"
    )
    parser.add_argument("--before", metavar="FILE", help="the same table before the work")
    parser.add_argument("--out", metavar="FILE", help="write the table again as it was read")


def _write(path: str, text: str) -> None:
    """The table into a file that is not there yet: a name typed wrongly must not take another table away."""
    try:
        with Path(path).open("x", encoding="utf-8", newline="") as file:
            file.write(text)
    except (OSError, ValueError) as error:
        raise UseError(
            code="FW-U-326",
            where=repr(path) if "\0" in path else path,
            read=f"the table cannot be written: {getattr(error, 'strerror', None) or error}",
            expected="the name of a file that is not there yet, in a folder that may be written to",
            matters="a file that is there is not overwritten",
            do="choose another name, or move the file away",
        ) from error


def asked(args: argparse.Namespace) -> Asked:
    """The table as it was read."""
    found = curve_set.read(Path(args.file))
    if args.out is not None:
        _write(args.out, curve_set.text_of(found))
    return Asked((CurveSetGiven(found, None if args.before is None else curve_set.read(Path(args.before))),))
