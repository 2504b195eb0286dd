"""The records as a whole: brought in, taken out, copied; and a visit on paper."""

from typing import Any

from fastapi import Request
from markupsafe import Markup
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError, NotAllowed
from fluewright.quantity.flue_names import FLUE
from fluewright.record import backup, elsewhere
from fluewright.report import html, phrase
from fluewright.visit import bringing, kept, sent_in, shown, trace_in, undoing
from fluewright.web.routes import Routes
from fluewright.web.sheet import visit_of
from fluewright.web.shop import Shop, page, parts_of, shop_in, status_of
from fluewright.web.typed import Form, Sent, Typed


def records(request: Request, done: str = "", undo: str = "") -> Response:
    """What exists where, what may be taken out, and where something is brought in."""
    return _records(request, None, done=done, undo=undo)


def _records(request: Request, error: FluewrightError | None, *, done: str = "", undo: str = "") -> Response:
    shop = shop_in(request)
    told: dict[str, Any] = {
        "alone": elsewhere.of(shop.journal),
        "copies": elsewhere.copies(shop.journal),
        "may_copy": shop.settings.copies is not None,
        "folder": str(shop.settings.copies or ""),
        "brought": undoing.title_of(shop.journal, undo) if undo else "",
        "undo": undo,
        "done": done in ("bundle", "copy", "undone") and done,
        "errors": parts_of(error) if error is not None else [],
    }
    return page(request, "records.html", status=status_of(error) if error else 200, title="Records", **told)


def sent(request: Request, typed: Sent) -> Response:
    """Something was sent: what it is told to be, before anything of it is kept."""
    shop = shop_in(request)
    try:
        found = sent_in.told(typed.files)
        with shop.turn:
            name = shop.waiting.put(found)
    except FluewrightError as error:
        return _records(request, error)
    return RedirectResponse(f"/records/bring/{name}", status_code=303)


def waiting(request: Request, name: str) -> Response:
    """What waits, tried without keeping it."""
    return _waiting(request, name, {}, None)


def _waiting(request: Request, name: str, typed: dict[str, str], error: FluewrightError | None) -> Response:
    shop = shop_in(request)
    found = shop.waiting.of(name)
    told: dict[str, Any] = {"sent": found, "name": name, "tried": None, "trace": None, "result": None, "visits": [],
                            "values": typed, "errors": [], "quantities": (), "words": trace_in.WORDS}  # fmt: skip
    try:
        if found.sort == "trace":
            told |= {"trace": trace_in.seen(found), "visits": trace_in.open_visits(shop.journal),
                     "quantities": tuple(each.name for each in FLUE)}  # fmt: skip
            told["result"] = trace_in.tried(found, trace_in.mapped(found, _said(typed))) if typed else None
        else:
            told["tried"] = bringing.try_visit(found) if found.sort == "visit" else bringing.try_bundle(
                shop.journal, found)  # fmt: skip
    except FluewrightError as problem:
        error = error or problem
    told["errors"] = parts_of(error) if error is not None else []
    return page(request, "bring.html", status=status_of(error) if error else 200, title="Bring in", **told)


def _said(fields: dict[str, str]) -> dict[str, tuple[str, str]]:
    """What was said of the columns of a trace: by head its quantity and its unit."""
    heads = {name.removeprefix("head-"): value for name, value in fields.items() if name.startswith("head-")}
    return {head: (fields.get(f"quantity-{place}", ""), fields.get(f"unit-{place}", ""))
            for place, head in heads.items()}  # fmt: skip


def brought(request: Request, name: str, typed: Typed) -> Response:
    """What waits kept, all of it or nothing; a trace is tried first, and kept when that was seen."""
    shop = shop_in(request)
    try:
        found = shop.waiting.of(name)
        if found.sort == "trace" and typed.text("do") != "keep":
            return _waiting(request, name, dict(typed.fields), None)
        with shop.turn:
            where = _kept(shop, found, typed)
    except FluewrightError as error:
        return _waiting(request, name, dict(typed.fields), error)
    return RedirectResponse(where, status_code=303)


def _kept(shop: Shop, found: sent_in.Sent, typed: Form) -> str:
    """Keep it; -> where its undo stands."""
    form = typed.once()
    if found.sort == "visit":
        entry = bringing.bring_visit(shop.journal, found, form=form)
        return f"/records?undo={entry.id}"
    if found.sort == "bundle":
        bringing.bring_bundle(shop.journal, found)
        return "/records?done=bundle"
    visit = kept.found(shop.journal, typed.text("visit"))
    text = trace_in.mapped(found, _said(dict(typed.fields)))
    trace_in.brought(shop.journal, visit, found, text, typed.text("word"), form=form)
    return f"/visit/{visit}?kept={form}"


