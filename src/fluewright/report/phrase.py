"""Words that every printing shares, so that screen, paper and terminal say the same sentences."""

import re
import unicodedata
from dataclasses import replace
from math import floor, log10

from fluewright.evidence.finding import Clause, Finding
from fluewright.evidence.result import Result
from fluewright.quantity import digits
from fluewright.quantity.meaning import Spread
from fluewright.report.tree import Opened, Sheet, Span

FINDINGS = "Findings"
IN_ORDER = (
    "Gravest first: stop, act, advise, open, cured, fine. Of one grade, what makes others worse comes first, then the "
    "flame, then the rest of the job as it was worked."
)
"""How findings are ordered; `judge.in_order` and `visit.work` do it."""
CANNOT_TELL = "What these readings cannot tell"
DONE = "What was done"
NEXT = "What comes next"
WORKINGS = "Workings"
RECORD = "The record"
CUSTOMER = "The page for the customer"
TWINS = "The drawings as tables"
TWIN = "the same as a table"
UNPRINTED = "□ stands for a sign that this paper has no letter for; the HTML sheet shows it."
UNSEALED = "Not sealed: no journal yet."
LEGEND = (
    "Full square: measured; open square: derived; hatched: from a plate or assumed; dotted: not known; octagon: danger."
)
CARRYING = "Here stand the workings of what asks for something; those of all numbers are in the attached readings.json."
DOUBT = "± is twice the standard uncertainty."

MARKS = {
    "measured": "measured",
    "derived": "derived",
    "plate": "from a plate, or assumed",
    "unknown": "not known",
    "danger": "danger",
}
GRADES = {
    "stop": "stop",
    "act": "mend before leaving, or leave off",
    "advise": "put right soon",
    "fine": "within its limit",
    "open": "open, cannot tell",
    "cured": "cured in this visit",
}
LAYERS = {"law": "§ law", "standard": "standard", "programme": "programme", "house": "house book", "physics": "physics"}
KNOWN = {
    "second-hand": "second-hand: it may warn, it never clears",
    "from memory": "from memory: it may warn, it never clears",
    "common practice, no source": "common practice, no source: it may warn, it never clears",
    "own rule of the shop": "own rule of the shop: it asks more, it never clears",
}
KNOWN_AS = {
    "read": "its text was read",
    "second-hand": "its text is known at second hand",
    "from memory": "its text is known from memory",
    "common practice, no source": "its figure is common practice and has no source",
    "own rule of the shop": "it is the shop's own rule",
}
HEADS = (("went in", ""), ("value", ""), ("from", ' class="source"'), ("share of the doubt", ""))
"""Heads of the table of a working, and the class of each column on a screen."""
SUNKEN = re.compile(r"\b(CO2|O2|H2O|N2|NO2|N2O|SO2|SO3|CH4|C2H6|C3H8|C4H10|H2)\b")
PRINTABLE = (
    ("!", "~"), ("\xa1", "\xac"), ("\xae", "\u024f"), ("\u0391", "\u03a1"), ("\u03a3", "\u0482"),
    ("\u048a", "\u04ff"), ("\u1e00", "\u1eff"), ("\u2010", "\u2027"), ("\u2030", "\u2040"), ("\u2044", "\u2044"),
    ("\u2070", "\u2071"), ("\u2074", "\u208e"), ("\u2090", "\u209c"), ("\u20a0", "\u20bf"), ("\u2100", "\u211e"),
    ("\u2122", "\u2122"), ("\u2126", "\u2151"), ("\u2153", "\u2184"), ("\u2190", "\u22ff"), ("\u2500", "\u25ff"),
    ("\ufffd", "\ufffd"),
)  # fmt: skip
"""Signs that the typefaces of the PDF have: Latin, Greek, Cyrillic, punctuation, arrows, mathematics, boxes."""
DIRECTION_MARKS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f")


BROKEN = re.compile("[\t\r\n\x0b\x0c\u2028\u2029]+")
UNSEEN = re.compile(f"[\x00-\x1f\x7f-\x9f\ud800-\udfff{''.join(sorted(DIRECTION_MARKS))}]")
"""Control characters (Unicode category Cc), halves of pairs (Cs), and marks that turn the direction of a line."""


