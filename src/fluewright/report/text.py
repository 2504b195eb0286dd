"""The sheet in a terminal: the same tree and the same sentences, calm and aligned, at any width from 60 to 120."""

from collections.abc import Iterable, Sequence
from itertools import zip_longest

from fluewright.evidence.limits import stopped
from fluewright.report import phrase
from fluewright.report.drawing import Plane
from fluewright.report.text_parts import Pen, Runs, filled, grid, plotted
from fluewright.report.tree import Found, Line, Opened, Section, Sheet, Span, Stop

GUTTER = 14
MARGIN = 30
BELOW = "below what this cell can tell"
ROOM_FOR_MARGIN = 100
"""Columns from which margin notes stand beside their line instead of below it."""


def text(sheet: Sheet, *, width: int = 80, colour: bool = False, plain: bool = False, workings: bool = False) -> str:
    """The whole sheet for a terminal.

    Control characters in what people typed are taken out, so that a name cannot move the cursor.

    sheet     the tree
    width     columns, held between 60 and 120
    colour    with weight and underline by ANSI codes; without them every meaning is still there in words and marks
    plain     only ASCII, for a terminal or a log that has no more
    workings  with the appendix of workings
    -> text   lines no longer than the width, ending with a newline

    Holds   a stop sentence stands before everything else
    Fails   no
    Source  docs/printings.md
    """
    pen = Pen(width=min(max(width, 60), 120), colour=colour, plain=plain)
    running_left, running_right = phrase.clean(sheet.running_left), phrase.clean(sheet.running_right)
    gap = max(2, pen.width - len(running_left) - len(running_right))
    pen.paragraph([(f"{running_left}{' ' * gap}{running_right}", "quiet")] if gap > 2 else [(running_left, "quiet")])
    if gap <= 2:
        pen.paragraph([(running_right, "quiet")])
    pen.rule()
    for sentence in sheet.stops:
        stop(pen, sentence)
    opening(pen, sheet)
    for part in sheet.sections:
        section(pen, part)
    for write in (findings, drawings) if sheet.stops else (drawings, findings):
        write(pen, sheet)
    for heading, lines in ((phrase.DONE, sheet.done), (phrase.NEXT, sheet.next)):
        if lines:
            pen.heading("", heading)
            for each in lines:
                row(pen, "", [(each, "page")])
    closing(pen, sheet)
    customer(pen, sheet)
    if workings and sheet.workings:
        pen.heading("", phrase.WORKINGS)
        pen.paragraph([(phrase.DOUBT, "quiet")], indent=GUTTER)
        for opened in sheet.workings:
            working(pen, opened)
    return pen.text()


def runs(spans: Iterable[Span]) -> Runs:
    """The words of a sentence, each with its voice."""
    return [(span.text, span.voice) for span in spans]


def stop(pen: Pen, part: Stop) -> None:
    """A stop sentence between hatched rules, its mark at the left."""
    pen.blank()
    pen.hatch()
    pen.block(pen.mark("danger"), [(part.order, "loud")], indent=4)
    pen.block("", [(part.what, "loud")], indent=4)
    pen.blank()
    for each in part.do:
        pen.block("", [(each, "strong")], indent=4)
    if part.why:
        pen.blank()
        pen.block("", [(part.why, "page")], indent=4)
    pen.hatch()


def opening(pen: Pen, sheet: Sheet) -> None:
    """Title, what it is about, who decides, how to read the marks."""
    pen.blank()
    pen.paragraph([(sheet.title, "strong")])
    pen.blank()
    pen.paragraph(runs(sheet.lede))
    pen.blank()
    pen.paragraph([(sheet.disclaimer, "quiet")])
    pen.blank()
    marks = [(f"{pen.mark(name)} {meaning}", "quiet") for name, meaning in phrase.MARKS.items()]
    pen.paragraph([piece for pair in marks for piece in (pair, ("   ", "quiet"))][:-1])
    pen.paragraph([(phrase.DOUBT, "quiet")])


def section(pen: Pen, part: Section) -> None:
    """A step of the job with its lines."""
    pen.heading(str(part.number), part.title)
    if part.note:
        pen.paragraph([(part.note, "quiet")], indent=GUTTER)
    for each in part.lines:
        line(pen, each)


def line(pen: Pen, part: Line) -> None:
    """A numbered sentence: number, mark, time, rule, text; the margin note beside or below it."""
    gutter = f"{part.number:>3} {pen.mark(part.mark):<2}{phrase.clean(part.time):<5}"
    row(pen, gutter, runs(part.spans), runs(part.margin))


def row(pen: Pen, gutter: str, words: Runs, margin: Runs | None = None) -> None:
    """Gutter, rule, text; the margin beside it when the terminal is wide enough, else below."""
    wide = pen.width >= ROOM_FOR_MARGIN
    room = pen.width - GUTTER - (MARGIN + 2 if wide else 0)
    body = filled(pen, words, room)
    notes = filled(pen, [(each, "quiet") for each, _ in margin], MARGIN if wide else room - 2) if margin else []
    if not wide:
        body += [("  " + shown, length + 2) for shown, length in notes]
        notes = []
    for index, (shown, note) in enumerate(zip_longest(body, notes, fillvalue=("", 0))):
        head = gutter if index == 0 else ""
        pad = " " * (room - shown[1] + 2) if note[0] else ""
        pen.line(f"{head:<{GUTTER - 2}}{pen.bar} {shown[0]}{pad}{note[0]}")


