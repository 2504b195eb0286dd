"""The seal of a visit: who, how recognised, and what the signature means."""

from collections.abc import Mapping
from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.diagnose.standing import Stands
from fluewright.errors import FluewrightError, NotAllowed
from fluewright.record.seal import Signer
from fluewright.visit import closing, kept, sealing, shown
from fluewright.web.sheet import visit_of
from fluewright.web.shop import Shop, page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed

RECOGNISED = "sat before this machine"
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
        return closing.dangers_of(shop.journal, visit)
    except FluewrightError:
        return ()


def seal(request: Request, code: str) -> Response:
    """The page of the seal: what it will cover, and what is still open."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    told = {**_told(shop, visit), **_signed(shop, visit)}
    return page(request, "seal.html", **told, errors=[], title="The seal")


def _signed(shop: Shop, visit: str) -> dict[str, Any]:
    """What stands in the fields of the seal before anybody changed them."""
    name = kept.technician_of(shop.journal, visit)
    return {"name": name, "recognised": RECOGNISED, "meaning": sealing.MEANING}


def sealed(request: Request, code: str, typed: Typed) -> Response:
    """The visit signed; from then on it is read only."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    signed: dict[str, Any] = {name: typed.text(name) for name in ("name", "recognised", "meaning")}
    try:
        typed.once()
        with shop.turn:
            _sign(shop, visit, signed)
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
            closing.closed(shop.journal, visit, names, **said, form=typed.once())
    except FluewrightError as error:
        told = {**_told(shop, visit), **_signed(shop, visit), "typed": {**said, "names": names}}
        return page(request, "seal.html", status=status_of(error), **told, errors=parts_of(error), title="The seal")
    return RedirectResponse(f"/visit/{visit}/seal", status_code=303)


def _sign(shop: Shop, visit: str, signed: Mapping[str, str]) -> None:
    """Sign; the same signature sent a second time is the one that is there."""
    seals = [each.body for each in kept.entries_of(shop.journal, visit) if each.read.entry.kind == "seal"]
    if any(all(str(seal.get(name, "")) == value for name, value in signed.items()) for seal in seals):
        return
    if not signed["name"]:
        raise NotAllowed(
            code="FW-N-105",
            read="a seal without a name",
            expected="the name of whoever signs",
            matters="a signature of nobody vouches for nothing",
            do="write the name; nothing was sealed",
        )
    if shop.settings.key is None:
        raise NotAllowed(
            code="FW-N-106",
            read="a seal on a device that has no key at hand",
            expected="a device with its own key",
            matters="without a key nothing can be signed that others can check",
            do="seal it on the shop's machine after the next exchange; what was kept stays kept",
        )
    signer = Signer(who="", recognised=signed["recognised"], name=signed["name"])
    sealing.sealed(shop.journal, visit, key=shop.settings.key, signer=signer, meaning=signed["meaning"])


ROUTES = (
    ("GET", "/visit/{code}/seal", seal),
    ("POST", "/visit/{code}/seal", sealed),
    ("POST", "/visit/{code}/seal/close", closed),
)
