"""fluewright draft: what flue and house do to each other, one question at a time."""

import argparse

from fluewright.cli import asks, draft_flue

QUESTIONS = {"flue": draft_flue}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    asks.add_questions(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer one question."""
    return asks.run(args, QUESTIONS)
