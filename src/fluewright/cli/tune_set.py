"""`fluewright tune set`: a table of curves by fuel, mode, way and rate: gaps, actuators, play, before and after."""

import argparse
from pathlib import Path

from fluewright.cli.asks import Asked
from fluewright.errors import UseError
from fluewright.tune import curve_set
from fluewright.tune.curve_set import CurveSet
from fluewright.tune.set_told import CurveSetGiven

ABOUT = "a table of curves by fuel, rate, way and mode: gaps, actuators that turn round, play, before and after"
MOST_BYTES = 4_000_000


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument(
        "file", metavar="FILE", help="CSV with fuel, rate_percent and readings such as oxygen_dry_percent"
    )
    parser.add_argument("--before", metavar="FILE", help="the same table before the work")
    parser.add_argument("--out", metavar="FILE", help="write the table again as it was read")


def _read(path: str) -> CurveSet:
    raw = Path(path).read_bytes()
    try:
        if len(raw) > MOST_BYTES:
            raise ValueError(f"{len(raw)} bytes")
        text = raw.decode("utf-8-sig")
    except ValueError as error:
        raise UseError(
            code="FW-U-338",
            where=path,
            read=f"the table cannot be read: {error}",
            expected=f"text in UTF-8, at most {MOST_BYTES} bytes",
            matters="there is no curve to look at",
            do="save the table as CSV in UTF-8",
        ) from error
    return curve_set.curve_set_of(text=text, file=Path(path).name)


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
    found = _read(args.file)
    if args.out is not None:
        _write(args.out, curve_set.text_of(found))
    return Asked((CurveSetGiven(found, None if args.before is None else _read(args.before)),))
