"""Makes the pages: `create_app(settings)`, and nothing is looked up anywhere else.

Every handler is an ordinary function and no thread is started here, so that the same app answers inside the Python of a
page, where there are neither threads nor sockets.
"""

from collections.abc import Mapping
from types import MappingProxyType

from fastapi import Depends, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import FileResponse, Response

from fluewright.errors import FluewrightError, OurFault, UseError
from fluewright.web import rights
from fluewright.web.guard import Guard, Refusal
from fluewright.web.look import fonts, script
from fluewright.web.rights import right_of
from fluewright.web.routes import (
    Routes,
    around,
    changing,
    entries,
    finding,
    liking,
    opening,
    photos,
    sealing,
    signing,
    today,
    visiting,
    watching,
)
from fluewright.web.settings import Settings
from fluewright.web.shop import Shop, drawn, page, parts_of, shop_of, status_of
from fluewright.web.watched import Memory

ROUTES: Routes = (*today.ROUTES, *finding.ROUTES, *opening.ROUTES, *visiting.ROUTES, *changing.ROUTES, *sealing.ROUTES,
          *entries.ROUTES, *liking.ROUTES, *photos.ROUTES, *signing.ROUTES, *around.ROUTES,
          *watching.ROUTES)  # fmt: skip
"""Method, path, handler and right of every page."""


def create_app(settings: Settings, refusals: Mapping[str, Refusal] = MappingProxyType({})) -> FastAPI:
    """The pages of one journal as an ASGI app.

    settings  all that it needs
    refusals  how an error looks below some paths, such as those that programs ask; a page everywhere else
    -> app; the journal is opened here, or begun where none has ever been
    """
    app = FastAPI(openapi_url=None, docs_url=None, redoc_url=None)
    shop = shop_of(settings)
    app.state.shop, app.state.live, app.state.watched = shop, None, Memory()
    for route in ROUTES:
        method, path, handler = route[:3]
        needs = [Depends(rights.needed(right_of(route)))]
        app.add_api_route(path, handler, methods=[method], response_model=None, dependencies=needs)
    _add_static(app, shop)
    _add_errors(app, refusals)

    def refusal(error: FluewrightError, status: int, path: str) -> Response:
        if (own := _own(refusals, path)) is not None:
            return own(error, status, path)
        return drawn(shop, "refused.html", status=status, told={"errors": parts_of(error), "title": "Not this way"})

    app.add_middleware(Guard, settings=settings, roles=shop.roles, refusal=refusal)
    return app


def _add_static(app: FastAPI, shop: Shop) -> None:
    """The style sheet, the script and the fonts, and nothing else of the disk."""
    known, scripts = fonts(), script()

    def static(name: str) -> Response:
        if name in scripts:
            return FileResponse(scripts[name], media_type="text/javascript")
        if name == shop.style.name:
            return Response(shop.style.text, media_type="text/css")
        if name in known:
            return FileResponse(known[name], media_type="font/woff2")
        raise HTTPException(404)

    def icon() -> Response:
        return Response(status_code=204)

    app.add_api_route("/static/{name}", static, methods=["GET"], response_model=None)
    app.add_api_route("/favicon.ico", icon, methods=["GET"], response_model=None)


def _own(refusals: Mapping[str, Refusal], path: str) -> Refusal | None:
    """How an error looks below a path; None where it is a page."""
    return next((each for prefix, each in refusals.items() if path.startswith(prefix)), None)


def _add_errors(app: FastAPI, refusals: Mapping[str, Refusal]) -> None:
    def told(request: Request, error: Exception) -> Response:
        known = error if isinstance(error, FluewrightError) else _of_ours(error)
        return page(request, "refused.html", status=status_of(known), errors=parts_of(known), title="This did not work")

    def unknown(request: Request, error: Exception) -> Response:
        status = error.status_code if isinstance(error, HTTPException) else 500
        if (own := _own(refusals, request.url.path)) is not None:  # such as a path with a line break in it
            return own(_no_page(request), status, request.url.path)
        return page(request, "refused.html", status=status, errors=parts_of(_no_page(request)), title="No such page")

    def unread(request: Request, error: Exception) -> Response:
        return page(request, "refused.html", status=404, errors=parts_of(_no_page(request)), title="No such page")

    app.add_exception_handler(FluewrightError, told)
    app.add_exception_handler(HTTPException, unknown)
    app.add_exception_handler(RequestValidationError, unread)
    app.add_exception_handler(Exception, told)


def _no_page(request: Request) -> FluewrightError:
    return UseError(
        code="FW-U-130",
        read=f"{request.method} {request.url.path[:100]}",
        expected="a page of this door",
        matters="nothing was read or kept",
        do="go to the letter of today and find it from there",
    )


def _of_ours(error: Exception) -> FluewrightError:
    return OurFault(
        code="FW-Z-131",
        read=f"{type(error).__name__}: {error}",
        expected="a page, or an error that says what to mend",
        matters="this is a fault of the program; what was said to be kept is kept",
        do="go back and look at the sheet before sending anything again",
    )


def closed(app: FastAPI) -> None:
    """Put the journal away; a page's own Python never gets here, and loses nothing by it."""
    shop: Shop = app.state.shop
    shop.journal.store.close()
