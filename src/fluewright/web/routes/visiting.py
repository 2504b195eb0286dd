"""The sheet of a visit and its open line."""

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError
from fluewright.visit import adding
from fluewright.visit import changing as changed
from fluewright.web.sheet import Open, sheet, visit_of
from fluewright.web.shop import shop_in
from fluewright.web.typed import Typed


def visit(request: Request, code: str, kept: str = "") -> Response:
    """The sheet; `kept` names the line that was kept last."""
    return sheet(request, visit_of(shop_in(request), code), Open(kept=kept))


def line(request: Request, code: str, typed: Typed) -> Response:
    """One typed line: kept, or said what is in its way, with the line as it was typed."""
    shop = shop_in(request)
    visit_id = visit_of(shop, code)
    try:
        sent = typed.once()
        with shop.turn:
            adding.added(shop.journal, visit_id, typed.text("line"), form=sent)
    except FluewrightError as error:
        return sheet(request, visit_id, Open(line=typed.text("line"), error=error))
    return RedirectResponse(f"/visit/{visit_id}?kept={sent}", status_code=303)


def undo(request: Request, code: str, typed: Typed) -> Response:
    """The last line struck out again, with all that it made; it stays to be seen among the entries."""
    shop = shop_in(request)
    visit_id, sent = visit_of(shop, code), typed.text("line")
    try:
        with shop.turn:
            changed.undone(shop.journal, visit_id, sent)
    except FluewrightError as error:
        return sheet(request, visit_id, Open(error=error, kept=sent))
    return RedirectResponse(f"/visit/{visit_id}?kept={sent}", status_code=303)


ROUTES = (
    ("GET", "/visit/{code}", visit, "read"),
    ("POST", "/visit/{code}/line", line, "work"),
    ("POST", "/visit/{code}/undo", undo, "work"),
)
