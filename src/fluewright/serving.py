"""Puts the doors together: the pages, and below `/api` the door for programs, behind one guard and over one journal."""

from typing import TYPE_CHECKING

from fluewright.api.app import PREFIX, create_api
from fluewright.api.inside import Inside
from fluewright.api.problems import problem
from fluewright.web import app as pages
from fluewright.web.settings import Settings
from fluewright.web.shop import Shop

if TYPE_CHECKING:
    from fastapi import FastAPI


def create_app(settings: Settings) -> "FastAPI":
    """Pages and the door for programs as one ASGI app.

    settings  all that they need
    -> app; the journal is opened here, or begun where none has ever been
    """
    app = pages.create_app(settings, {PREFIX: problem})
    shop: Shop = app.state.shop
    app.mount(
        PREFIX,
        create_api(
            Inside(
                shop.journal,
                shop.turn,
                settings.key,
                lambda: shop.amiss,
                books=settings.books,
                live=lambda: app.state.live,
            )
        ),
    )
    return app


closed = pages.closed
