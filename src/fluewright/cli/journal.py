"""fluewright journal: looks after the records: whether they are whole, copies, exports, other devices."""

import argparse
from collections.abc import Mapping
from types import ModuleType

from fluewright.cli import journal_check, journal_doctor, journal_new, questions

QUESTIONS: Mapping[str, ModuleType] = {
    "new": journal_new,
    "check": journal_check,
    "doctor": journal_doctor,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    questions.add(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer the question."""
    return questions.run(args, QUESTIONS)
