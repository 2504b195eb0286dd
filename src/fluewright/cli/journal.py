"""fluewright journal: looks after the records: whether they are whole, copies, exports, other devices."""

import argparse
from collections.abc import Mapping
from types import ModuleType

from fluewright.cli import (
    journal_backup,
    journal_check,
    journal_doctor,
    journal_erase,
    journal_export,
    journal_hold,
    journal_import,
    journal_keys,
    journal_lift,
    journal_new,
    journal_restore,
    journal_revoke,
    journal_serve,
    journal_sync,
    questions,
)

QUESTIONS: Mapping[str, ModuleType] = {
    "new": journal_new,
    "check": journal_check,
    "doctor": journal_doctor,
    "backup": journal_backup,
    "restore": journal_restore,
    "export": journal_export,
    "import": journal_import,
    "erase": journal_erase,
    "hold": journal_hold,
    "lift": journal_lift,
    "keys": journal_keys,
    "revoke": journal_revoke,
    "sync": journal_sync,
    "serve": journal_serve,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    questions.add(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer the question."""
    return questions.run(args, QUESTIONS)
