"""The seal of a visit: who, how recognised, and what the signature means."""

from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.diagnose.standing import Stands
from fluewright.errors import FluewrightError
from fluewright.visit import closing, kept, sealing, shown
from fluewright.web.sheet import visit_of
from fluewright.web.shop import Shop, caller_in, page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed

WAYS = tuple(zip(closing.HOW, ("tested out", "made safe", "handed on"), strict=True))
"""How a danger may be closed, and how the page says it."""
CLOSED_BY = ("how", "words", "to", "when")


def _told(shop: Shop, visit: str) -> dict[str, Any]:
    entries = kept.entries_of(shop.journal, visit)
    tree = shown.sheet_of(shop.journal, visit, books=shop.settings.books)
    return {
        "visit": visit,
        "count": len(entries),
        "open_notices": len(kept.notices_in(entries)),
        "stops": [stop.what for stop in tree.stops],
        "unjudged": tree.unjudged,
        "sheet_title": tree.title,
        "dangers": [each for each in _dangers(shop, visit) if each.open],
        "ways": WAYS,
        "typed": {"names": (), **dict.fromkeys(CLOSED_BY, "")},
    }


def _dangers(shop: Shop, visit: str) -> tuple[Stands, ...]:
    """Dangers that stand; none where the visit cannot be judged, which the page says by itself."""
    try:
        return closing.dangers_of(shop.journal, visit, shop.settings.books)
    except FluewrightError:
        return ()


def seal(request: Request, code: str) -> Response:
    """The page of the seal: what it will cover, and what is still open."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    told = {**_told(shop, visit), **_signed(request, shop, visit)}
    return page(request, "seal.html", **told, errors=[], title="The seal")


def _signed(request: Request, shop: Shop, visit: str) -> dict[str, Any]:
    """What stands in the fields of the seal before anybody changed them."""
    caller = caller_in(request)
    name = caller.name or kept.technician_of(shop.journal, visit)
    return {"name": name, "recognised": caller.recognised, "meaning": sealing.MEANING}


def sealed(request: Request, code: str, typed: Typed) -> Response:
    """The visit signed; from then on it is read only."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    signed: dict[str, Any] = {name: typed.text(name) for name in ("name", "recognised", "meaning")}
    try:
        typed.once()
        signer = sealing.signer_for(caller_in(request), name=signed["name"], recognised=signed["recognised"])
        with shop.turn:
            sealing.sealed_once(shop.journal, visit, key=shop.settings.key, signer=signer, meaning=signed["meaning"],
                                books=shop.settings.books)  # fmt: skip
    except FluewrightError as error:
        told = {**_told(shop, visit), **signed, "errors": parts_of(error)}
        return page(request, "seal.html", status=status_of(error), **told, title="The seal")
    return RedirectResponse(f"/visit/{visit}", status_code=303)


def closed(request: Request, code: str, typed: Typed) -> Response:
    """Dangers closed with how they were; then the page of the seal again."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    said = {name: typed.text(name) for name in CLOSED_BY}
    names = [each.name for each in _dangers(shop, visit) if typed.text(each.name)]
    try:
        with shop.turn:
            closing.closed(shop.journal, visit, names, **said, form=typed.once(), books=shop.settings.books)
    except FluewrightError as error:
        told = {**_told(shop, visit), **_signed(request, shop, visit), "typed": {**said, "names": names}}
        return page(request, "seal.html", status=status_of(error), **told, errors=parts_of(error), title="The seal")
    return RedirectResponse(f"/visit/{visit}/seal", status_code=303)


ROUTES = (
    ("GET", "/visit/{code}/seal", seal, "seal"),
    ("POST", "/visit/{code}/seal", sealed, "seal"),
    ("POST", "/visit/{code}/seal/close", closed, "seal"),
)
