"""The rules as one reads them: which speak here, one of them whole, a clause from one's own book, a house book."""

import tempfile
from pathlib import Path
from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError, NotAllowed
from fluewright.evidence import judge
from fluewright.rules.entered import Clause
from fluewright.rules.house import HOUSE
from fluewright.visit import own_books, rules_reader, within
from fluewright.visit.place import day_of
from fluewright.visit.rules_here import Asked, Spoken
from fluewright.web.routes import Routes
from fluewright.web.shop import Shop, page, parts_of, shop_in, status_of
from fluewright.web.typed import Form, Sent, Typed

CLAUSE = (
    ("document", "name of the code book", ""),
    ("edition", "edition, as printed on it", ""),
    ("clause", "number of the clause", ""),
    ("page", "page on which it stands", ""),
    ("limit", "the figure as printed", "without its unit"),
    ("unit", "its unit", "such as ppm"),
    ("text", "its words", "or as many as carry the limit"),
    ("initials", "initials of whoever read it", ""),
    ("law_in", "where this book is law", "such as US-OH; empty where it is none"),
)


def _asked(shop: Shop, fields: dict[str, str]) -> Asked:
    day = day_of(fields["date"]) or shop.journal.now().date()
    return Asked(
        place=fields["jurisdiction"].strip().upper(),
        day=day,
        kind=fields["class"].strip(),
        burner=fields["burner"].strip() or "unknown",
        fuel=fields["fuel"].strip() or "natural-gas",
        shop=own_books.of_journal(shop.journal, shop.settings.books),
    )


def rules(request: Request) -> Response:
    """The limits that speak at a place, to a class, on a day."""
    shop = shop_in(request)
    given = {name: request.query_params.get(name, "")[:80] for name in ("jurisdiction", "date", "class", "burner",
                                                                        "fuel")}  # fmt: skip
    fields = given if any(given.values()) else given | {"jurisdiction": shop.place()}
    told: dict[str, Any] = {"fields": fields, "chapters": (), "errors": [], "classes": within.classes(),
                            "burners": judge.burners(), "houses": shop.settings.books is not None,
                            "brief": not fields["class"]}  # fmt: skip
    try:
        told["chapters"] = rules_reader.chapters(_asked(shop, fields))
    except FluewrightError as error:
        return page(request, "rules.html", status=status_of(error), title="Rules", **told | {"errors": parts_of(error)})
    return page(request, "rules.html", title="Rules", **told)


def _rule(request: Request, id: str, values: dict[str, str], error: FluewrightError | None = None) -> Response:
    shop = shop_in(request)
    limit = own_books.of_journal(shop.journal, shop.settings.books).limit(id)
    told: dict[str, Any] = {
        "read": rules_reader.read_of(Spoken(limit, clears=False)),
        "facts": rules_reader.facts(limit),
        "asked": CLAUSE,
        "values": values,
        "may_enter": limit.known != "own rule of the shop",
        "errors": parts_of(error) if error is not None else [],
    }
    return page(request, "rule.html", status=status_of(error) if error else 200, title=id, **told)


def rule(request: Request, id: str) -> Response:
    """One limit with all that its row says."""
    return _rule(request, id, {})


def entered(request: Request, id: str, typed: Typed) -> Response:
    """A clause of one's own code book kept: from then on the limit counts as read in this shop."""
    shop = shop_in(request)
    values = {name: typed.text(name) for name, _, _ in CLAUSE}
    told = {name: value for name, value in values.items() if name != "law_in"}
    clause = Clause(rule=id, **told, day=shop.journal.now().date(), law_in=values["law_in"].upper())
    try:
        with shop.turn:
            own_books.enter(shop.journal, clause, form=typed.once())
    except FluewrightError as error:
        return _rule(request, id, values, error)
    return RedirectResponse(f"/rules/of/{id}", status_code=303)


def _house(request: Request, told: dict[str, Any], error: FluewrightError | None = None) -> Response:
    known: dict[str, Any] = {"text": "", "changes": None, "standing": "", "errors": []}
    known |= told | ({"errors": parts_of(error)} if error is not None else {})
    return page(request, "house.html", status=status_of(error) if error else 200, title="House book", **known)


def _folder(shop: Shop) -> Path:
    if shop.settings.books is None:
        raise NotAllowed(
            code="FW-N-120",
            read="a house book for a door that has no folder of settings",
            expected="a door that was given one",
            matters="a book that lies nowhere would be gone with the next start",
            do="take it with `fluewright rules take FILE` on the shop's machine",
        )
    return shop.settings.books


def house(request: Request) -> Response:
    """The house book that is in force, to be read and written over."""
    path = _folder(shop_in(request)) / HOUSE
    text = path.read_text("utf-8", "replace") if path.exists() else ""
    return _house(request, {"text": text})


def taken(request: Request, typed: Sent) -> Response:
    """First what a house book would change; once that was seen, and the same text comes again, it takes effect."""
    shop = shop_in(request)
    folder, text = _folder(shop), typed.text("text").replace("\r\n", "\n")
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / HOUSE
        path.write_text(text + "\n", "utf-8")
        try:
            found = own_books.found_at(path, trusted=own_books.trusted_in(folder))
            changes = own_books.changes_of(found, folder)
            if _seen(typed, found):
                with shop.turn:
                    own_books.take(found, path, folder)
                return RedirectResponse("/rules", status_code=303)
        except FluewrightError as error:
            return _house(request, {"text": text}, error)
    told = {"text": text, "changes": [one.sentence for one in changes], "standing": found.standing.sentence,
            "stamp": found.stamp}  # fmt: skip
    return _house(request, told)


def _seen(typed: Form, found: own_books.Found) -> bool:
    """Whether a person saw what exactly this text changes."""
    return typed.text("seen") == found.stamp


ROUTES: Routes = (
    ("GET", "/rules", rules, "read"),
    ("GET", "/rules/house", house, "read"),
    ("POST", "/rules/house", taken, "keep clauses"),
    ("GET", "/rules/of/{id}", rule, "read"),
    ("POST", "/rules/of/{id}", entered, "keep clauses"),
)
