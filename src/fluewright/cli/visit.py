"""fluewright visit: a visit worked in the journal, line by line."""

import argparse
from collections.abc import Mapping
from types import ModuleType

from fluewright.cli import (
    questions,
    visit_add,
    visit_amend,
    visit_close,
    visit_list,
    visit_live,
    visit_new,
    visit_notice,
    visit_plan,
    visit_seal,
    visit_show,
    visit_step,
    visit_strike,
)

QUESTIONS: Mapping[str, ModuleType] = {
    "new": visit_new,
    "add": visit_add,
    "live": visit_live,
    "step": visit_step,
    "strike": visit_strike,
    "amend": visit_amend,
    "notice": visit_notice,
    "close": visit_close,
    "plan": visit_plan,
    "seal": visit_seal,
    "show": visit_show,
    "list": visit_list,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    questions.add(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer the question."""
    return questions.run(args, QUESTIONS)
