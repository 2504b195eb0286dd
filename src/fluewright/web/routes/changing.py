"""Steps and danger notices of a visit."""

from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError
from fluewright.visit import changing, kept
from fluewright.web.sheet import visit_of
from fluewright.web.shop import Shop, page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed

CONSENTS = (
    ("yes", "agreed to shutting down"),
    ("refused", "refused"),
    ("absent", "nobody was there to ask"),
)
"""Answers about shutting down, as the journal and as a person says them."""

FOUND = (
    "flue gas spills into the room",
    "carbon monoxide in the room",
    "gas leaks",
    "the flue is off or open",
    "the flame rolls out",
)
"""What is found often enough to be tapped; anything else is typed (common practice, no source)."""

DID = ("shut off and labelled", "everybody out", "supplier called")

STEPS = {
    "oil": (
        "air band opened a little", "air band closed a little", "nozzle changed", "pump pressure set",
        "electrodes set", "flueways brushed", "draft control set", "nothing turned, only waited",
    ),
    "gas": (
        "air shutter opened a little", "air shutter closed a little", "gas pressure set to the plate",
        "burner cleaned", "flueways brushed", "air openings cleared", "draft control set",
        "nothing turned, only waited",
    ),
}  # fmt: skip
"""Steps that are tapped, by group of fuel (common practice, no source)."""

_CHOICES = {"consents": CONSENTS, "found": FOUND, "did": DID}


def steps_of(shop: Shop, visit: str) -> tuple[str, ...]:
    """Steps that are tapped on a visit, by its fuel."""
    name = str(kept.tables_of(shop.journal, visit).get("fuel", {}).get("name", ""))
    return STEPS["oil" if "oil" in name else "gas"]


def step(request: Request, code: str) -> Response:
    """The page of a step."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    told: dict[str, Any] = {"visit": visit, "word": "", "meant": "", "errors": [], "steps": steps_of(shop, visit)}
    return page(request, "step.html", **told, title="A step")


def stepped(request: Request, code: str, typed: Typed) -> Response:
    """One adjustment kept; readings after it stand apart from those before."""
    shop = shop_in(request)
    visit, meant = visit_of(shop, code), typed.text("meant")
    word = typed.text("word") or typed.text("pick")
    try:
        sent = typed.once()
        with shop.turn:
            changing.stepped(shop.journal, visit, word, meant=meant, form=sent)
    except FluewrightError as error:
        told: dict[str, Any] = {"word": word, "meant": meant, "errors": parts_of(error), "steps": steps_of(shop, visit)}
        return page(request, "step.html", status=status_of(error), visit=visit, **told, title="A step")
    return RedirectResponse(f"/visit/{visit}?kept={sent}", status_code=303)


def notice(request: Request, code: str) -> Response:
    """The page of a danger notice."""
    told: dict[str, Any] = {"visit": visit_of(shop_in(request), code), "typed": {}, "errors": [], **_CHOICES}
    return page(request, "notice.html", **told, title="A danger notice")


def noticed(request: Request, code: str, typed: Typed) -> Response:
    """A danger kept; it stands first on the sheet and in every letter until it is closed."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    several = {name: [each] if (each := typed.text(name)) else [] for name in ("done", "calls")}
    several["done"] += [each for index, each in enumerate(DID) if typed.text(f"did-{index}")]
    try:
        sent = typed.once()
        with shop.turn:
            changing.noticed(
                shop.journal,
                visit,
                typed.text("words") or typed.text("pick"),
                consent=typed.text("consent") or None,
                told=typed.text("told"),
                witness=typed.text("witness"),
                form=sent,
                **several,
            )
    except FluewrightError as error:
        told: dict[str, Any] = {"visit": visit, "typed": typed.fields, "errors": parts_of(error), **_CHOICES}
        return page(request, "notice.html", status=status_of(error), **told, title="A danger notice")
    return RedirectResponse(f"/visit/{visit}?kept={sent}", status_code=303)


def closing(request: Request, code: str, entry: str) -> Response:
    """The page on which a danger is said to be over."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    words = changing.entry_of(shop.journal, visit, entry).body.get("words", "")
    told: dict[str, Any] = {"visit": visit, "entry": entry, "words": words, "because": "", "errors": []}
    return page(request, "over.html", **told, title="A danger that is over")


def over(request: Request, code: str, entry: str, typed: Typed) -> Response:
    """A danger closed, with the reason."""
    shop = shop_in(request)
    visit, because = visit_of(shop, code), typed.text("because")
    try:
        sent = typed.once()
        with shop.turn:
            changing.notice_closed(shop.journal, visit, entry, because=because, form=sent)
    except FluewrightError as error:
        words = changing.entry_of(shop.journal, visit, entry).body.get("words", "")
        told: dict[str, Any] = {
            "visit": visit,
            "entry": entry,
            "words": words,
            "because": because,
            "errors": parts_of(error),
        }
        return page(request, "over.html", status=status_of(error), **told, title="A danger that is over")
    return RedirectResponse(f"/visit/{visit}?kept={sent}", status_code=303)


ROUTES = (
    ("GET", "/visit/{code}/step", step, "work"),
    ("POST", "/visit/{code}/step", stepped, "work"),
    ("GET", "/visit/{code}/notice", notice, "work"),
    ("POST", "/visit/{code}/notice", noticed, "work"),
    ("GET", "/visit/{code}/notice/{entry}", closing, "close notice"),
    ("POST", "/visit/{code}/notice/{entry}", over, "close notice"),
)
