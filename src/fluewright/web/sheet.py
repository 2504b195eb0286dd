"""The sheet of a visit as a page: the printed tree, and below it, at thumb height, the open line."""

from collections.abc import Sequence
from dataclasses import dataclass

from fastapi import Request
from markupsafe import Markup
from starlette.responses import Response

from fluewright.errors import FluewrightError
from fluewright.record.fold import Current
from fluewright.record.shape import ID
from fluewright.report import html, phrase
from fluewright.visit import kept, once, said, shown
from fluewright.web.shop import Shop, page, parts_of, shop_in, status_of


@dataclass(frozen=True, slots=True)
class Echo:
    """What the last line came to.

    line    id under which it was sent
    words   how it was understood
    typed   as it was typed, where it can be told from what was kept
    at      hour and minute at which it was kept
    undone  whether it was struck out again
    """

    line: str
    words: str
    at: str
    undone: bool


@dataclass(frozen=True, slots=True)
class Open:
    """The open line: what stands in it, and what is to be said about it."""

    line: str = ""
    error: FluewrightError | None = None
    kept: str = ""


def echo_of(entries: Sequence[Current], line: str) -> Echo | None:
    """What a line that was sent under an id came to; None when nothing was kept under it."""
    found = once.under(entries, line) if ID.fullmatch(line) else ()
    if not found:
        return None
    undone = not any(each.counts for each in found)
    return Echo(line, said.together(entries, found), found[0].read.entry.entered[11:16], undone)


def is_sealed(entries: Sequence[Current]) -> bool:
    """Whether a visit was sealed."""
    return any(each.read.entry.kind == "seal" for each in entries)


def sheet(request: Request, visit: str, opened: Open | None = None) -> Response:
    """The page of a visit.

    request  the request
    visit    its id
    opened   the open line; empty when not given
    -> page; an error of the open line stands beside it, with what was typed
    """
    shop, line = shop_in(request), opened or Open()
    entries = kept.entries_of(shop.journal, visit)
    tree = phrase.linked(shown.sheet_of(shop.journal, visit, books=shop.settings.books))
    told = {
        "visit": visit,
        "upper": Markup(html.upper(tree, switches=False)),
        "lower": Markup(html.lower(tree)),
        "stops": bool(tree.stops),
        "sealed": is_sealed(entries),
        "notices": [(each.read.entry.id, each.body["words"]) for each in kept.notices_in(entries)],
        "echo": echo_of(entries, line.kept),
        "line": line.line,
        "errors": parts_of(line.error) if line.error else [],
        "stretch": _stretch(entries),
    }
    status = status_of(line.error) if line.error else 200
    return page(request, "visit.html", status=status, title=tree.title, **told)


def _stretch(entries: Sequence[Current]) -> str:
    """What readings typed now will stand under."""
    stepped = any(each.counts and each.read.entry.kind == "step" for each in entries)
    return "as left" if stepped else "as found"


def visit_of(shop: Shop, code: str) -> str:
    """The id of a visit from what stands in an address."""
    return kept.found(shop.journal, code)
