"""The sheet as one HTML file that works without a network: style, typefaces and drawings inside, no script."""

import base64
from html import escape
from importlib.resources import files
from itertools import product

from fluewright.report import phrase
from fluewright.report.assets import UNICODE_RANGES, web_fonts
from fluewright.report.drawing import svg
from fluewright.report.drawing.inks import Ink, Weight, declarations, drawing_css
from fluewright.report.html_parts import finding, line, stop, table, voiced, words, working
from fluewright.report.tree import Figure, Section, Sheet

WIDE, BESIDE, NARROW = 772, 436, 328
"""px: a drawing alone on a tablet, beside its lines on a wide screen, on a phone."""
FACES = (
    ("Fluewright Serif", "serif", "normal", ""),
    ("Fluewright Serif", "serif-italic", "italic", ""),
    ("Fluewright Sans", "sans", "normal", ""),
    ("Fluewright Serif", "signs", "normal", "signs"),
    ("Fluewright Serif", "serif-ext", "normal", "ext"),
    ("Fluewright Serif", "serif-ext-italic", "italic", "ext"),
)
UNKNOWN = f'<span class="k unknown" role="img" aria-label="{phrase.MARKS["unknown"]}"></span>'
POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:"


def page(sheet: Sheet, *, ink: Ink = "paper", weight: Weight = "regular", density: str = "normal") -> str:
    """The whole sheet as one HTML document.

    Text from people is escaped and direction marks are taken out, so that nothing typed can act on the page.

    sheet    the tree
    ink      paper or lamp, also switchable on the page
    weight   regular, or strong for sun, also switchable on the page
    density  normal or glove
    -> HTML  self-contained, below 700 kB; 850 kB when it has letters beyond western Latin

    Holds   no script, no network, no cookie; prints black on white
    Fails   FW-Z-001 when the typefaces were never built
    Source  docs/printings.md
    """
    sheet = phrase.linked(sheet)
    body = f'<main class="sheet">{upper(sheet)}{lower(sheet)}</main>'
    head = (
        f'<meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}"><meta name="referrer" content="no-referrer">'
        f"<title>{escape(phrase.clean(sheet.title))}</title><style>{style(body)}</style>"
    )
    root = f'lang="en" data-ink="{ink}" data-weight="{weight}" data-density="{escape(density)}"'
    return f"<!doctype html>\n<html {root}><head>{head}</head><body>{body}</body></html>\n"


def upper(sheet: Sheet, *, switches: bool = True, behind: str = "") -> str:
    """The sheet down to its last line of evidence: stop sentences, what it is about, the sections.

    sheet     the tree, its links checked by `phrase.linked`
    switches  whether ink and weight can be changed on it
    behind    address under which a line by its number shows its workings; empty where they stand on the same page
    """
    return "".join(
        (
            f'<div class="run"><span>{words(sheet.running_left)}</span><span>{words(sheet.running_right)}</span></div>',
            *map(stop, sheet.stops),
            opening(sheet, switches=switches),
            *(section(sheet, part, behind) for part in sheet.sections),
            *("" if sheet.stops else figure(part) for part in figures(sheet, 0)),
        )
    )


def lower(sheet: Sheet) -> str:
    """The sheet from its findings on: what they say, what is done and next, the customer's words, the workings."""
    return "".join(
        (
            findings(sheet),
            *(figure(part) for part in sheet.figures if sheet.stops),
            acts(sheet),
            closing(sheet),
            customer(sheet),
            workings(sheet),
        )
    )


def style(body: str) -> str:
    """Everything the page is set with; further Latin letters only when the page has some."""
    return faces(body) + look()


def look() -> str:
    """What every page and every sheet is set with, but for the typefaces: inks, components, drawings."""
    text = (files(__package__) / "style.css").read_text(encoding="utf-8")
    return f"{inks()}{text}{drawing_css()}"


def faces(body: str) -> str:
    """The typefaces as data, so that the file works anywhere."""
    beyond = any("\u0100" <= letter <= "\u1fff" for letter in body)
    fonts = web_fonts()
    return "".join(
        face(family, slope, reach, f"data:font/woff2;base64,{base64.b64encode(fonts[name].read_bytes()).decode()}")
        for family, name, slope, reach in FACES
        if reach != "ext" or beyond
    )


def face(family: str, slope: str, reach: str, where: str) -> str:
    """One typeface of the page.

    family  its name in the style sheet
    slope   normal or italic
    reach   which letters it has, a key of UNICODE_RANGES
    where   address of the font, or the font itself as data
    """
    return (
        f'@font-face{{font-family:"{family}";font-style:{slope};font-weight:200 900;font-display:block;'
        f"unicode-range:{UNICODE_RANGES[reach]};src:url({where}) format('woff2')}}"
    )


def inks() -> str:
    """The four inks by attribute, each exchanged by the two switches on the page, and black on white for print."""
    rules = []
    other: dict[str, str] = {"paper": "lamp", "lamp": "paper", "regular": "strong", "strong": "regular"}
    pairs: list[tuple[Ink, Weight]] = [
        ("paper", "regular"),
        ("paper", "strong"),
        ("lamp", "regular"),
        ("lamp", "strong"),
    ]
    for (ink, weight), turned, bolder in product(pairs, (False, True), (False, True)):
        name = f":root[data-ink={ink}][data-weight={weight}]"
        name += ":has(#ink[open])" if turned else ""
        name += ":has(#weight[open])" if bolder else ""
        shown = (other[ink] if turned else ink, other[weight] if bolder else weight)
        rules.append(f"{name}{{{declarations(*shown)}}}")  # type: ignore[arg-type]
    printed = declarations("print", "regular").replace(";", "!important;")
    return f"{''.join(rules)}@media print{{:root{{{printed}}}}}"


