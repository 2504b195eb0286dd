"""fluewright draft: what flue and house do to each other, one question at a time."""

import argparse

from fluewright.cli import asks, draft_chimney, draft_flue, draft_hood, draft_house, draft_reading

QUESTIONS = {
    "reading": draft_reading,
    "chimney": draft_chimney,
    "flue": draft_flue,
    "house": draft_house,
    "hood": draft_hood,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    asks.add_questions(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer one question."""
    return asks.run(args, QUESTIONS)