def clean(text: str) -> str:
    """The text without control characters and direction overrides, which could rewrite a terminal or break a file."""
    return UNSEEN.sub("\ufffd", BROKEN.sub(" ", unicodedata.normalize("NFC", text)))


def printable(letter: str) -> bool:
    """Whether the typefaces of the PDF have this sign. Each range was tried in a PDF."""
    return letter in " \xa0\u2009\u202f" or any(first <= letter <= last for first, last in PRINTABLE)


def pieces(text: str) -> list[tuple[str, bool]]:
    """The text cut where a chemical formula has figures below the line: (words, lowered) in order."""
    parts: list[tuple[str, bool]] = []
    at = 0
    for match in SUNKEN.finditer(text):
        for figure in re.finditer(r"\d+", match.group()):
            start = match.start() + figure.start()
            parts += [(text[at:start], False), (figure.group(), True)]
            at = match.start() + figure.end()
    parts.append((text[at:], False))
    return [part for part in parts if part[0]]


def said(value: float, spread: float = 0.0) -> str:
    """A number with digits that follow its doubt; ± is twice the standard uncertainty.

    value, spread  same unit; spread 0 means that the doubt is not known, then three digits are kept
    -> text        such as "3.1 ± 0.2", with a true minus sign
    """
    doubt = 2 * spread
    if doubt > 0:
        lead = floor(log10(doubt))
        places = -lead + (1 if doubt < 1.95 * 10**lead else 0)
        shown = f"{round(value, places):,.{max(places, 0)}f} ± {round(doubt, places):,.{max(places, 0)}f}"
    else:
        places = 2 - floor(log10(abs(value))) if value else 0
        places = max(places, 0)
        shown = f"{round(value, places):,.{places}f}"
        shown = shown.rstrip("0").rstrip(".") if "." in shown else shown
    return re.sub(r"^-(?=[\d.])", "−", shown) if float(shown.split(" ")[0].replace(",", "")) else shown.lstrip("-")


def said_between(value: float, doubt: Spread) -> str:
    """A number with the two sides of its doubt, one where they hardly differ; same unit, doubt as standard uncertainty.

    value, doubt  in one unit
    -> text       such as "3.1 ± 0.2" or "3000 +200 −900"
    """
    if max(doubt.below, doubt.above) <= 0.0:
        return said(value)
    place = digits.place_of(2.0 * max(doubt.below, doubt.above))
    up, down = (digits.figure(2.0 * side, place=place) for side in (doubt.above, doubt.below))
    return f"{digits.figure(value, place=place)} " + (f"± {up}" if up == down else f"+{up} {digits.MINUS}{down}")


def symbols(formula: str) -> str:
    """The formula with true signs for times and minus, where they stand alone between spaces."""
    return formula.replace(" x ", " × ").replace(" * ", " × ").replace(" - ", " − ")


def fraction(formula: str) -> tuple[str, str] | None:
    """Numerator and denominator when the formula is one division at the top level, so that it can be set as one."""
    depth, cuts = 0, []
    for place, letter in enumerate(formula):
        depth += (letter in "([") - (letter in ")]")
        if depth == 0 and formula[place : place + 3] == " / ":
            cuts.append(place)
    if len(cuts) != 1:
        return None
    above, below = formula[: cuts[0]].strip(), formula[cuts[0] + 3 :].strip()
    sums = (" + ", " - ", " − ", " = ")
    return None if any(sign in above + below for sign in sums) and not formula.startswith("(") else (above, below)


def clause_lines(clause: Clause) -> tuple[str, str]:
    """Whose text it is, and the citation with edition, jurisdiction and how known, each thing once."""
    layer, known = LAYERS[clause.layer], KNOWN.get(clause.known, clause.known)
    if _says_the_same(clause):
        known = known.removeprefix("common practice, ")
    parts = (clause.document, clause.clause, clause.text_of, clause.jurisdiction, known)
    return layer, "; ".join(part for part in parts if part and part != layer)


