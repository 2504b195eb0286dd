"""Who works here, with what right, and whose ticket runs until when; for reading."""

from typing import Any

from fastapi import Request
from starlette.responses import Response

from fluewright.record import people
from fluewright.web.routes import Routes
from fluewright.web.shop import page, shop_in


def listed(request: Request) -> Response:
    """Everybody that the journal knows."""
    journal = shop_in(request).journal
    rows = [(each, people.tickets_of(journal, each.id)) for each in people.persons(journal)]
    told: dict[str, Any] = {"rows": rows, "today": journal.now().date(), "guarded": not people.role_of(journal, "")}
    return page(request, "people.html", title="People", **told)


ROUTES: Routes = (("GET", "/people", listed, "keep people"),)
