"""The sheet on paper: one PDF/A-3a and PDF/UA-1 document, the customer's page first, all readings attached as JSON."""

import json
from datetime import UTC, datetime
from importlib.resources import files
from typing import Any, Literal

from fluewright.errors import OurFault
from fluewright.report import phrase
from fluewright.report.assets import type_folder
from fluewright.report.drawing import svg
from fluewright.report.tree import Figure, Found, Line, Opened, Sheet, Span, Stop, Table

Pieces = list[tuple[str, bool]]

SVG_WIDTH = {"plane": 560, "ribbon": 720, "strip": 720, "section": 640}
"""px; on paper one px is 0.7 pt, so that the words in a drawing come out at 10 pt."""
LONGEST_UNBROKEN = 30
HALF = 0.5
RUNNING = 105
"""Letters of the running text that fit into one line of the footer."""
LONG = 1200
"""Letters in one cell beyond which it may run over to the next page; a shorter one is kept whole."""
WORDY = 100
"""Letters of what stops beyond which it is set smaller, so that the customer's page stays one page."""
UNDATED = "1970-01-01"
"""The standard asks for a date; this one says that the visit has none."""


def document(sheet: Sheet, *, paper: Literal["letter", "a4"] = "letter", workings: bool = False) -> bytes:
    """The whole sheet as a PDF.

    The same sheet gives the same bytes, so that a copy can be compared with the original years later.

    sheet     the tree
    paper     letter or a4
    workings  those of every number; else of what asks for something, and the rest stay in the attachment
    -> PDF    PDF/A-3a and PDF/UA-1 in one, tagged, readings.json attached with the working of every number

    Holds   all text is passed as data and never read as markup; only the built typefaces and the writer's own are used
    Fails   FW-Z-301 when the document cannot be set without a warning, FW-Z-001 when the typefaces were never built
    Source  docs/printings.md
    """
    import typst

    printed = sheet if workings else phrase.behind_findings(sheet)
    readings = json.dumps(
        {"title": sheet.title, "date": sheet.date, "invented": sheet.invented, "readings": sheet.readings,
         "workings": [attached(opened) for opened in sheet.workings]},
        indent=1, ensure_ascii=False, sort_keys=True, default=str,
    )  # fmt: skip
    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(type_folder())])
    settings: dict[str, Any] = {
        "font_paths": fonts,
        "ignore_system_fonts": True,
        "root": str(type_folder()),
        "sys_inputs": {
            "sheet": json.dumps(plain(phrase.linked(printed), whole=len(sheet.workings))),
            "paper": PAPERS[paper],
            "readings": readings,
        },
        "pdf_standards": ["a-3a", "ua-1"],
        "timestamp": moment(sheet.date),
        "format": "pdf",
    }
    try:
        made, warnings = typst.compile_with_warnings((files(__package__) / "paper.typ").read_bytes(), **settings)
    except typst.TypstError as error:
        raise unset(str(error)) from error
    if warnings:
        raise unset("; ".join(warning.message for warning in warnings))
    return bytes(made)


PAPERS = {"letter": "us-letter", "a4": "a4"}


def unset(why: str) -> OurFault:
    """The error for a document that the writer did not set cleanly."""
    return OurFault(
        code="FW-Z-301",
        read=f"the PDF writer said: {why}",
        expected="a document set without a warning",
        matters="a record with missing letters or tags would look whole and not be",
        do="send the visit file and this text to the people who keep Fluewright; the HTML and the text form still work",
    )


def moment(date: str) -> int:
    """The day of the visit as a time for the document's properties, noon UTC."""
    return int(datetime.fromisoformat(f"{date or UNDATED}T12:00:00").replace(tzinfo=UTC).timestamp())


def attached(opened: Opened) -> dict[str, Any]:
    """A working as data beside the readings."""
    part = opened.result.working
    told = {"of": opened.heading, "line": opened.line, "boundary": opened.result.boundary, "basis": opened.result.basis}
    if part is None:
        return {**told, "refused": opened.result.refused}
    rows = [{"what": name, "value": value, "source": source, "share of the doubt": share}
            for name, value, source, share, _ in phrase.every_row(opened)]  # fmt: skip
    return {**told, "formula": part.formula, "numbers": part.substitution, "went in": rows,
            "source": part.source, "holds": part.holds}  # fmt: skip


