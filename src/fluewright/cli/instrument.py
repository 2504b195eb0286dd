"""fluewright instrument: what readings are taken with, and what was tried on it."""

import argparse
from collections.abc import Mapping
from types import ModuleType

from fluewright.cli import (
    instrument_beside,
    instrument_calibrate,
    instrument_cell,
    instrument_hydrogen,
    instrument_leak_check,
    instrument_new,
    instrument_response,
    instrument_shelf,
    instrument_span,
    instrument_suspect,
    instrument_zero,
    questions,
)

QUESTIONS: Mapping[str, ModuleType] = {
    "new": instrument_new,
    "zero": instrument_zero,
    "leak-check": instrument_leak_check,
    "response": instrument_response,
    "beside": instrument_beside,
    "span": instrument_span,
    "cell": instrument_cell,
    "hydrogen": instrument_hydrogen,
    "calibrate": instrument_calibrate,
    "shelf": instrument_shelf,
    "suspect": instrument_suspect,
}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of this verb."""
    questions.add(parser, QUESTIONS)


def run(args: argparse.Namespace) -> int:
    """Answer the question."""
    return questions.run(args, QUESTIONS)
