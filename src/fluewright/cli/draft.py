"""fluewright draft: what a chimney pulls, one draft with its odds, the house against it, room air at a hood."""

import argparse

from fluewright.cli import asks, draft_chimney, draft_hood, draft_house, draft_reading

QUESTIONS = {"chimney": draft_chimney, "reading": draft_reading, "house": draft_house, "hood": draft_hood}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    asks.add_questions(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer one of them."""
    return asks.run(args, QUESTIONS)
