"""Whether the text of a rule that was read is the text in force: on which day, superseded, or not known."""

import datetime
from typing import Literal

Unsure = Literal["superseded", "not known", "no text"]
"""superseded: a later edition stands in its place. not known: nobody compared it with the text in force.
no text: common practice, which has none."""

Current = datetime.date | Unsure
"""A day on which the text read is known to have been in force, or why there is none."""

UNSURE: tuple[Unsure, ...] = ("superseded", "not known", "no text")


def is_one(value: object) -> bool:
    """Whether a field of a row says how current its text is."""
    return isinstance(value, datetime.date) or value in UNSURE


def stands(current: Current) -> bool:
    """Whether a text that was read may be taken for the one in force.

    It may where it was compared with it, and where nobody knows of a later one: its edition and whether it was compared
    stand behind every verdict, and the licensed person decides. It may not where a later edition is known.
    """
    return current not in ("superseded", "no text")


def in_words(current: Current) -> str:
    """What stands behind the edition in a citation; empty for common practice."""
    if isinstance(current, datetime.date):
        return f"in force on {current.day} {current:%B %Y}"
    return {"superseded": "superseded", "not known": "not compared with the text of today", "no text": ""}[current]


def why_not(current: Current) -> str:
    """Why a text that does not stand can warn and not clear, as a sentence without its full stop."""
    if current == "superseded":
        return "The text read was superseded by a later edition, which nobody here has read"
    return "There is no text of it"
