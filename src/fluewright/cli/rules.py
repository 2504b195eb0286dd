"""fluewright rules: which limits apply, on whose authority, what this instrument can decide, the shop's own book."""

import argparse
from collections.abc import Mapping
from types import ModuleType

from fluewright.cli import (
    questions,
    rules_check,
    rules_decidable,
    rules_diff,
    rules_enter,
    rules_list,
    rules_show,
    rules_sign,
    rules_take,
)

QUESTIONS: Mapping[str, ModuleType] = {
    "list": rules_list,
    "show": rules_show,
    "decidable": rules_decidable,
    "check": rules_check,
    "diff": rules_diff,
    "take": rules_take,
    "sign": rules_sign,
    "enter": rules_enter,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    questions.add(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer the question."""
    return questions.run(args, QUESTIONS)
