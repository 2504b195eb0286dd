"""What all pages of one door share: the journal it opened, its templates, its look; made once for each app."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from threading import Lock
from typing import Any
from urllib.parse import urlencode

from fastapi import Request
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup
from starlette.responses import HTMLResponse

from fluewright import clock
from fluewright.errors import FluewrightError
from fluewright.record.journal import Journal
from fluewright.record.opening import made, opened
from fluewright.record.store import Store
from fluewright.report.html_parts import words
from fluewright.report.pen import day_words
from fluewright.web.guard import Marks
from fluewright.web.look import Style, chosen, script, style
from fluewright.web.settings import Settings

TEMPLATES = Path(__file__).resolve().parent / "templates"
LOOK = "fluewright-look"
"""Cookie that keeps how a person likes the pages."""

STATUS = {2: 400, 3: 422, 4: 500, 5: 409, 70: 500}
"""What an error is to a browser, by the exit code that it is to a shell."""

UNKNOWN_HERE = frozenset({"FW-J-120", "FW-J-121", "FW-U-130", "FW-U-133"})
"""Codes of what is not here."""


@dataclass(frozen=True, slots=True)
class Shop:
    """One door's own things.

    settings   as it was given
    journal    open for as long as the app lives
    amiss      what is wrong with it; then it is read only
    templates  of the pages
    style      the one style sheet
    script     name of the one script; empty where it was not built
    marks      cookies and forms
    turn       one change at a time, so that two taps are one after the other
    """

    settings: Settings
    journal: Journal
    amiss: tuple[str, ...]
    templates: Environment
    style: Style
    marks: Marks
    script: str = ""
    turn: Lock = field(default_factory=Lock)


def shop_of(settings: Settings) -> Shop:
    """The journal opened, or a new one where none has ever been, and all that pages need."""
    if Store(settings.journal).is_there():
        found = opened(settings.journal, now=settings.now)
        journal, amiss = found.journal, (*found.wrong, *((found.newer,) if found.newer else ()))
    else:
        key = settings.key.public if settings.key is not None else ""
        journal, amiss = made(settings.journal, device_name=settings.device, key=key, now=settings.now), ()
    marks = Marks(settings.secret, settings.port)
    return Shop(settings, journal, amiss, _templates(), style(), marks, next(iter(script()), ""))


def _templates() -> Environment:
    made = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        auto_reload=False,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["day"] = lambda day: day_words(date.fromisoformat(day)) if day else ""
    made.filters["query"] = lambda told: urlencode({name: value for name, value in told.items() if value})
    made.filters["words"] = lambda text: Markup(words(str(text)))
    return made


def shop_in(request: Request) -> Shop:
    """The shop behind a request."""
    found: Shop = request.app.state.shop
    return found


def page(request: Request, template: str, *, status: int = 200, **told: Any) -> HTMLResponse:
    """One page.

    request   the request; it says how the person likes the pages, and which forms are theirs
    template  its file
    status    200, or what an error is
    told      what the page says
    -> answer
    """
    shop = shop_in(request)
    cookie = getattr(request.state, "cookie", "")
    return drawn(
        shop, template, look=request.cookies.get(LOOK, ""), mark=shop.marks.of_form(cookie), status=status, told=told
    )


def drawn(
    shop: Shop, template: str, *, look: str = "", mark: str = "", status: int = 200, told: Mapping[str, Any]
) -> HTMLResponse:
    """A page without a request: for what is refused at the door."""
    known = {
        "look": chosen(look),
        "style": shop.style.name,
        "script": shop.script,
        "shop": shop.settings.shop,
        "amiss": shop.amiss,
        "mark": mark,
        "form": clock.new_id(),
    }
    return HTMLResponse(shop.templates.get_template(template).render({**known, **told}), status_code=status)


def status_of(error: FluewrightError) -> int:
    """What an error is to a browser."""
    return 404 if error.code in UNKNOWN_HERE else STATUS.get(error.exit_code, 500)


def parts_of(error: FluewrightError) -> list[dict[str, str]]:
    """An error as its four parts; gathered ones each by itself."""
    return [each.parts() for each in getattr(error, "errors", (error,))]
