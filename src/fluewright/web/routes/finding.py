"""Find anything by its words."""

from fastapi import Request
from starlette.responses import Response

from fluewright.web.shop import page, shop_in

LONGEST = 200
MOST = 40


def find(request: Request, words: str = "") -> Response:
    """One field, and a ruled index of what holds all its words; the latest visits when nothing was typed."""
    from fluewright.record.views import looking_up, visits
    from fluewright.record.views.catching_up import looked_at

    asked = words.strip()[:LONGEST]
    with looked_at(shop_in(request).journal.store) as connection:
        hits = looking_up.found(connection, asked, MOST) if asked else []
        rows = visits.newest(connection, MOST) if not asked else []
    latest = [
        {"id": row["id"], "day": row["day"], "title": row["title"], "state": row["state"],
         "place": ", ".join(part for part in (row["site_words"], row["customer_name"]) if part)}
        for row in rows
    ]  # fmt: skip
    return page(request, "find.html", asked=asked, hits=hits, latest=latest, title="Find")


ROUTES = (("GET", "/find", find, "read"),)
