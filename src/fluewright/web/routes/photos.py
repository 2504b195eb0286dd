"""Photographs of a visit: taken in by a form, shown drawn anew."""

from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError, UseError
from fluewright.visit import pictures
from fluewright.web import dock
from fluewright.web.sheet import visit_of
from fluewright.web.shop import page, parts_of, shop_in, status_of
from fluewright.web.typed import Sent


def _shown(request: Request, visit: str, place: str, error: FluewrightError | None = None) -> Response:
    told: dict[str, Any] = {"visit": visit, "place": place, "errors": parts_of(error) if error else []}
    return page(request, "photo.html", status=status_of(error) if error else 200, **told, title="A photograph")


def photo(request: Request, code: str, place: str = "") -> Response:
    """The page of a photograph."""
    return _shown(request, visit_of(shop_in(request), code), place[:200])


def taken(request: Request, code: str, typed: Sent) -> Response:
    """One photograph kept."""
    shop = shop_in(request)
    visit, opened, place = visit_of(shop, code), dock.opened_from(typed.fields), typed.text("place")[:200]
    try:
        sent, content = typed.once(), next(iter(typed.files.values()), b"")
        if not content:
            raise UseError(
                code="FW-U-134",
                read="no picture",
                expected="a photograph",
                matters="an empty one would stand on the sheet as if something had been seen",
                do="choose or take a picture; nothing was kept",
            )
        with shop.turn:
            pictures.taken(shop.journal, visit, content, place=place, form=sent)
    except FluewrightError as error:
        return _shown(request, visit, place, error)
    return RedirectResponse(dock.address(visit, opened, kept=sent), status_code=303)


def one(request: Request, code: str, entry: str) -> Response:
    """One photograph as a page shows it."""
    shop = shop_in(request)
    content = pictures.drawn(shop.journal, visit_of(shop, code), entry)
    return Response(content, media_type="image/jpeg")


ROUTES = (
    ("GET", "/visit/{code}/photo", photo, "work"),
    ("POST", "/visit/{code}/photo", taken, "work"),
    ("GET", "/visit/{code}/photo/{entry}", one, "read"),
)
