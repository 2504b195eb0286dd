"""`fluewright tune permit`: whether an instrument can decide a permit, whether runs stand, what they come to."""

import argparse
from pathlib import Path

from fluewright.cli.asks import Asked
from fluewright.errors import Problems, UseError
from fluewright.visit.parts import permit
from fluewright.visit.shape import Gathered, check_part
from fluewright.visit.source import Source, tree_of

ABOUT = "a permit run between its checks: fitness before it, whether it stands, how the permit decides"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("file", metavar="FILE", help="TOML or JSON with [permit], [[permit.check]] and [[permit.run]]")


def asked(args: argparse.Namespace) -> Asked:
    """The run as the file tells it."""
    path = Path(args.file)
    tree = tree_of(path)
    if "permit" not in tree:
        raise UseError(
            code="FW-U-339",
            where=args.file,
            read="no table [permit]",
            expected="what the permit asks, with the checks and runs below it",
            matters="there is no run to look at",
            do="see docs/method/adjusting.md for a complete example",
        )
    gathered = Gathered(path.name)
    check_part({"permit": tree["permit"]}, gathered, permit.FORM)
    file = Source(path, tree)
    found = permit.read(file) if not gathered.errors else ()
    errors = [*gathered.errors, *file.gathered.errors]
    if errors:
        raise Problems(subject=path.name, errors=errors)
    return Asked(found)