def undone(request: Request, typed: Typed) -> Response:
    """A visit that was brought in struck out again, as one; it stays to be seen."""
    shop = shop_in(request)
    try:
        with shop.turn:
            undoing.undone(shop.journal, typed.text("visit"))
    except FluewrightError as error:
        return _records(request, error)
    return RedirectResponse("/records?done=undone", status_code=303)


def copied(request: Request, typed: Typed) -> Response:
    """A copy of the journal made and proven."""
    shop = shop_in(request)
    try:
        typed.once()
        if shop.settings.copies is None:
            raise NotAllowed(
                code="FW-N-121",
                read="a copy from a door that has no folder for copies",
                expected="a door that was given one",
                matters="a copy that lies nowhere is none",
                do="make it with `fluewright journal backup FOLDER`, best to a stick",
            )
        with shop.turn:
            backup.backed_up(shop.journal, shop.settings.copies)
    except FluewrightError as error:
        return _records(request, error)
    return RedirectResponse("/records?done=copy", status_code=303)


def _download(content: bytes, name: str, type: str) -> Response:
    return Response(content, media_type=type, headers={"content-disposition": f'attachment; filename="{name}"'})


def bundle(request: Request, people: str = "yes") -> Response:
    """The whole journal as one file."""
    shop = shop_in(request)
    day = shop.journal.now().date().isoformat()
    return _download(bringing.bundle_of(shop.journal, people=people != "no"), f"records-{day}.tar", "application/x-tar")


def tables(request: Request, people: str = "yes") -> Response:
    """The journal as tables for a spreadsheet."""
    shop = shop_in(request)
    day = shop.journal.now().date().isoformat()
    return _download(bringing.tables_of(shop.journal, people=people != "no"), f"tables-{day}.zip", "application/zip")


def visit_bundle(request: Request, code: str) -> Response:
    """One visit with what it names, for checking elsewhere."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    return _download(bringing.bundle_of(shop.journal, visit=visit), f"visit-{visit[-8:]}.tar", "application/x-tar")


def paper(request: Request, code: str) -> Response:
    """A visit for the printer: the sheet alone, black on white when it is printed."""
    shop = shop_in(request)
    visit = visit_of(shop, code)
    tree = phrase.linked(shown.sheet_of(shop.journal, visit, books=shop.settings.books))
    body = Markup(html.upper(tree, switches=False) + html.lower(tree))
    return page(request, "paper.html", visit=visit, body=body, title=tree.title)


def _one_file(request: Request, code: str, kind: str) -> Response:
    shop = shop_in(request)
    visit = visit_of(shop, code)
    tree = shown.sheet_of(shop.journal, visit, books=shop.settings.books)
    if kind == "html":
        return _download(html.page(tree).encode(), f"visit-{visit[-8:]}.html", "text/html; charset=utf-8")
    from fluewright.report.pdf import document

    made = document(tree, paper="letter" if tree.system == "us" else "a4")
    return _download(made, f"visit-{visit[-8:]}.pdf", "application/pdf")


def paper_pdf(request: Request, code: str) -> Response:
    """A visit as PDF."""
    return _one_file(request, code, "pdf")


def paper_html(request: Request, code: str) -> Response:
    """A visit as one file that needs no network."""
    return _one_file(request, code, "html")


ROUTES: Routes = (
    ("GET", "/records", records, "read"),
    ("POST", "/records/bring", sent, "import"),
    ("GET", "/records/bring/{name}", waiting, "import"),
    ("POST", "/records/bring/{name}", brought, "import"),
    ("POST", "/records/undo", undone, "import"),
    ("POST", "/records/copy", copied, "back up"),
    ("GET", "/records/bundle.tar", bundle, "export"),
    ("GET", "/records/tables.zip", tables, "export"),
    ("GET", "/visit/{code}/paper", paper, "read"),
    ("GET", "/visit/{code}/paper.pdf", paper_pdf, "read"),
    ("GET", "/visit/{code}/paper.html", paper_html, "read"),
    ("GET", "/visit/{code}/bundle.tar", visit_bundle, "export"),
)
