"""The rules as a person reads them: which speak here, by whose word, how known, superseded or not, and for what."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from fluewright.quantity import names
from fluewright.rules import applies, currency
from fluewright.rules.schema import UNKNOWN, Limit
from fluewright.visit.rules_here import Asked, Spoken, speaking


@dataclass(frozen=True, slots=True)
class Read:
    """One limit in words.

    id      of its row
    title   what is limited and how, a sentence
    lead    the figure alone, for a list under the name of the quantity
    text    what its book says of it
    margin  whose it is, cited, with edition, how known and whether it stands
    clears  whether keeping it may be called fine
    """

    id: str
    title: str
    lead: str
    text: str
    margin: str
    clears: bool


@dataclass(frozen=True, slots=True)
class Chapter:
    """The limits of one quantity."""

    title: str
    rows: tuple[Read, ...]


def cited(rule: Limit) -> str:
    """Document, clause and edition, how known, and whether the text read is the one in force."""
    found = rule.citation
    parts = [part for part in (found.document, found.clause, found.edition) if part not in ("", "none", UNKNOWN)]
    if len(parts) == 1 and rule.known.startswith(parts[0]):
        return rule.known
    stands = currency.in_words(rule.current) if rule.known == "read" else ""
    return f"{', '.join(parts)} ({', '.join(part for part in (rule.known, stands) if part)})"


def in_words(rule: Limit) -> str:
    """What a limit asks, as a sentence."""
    words = names.of(rule.quantity).words
    return f"{words[:1].upper()}{words[1:]}: {figure_of(rule)}"


def figure_of(rule: Limit) -> str:
    """The figure that a limit asks for, ended as a sentence."""
    unit = f" {rule.unit}" if rule.unit != "1" else ""
    return f"{rule.sense} {rule.limit:g}{unit}".removesuffix(".") + "."


def read_of(one: Spoken) -> Read:
    """One limit that speaks, in words."""
    rule = one.rule
    kind = {"stop": "past it: stop", "act": "past it: act", "advise": "advice"}[rule.severity]
    weight = "may clear" if one.clears else "warns and cannot clear"
    lead = figure_of(rule)
    return Read(
        rule.id,
        in_words(rule),
        f"{lead[:1].upper()}{lead[1:]}",
        rule.text,
        f"{rule.layer}, {kind}; {weight}. {cited(rule)}",
        one.clears,
    )


def chapters(asked: Asked) -> tuple[Chapter, ...]:
    """The limits that speak, by quantity, the law first."""
    found: Sequence[Spoken] = speaking(asked)
    return tuple(
        Chapter(names.of(quantity).words, tuple(map(read_of, several)))
        for quantity, several in groupby(found, key=lambda one: one.rule.quantity)
    )


def facts(rule: Limit) -> tuple[tuple[str, str], ...]:
    """All that a row says, as (what, how it is said)."""
    told = (
        ("on the basis", rule.basis),
        ("read where", rule.place),
        ("in which state", rule.state),
        ("averaged", rule.averaging),
        ("rounded", rule.rounding),
        ("doubt", {"none": "the bare result counts", "minus uncertainty": "is deducted, for the owner",
                   "plus uncertainty": "is added, for safety"}[rule.decision]),
        ("for", applies.in_words(rule.applies)),
        ("where", rule.jurisdiction or "everywhere"),
        ("then", rule.do),
        ("let pass by", rule.waiver),
        ("cited", cited(rule)),
        ("entered", rule.entered),
    )  # fmt: skip
    return tuple((what, words) for what, words in told if words and words != "not said")