def opening(sheet: Sheet, *, switches: bool = True) -> str:
    """Title, what it is about, who decides, and how to read the marks."""
    marks = "".join(
        f'<span><span class="k {name}"></span>{meaning}</span>'
        for name, meaning in phrase.MARKS.items()
        if name != "danger" or sheet.stops
    )
    exchanged = (
        '<div class="inks noprint"><details id="ink"><summary>lamp or paper ink</summary></details>'
        '<details id="weight"><summary>strong or regular</summary></details></div>'
    )
    return (
        f'<h1>{words(sheet.title)}</h1><p class="lede">{voiced(sheet.lede)}</p>'
        f'<p class="quiet limits">{words(sheet.disclaimer)}</p><div class="quiet legend">{marks}</div>'
        f"{exchanged if switches else ''}"
    )


def section(sheet: Sheet, part: Section, behind: str = "") -> str:
    """A step of the job: its lines, and the drawings that stand beside them; `behind` as in `upper`."""
    drawings = [] if sheet.stops else figures(sheet, part.number)
    kind = "sec beside" if any(each.kind == "plane" for each in drawings) else "sec"
    note = f'<p class="quiet">{words(part.note)}</p>' if part.note else ""
    lines = "".join(
        line(each).replace('href="#w-', f'href="{behind}/{each.number}#w-' if behind else 'href="#w-')
        for each in part.lines
    )
    ordered = sorted(drawings, key=lambda each: each.kind != "plane")
    return (
        f'<section class="{kind}"><h2><span class="n">{part.number}</span><span>{words(part.title)}</span></h2>{note}'
        f'<div class="lines">{lines}</div>{"".join(map(figure, ordered))}</section>'
    )


def figures(sheet: Sheet, number: int) -> list[Figure]:
    """The drawings of a section; 0 stands for those of no section."""
    known = {part.number for part in sheet.sections}
    return [each for each in sheet.figures if (each.section if each.section in known else 0) == number]


def figure(part: Figure) -> str:
    """A drawing, redrawn for three widths, its caption and its table."""
    widths = {"wide": WIDE, "narrow": NARROW} | ({"mid": BESIDE} if part.kind == "plane" else {})
    drawn = "".join(
        f'<div class="{name}">{svg(part.data, width=width, alone=False)}</div>' for name, width in widths.items()
    )
    place = "side" if part.kind == "plane" else "whole"
    return (
        f'<figure class="{place}">{drawn}<figcaption>{words(part.caption)}</figcaption>'
        f'<details class="twin"><summary>{phrase.TWIN}</summary>{table(part.twin)}</details></figure>'
    )


def findings(sheet: Sheet) -> str:
    """What the readings say, worst first as the tree has them, and what they cannot tell."""
    if not sheet.findings and not sheet.cannot_tell and not sheet.unjudged:
        return ""
    unsaid = "".join(f"<li>{words(each)}</li>" for each in sheet.cannot_tell)
    cannot = f'<div class="cannot"><h3>{phrase.CANNOT_TELL}</h3><ul>{unsaid}</ul></div>' if unsaid else ""
    nothing = (
        f'<div class="line"><div class="g"><span class="no"></span>{UNKNOWN}</div><p>{words(sheet.unjudged)}</p></div>'
        if sheet.unjudged
        else ""
    )
    order = f'<p class="quiet">{phrase.IN_ORDER}</p>' if len(sheet.findings) > 1 else ""
    return (
        f'<section class="sec"><h2><span class="n"></span><span>{phrase.FINDINGS}</span></h2>{order}'
        f"{''.join(map(finding, sheet.findings)) or nothing}{cannot}</section>"
    )


def acts(sheet: Sheet) -> str:
    """What was done and what comes next."""
    parts = ""
    for heading, lines in ((phrase.DONE, sheet.done), (phrase.NEXT, sheet.next)):
        rows = "".join(
            f'<div class="line"><div class="g"><span class="no"></span></div><p>{words(each)}</p></div>'
            for each in lines
        )
        if rows:
            parts += f'<section class="sec acts"><h2><span class="n"></span><span>{heading}</span></h2>{rows}</section>'
    return parts


def closing(sheet: Sheet) -> str:
    """The rule under everything that a seal would cover, and what it says."""
    return f'<div class="closing">{"".join(f"<p>{words(each)}</p>" for each in phrase.closing(sheet))}</div>'


def customer(sheet: Sheet) -> str:
    """The words for the customer, a stop sentence first, cautions last and across the page."""
    if not sheet.customer:
        return ""
    told, cautions = "", ""
    for heading, paragraphs in sheet.customer.items():
        block = f"<h3>{words(heading)}</h3>" + "".join(f"<p>{words(each)}</p>" for each in paragraphs)
        if phrase.is_caution(heading):
            cautions += f'<div class="caution">{block}</div>'
        else:
            told += f"<section>{block}</section>"
    to = f'<p class="quiet to">{words(sheet.customer_to)}</p>' if sheet.customer_to else ""
    title = words(sheet.customer_title or sheet.title)
    return (
        f'<section class="sec customer"><h2><span class="n"></span><span>{phrase.CUSTOMER}</span></h2>'
        f"{''.join(stop(part, again=True) for part in sheet.stops)}"
        f'<h3>{title}</h3>{to}<div class="told">{told}</div>{cautions}</section>'
    )


def workings(sheet: Sheet) -> str:
    """How each computed value came about."""
    if not sheet.workings:
        return ""
    return (
        f'<section class="sec"><h2><span class="n"></span><span>{phrase.WORKINGS}</span></h2>'
        f'<p class="quiet">{phrase.DOUBT}</p>{"".join(map(working, sheet.workings))}</section>'
    )
