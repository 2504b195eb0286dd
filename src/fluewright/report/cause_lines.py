"""Causes as a section of the sheet: what cannot be known, what moved, what still stands, what is struck, what is next.

No probability is printed, and nothing is said of a heat exchanger but that it is to be inspected, and why.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fluewright.diagnose.diagnosis import Cause, Diagnosis, Struck
from fluewright.diagnose.standing import Stands
from fluewright.diagnose.told import Sentence
from fluewright.report.pen import Pen, capital
from fluewright.report.tree import Line, Section, Span

TITLE = "Causes"
NOTE = (
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

    def _where(self, rests: str) -> str:
        """The line that a reading or a look stands in, to go behind it; empty where it stands in none."""
        evidence = self.causes.origins.get(rests)
        number = self.pen.where.get(evidence) if evidence is not None else None
        return f" (line {number})" if number is not None else ""

    def _sentences(self, each: Sequence[Sentence]) -> str:
        return "; ".join(f"{one.words}{self._where(one.rests)}" for one in each[:MOST])

    def lines(self) -> Iterator[Line]:
        """Every line, what cannot be known first."""
        said = self.causes.said
        if said.stop:
            yield self._line([Span("A dangerous cause is likely: stop, and prove it first.", "strong")], "danger")
        for words in said.unknown:
            yield self._line([Span(f"{words}.")], "unknown")
        for one in said.moved:
            yield self._line([Span(f"moved: {one.sentence}{self._where(one.reading)}.")])
        for danger in self.causes.dangers:
            yield self._danger(danger)
        tested = {one.name: one.closed for one in self.causes.dangers if one.closed and one.closed.how == TESTED}
        for alike in _by_evidence([cause for cause in said.causes if cause.name not in tested]):
            yield self._standing(alike)
        for cause in said.causes:
            if (closing := tested.get(cause.name)) is not None:
                by = (Span(". Tested out: "), Span(closing.words, "hand"), Span("."))
                yield self._line([Span("struck through: "), Span(cause.words, "struck"), *by])
        for words, rests, struck in _by_sentence(said.struck):
            yield self._struck(words, rests, struck)
        if said.next is not None:
            first, *rest = said.next.tests
            walk = f" On the same walk: {'; '.join(look.words.rstrip('?') for look in rest)}." if rest else ""
            words = f"{first.words} ({first.minutes:.0f} min)."
            yield self._line([Span("next test: "), Span(words, "strong"), Span(walk)])

    def _line(self, spans: Iterable[Span], mark: Any = "derived") -> Line:
        return self.pen.line(capital(list(spans)), mark=mark)

    def _standing(self, alike: Sequence[Cause]) -> Line:
        """Causes for and against which the same speaks."""
        first, spans = alike[0], [Span("standing: ")]
        for place, cause in enumerate(alike):
            spans += [Span("; or ")] if place else []
            spans.append(Span(cause.words, "strong"))
        if first.because:
            spans.append(Span(f", because {self._sentences(first.because)}"))
        spans.append(Span("."))
        if first.against:
            spans.append(Span(f" Against it: {self._sentences(first.against)}."))
        named = [f"{cause.words}: {cause.do}" for cause in alike] if len(alike) > 1 else [first.do]
        return self._line([*spans, Span(f" Once proved: {'; '.join(named)}.")])

    def _struck(self, words: str, rests: str, struck: Sequence[Struck]) -> Line:
        spans = [Span("struck through: ")]
        for one in struck:
            spans += [Span(one.words, "struck"), Span("; ")]
        spans[-1] = Span(f". {capital([Span(words)])[0].text}{self._where(rests)}.")
        return self._line(spans)

    def _danger(self, one: Stands) -> Line:
        link = ", because " if one.words.startswith("inspect ") else ": "
        spans = [Span("danger, "), Span(one.words, "strong"), Span(f"{link}{one.why}. ")]
        if one.closed is not None:
            how, by = one.closed, "; ".join(filter(None, (one.closed.to, one.closed.when)))
            to = [Span(" to "), Span(by, "hand")] if by else []
            return self._line([*spans, Span(f"Closed, {how.how}"), *to, Span(": "), Span(how.words, "hand"), Span(".")])
        if one.back:
            spans.append(Span(f"It was closed, and is open again: {one.back}, and that came later. "))
        close = f"Still open; its test: {one.close}."
        return self._line([*spans, Span(close)], "danger")


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
    return Section(number, TITLE, tuple(_Writing(pen, causes).lines()), NOTE)
