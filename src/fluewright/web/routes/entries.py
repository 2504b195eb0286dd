"""Every entry of a visit, with what became of it, and striking out."""

from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError
from fluewright.record.amend import STAY, STRUCK_TOO
from fluewright.record.fold import CHANGES, Current
from fluewright.visit import changing, kept, said
from fluewright.web.sheet import visit_of
from fluewright.web.shop import page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed


def _row(found: Current, words: str) -> dict[str, Any]:
    entry = found.read.entry
    return {
        "id": entry.id,
        "kind": entry.kind,
        "time": entry.entered[11:16],
        "words": words,
        "source": entry.source,
        "was": [
            {"fields": ", ".join(f"{name} {value}" for name, value in change.before.items()),
             "because": change.read.body.get("because", "")}
            for change in found.history
        ],
        "struck": [strike.body.get("because", "") for strike in found.struck],
        "may_strike": found.counts and entry.kind not in STAY - STRUCK_TOO | {"visit"},
    }  # fmt: skip


def _shown(request: Request, visit: str, errors: list[dict[str, str]], at: str, status: int) -> Response:
    found = kept.entries_of(shop_in(request).journal, visit)
    own = [each for each in found if each.read.entry.kind not in CHANGES]
    rows = [_row(each, words) for each, words in zip(own, said.each(found, own), strict=True)]
    told = {"visit": visit, "rows": rows, "errors": errors, "at": at}
    return page(request, "entries.html", status=status, **told, title="Entries")


def entries(request: Request, code: str) -> Response:
    """All of them, in the order in which they were kept."""
    return _shown(request, visit_of(shop_in(request), code), [], "", 200)


def strike(request: Request, code: str, entry: str, typed: Typed) -> Response:
    """One struck out, with the reason; it stays to be seen."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    try:
        with shop.turn:
            changing.struck_out(shop.journal, visit, entry, because=typed.text("because"), form=typed.once())
    except FluewrightError as error:
        return _shown(request, visit, parts_of(error), entry, status_of(error))
    return RedirectResponse(f"/visit/{visit}/entries#e-{entry}", status_code=303)


ROUTES = (
    ("GET", "/visit/{code}/entries", entries, "read"),
    ("POST", "/visit/{code}/entries/{entry}/strike", strike, "work"),
)
