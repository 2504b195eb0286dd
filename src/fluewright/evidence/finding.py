"""A statement about safety, law, quality or economy, with evidence, citation, odds and what to do."""

from dataclasses import dataclass, field
from typing import Any, Literal, Protocol

from fluewright.evidence.reading import Stretch
from fluewright.rules import currency, schema

Grade = Literal["stop", "act", "advise", "open", "cured", "fine"]
"""stop: shut down and keep people out. act: mend before leaving, or leave off. advise: put right soon.
open: these readings cannot tell. cured: it was so, and is so no longer. fine: within its limit."""

ORDER: tuple[Grade, ...] = ("stop", "act", "advise", "open", "cured", "fine")
"""The gravest first."""
WRONG: tuple[Grade, ...] = ("stop", "act", "advise")
"""Grades that say something is wrong."""

Known = Literal[
    "read", "second-hand", "computed", "from memory", "common practice, no source", "own rule of the shop", "physics"
]


@dataclass(frozen=True, slots=True)
class Clause:
    """On whose authority: document, clause, edition, jurisdiction, how we know the text, and whether it is in force.

    stands  whether the text is not known to be replaced
    """

    document: str
    clause: str
    edition: str
    jurisdiction: str
    known: Known
    layer: Literal["law", "standard", "programme", "house", "physics"] = "physics"
    current: str = ""
    stands: bool = True

    @property
    def text_of(self) -> str:
        """The edition that was read, and whether it is the one in force."""
        return ", ".join(part for part in (self.edition, self.current) if part)

    @property
    def in_short(self) -> str:
        """Document and clause, and whether the text read is the one in force, for a margin or a working."""
        return ", ".join(part for part in (self.document, self.clause, self.current) if part)

    @property
    def of_the_house(self) -> bool:
        """Whether it is a row of the shop's own house book."""
        return self.known == "own rule of the shop"

    @property
    def clears(self) -> bool:
        """Whether to be inside it may be called fine: read text of the place, not replaced, or a law of nature."""
        text = self.known == "read" and self.jurisdiction != "everywhere" and self.layer in ("law", "programme")
        return (text and self.stands) or self.layer == "physics"


class Cited(Protocol):
    """A row of the rules with its source."""

    @property
    def citation(self) -> schema.Citation: ...
    @property
    def jurisdiction(self) -> str: ...
    @property
    def known(self) -> schema.Known: ...
    @property
    def layer(self) -> schema.Layer: ...
    @property
    def current(self) -> currency.Current: ...


def currency_of(known: str, current: currency.Current) -> str:
    """How current a text is, in words; nothing of a text that nobody here has read, for that says more."""
    return "" if current == "not known" and known != "read" else currency.in_words(current)


def clause_of(row: Cited) -> Clause:
    """The authority of a row of the rules, for a finding."""
    cited = row.citation
    clause = "" if cited.clause == "none" else cited.clause
    current = currency_of(row.known, row.current)
    return Clause(
        cited.document,
        clause,
        cited.edition,
        row.jurisdiction,
        row.known,
        row.layer,
        current,
        currency.stands(row.current),
    )


PHYSICS = Clause("law of nature", "mass and heat balance", "", "everywhere", "physics")
PRACTICE = Clause("common practice", "", "", "everywhere", "common practice, no source", "house")


@dataclass(frozen=True, slots=True)
class Finding:
    """One conclusion.

    lead      one sentence, the conclusion
    body      why, with numbers and odds in words plus "n in 100"
    odds      probability that the limit is passed, 0..1, None when it is not that kind of statement
    evidence  names of the readings or results it rests on, per stretch: ("as found", "oxygen_dry")
    do_now    what to do at once, in order
    cautions  the usual warnings that go with it, shown before anything else
    people_out  of what stops: people have to get out before anything is touched, so its own steps come first
    """

    code: str
    grade: Grade
    lead: str
    body: str
    evidence: tuple[tuple[str, str], ...]
    clause: Clause
    odds: float | None = None
    limit: str = ""
    do_now: tuple[str, ...] = ()
    do_next: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    people_out: bool = False


def unsettled(code: str, stretch: Stretch, lead: str, body: str, *names: str) -> Finding:
    """A reason to mistrust a stretch of readings: an open finding by laws of nature."""
    return Finding(code, "open", lead, body, tuple((stretch.word, name) for name in names), PHYSICS)


@dataclass(frozen=True, slots=True)
class Judged:
    """All findings of one visit or one reading, stop first, and what the readings cannot tell."""

    findings: tuple[Finding, ...] = ()
    cannot_tell: tuple[str, ...] = field(default_factory=tuple)


def finding_as_data(finding: Finding) -> dict[str, Any]:
    """A finding as plain data, for JSON."""
    clause = finding.clause
    return {
        "code": finding.code,
        "grade": finding.grade,
        "lead": finding.lead,
        "body": finding.body,
        "odds": finding.odds,
        "limit": finding.limit,
        "evidence": [list(pair) for pair in finding.evidence],
        "citation": f"{clause.document} {clause.clause}".strip(),
        "edition": clause.edition,
        "current": clause.current,
        "jurisdiction": clause.jurisdiction,
        "known": clause.known,
        "do_now": list(finding.do_now),
        "do_next": list(finding.do_next),
        "cautions": list(finding.cautions),
    }
