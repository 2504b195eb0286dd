"""fluewright journal: looks after the records: whether they are whole, copies, exports, other devices."""

import argparse
from collections.abc import Mapping
from types import ModuleType

from fluewright.cli import journal_check, journal_doctor, journal_new

QUESTIONS: Mapping[str, ModuleType] = {
    "new": journal_new,
    "check": journal_check,
    "doctor": journal_doctor,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb; the module of each has `ABOUT`, `add(parser)` and `run(args) -> int`."""
    made = parser.add_subparsers(dest="question", metavar="QUESTION", required=True, parser_class=type(parser))
    for name, module in QUESTIONS.items():
        about = module.ABOUT
        one = made.add_parser(name, allow_abbrev=False, help=about, description=f"{about[:1].upper()}{about[1:]}.")
        module.add(one)
        for option in ("--json", "--plain", "--no-input"):
            one.add_argument(option, action="store_true", default=argparse.SUPPRESS, help=argparse.SUPPRESS)


def run(args: argparse.Namespace) -> int:
    """Answer the question."""
    found: int = QUESTIONS[args.question].run(args)
    return found
