"""The parts of the job beside the flame as numbered sentences: one way for all of them."""

from collections.abc import Iterable, Mapping, Sequence

from fluewright.evidence.lit import burning_at
from fluewright.evidence.part import ORDER_OF_THE_JOB, Derived, Part, Piece, Place, Seen, Statement, Voiced
from fluewright.evidence.reading import Reading
from fluewright.evidence.result import Result
from fluewright.report.lines import refused
from fluewright.report.pen import Pen, capital
from fluewright.report.tree import Line, Section, Span

BEFORE_THE_FLAME: tuple[Place, ...] = ORDER_OF_THE_JOB[: ORDER_OF_THE_JOB.index("adjusting")]


def _span(pen: Pen, part: Part, piece: Piece, readings: Mapping[str, Reading]) -> Span:
    if isinstance(piece, str):
        return Span(piece)
    if isinstance(piece, Voiced):
        return Span(piece.text, piece.voice)
    if isinstance(piece, Seen):
        return pen.seen(part.word, piece.key, piece.reading)
    return pen.worked_out(part.word, piece.key, part.results[piece.key], readings)


def _line(pen: Pen, part: Part, statement: Statement, readings: Mapping[str, Reading]) -> Line:
    spans = [_span(pen, part, piece, readings) for piece in statement.pieces]
    if len(spans) > 1 and spans[-1].text == "." and spans[-2].text.endswith("."):
        spans.pop()  # a unit that ends in a stop needs no second one
    lit = burning_at(pen.account.events, statement.time).words
    about = "; ".join(each for each in (statement.margin, lit) if each)
    margin = [Span(about)] if about else []
    if statement.key:
        pen.where[(part.word, statement.key)] = pen.number + 1
    return pen.line(capital(spans), mark=statement.mark, time=statement.time, margin=margin)


def _unsaid(part: Part) -> list[Result]:
    """Results that no sentence shows and that could not be had: their reason is worth a line."""
    shown = {p.key for statement in part.statements for p in statement.pieces if isinstance(p, Derived)}
    return [result for key, result in part.results.items() if key not in shown and result.refused]


def lines_of(pen: Pen, part: Part) -> tuple[Line, ...]:
    """Every sentence of one part, and a line for each reason why something could not be had."""
    readings = part.readings()
    said = tuple(_line(pen, part, statement, readings) for statement in part.statements)
    return (*said, *refused(pen, _unsaid(part)))


def section(pen: Pen, number: int, part: Part) -> Section:
    """One part as a section of the sheet."""
    return Section(number, part.title, lines_of(pen, part), part.note)


def at(parts: Iterable[Part], places: Sequence[Place]) -> list[Part]:
    """The parts that stand at some places of the job, in its order."""
    return sorted((part for part in parts if part.place in places), key=lambda part: places.index(part.place))
