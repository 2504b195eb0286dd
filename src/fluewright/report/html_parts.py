"""Pieces of the HTML sheet: words, lines, findings, stop, tables, workings. All text from the tree is escaped here."""

import re
from collections.abc import Iterable
from html import escape

from fluewright.report import phrase
from fluewright.report.tree import Found, Line, Opened, Span, Stop, Table

ROLE = ' role="alert"'
_PLAIN = {"strong": "b", "struck": "s"}
"""Voices that are an element of HTML."""
LONGEST_UNBROKEN = 22
"""Letters of a value that are kept on one line; longer ones may break, or a phone would scroll sideways."""


def words(text: str) -> str:
    """Escaped text with the figures of chemical formulas lowered."""
    return "".join(
        f"<sub>{escape(part)}</sub>" if lowered else escape(part) for part, lowered in phrase.pieces(phrase.clean(text))
    )


def anchor(key: str) -> str:
    """A key as a name that can stand in an address."""
    return re.sub(r"[^A-Za-z0-9_-]", lambda match: f"_{ord(match.group()):x}", key)


def voiced(spans: Iterable[Span]) -> str:
    """Runs of words, each in its voice; a derived value opens its working."""
    return "".join(map(run, spans))


def run(span: Span) -> str:
    """One run of words in its voice."""
    if span.voice == "page":
        return words(span.text)
    if span.voice == "hand":
        kind = "hand nb" if len(span.text) <= LONGEST_UNBROKEN else "hand"
        return f'<span class="{kind}">{escape(phrase.clean(span.text))}</span>'
    if span.voice in _PLAIN:
        return f"<{_PLAIN[span.voice]}>{words(span.text)}</{_PLAIN[span.voice]}>"
    kind = f"v {span.voice}" + (" nb" if len(span.text) <= LONGEST_UNBROKEN else "")
    if span.ref:
        return f'<a class="{kind}" href="#w-{anchor(span.ref)}">{words(span.text)}</a>'
    return f'<span class="{kind}">{words(span.text)}</span>'


def line(part: Line) -> str:
    """A numbered sentence: gutter, text, margin."""
    time = f"<time>{words(part.time)}</time>" if part.time else ""
    mark = f'<span class="k {part.mark}" role="img" aria-label="{phrase.MARKS[part.mark]}"></span>'
    margin = f'<div class="m">{voiced(part.margin)}</div>' if part.margin else ""
    return (
        f'<div class="line" id="l{part.number}"><div class="g"><span class="no">{part.number}</span>{mark}{time}</div>'
        f"<p>{voiced(part.spans)}</p>{margin}</div>"
    )


def stop(part: Stop, *, again: bool = False) -> str:
    """A stop sentence: get out, what, what to do, why. Said again further down, it raises no second alert."""
    do = "".join(f"<li>{words(each)}</li>" for each in part.do)
    return (
        f'<section class="halt"{"" if again else ROLE}><div><span class="oct" aria-hidden="true"></span>'
        f"<h2><b>{words(part.order)}</b> <span>{words(part.what)}</span></h2><ol>{do}</ol>"
        f'<p class="why">{words(part.why)}</p></div></section>'
    )


def finding(found: Found) -> str:
    """A finding: cautions first, then the conclusion, why, what to do, and on whose authority."""
    part = found.finding
    cautions = "".join(f"<p>{words(each)}</p>" for each in part.cautions)
    warned = f'<div class="caution">{cautions}</div>' if cautions else ""
    todo = "".join(f'<p><span class="act-word">{word}</span>{words(each)}</p>' for word, each in phrase.actions(part))
    links = "".join(f'<a href="#l{number}">{number}</a>' for number in found.lines)
    layer, citation = phrase.clause_lines(part.clause)
    limit = f'<b class="limit">{words(part.limit)}</b>' if part.limit else ""
    return (
        f'<div class="fin"><div class="g">{words(found.letter)}</div><div>{warned}<h3>{words(part.lead)}</h3>'
        f"<p>{words(part.body)}</p>{todo}{f'<p class=from>from {links}</p>' if links else ''}</div>"
        f'<div class="m"><span class="grade"><span class="k {part.grade}"></span>{phrase.GRADES[part.grade]}</span>'
        f"{limit} {layer}: {words(citation)}</div></div>"
    )


def table(twin: Table) -> str:
    """A table with heads."""
    heads = "".join(f'<th scope="col">{words(head)}</th>' for head in twin.heads)
    rows = "".join(f"<tr>{''.join(f'<td>{words(cell)}</td>' for cell in row)}</tr>" for row in twin.rows)
    return f"<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"


def working(opened: Opened, *, folded: bool = True) -> str:
    """A working, folded: boundary, formula, numbers, what went in by its share of the doubt, what would narrow it.

    The name stands inside the fold, so that a browser that follows a link to it opens it.
    """
    return (
        f'<details class="worked"{"" if folded else " open"}><summary><h3>{words(opened.heading)}</h3></summary>'
        f'<div class="work" id="w-{anchor(opened.key)}">{unfolded(opened)}</div></details>'
    )


def unfolded(opened: Opened) -> str:
    """What stands in a working."""
    result, part = opened.result, opened.result.working
    back = f'<span class="back"><a href="#l{opened.line}">line {opened.line}</a></span>' if opened.line else ""
    edge = "".join(f"<p>{words(text)}</p>" for text in (phrase.boundary(result), result.refused) if text)
    if part is None:
        return f"{edge}{back}"
    rest = "".join(f"<p>{words(text)}</p>" for text in phrase.after(opened))
    return f"{edge}{equation(part.formula, part.substitution)}{inputs(opened)}{rest}{back}"


def equation(formula: str, substitution: str) -> str:
    """The formula, as a fraction where it is one, then the same with numbers."""
    formula, substitution = phrase.symbols(formula), phrase.symbols(substitution)
    parts = phrase.fraction(formula)
    shown = (
        f'<span class="fr"><span>{words(parts[0])}</span><span>{words(parts[1])}</span></span>'
        if parts
        else f"<span>{words(formula)}</span>"
    )
    numbers = f'<div class="eq"><span>= {words(substitution)}</span></div>' if substitution else ""
    return f'<div class="eq">{shown}</div>{numbers}'


def inputs(opened: Opened) -> str:
    """What went in, largest share first, the share also as a bar."""
    rows = "".join(
        f'<tr><td>{words(name)}</td><td class="value">{words(value)}</td><td class="source">{words(source)}</td>'
        f'<td class="share"><span class="bar" style="--share:{part:.3f}"></span>{share}</td></tr>'
        for name, value, source, share, part in phrase.rows(opened)
    )
    if not rows:
        return ""
    heads = "".join(f"<th{name}>{head}</th>" for head, name in phrase.HEADS)
    return f"<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"
