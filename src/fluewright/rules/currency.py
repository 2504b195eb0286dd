"""Whether the text of a rule that was read is the text in force: on which day, superseded, or not known."""

import datetime
from typing import Literal

Unsure = Literal["superseded", "not known", "no text"]
"""superseded: a later edition stands in its place. not known: nobody compared it with the text in force.
no text: common practice, which has none."""

Current = datetime.date | Unsure
"""A day on which the text read is known to have been in force, or why there is none."""

UNSURE: tuple[Unsure, ...] = ("superseded", "not known", "no text")
KEPT = datetime.timedelta(days=366)
"""How long a comparison is trusted: a year, after which it has to be made again (common practice, no source)."""


def is_one(value: object) -> bool:
    """Whether a field of a row says how current its text is."""
    return isinstance(value, datetime.date) or value in UNSURE


def stands(current: Current, day: datetime.date | None) -> bool:
    """Whether a text may be taken as that in force on a day.

    current  of a row
    day      of the visit; without one nothing can be said
    -> true only where it was compared, and not more than KEPT before that day
    """
    return isinstance(current, datetime.date) and day is not None and day <= current + KEPT


def in_words(current: Current) -> str:
    """What stands behind the edition in a citation; empty for common practice."""
    if isinstance(current, datetime.date):
        return f"in force on {current.day} {current:%B %Y}"
    return {"superseded": "superseded", "not known": "not compared with the text of today", "no text": ""}[current]


def why_not(current: Current) -> str:
    """Why a text that does not stand can warn and not clear, as a sentence."""
    if isinstance(current, datetime.date):
        return f"The text read was in force on {current.day} {current:%B %Y}, and nobody here has looked since"
    return {
        "superseded": "The text read was superseded by a later edition, which nobody here has read",
        "not known": "Nobody here has compared the text read with the one in force today",
        "no text": "There is no text of it",
    }[current]
