"""Something of the shop entered or amended: a form of one kind, with what it belongs to."""

from collections.abc import Callable, Mapping
from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError
from fluewright.evidence import judge
from fluewright.quantity import uncertain
from fluewright.visit import things, within
from fluewright.web.routes import Routes
from fluewright.web.routes.things import path_of
from fluewright.web.shop import Shop, page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed

OFFERED: Mapping[str, Callable[[], tuple[str, ...]]] = {
    "accuracy": uncertain.class_names,
    "burner": judge.burners,
    "class": within.classes,
}
"""Words that a field offers while one types."""


def _parents(kind: str, asked: Mapping[str, Any]) -> dict[str, str]:
    return {name: str(asked[name]) for name in things.PARENTS[kind] if asked.get(name)}


def _told(kind: str, shop: Shop, parents: Mapping[str, str], values: Mapping[str, str]) -> dict[str, Any]:
    offered = {asked.name: OFFERED[asked.name]() for asked in things.FORMS[kind] if asked.name in OFFERED}
    return {
        "kind": kind,
        "asked": things.FORMS[kind],
        "parents": parents,
        "values": values,
        "offered": offered,
        "listed": within.appliances_near(shop.journal, parents) if kind == "flue group" else (),
        "back": _back(kind, parents),
    }


def _back(kind: str, parents: Mapping[str, str]) -> str:
    """Where one came from: what it belongs to, the nearest first."""
    for name in reversed(things.PARENTS[kind]):
        if parents.get(name):
            return path_of("flue group" if name == "group" else name, parents[name])
    return "/instruments" if kind == "instrument" else "/"


def _errors(error: FluewrightError, kind: str) -> dict[str, list[dict[str, str]]]:
    """An error by the field it belongs to; empty for those of none."""
    found: dict[str, list[dict[str, str]]] = {}
    for each in parts_of(error):
        where = each.get("where") or ""
        asked = next((a for a in things.FORMS[kind] if where in (a.words, a.name, f"{kind}, {a.name}")), None)
        found.setdefault(asked.field if asked is not None else "", []).append(each)
    return found


def _new(kind: str) -> Callable[..., Response]:
    def new(request: Request) -> Response:
        """The page on which one is entered."""
        parents = _parents(kind, request.query_params)
        told = _told(kind, shop_in(request), parents, {})
        return page(request, "enter.html", **told, amends="", because="", errors={}, title=f"Enter: {kind}")

    return new


def _entered(kind: str) -> Callable[..., Response]:
    def entered(request: Request, typed: Typed) -> Response:
        """It is kept, and its page is shown."""
        shop = shop_in(request)
        parents = _parents(kind, typed.fields)
        values = _values(kind, typed)
        try:
            with shop.turn:
                entry = things.entered(shop.journal, kind, {**values, **parents}, form=typed.once())
        except FluewrightError as error:
            told = _told(kind, shop, parents, values)
            return page(request, "enter.html", **told, status=status_of(error), amends="", because="",
                        errors=_errors(error, kind), title=f"Enter: {kind}")  # fmt: skip
        shown = kind in ("calibration", "check", "due")
        return RedirectResponse(_back(kind, parents) if shown else path_of(kind, entry.id), status_code=303)

    return entered


def _values(kind: str, typed: Typed) -> dict[str, str]:
    found = {asked.field: typed.text(asked.field) for asked in things.FORMS[kind]}
    ticked = [name.removeprefix("tick-") for name, value in typed.fields.items() if name.startswith("tick-") and value]
    return found | {asked.field: " ".join(ticked) for asked in things.FORMS[kind] if asked.sort == "ids"}


def _amending(kind: str) -> Callable[..., Response]:
    def amending(request: Request, code: str) -> Response:
        """The page on which other words are given."""
        shop = shop_in(request)
        body = things.standing(shop.journal, kind, code).body
        told = _told(kind, shop, _parents(kind, body), things.typed_of(kind, body))
        told["back"] = path_of(kind, code)
        return page(request, "enter.html", **told, amends=code, because="", errors={}, title=f"Amend: {kind}")

    return amending


def _amended(kind: str) -> Callable[..., Response]:
    def amended(request: Request, code: str, typed: Typed) -> Response:
        """Other words are kept; the old stay to be seen."""
        shop, values = shop_in(request), _values(kind, typed)
        body = things.standing(shop.journal, kind, code).body
        parents = _parents(kind, body)
        try:
            typed.once()
            with shop.turn:
                because = typed.text("because")
                things.amended(shop.journal, kind, code, {**values, **parents}, because=because)
        except FluewrightError as error:
            told = _told(kind, shop, parents, values) | {"back": path_of(kind, code)}
            return page(request, "enter.html", **told, status=status_of(error), amends=code,
                        because=typed.text("because"), errors=_errors(error, kind), title=f"Amend: {kind}")  # fmt: skip
        return RedirectResponse(path_of(kind, code), status_code=303)

    return amended


MEASURING = frozenset({"instrument", "calibration", "check"})
"""Kinds that whoever keeps instruments enters; the rest belongs to customers and what they have."""


def _routes() -> Routes:
    found: list[tuple[str, str, Callable[..., Response], str]] = []
    for kind in things.FORMS:
        slug, right = kind.replace(" ", "-"), "keep instruments" if kind in MEASURING else "keep customers"
        found += [("GET", f"/{slug}/new", _new(kind), right), ("POST", f"/{slug}/new", _entered(kind), right)]
        if kind not in ("calibration", "check", "due"):
            amend = f"/{slug}/{{code}}/amend"
            found += [("GET", amend, _amending(kind), right), ("POST", amend, _amended(kind), right)]
    return tuple(found)


ROUTES: Routes = _routes()
