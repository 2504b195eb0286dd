"""`fluewright oil`: nozzle and heat input, suction line, smoke papers, start, cold tank."""

import argparse

from fluewright.cli import asks, oil_line, oil_nozzle, oil_smoke, oil_start, oil_tank

QUESTIONS = {
    "nozzle": oil_nozzle,
    "line": oil_line,
    "smoke": oil_smoke,
    "start": oil_start,
    "tank": oil_tank,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions about oil."""
    asks.add_questions(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer one; exit 1 when something must be mended."""
    return asks.run(args, QUESTIONS)
