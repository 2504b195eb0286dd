"""The letter of the day."""

from fastapi import Request
from starlette.responses import Response

from fluewright.visit import letter
from fluewright.web.shop import page, shop_in


def today(request: Request) -> Response:
    """What is open, begun and due, worst first."""
    shop = shop_in(request)
    told = letter.of_day(shop.journal, shop.journal.now().date())
    return page(request, "today.html", letter=told, title="Today")


ROUTES = (("GET", "/", today, "read"),)
