"""Steps of a danger notice: what is done when somebody consents to shutting down, refuses, or is absent, by place."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args

from fluewright.rules import cited
from fluewright.rules.schema import Citation, Known
from fluewright.words import spoken

Consent = Literal["before", "yes", "refused", "absent"]
"""before: nobody has answered yet."""
EVERYWHERE = "everywhere"
_SHAPE = cited.Shape(rows="steps", required=("answers",))


@dataclass(frozen=True, slots=True)
class ConsentStep:
    """One step.

    answers  to which answers it belongs
    text     what is done, a sentence
    """

    id: str
    answers: tuple[Consent, ...]
    jurisdiction: str
    citation: Citation
    known: Known
    valid_from: datetime.date | None
    valid_until: datetime.date | None
    text: str

    @property
    def authority(self) -> str:
        """Document and clause, and how the text is known, in words."""
        cited_as = self.citation
        named = "" if self.known.startswith(cited_as.document) else cited_as.document
        clause = "" if cited_as.clause == "none" else cited_as.clause
        return ", ".join(part for part in (named, clause, spoken(self.known)) if part)


def step_of(row: Mapping[str, Any]) -> ConsentStep:
    """A step from its row; RuleError where an answer is none."""
    answers = row["answers"]
    if not isinstance(answers, list) or not answers or not set(answers) <= set(get_args(Consent)):
        raise cited.problem(
            where=str(row["id"]), read=f"answers = {answers!r}", expected=f"some of {', '.join(get_args(Consent))}"
        )
    made = {name: row[name] for name in ConsentStep.__dataclass_fields__}
    return ConsentStep(**{**made, "answers": tuple(answers)})


@cache
def steps() -> tuple[ConsentStep, ...]:
    """Every step that came with the program."""
    return tuple(step_of(row) for row in cited.shipped("consent", _SHAPE))


def speaking(*, answer: Consent, jurisdiction: str, day: datetime.date | None) -> tuple[ConsentStep, ...]:
    """The steps for an answer at a place on a day, those of the place first.

    answer        to "may it be shut down?"
    jurisdiction  of the visit; empty when nobody has said
    day           of the visit; None leaves days out of account
    -> steps; those for everywhere always among them
    """
    place = jurisdiction.upper()
    found = [
        one
        for one in steps()
        if answer in one.answers
        and one.jurisdiction in (EVERYWHERE, place, place.split("-")[0])
        and (day is None or one.valid_from is None or one.valid_from <= day)
        and (day is None or one.valid_until is None or day <= one.valid_until)
    ]
    return tuple(sorted(found, key=lambda one: one.jurisdiction == EVERYWHERE))
