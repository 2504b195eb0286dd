"""One part of the job while it is worked out: its sentences, results, findings and open questions in order."""

from dataclasses import dataclass, field

from fluewright.evidence.finding import Finding
from fluewright.evidence.limits import HARDLY, Question, answered
from fluewright.evidence.part import Mark, Piece, SoFar, Statement
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.fuels.record import FuelRecord


def figure_of(reading: Reading | None) -> float | None:
    """The figure of a reading that may be absent or a trend word alone."""
    return None if reading is None else reading.figure


def _far_inside(found: Finding) -> bool:
    """Whether a limit is kept within the expanded uncertainty: the sentence with the figure says all there is."""
    return found.grade == "open" and found.odds is not None and found.odds < HARDLY


@dataclass(slots=True)
class Noted:
    """What has been found so far for one part; word is the part's own."""

    word: str
    so_far: SoFar
    reckoning: Reckoning
    statements: list[Statement] = field(default_factory=list)
    results: dict[str, Result] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    cannot_tell: list[str] = field(default_factory=list)

    @property
    def account(self) -> Account:
        """The visit."""
        return self.so_far.account

    @property
    def fuel(self) -> FuelRecord:
        """The fuel of the visit."""
        return self.so_far.account.fuel

    def say(self, *pieces: Piece, mark: Mark = "measured", time: str = "", margin: str = "") -> None:
        """One sentence of evidence."""
        self.statements.append(Statement(pieces, mark=mark, time=time, margin=margin))

    def keep(self, key: str, result: Result) -> Result:
        """A result by its key."""
        self.results[key] = result
        return result

    def judge(self, id: str, key: str, *, shown: str = "", words: str = "", doubt: str = "") -> None:
        """A result put to one limit of the books, when it speaks here; far inside one of practice it gives no finding.

        shown  key by which a sentence shows it, when that is a reading's own
        doubt  why it may alarm and clear nothing, empty when it may do both
        """
        rule = self.account.shop.limit(id)
        code = self.account.jurisdiction.upper()
        if rule.jurisdiction not in ("everywhere", code, code.split("-")[0]):
            return
        asked = Question(rule, self.results[key], self.word, self.account, doubt, key=shown or key, words=words)
        found = answered(asked, over=rule.severity)
        if found is not None and not (rule.layer == "house" and _far_inside(found)):
            self.findings.append(found)
