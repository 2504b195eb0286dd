"""Causes as a section of the sheet: what cannot be known, what moved, what still stands, what is struck, what is next.

No probability is printed, and nothing is said of a heat exchanger but that it is to be inspected, and why.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fluewright.diagnose.diagnosis import Cause, Diagnosis, Struck, in_minutes
from fluewright.diagnose.standing import Stands
from fluewright.diagnose.told import Sentence
from fluewright.evidence.reading import Closing
from fluewright.report.pen import Pen, capital, worded
from fluewright.report.tree import Line, Section, Span
from fluewright.words import english, marked, say, spoken

TITLE = marked("Causes")
NOTE = marked(
    "What these readings leave standing, likeliest first. A cause is proved by its test, never by this list. "
    "Before the visit is sealed, a danger is tested out, made safe, or handed on by name."
)
TESTED = "tested out"
MOST = 3
"""Sentences for or against one cause that are printed."""


@dataclass(frozen=True, slots=True)
class Causes:
    """What readings and looks point to, for the sheet.

    origins  the evidence behind each reading and look, by the word of its stretch or part and its key
    dangers  those that stand or were closed
    """

    said: Diagnosis
    origins: Mapping[str, tuple[str, str]]
    dangers: tuple[Stands, ...]

    @property
    def worth_saying(self) -> bool:
        """Whether something is amiss, or a danger stands or was closed."""
        return not self.said.quiet or bool(self.dangers)

    @property
    def open(self) -> tuple[Stands, ...]:
        """Dangers that have to be closed before the seal."""
        return tuple(each for each in self.dangers if each.open)

    def data(self) -> dict[str, Any]:
        """The same as plain data."""
        closed = [(each, each.closed) for each in self.dangers]
        return {
            "moved": [each.sentence for each in self.said.moved],
            "standing": [each.words for each in self.said.causes],
            "struck": [each.words for each in self.said.struck],
            "dangers": [
                {"name": each.name, "words": each.words, "open": each.open, "closed": how.how if how else ""}
                for each, how in closed
            ],
        }


class _Writing:
    """Writes the lines of one section."""

    def __init__(self, pen: Pen, causes: Causes) -> None:
        self.pen, self.causes = pen, causes

    def _placed(self, words: str, rests: str) -> str:
        """Words with the line behind them in which the reading or look stands that they rest on, where there is one."""
        evidence = self.causes.origins.get(rests)
        number = self.pen.where.get(evidence) if evidence is not None else None
        return words if number is None else say("{words} (line {number})", words=words, number=number)

    def _sentences(self, each: Sequence[Sentence]) -> str:
        return "; ".join(self._placed(one.words, one.rests) for one in each[:MOST])

    def lines(self) -> Iterator[Line]:
        """Every line, what cannot be known first."""
        said = self.causes.said
        if said.stop:
            yield self._line([Span(say("A dangerous cause is likely: stop, and prove it first."), "strong")], "danger")
        for words in said.unknown:
            yield self._line([Span(f"{words}.")], "unknown")
        for one in said.moved:
            yield self._line(worded("moved: {sentence}.", sentence=self._placed(one.sentence, one.reading)))
        for danger in self.causes.dangers:
            yield self._danger(danger)
        tested = {one.name: one.closed for one in self.causes.dangers if one.closed and one.closed.how == TESTED}
        for alike in _by_evidence([cause for cause in said.causes if cause.name not in tested]):
            yield self._standing(alike)
        for cause in said.causes:
            if (closing := tested.get(cause.name)) is not None:
                by = Span(closing.words, "hand")
                yield self._line(
                    worded("struck through: {cause}. Tested out: {by}.", cause=Span(cause.words, "struck"), by=by)
                )
        for words, rests, struck in _by_sentence(said.struck):
            yield self._struck(words, rests, struck)
        if said.next is not None:
            first, *rest = said.next.tests
            spans = worded("next test: {test}", test=Span(f"{in_minutes(first)}.", "strong"))
            walk = "; ".join(spoken(look.words).rstrip("?") for look in rest)
            yield self._line([*spans, *(worded(" On the same walk: {tests}.", tests=walk) if rest else ())])

    def _line(self, spans: Iterable[Span], mark: Any = "derived") -> Line:
        return self.pen.line(capital(list(spans)), mark=mark)

    def _standing(self, alike: Sequence[Cause]) -> Line:
        """Causes for and against which the same speaks."""
        first, causes = alike[0], [Span(alike[0].words, "strong")]
        for cause in alike[1:]:
            causes = worded("{causes}; or {cause}", causes=causes, cause=Span(cause.words, "strong"))
        if first.because:
            because = self._sentences(first.because)
            spans = worded("standing: {causes}, because {because}.", causes=causes, because=because)
        else:
            spans = worded("standing: {causes}.", causes=causes)
        if first.against:
            spans += worded(" Against it: {sentences}.", sentences=self._sentences(first.against))
        named = [say("{cause}: {do}", cause=cause.words, do=cause.do) for cause in alike]
        steps = "; ".join(named) if len(alike) > 1 else first.do
        return self._line([*spans, *worded(" Once proved: {steps}.", steps=steps)])

    def _struck(self, words: str, rests: str, struck: Sequence[Struck]) -> Line:
        causes: list[Span] = []
        for one in struck:
            causes += [Span("; "), Span(one.words, "struck")] if causes else [Span(one.words, "struck")]
        reason = self._placed(f"{words[:1].upper()}{words[1:]}", rests)
        return self._line(worded("struck through: {causes}. {reason}.", causes=causes, reason=reason))

    def _danger(self, one: Stands) -> Line:
        cause = Span(one.words, "strong")
        if english(one.words).startswith("inspect "):
            spans = worded("danger, {cause}, because {why}.", cause=cause, why=one.why)
        else:
            spans = worded("danger, {cause}: {why}.", cause=cause, why=one.why)
        if one.closed is not None:
            return self._line([*spans, *_closed(one.closed)])
        if one.back:
            spans += worded(" It was closed, and is open again: {back}, and that came later.", back=one.back)
        return self._line([*spans, *worded(" Still open; its test: {test}.", test=one.close)], "danger")


def _closed(closing: Closing) -> list[Span]:
    """How a danger was closed, and to whom it was handed on."""
    how, words = spoken(closing.how), Span(closing.words, "hand")
    if by := "; ".join(filter(None, (closing.to, closing.when))):
        return worded(" Closed, {how} to {by}: {words}.", how=how, by=Span(by, "hand"), words=words)
    return worded(" Closed, {how}: {words}.", how=how, words=words)


def _by_evidence(causes: Sequence[Cause]) -> list[list[Cause]]:
    """Causes that have the same sentences for and against them, together, each group where its likeliest stands."""
    groups: dict[tuple[tuple[Sentence, ...], tuple[Sentence, ...]], list[Cause]] = {}
    for cause in causes:
        groups.setdefault((cause.because, cause.against), []).append(cause)
    return list(groups.values())


def _by_sentence(struck: Sequence[Struck]) -> list[tuple[str, str, list[Struck]]]:
    """Causes that the same sentence strikes, together."""
    groups: dict[tuple[str, str], list[Struck]] = {}
    for one in struck:
        groups.setdefault((one.because.words, one.because.rests), []).append(one)
    return [(words, rests, held) for (words, rests), held in groups.items()]


def section(pen: Pen, number: int, causes: Causes) -> Section:
    """The section of the causes, after everything that was read."""
    return Section(number, spoken(TITLE), tuple(_Writing(pen, causes).lines()), spoken(NOTE))
