"""The pages of customers, sites, spaces, appliances, flue groups, vents and instruments."""

from collections.abc import Callable
from typing import Any

from fastapi import Request
from markupsafe import Markup
from starlette.responses import Response

from fluewright.report import html
from fluewright.visit import about, rules_here, shelf_fit
from fluewright.web.routes import Routes
from fluewright.web.shop import Shop, page, shop_in

SLUGS = {kind: kind.replace(" ", "-") for kind in about.SHOWN}
"""Kinds as they stand in addresses."""

BEGUN_AT = frozenset({"customer", "site", "appliance", "instrument"})
"""Kinds from whose page a visit is begun."""

ADDED = {
    "customer": ("site",),
    "site": ("appliance", "space", "flue group"),
    "space": ("appliance",),
    "appliance": ("vent",),
    "flue group": ("vent",),
}
"""By kind what may be added from its page."""


def path_of(kind: str, id: str) -> str:
    """The address of a page of a thing."""
    return f"/{SLUGS.get(kind, kind.replace(' ', '-'))}/{id}" if id else f"/{kind}"


def _decided(shop: Shop, found: about.About) -> dict[str, object]:
    """What an instrument is fit for today, for its page."""
    today = shop.journal.now().date()
    one = shelf_fit.one(shop.journal, found.thing.id, today)
    if found.thing.kind != "instrument" or one is None:
        return {"one": None, "decided": None, "jurisdiction": ""}
    place = shop.place()
    asked = rules_here.Asked(place, today)
    return {"one": one, "decided": shelf_fit.decides(one.accuracy, asked), "jurisdiction": place}


def _shown(kind: str) -> Callable[..., Response]:
    def thing(request: Request, code: str, after: int = 0) -> Response:
        """What is known of it, when somebody was there, and what was seen."""
        shop, start = shop_in(request), min(max(after, 0), 1_000_000)
        found = about.found(shop.journal, kind, code, after=start)
        years = about.years_of(shop.journal, found, shop.memory) if not start else None
        told: dict[str, Any] = {
            "about": found,
            "years": years,
            "drawing": Markup(html.figure(years.figure)) if years is not None and years.figure is not None else "",
            "path": path_of,
            "slug": SLUGS[kind],
            "added": ADDED.get(kind, ()),
            "may_begin": kind in BEGUN_AT,
            "after": start,
            "page_size": about.PAGE,
            **_decided(shop, found),
        }
        return page(request, "thing.html", title=found.thing.name, **told)

    return thing


ROUTES: Routes = tuple(("GET", f"/{slug}/{{code}}", _shown(kind), "read") for kind, slug in SLUGS.items())