def drawings(pen: Pen, sheet: Sheet) -> None:
    """Each drawing as its table; a plane also as a small picture of signs."""
    for each in sheet.figures:
        pen.blank()
        if isinstance(each.data, Plane) and not each.data.smoke:
            for drawn in plotted(pen, each.data):
                pen.line(drawn)
            lowest = f"oxygen, % dry. Lowest row: under {phrase.said(each.data.cell_floor_ppm)} ppm, {BELOW}."
            pen.paragraph([(lowest, "quiet")], indent=10)
        pen.paragraph([(each.caption, "quiet")])
        for drawn in grid(pen, each.twin.heads, each.twin.rows):
            pen.line(drawn)


def findings(pen: Pen, sheet: Sheet) -> None:
    """What the readings say and what they cannot tell."""
    if sheet.findings or sheet.cannot_tell or sheet.unjudged:
        pen.heading("", phrase.FINDINGS)
    if len(sheet.findings) > 1:
        pen.paragraph([(phrase.IN_ORDER, "quiet")], indent=GUTTER)
    if sheet.unjudged and not sheet.findings:
        row(pen, f"{'':>3} {pen.mark('unknown')}", [(sheet.unjudged, "page")])
    for index, found in enumerate(sheet.findings):
        if index:
            pen.line(f"{'':<{GUTTER - 2}}{pen.bar}")
        finding(pen, found)
    if sheet.cannot_tell:
        pen.blank()
        pen.paragraph([(phrase.CANNOT_TELL, "strong")], indent=GUTTER)
        for each in sheet.cannot_tell:
            pen.block(pen.mark("unknown"), [(each, "page")], indent=GUTTER + 2, hang=GUTTER)


def finding(pen: Pen, found: Found) -> None:
    """Cautions, conclusion, why, what to do, from which lines, on whose authority."""
    part = found.finding
    gutter = f"{'':>3} {phrase.clean(found.letter):>2}"
    for each in part.cautions:
        row(pen, gutter, [("Caution: ", "strong"), (each, "page")])
        gutter = ""
    row(pen, gutter, [(part.lead, "strong")])
    row(pen, "", [(part.body, "page")])
    for word, each in phrase.actions(part):
        row(pen, "", [(f"{word}: ", "strong"), (each, "page")])
    layer, citation = phrase.clause_lines(part.clause)
    origin = f"from {' '.join(map(str, found.lines))}. " if found.lines else ""
    limit = f"{stopped(part.limit)} " if part.limit else ""
    mark = "danger" if part.grade in ("stop", "act") else "unknown" if part.grade == "open" else ""
    sign = f"{pen.mark(mark)} " if mark else ""
    row(pen, "", [(f"{sign}{phrase.GRADES[part.grade]}. {limit}{origin}{layer}: {citation}", "quiet")])


def closing(pen: Pen, sheet: Sheet) -> None:
    """The doubled rule under everything that a seal would cover."""
    pen.blank()
    pen.dots()
    pen.dots()
    for each in phrase.closing(sheet):
        pen.paragraph([(each, "page")])


def customer(pen: Pen, sheet: Sheet) -> None:
    """What the customer is told; on a day of danger the stop sentence stands first here too."""
    if not sheet.customer:
        return
    pen.heading("", phrase.CUSTOMER)
    for sentence in sheet.stops:
        stop(pen, sentence)
    pen.paragraph([(sheet.customer_title or sheet.title, "strong")], indent=2)
    if sheet.customer_to:
        pen.paragraph([(sheet.customer_to, "quiet")], indent=2)
    for heading, paragraphs in sheet.customer.items():
        pen.blank()
        pen.block(pen.mark("danger") if phrase.is_caution(heading) else "", [(heading, "strong")], indent=2)
        for each in paragraphs:
            pen.paragraph([(each, "page")], indent=2)


def working(pen: Pen, opened: Opened) -> None:
    """Boundary, formula, numbers, what went in, what would narrow it."""
    result, part = opened.result, opened.result.working
    pen.blank()
    pen.paragraph([(opened.heading, "strong")], indent=2)
    for each in (phrase.boundary(result), result.refused):
        if each:
            pen.paragraph([(each, "page")], indent=4)
    if part is None:
        return
    pen.paragraph([(phrase.symbols(part.formula), "page")], indent=4)
    if part.substitution:
        pen.paragraph([(f"= {phrase.symbols(part.substitution)}", "page")], indent=4)
    rows: Sequence[tuple[str, ...]] = [row[:4] for row in phrase.rows(opened)]
    if rows:
        for drawn in grid(pen, tuple(head for head, _ in phrase.HEADS), rows, indent=4):
            pen.line(drawn)
    for each in phrase.after(opened):
        pen.paragraph([(each, "page")], indent=4)
