"""What every printing must say, and how to compare words that were broken into lines differently."""

import re
from collections.abc import Iterator

from fluewright.report import phrase
from fluewright.report.tree import Sheet


def sentences(sheet: Sheet) -> Iterator[str]:
    """Every sentence of the tree that a reader must find in every printing."""
    yield from (sheet.title, sheet.disclaimer, sheet.customer_to, sheet.customer_title, *phrase.closing(sheet))
    yield "".join(span.text for span in sheet.lede)
    for stop in sheet.stops:
        yield from (stop.order, stop.what, *stop.do, stop.why)
    for section in sheet.sections:
        yield from (section.title, section.note)
        for line in section.lines:
            yield "".join(span.text for span in line.spans)
            yield "".join(span.text for span in line.margin)
            yield line.time
    for found in sheet.findings:
        part = found.finding
        yield from (part.lead, part.body, part.limit, *part.cautions, *part.do_now, *part.do_next)
        yield from (phrase.clause_lines(part.clause)[1], phrase.GRADES[part.grade])
    yield from (sheet.unjudged, *sheet.cannot_tell, *sheet.done, *sheet.next)
    for figure in sheet.figures:
        yield figure.caption
        yield from figure.twin.heads
        yield from (cell for row in figure.twin.rows for cell in row)
    for opened in sheet.workings:
        yield from (opened.heading, opened.result.refused)
        if opened.result.working:
            working = opened.result.working
            yield from (phrase.symbols(working.substitution), *phrase.after(opened))
            yield from (cell for row in phrase.rows(opened) for cell in row[:4])
    for heading, paragraphs in sheet.customer.items():
        yield from (heading, *paragraphs)


def squeezed(text: str) -> str:
    """The letters alone, so that line breaks do not matter."""
    return re.sub(r"\s+", "", text)


def missing(sheet: Sheet, printed: str) -> list[str]:
    """The sentences that a printing lacks."""
    page = squeezed(printed)
    return [each for each in sentences(sheet) if squeezed(each) not in page]