def _says_the_same(clause: Clause) -> bool:
    """Whether the name of the document already says how its text is known."""
    return clause.known.startswith("common practice") and clause.document.lower().startswith("common practice")


def authority(clause: Clause) -> str:
    """By whom a limit is set and how its text is known, as one sentence."""
    if _says_the_same(clause):
        return f"By {clause.document}, which has no source."
    where = ", ".join(part for part in (clause.document, clause.clause, clause.text_of) if part)
    return f"By {where}; {KNOWN_AS.get(clause.known, clause.known)}."


def actions(finding: Finding) -> list[tuple[str, str]]:
    """What to do now and next, each with its word in front."""
    return [("now", words) for words in finding.do_now] + [("next", words) for words in finding.do_next]


def is_caution(heading: str) -> bool:
    """A customer heading that begins with a condition ("If the alarm sounds ...") is set as a caution."""
    return heading.startswith("If ")


def closing(sheet: Sheet) -> tuple[str, ...]:
    """The words under the closing rule; a sheet that says nothing about its seal says that it has none."""
    return sheet.closing or (UNSEALED,)


def linked(sheet: Sheet) -> Sheet:
    """The sheet with a way into a working only where there is that working, so that no link leads nowhere."""
    known = {opened.key for opened in sheet.workings}

    def kept(spans: tuple[Span, ...]) -> tuple[Span, ...]:
        return tuple(span if span.ref in known else replace(span, ref="") for span in spans)

    sections = tuple(
        replace(part, lines=tuple(replace(one, spans=kept(one.spans), margin=kept(one.margin)) for one in part.lines))
        for part in sheet.sections
    )
    return replace(sheet, lede=kept(sheet.lede), sections=sections)


def behind_findings(sheet: Sheet) -> Sheet:
    """The sheet with the workings alone that a finding which asks for something rests on."""
    asking = [found for found in sheet.findings if found.finding.grade in ("stop", "act", "advise")]
    carrying = {number for found in asking for number in found.lines}
    lines = [one for part in sheet.sections for one in part.lines if one.number in carrying]
    wanted = {span.ref for one in lines for span in (*one.spans, *one.margin) if span.ref}
    return replace(sheet, workings=tuple(opened for opened in sheet.workings if opened.key in wanted))


def boundary(result: Result) -> str:
    """Where the balance was drawn and on which basis, as a sentence; empty when neither is said."""
    parts = [
        f"Boundary: {result.boundary}." if result.boundary else "",
        f"Basis: {result.basis}." if result.basis else "",
    ]
    return " ".join(part for part in parts if part)


SMALL = 0.01
"""Share of the doubt under which an input is not worth a row of its own, where several are."""
FEW = 3
"""So many small ones still get their rows."""


def rows(opened: Opened) -> list[tuple[str, str, str, str, float]]:
    """What went into a working, largest share first: words, value, source, share in words, share.

    Many that hardly count stand in `after` as one sentence instead of a column of bars without length.
    """
    table = every_row(opened)
    great = [row for row in table if row[4] >= SMALL]
    return great if great and len(table) - len(great) > FEW else table


def after(opened: Opened) -> list[str]:
    """What stands below the table of a working: the many small inputs, source, where it holds, what would narrow it."""
    part = opened.result.working
    if part is None:
        return []
    table = every_row(opened)
    small = table[len(rows(opened)) :]
    told = (
        f"Under 1 % of the doubt each: {'; '.join(f'{row[0]} {row[1]} ({row[2]})' for row in small)}." if small else ""
    )
    return [text for text in (told, part.source, part.holds, part.advice) if text]


def every_row(opened: Opened) -> list[tuple[str, str, str, str, float]]:
    """All that went into a working, largest share first: words, value, source, share in words, share."""
    working = opened.result.working
    inputs = working.inputs if working else ()
    texts = opened.values or tuple(said(item.value, item.spread) for item in inputs)
    table = [
        (item.words, text, item.source, share(item.share), item.share) for item, text in zip(inputs, texts, strict=True)
    ]
    return sorted(table, key=lambda row: -row[4])


def share(part: float) -> str:
    """A share of the doubt in words."""
    return "under 1 %" if part < 0.01 else f"{part * 100:.0f} %"