def plain(sheet: Sheet, *, whole: int) -> dict[str, Any]:
    """The tree as plain data for the template; on a day of danger all drawings stand at the end, with their tables.

    whole  how many workings there are, printed or not
    """
    front = [each for each in sheet.figures if each.kind == "ribbon" and not sheet.stops]
    rest = [each for each in sheet.figures if each not in front]
    numbers = [] if sheet.stops else [part.number for part in sheet.sections]
    return {
        **heading(sheet, whole=whole),
        **customer(sheet),
        "stops": [stop(part) for part in sheet.stops],
        "front": [figure(each) for each in front],
        "sections": [
            {
                "number": part.number,
                "title": headed(part.title),
                "note": said(part.note),
                "lines": [line(each) for each in part.lines],
                "figures": [figure(each) for each in rest if each.section == part.number and not sheet.stops],
            }
            for part in sheet.sections
        ],
        "loose": [figure(each) for each in rest if each.section not in numbers],
        "numbers": [each.number for part in sheet.sections for each in part.lines],
        "urgent": bool(sheet.stops),
        "unjudged": said(sheet.unjudged),
        "findings": [finding(found) for found in sheet.findings],
        "cannot_tell": [said(text) for text in sheet.cannot_tell],
        "done": [said(text) for text in sheet.done],
        "next": [said(text) for text in sheet.next],
        "workings": [working(opened) for opened in sheet.workings],
        "twins": [{"caption": said(each.caption), **table(each.twin)} for each in sheet.figures],
    }


