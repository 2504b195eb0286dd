"""The option of the language, for verbs whose sentences are in the catalogs and that write nothing into a journal."""

import argparse


def add_language(parser: argparse.ArgumentParser) -> None:
    """Offer the language of the sentences; it is English where nobody says another one."""
    words = "language of the sentences, such as de; what has no translation yet stays English"
    parser.add_argument("--language", metavar="CODE", default="en", help=words)
