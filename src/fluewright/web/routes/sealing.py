"""The seal of a visit: who, how recognised, and what the signature means."""

from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError
from fluewright.visit import kept, sealing, shown
from fluewright.web.sheet import visit_of
from fluewright.web.shop import Shop, caller_in, page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed


def _told(shop: Shop, visit: str) -> dict[str, Any]:
    entries = kept.entries_of(shop.journal, visit)
    tree = shown.sheet_of(shop.journal, visit)
    return {
        "visit": visit,
        "count": len(entries),
        "open_notices": len(kept.notices_in(entries)),
        "stops": [stop.what for stop in tree.stops],
        "unjudged": tree.unjudged,
        "sheet_title": tree.title,
    }


def seal(request: Request, code: str) -> Response:
    """The page of the seal: what it will cover, and what is still open."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    signed: dict[str, Any] = {
        "name": caller_in(request).name or kept.technician_of(shop.journal, visit),
        "recognised": caller_in(request).recognised,
        "meaning": sealing.MEANING,
    }
    return page(request, "seal.html", **_told(shop, visit), **signed, errors=[], title="The seal")


def sealed(request: Request, code: str, typed: Typed) -> Response:
    """The visit signed; from then on it is read only."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    signed: dict[str, Any] = {name: typed.text(name) for name in ("name", "recognised", "meaning")}
    try:
        typed.once()
        signer = sealing.signer_for(caller_in(request), name=signed["name"], recognised=signed["recognised"])
        with shop.turn:
            sealing.sealed_once(shop.journal, visit, key=shop.settings.key, signer=signer, meaning=signed["meaning"])
    except FluewrightError as error:
        told = {**_told(shop, visit), **signed, "errors": parts_of(error)}
        return page(request, "seal.html", status=status_of(error), **told, title="The seal")
    return RedirectResponse(f"/visit/{visit}", status_code=303)


ROUTES = (("GET", "/visit/{code}/seal", seal, "seal"), ("POST", "/visit/{code}/seal", sealed, "seal"))
