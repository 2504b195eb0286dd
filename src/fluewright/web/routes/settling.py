"""What the shop has settled for all its visits."""

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError
from fluewright.visit import shop_settings
from fluewright.web.routes import Routes
from fluewright.web.shop import page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed


def settings(request: Request) -> Response:
    """What is settled."""
    values = shop_settings.told(shop_in(request).journal)
    return page(request, "settings.html", settings=shop_settings.SETTINGS, values=values, errors=[], title="Settings")


def settled(request: Request, typed: Typed) -> Response:
    """What differs is kept, each as an entry."""
    shop = shop_in(request)
    values = {each.name: typed.text(each.name) for each in shop_settings.SETTINGS}
    try:
        with shop.turn:
            shop_settings.settle(shop.journal, values, form=typed.once())
    except FluewrightError as error:
        told = {"settings": shop_settings.SETTINGS, "values": values, "errors": parts_of(error)}
        return page(request, "settings.html", status=status_of(error), title="Settings", **told)
    return RedirectResponse("/settings", status_code=303)


ROUTES: Routes = (("GET", "/settings", settings, "read"), ("POST", "/settings", settled, "keep settings"))
