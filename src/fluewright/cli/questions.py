"""Verbs whose questions answer for themselves: the module of each has `ABOUT`, `add(parser)` and `run(args) -> int`."""

import argparse
from collections.abc import Mapping
from types import ModuleType


def add(parser: argparse.ArgumentParser, questions: Mapping[str, ModuleType]) -> None:
    """The questions of a verb, each with the options that every verb has."""
    made = parser.add_subparsers(dest="question", metavar="QUESTION", required=True, parser_class=type(parser))
    for name, module in questions.items():
        about = module.ABOUT
        one = made.add_parser(name, allow_abbrev=False, help=about, description=f"{about[:1].upper()}{about[1:]}.")
        module.add(one)
        for option in ("--json", "--plain", "--no-input"):
            one.add_argument(option, action="store_true", default=argparse.SUPPRESS, help=argparse.SUPPRESS)


def run(args: argparse.Namespace, questions: Mapping[str, ModuleType]) -> int:
    """Answer the question that was asked."""
    ended: int = questions[args.question].run(args)
    return ended
