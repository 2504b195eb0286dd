"""`fluewright tune`: the curve and its knee, the margin of the year, the next turn, a set of curves, a permit run."""

import argparse

from fluewright.cli import asks, tune_curve, tune_margin, tune_permit, tune_set, tune_step

QUESTIONS = {
    "curve": tune_curve,
    "margin": tune_margin,
    "step": tune_step,
    "set": tune_set,
    "permit": tune_permit,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions about adjusting."""
    asks.add_questions(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer one; exit 1 when something must be mended."""
    return asks.run(args, QUESTIONS)
