"""fluewright cost: what heat costs, what bills say, what a fuel gives off, and when the law asks again."""

import argparse

from fluewright.cli import asks, cost_bill, cost_duty, cost_factors, cost_heat

QUESTIONS = {"heat": cost_heat, "bill": cost_bill, "factors": cost_factors, "duty": cost_duty}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    asks.add_questions(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer one of them."""
    return asks.run(args, QUESTIONS)
