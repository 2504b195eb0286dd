"""The letter of the day."""

from typing import Any

from fastapi import Request
from starlette.responses import Response

from fluewright.visit import letter
from fluewright.web.shop import page, shop_in


def today(request: Request) -> Response:
    """What is open, begun and due, worst first."""
    shop = shop_in(request)
    told = letter.of_day(shop.journal, shop.journal.now().date())
    return page(request, "today.html", letter=told, title="Today")


def dangers(request: Request, after: int = 0) -> Response:
    """All open dangers, the oldest first."""
    shop, start = shop_in(request), min(max(after, 0), 1_000_000)
    matters, count = letter.dangers_of(shop.journal, shop.journal.now().date(), start)
    told: dict[str, Any] = {"matters": matters, "count": count, "after": start, "step": letter.MOST}
    return page(request, "dangers.html", title="Open dangers", **told)


ROUTES = (("GET", "/", today, "read"), ("GET", "/dangers", dangers, "read"))
