"""What all pages of one door share: the journal it opened, its templates, its look; made once for each app."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
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
from fluewright.record.callers import NOBODY, Caller, Roles
from fluewright.record.journal import Journal
from fluewright.record.opening import made, opened
from fluewright.record.practice import is_practice
from fluewright.record.statuses import parts_of, status_of
from fluewright.record.store import Store
from fluewright.report.html_parts import words
from fluewright.report.pen import day_words
from fluewright.visit import shop_settings
from fluewright.visit.history import Memory
from fluewright.visit.sent_in import Waiting
from fluewright.web.look import Style, chosen, script, style
from fluewright.web.marks import Marks
from fluewright.web.settings import Settings

__all__ = ["Shop", "caller_in", "drawn", "page", "parts_of", "shop_in", "shop_of", "status_of"]

TEMPLATES = Path(__file__).resolve().parent / "templates"
LOOK = "fluewright-look"
"""Cookie that keeps how a person likes the pages."""


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
    roles      people of the journal and what they may
    invented   whether the journal is for practice, which every page says
    turn       one change at a time, so that two taps are one after the other
    waiting    what was sent to be brought in and not yet seen
    memory     what visits told of their appliances, so that it is not worked out twice
    """

    settings: Settings
    journal: Journal
    amiss: tuple[str, ...]
    templates: Environment
    style: Style
    marks: Marks
    roles: Roles
    script: str = ""
    invented: bool = False
    turn: Lock = field(default_factory=Lock)
    waiting: Waiting = field(default_factory=Waiting)
    memory: Memory = field(default_factory=Memory)

    def settled(self) -> dict[str, str]:
        """What the shop has settled; nothing where the journal is not sound, since its views take their time."""
        return {} if self.amiss else shop_settings.told(self.journal)

    def name(self) -> str:
        """Its name at the head of the pages."""
        return self.settled().get("shop name", self.settings.shop)

    def place(self) -> str:
        """Where it works, as far as that is settled: country, or country and state."""
        return self.settled().get("jurisdiction", "")


def shop_of(settings: Settings) -> Shop:
    """The journal opened, or a new one where none has ever been, and all that pages need."""
    if Store(settings.journal).is_there():
        found = opened(settings.journal, now=settings.now)
        journal, amiss = found.journal, (*found.wrong, *((found.newer,) if found.newer else ()))
    else:
        key = settings.key.public if settings.key is not None else ""
        journal, amiss = (
            made(settings.journal, device_name=settings.device, key=key, practice=settings.practice, now=settings.now),
            (),
        )
    marks = Marks(settings.secret, settings.port, settings.secure)
    return Shop(
        settings,
        journal,
        amiss,
        _templates(),
        style(),
        marks,
        Roles(journal),
        script=next(iter(script()), ""),
        invented=is_practice(journal),
    )


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
    """The shop behind a request; what is written into its journal is by the person who asks."""
    found: Shop = request.app.state.shop
    return replace(found, journal=found.journal.by(caller_in(request).person))


def caller_in(request: Request) -> Caller:
    """Who asks."""
    found: Caller = getattr(request.state, "caller", NOBODY)
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
    caller = caller_in(request)
    who = {"signed_in": caller.name.partition(" ")[0][:16], "unknown": not caller.role}
    mark, look = shop.marks.of_form(cookie), request.cookies.get(LOOK, "")
    return drawn(shop, template, look=look, mark=mark, status=status, told={**who, **told})


def drawn(
    shop: Shop, template: str, *, look: str = "", mark: str = "", status: int = 200, told: Mapping[str, Any]
) -> HTMLResponse:
    """A page without a request: for what is refused at the door."""
    known = {
        "look": chosen(look),
        "style": shop.style.name,
        "script": shop.script,
        "shop": shop.name(),
        "amiss": shop.amiss,
        "invented": shop.invented,
        "mark": mark,
        "form": clock.new_id(),
        "signed_in": "",
        "unknown": False,
    }
    return HTMLResponse(shop.templates.get_template(template).render({**known, **told}), status_code=status)
