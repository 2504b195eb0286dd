"""How a person likes the pages: ink, weight, density, hand; kept in the browser."""

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.web.look import CHOICES
from fluewright.web.shop import LOOK, page
from fluewright.web.typed import Typed

YEAR = 365 * 24 * 3600

WORDS = {
    "ink": ("Ink", {"paper": "paper, dark on light", "lamp": "lamp, amber on black"}),
    "weight": ("Weight", {"regular": "regular", "strong": "strong, for the sun"}),
    "density": ("Hands", {"normal": "bare", "glove": "in gloves"}),
    "hand": ("Thumb", {"right": "right", "left": "left"}),
}


def liking(request: Request) -> Response:
    """What may be chosen."""
    return page(request, "look.html", choices=WORDS, title="The look of the pages")


def liked(request: Request, typed: Typed) -> Response:
    """Keep the choice in this browser."""
    picked = [typed.text(name) if typed.text(name) in several else several[0] for name, several in CHOICES.items()]
    answer = RedirectResponse("/look", status_code=303)
    answer.set_cookie(LOOK, ".".join(picked), max_age=YEAR, httponly=True, samesite="strict")
    return answer


ROUTES = (("GET", "/look", liking, "read"), ("POST", "/look", liked, "read"))
