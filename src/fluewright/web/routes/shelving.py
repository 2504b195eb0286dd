"""The shelf of instruments."""

from fastapi import Request
from starlette.responses import Response

from fluewright.visit import shelf_fit
from fluewright.web.routes import Routes
from fluewright.web.shop import page, shop_in


def instruments(request: Request) -> Response:
    """All instruments in use, those that cannot clear anything today first."""
    shop = shop_in(request)
    found = shelf_fit.shelf(shop.journal, shop.journal.now().date())
    return page(request, "shelf.html", instruments=found, title="Instruments")


ROUTES: Routes = (("GET", "/instruments", instruments, "read"),)
