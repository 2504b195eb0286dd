"""fluewright journal: looks after the records: whether they are whole, copies, exports, other devices."""

import argparse
from collections.abc import Mapping
from types import ModuleType

from fluewright.cli import journal_due, journal_find, journal_new, journal_notices, journal_rebuild, questions

QUESTIONS: Mapping[str, ModuleType] = {
    "new": journal_new,
    "find": journal_find,
    "due": journal_due,
    "notices": journal_notices,
    "rebuild": journal_rebuild,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    questions.add(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer the question."""
    return questions.run(args, QUESTIONS)
