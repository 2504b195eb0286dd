"""Small pressures against small limits: odds first, and where the doubt holds the limit, "cannot tell today"."""

from collections.abc import Iterable
from dataclasses import replace

from fluewright.evidence.finding import Finding
from fluewright.evidence.limits import CAUTION, CERTAIN, LEAVE_OFF, Question, answered, canonical, in_words, seen
from fluewright.quantity import show
from fluewright.rules.schema import Limit

BASELINE_FIRST = "take a baseline of 5 values or 60 s with the hose open at the same place, and read again"
CALMER = "read again when the wind is calmer, or with a finer gauge"
LOOK = "look for spillage with every fan on: it shows more than so small a pressure"
EVEN = 0.5
"""Odds below which a limit of mere economy is not worth a line."""
_PAST = {"house_pressure_change": "drawn down further than"}


def _past(rule: Limit) -> str:
    """What it is to be past a limit, in words: a minus makes more and less easy to mix up."""
    return _PAST.get(rule.quantity, "weaker than" if rule.upper else "stronger than")


def _of_economy(rule: Limit) -> bool:
    """Whether a limit is one of economy: a draft too strong, which costs heat and draws no gas into the room."""
    return rule.severity == "advise" and rule.sense == "at least" and rule.quantity not in _PAST


def told(questions: Iterable[Question], subject: str, *, baseline: bool) -> list[Finding]:
    """Each question as a finding.

    questions  a small pressure against limits, each with its words
    subject    what is judged, as a sentence begins
    baseline   whether one was taken
    -> findings; being well inside a limit of mere economy is not worth one
    """
    again = (CALMER if baseline else BASELINE_FIRST, LOOK)
    return [one for asked in questions if (one := _told(asked, subject, again)) is not None]


def _told(asked: Question, subject: str, again: tuple[str, ...]) -> Finding | None:
    rule = asked.rule
    plain = answered(asked, over=rule.severity)
    if plain is None:
        return None
    edge = show.shown(canonical(rule), quantity=asked.result.name, system=asked.account.system)
    if rule.unit == "Pa" and "Pa" not in edge:
        edge = f"{edge} ({round(rule.limit, 1):g} Pa)".replace("(-", "(−")
    past = f"{_past(rule)} {edge}"
    only = f" For: {rule.applies.only}." if rule.applies.only else ""
    body = f"{seen(asked.result, asked.account)} against {edge}. {_past(rule).capitalize()} it: {in_words(plain.odds)}."
    whole = f"{body} {rule.text}{only}"
    odds = plain.odds
    if odds is not None and odds >= CERTAIN and plain.grade in ("act", "advise"):
        grave, safety = plain.grade == "act", not _of_economy(rule)
        return replace(
            plain,
            lead=f"{subject} is {past}.",
            body=whole,
            do_now=LEAVE_OFF if grave else (),
            cautions=CAUTION if safety else (),
            do_next=again[1:] if safety else (),
        )
    open_from = EVEN if _of_economy(rule) else 1.0 - CERTAIN
    if plain.grade in ("act", "advise") or odds is None or odds >= open_from:
        lead = f"{subject}: today's readings cannot tell whether it is {past}."
        return replace(plain, grade="open", lead=lead, body=whole, do_now=(), cautions=(), do_next=again)
    if _of_economy(rule):
        return None
    why = f" {asked.doubt}." if asked.doubt else " Such a limit can warn and clears nothing here."
    return replace(plain, grade="open", lead=f"{subject} is hardly {past}.", body=f"{whole}{why}")
