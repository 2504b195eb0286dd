"""fluewright journal: looks after the records: whether they are whole, copies, exports, other devices."""

import argparse
from collections.abc import Mapping
from types import ModuleType

from fluewright.cli import (
    journal_accounts,
    journal_backup,
    journal_check,
    journal_doctor,
    journal_due,
    journal_erase,
    journal_export,
    journal_find,
    journal_hold,
    journal_import,
    journal_keys,
    journal_lift,
    journal_new,
    journal_notices,
    journal_people,
    journal_rebuild,
    journal_restore,
    journal_revoke,
    journal_serve,
    journal_sync,
    journal_tokens,
    questions,
)

QUESTIONS: Mapping[str, ModuleType] = {
    "new": journal_new,
    "find": journal_find,
    "due": journal_due,
    "notices": journal_notices,
    "check": journal_check,
    "doctor": journal_doctor,
    "backup": journal_backup,
    "restore": journal_restore,
    "export": journal_export,
    "import": journal_import,
    "sync": journal_sync,
    "serve": journal_serve,
    "rebuild": journal_rebuild,
    "erase": journal_erase,
    "hold": journal_hold,
    "lift": journal_lift,
    "people": journal_people,
    "accounts": journal_accounts,
    "tokens": journal_tokens,
    "keys": journal_keys,
    "revoke": journal_revoke,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    questions.add(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer the question."""
    return questions.run(args, QUESTIONS)
