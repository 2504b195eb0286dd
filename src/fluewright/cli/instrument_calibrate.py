"""fluewright instrument calibrate: a calibration as found and as left."""

import argparse

from fluewright.cli.instrument_named import add_instrument, meant, said
from fluewright.errors import UseError
from fluewright.visit.shelf import CELLS

ABOUT = "a calibration: as found and as left by cell, certificate, by whom, until when it holds"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser)
    parser.add_argument("--due", default="", metavar="DAY", help="until when it holds")
    for name in ("found", "left"):
        text = (
            f"as {name}, such as 'carbon_monoxide = -18 %%' or 'carbon_monoxide = 100 ppm read 82 ppm'; may come twice"
        )
        parser.add_argument(f"--{name}", action="append", default=[], metavar="CELL=X", help=text)
    parser.add_argument("--by", default="", metavar="WHO", help="who did it")
    parser.add_argument("--certificate", default="", metavar="NUMBER")


def _by_cell(said_: list[str]) -> dict[str, str]:
    found = {}
    for text in said_:
        cell, mark, figure = text.partition("=")
        name = cell.strip().replace(" ", "_")
        if not mark or name not in CELLS or not figure.strip():
            raise UseError(
                code="FW-U-071",
                read=repr(text),
                expected=f"a cell and what it showed: {CELLS[0]} = -18 %; cells: {', '.join(CELLS)}",
                matters="readings are judged again by it",
                do="copy the line of the certificate; nothing was kept",
            )
        found[name] = figure.strip()
    return found


def run(args: argparse.Namespace) -> int:
    """Keep it, and say what it puts in doubt."""
    from fluewright.visit import shelf

    journal, instrument, today = meant(args)
    given = {"due": args.due, "by": args.by, "certificate": args.certificate}
    found, left = _by_cell(args.found), _by_cell(args.left)
    entry = shelf.calibrated(journal, instrument, day=args.day or today.isoformat(), found=found, left=left, **given)
    return said(args, entry, shelf.kept_words(entry.body))