def heading(sheet: Sheet, *, whole: int) -> dict[str, Any]:
    """Titles, running text and the words that every printing shares."""
    left, right = letters(sheet.running_left), letters(sheet.running_right)[: RUNNING // 2]
    room = RUNNING - len(right)
    left = left if len(left) <= room else f"{left[:room].rstrip(' ,')}…"
    return {
        "title": letters(sheet.title).strip() or "—",
        "sheet_title": said(sheet.title),
        "date": [int(part) for part in (sheet.date or UNDATED).split("-")],
        "running": " · ".join(part for part in (left, right) if part),
        "lede": [run(span) for span in sheet.lede],
        "disclaimer": said(sheet.disclaimer),
        "closing": [said(text) for text in (*phrase.closing(sheet), *([phrase.UNPRINTED] if gaps(sheet) else []))],
        "record": phrase.RECORD,
        "legend": phrase.LEGEND,
        "doubt": phrase.DOUBT,
        "carrying": phrase.DOUBT if len(sheet.workings) == whole else phrase.CARRYING,
        "attached": "All readings, results and workings of this visit as JSON",
        "heads": [head for head, _ in phrase.HEADS],
        "words": {
            "findings": phrase.FINDINGS,
            "in_order": phrase.IN_ORDER,
            "cannot_tell": phrase.CANNOT_TELL,
            "done": phrase.DONE,
            "next": phrase.NEXT,
            "workings": phrase.WORKINGS,
            "twins": phrase.TWINS,
        },
    }


def customer(sheet: Sheet) -> dict[str, Any]:
    """The customer's page: two columns of about the same length, cautions apart."""
    told = [
        {"heading": headed(head), "paragraphs": [said(text) for text in texts]}
        for head, texts in sheet.customer.items()
        if not phrase.is_caution(head)
    ]
    lengths = [sum(map(len, texts)) + 40 for head, texts in sheet.customer.items() if not phrase.is_caution(head)]
    cut = min(range(min(1, len(told)), len(told) + 1), key=lambda at: abs(sum(lengths[:at]) - sum(lengths) * HALF))
    return {
        "customer_title": headed(sheet.customer_title or sheet.title),
        "customer_to": said(sheet.customer_to),
        "told": [told[:cut], told[cut:]],
        "cautions": [
            {"heading": headed(head), "paragraphs": [said(text) for text in texts]}
            for head, texts in sheet.customer.items()
            if phrase.is_caution(head)
        ],
    }


def letters(text: str) -> str:
    """The text with signs that no built typeface has replaced, because the standard refuses an empty box."""
    return "".join(letter if phrase.printable(letter) else "\u25a1" for letter in phrase.clean(text))


def gaps(sheet: Sheet) -> bool:
    """Whether the sheet has a sign that the paper cannot show."""
    return any(
        not phrase.printable(letter)
        for letter in phrase.clean(repr(sheet.sections) + sheet.title + repr(sheet.customer))
    )


def said(text: str) -> Pieces:
    """The text in pieces, figures of chemical formulas marked as lowered."""
    return phrase.pieces(letters(text))


def headed(text: str) -> Pieces:
    """A heading; the standard refuses one without words, so an empty one is a dash."""
    return said(text) if phrase.clean(text).strip() else [("—", False)]


def run(span: Span) -> dict[str, Any]:
    """A run of words in its voice; short values are kept on one line."""
    whole = span.voice in ("measured", "derived", "plate") and len(span.text) <= LONGEST_UNBROKEN
    words = [(letters(span.text), False)] if span.voice == "hand" else said(span.text)
    return {"words": words, "voice": span.voice, "ref": span.ref, "whole": whole}


def line(part: Line) -> dict[str, Any]:
    """A numbered sentence."""
    return {
        "number": part.number,
        "mark": part.mark,
        "time": letters(part.time),
        "spans": [run(span) for span in part.spans],
        "margin": [run(span) for span in part.margin],
        "long": sum(len(span.text) for span in (*part.spans, *part.margin)) > LONG,
    }


def stop(part: Stop) -> dict[str, Any]:
    """A stop sentence."""
    return {
        "order": headed(part.order),
        "what": said(part.what),
        "do": [said(text) for text in part.do],
        "why": said(part.why),
        "wordy": len(part.what) > WORDY,
        "long": sum(map(len, (part.order, part.what, *part.do, part.why))) > LONG,
    }


def finding(found: Found) -> dict[str, Any]:
    """A finding."""
    part = found.finding
    layer, citation = phrase.clause_lines(part.clause)
    return {
        "letter": letters(found.letter),
        "grade": part.grade,
        "graded": phrase.GRADES[part.grade],
        "lead": headed(part.lead),
        "body": said(part.body),
        "cautions": [said(text) for text in part.cautions],
        "actions": [(word, said(text)) for word, text in phrase.actions(part)],
        "limit": said(part.limit),
        "citation": said(f"{layer}: {citation}"),
        "from": list(found.lines),
        "long": len(repr(part)) > 2 * LONG,
    }


def figure(part: Figure) -> dict[str, Any]:
    """A drawing in black on white, with the words of its caption as the alternative text."""
    width = SVG_WIDTH[part.kind]
    return {
        "svg": letters(svg(part.data, ink="print", width=width)),
        "alt": letters(f"{part.caption} The same numbers stand in a table at the end."),
        "caption": said(part.caption),
        "width": width,
    }


def table(twin: Table) -> dict[str, Any]:
    """A table."""
    return {"heads": [said(head) for head in twin.heads], "rows": [[said(cell) for cell in row] for row in twin.rows]}


def working(opened: Opened) -> dict[str, Any]:
    """A working."""
    part = opened.result.working
    formula = phrase.symbols(part.formula) if part else ""
    parts = phrase.fraction(formula)
    return {
        "key": opened.key,
        "heading": headed(opened.heading),
        "line": opened.line,
        "before": [said(text) for text in (phrase.boundary(opened.result), opened.result.refused) if text],
        "formula": said(formula) if formula else None,
        "fraction": [said(each) for each in parts] if parts else None,
        "numbers": said(phrase.symbols(part.substitution)) if part else [],
        "rows": [
            {"words": said(words), "value": said(value), "source": said(source), "share": share, "part": amount}
            for words, value, source, share, amount in phrase.rows(opened)
        ],
        "after": [said(text) for text in phrase.after(opened)],
    }
