"""The sheet of a visit and its open line."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError, UseError
from fluewright.report import html_parts
from fluewright.visit import adding, kept, shown
from fluewright.visit import changing as changed
from fluewright.web import beside, dock
from fluewright.web.dock import Open
from fluewright.web.sheet import is_sealed, sheet, visit_of
from fluewright.web.shop import Shop, page, parts_of, shop_in, status_of
from fluewright.web.typed import Form, Typed


def visit(request: Request, code: str) -> Response:
    """The sheet; what is chosen on it, and which line was kept last, stand in the address."""
    told = dict(request.query_params)
    opened = replace(dock.opened_from(told), kept=told.get("kept", ""), line=told.get("line", "")[:400])
    several = [told[name] for name in ("rate", "fuel", "way") if told.get(name)]
    if several and opened.stretch:
        opened = replace(opened, stretch=", ".join((opened.stretch, *several)))
    return sheet(request, visit_of(shop_in(request), code), opened)


def _back(visit_id: str, opened: Open, sent: str) -> Response:
    return RedirectResponse(dock.address(visit_id, opened, kept=sent), status_code=303)


def line(request: Request, code: str, typed: Typed) -> Response:
    """One typed line: kept, or said what is in its way, with the line as it was typed."""
    shop = shop_in(request)
    visit_id, opened = visit_of(shop, code), dock.opened_from(typed.fields)
    try:
        sent = typed.once()
        with shop.turn:
            text = dock.whole_line(typed.fields)
            adding.added(shop.journal, visit_id, text, form=sent, stretch=opened.stretch)
    except FluewrightError as error:
        return sheet(request, visit_id, replace(opened, line=typed.text("line"), error=error))
    return _back(visit_id, opened, sent)


def tried(request: Request, code: str, typed: Typed) -> Response:
    """How a line would be understood, while it is being typed; nothing is kept."""
    shop = shop_in(request)
    visit_id, opened = visit_of(shop, code), dock.opened_from(typed.fields)
    entries = kept.entries_of(shop.journal, visit_id)
    text = dock.whole_line(typed.fields)
    found = adding.tried(entries, visit_id, text, stretch=opened.stretch)
    return page(request, "tried.html", tried=found, title="")


def unread(request: Request, code: str, typed: Typed) -> Response:
    """Something that could not be read, with the reason."""
    shop = shop_in(request)
    visit_id, opened = visit_of(shop, code), dock.opened_from(typed.fields)
    try:
        sent = typed.once()
        because = typed.text("because") or typed.text("why")
        with shop.turn:
            changed.not_measured(shop.journal, visit_id, typed.text("what"), because=because, form=sent)
    except FluewrightError as error:
        return sheet(request, visit_id, replace(opened, error=error))
    return _back(visit_id, opened, sent)


def undo(request: Request, code: str, typed: Typed) -> Response:
    """The last line struck out again, with all that it made; it stays to be seen among the entries."""
    shop = shop_in(request)
    visit_id, sent, opened = visit_of(shop, code), typed.text("line"), dock.opened_from(typed.fields)
    try:
        with shop.turn:
            changed.undone(shop.journal, visit_id, sent)
    except FluewrightError as error:
        return sheet(request, visit_id, replace(opened, error=error, kept=sent))
    return _back(visit_id, opened, sent)


def behind(request: Request, code: str, number: int) -> Response:
    """What stands behind one line of the sheet: workings, entries, striking out and amending."""
    shop = shop_in(request)
    return _behind(request, visit_of(shop, code), number, None)


def _behind(request: Request, visit_id: str, number: int, error: FluewrightError | None, **told: str) -> Response:
    seen = shown.seen(shop_in(request).journal, visit_id, books=shop_in(request).settings.books)
    found = beside.behind(seen.sheet, seen.entries, number)
    if found is None:
        raise UseError(
            code="FW-U-133",
            read=f"line {number} of this sheet",
            expected="a number that stands in its gutter",
            matters="lines are numbered anew when something is added above them",
            do="go back to the sheet and choose the line there; nothing was changed",
        )
    return page(
        request,
        "behind.html",
        status=status_of(error) if error else 200,
        visit=visit_id,
        number=number,
        line=html_parts.line(found.line),
        workings=[html_parts.working(each, folded=False) for each in found.workings],
        entries=[(each.read.entry.id, words, _amendable(each.body)) for each, words in found.entries],
        sealed=is_sealed(seen.entries),
        errors=parts_of(error) if error else [],
        title=f"Line {number}",
        **{"entry": "", "value": "", "because": "", **told},
    )


def _amendable(body: Mapping[str, Any]) -> str:
    """The value of a reading as it was typed; empty for what is amended otherwise."""
    value = body.get("value")
    return str(value.get("typed", "")) if isinstance(value, Mapping) else ""


def change(request: Request, code: str, number: int, typed: Typed) -> Response:
    """A reading struck out, or amended, each with its reason; what was there stays to be seen."""
    shop = shop_in(request)
    visit_id, entry, because = visit_of(shop, code), typed.text("entry"), typed.text("because")
    try:
        sent = typed.once()
        with shop.turn:
            if typed.text("do") == "amend":
                _amended(shop, visit_id, typed)
            else:
                changed.struck_out(shop.journal, visit_id, entry, because=because, form=sent)
    except FluewrightError as error:
        return _behind(request, visit_id, number, error, entry=entry, value=typed.text("value"), because=because)
    return RedirectResponse(f"/visit/{visit_id}#now", status_code=303)


def _amended(shop: Shop, visit_id: str, typed: Form) -> None:
    """A reading with another figure; the same sent a second time is the one that is there."""
    entry, value = typed.text("entry"), typed.text("value")
    if _amendable(changed.entry_of(shop.journal, visit_id, entry).body) != value:
        changed.amended(shop.journal, visit_id, entry, {"value": value}, because=typed.text("because"))


ROUTES = (
    ("GET", "/visit/{code}", visit, "read"),
    ("POST", "/visit/{code}/line", line, "work"),
    ("POST", "/visit/{code}/tried", tried, "work"),
    ("POST", "/visit/{code}/unread", unread, "work"),
    ("POST", "/visit/{code}/undo", undo, "work"),
    ("GET", "/visit/{code}/lines/{number}", behind, "read"),
    ("POST", "/visit/{code}/lines/{number}", change, "work"),
)
