"""What is added to a visit and changed in it; nothing is ever written over."""

from fluewright.api import answers, shapes
from fluewright.api.inside import sent_once
from fluewright.api.route import Route
from fluewright.api.routes.visits import Behind, answered
from fluewright.errors import UseError
from fluewright.visit import adding, changing, kept, sealing, shorthand
from fluewright.visit.shorthand import Said


def _said(sent: shapes.NewLine) -> Said:
    """What is sent, in exactly one of its three ways."""
    ways = [bool(sent.line), bool(sent.readings), sent.row is not None]
    tables = adding.tables()
    if sum(ways) != 1 or (sent.row is not None and sent.row.table not in tables):
        raise UseError(
            code="FW-U-192",
            read=f"{sum(ways)} of line, readings and row"
            + (f", for the table {sent.row.table!r}" if sent.row is not None else ""),
            expected="exactly one of them, and for a row one of the tables of docs/visit-file.md",
            matters="what counts of several could only be guessed",
            do="send each by itself, under an id of its own; nothing was kept",
        )
    if sent.row is not None:
        return Said(kind="line", table=sent.row.table, fields=tuple(sent.row.fields.items()))
    if sent.line:
        return shorthand.understood(sent.line, tables=tables)
    told = [shorthand.told(each.name, each.value, point=each.point, because=each.because) for each in sent.readings]
    return Said(tuple(told), steady=sent.steady)


def line(shop: Behind, code: str, sent: shapes.NewLine) -> answers.Kept:
    """Add readings, an event, a remark or a line of a table; when this answers, it is on the disk."""
    visit = shop.visit(code)
    chosen = sent_once(sent.id, sent.model_dump(exclude={"id"}))
    source = "from paper" if sent.source == "paper" else sent.source
    with shop.turn:
        found = adding.taken(
            shop.journal, visit, _said(sent), source=source, stretch=sent.stretch, time=sent.time, form=chosen
        )
    return answered(shop, visit, chosen, [each.id for each in found.entries])


def undone(shop: Behind, code: str, sent: shapes.Undone) -> answers.Kept:
    """Take back all that one line made; it stays to be seen, struck out."""
    visit = shop.visit(code)
    with shop.turn:
        found = changing.undone(shop.journal, visit, sent.line)
    return answered(shop, visit, sent.line, [each.id for each in found])


def struck(shop: Behind, code: str, entry: str, sent: shapes.Struck) -> answers.Kept:
    """Strike an entry out, with the reason; it stays to be seen and counts no more."""
    visit = shop.visit(code)
    chosen = sent_once(sent.id, {"of": entry, "because": sent.because})
    with shop.turn:
        made = changing.struck_out(shop.journal, visit, entry, because=sent.because, form=chosen)
    return answered(shop, visit, chosen, [made.id])


def amended(shop: Behind, code: str, entry: str, sent: shapes.Amended) -> answers.Kept:
    """Other words or figures for an entry, with the reason; the old stay to be seen."""
    visit = shop.visit(code)
    chosen = sent_once(sent.id, {"of": entry, "because": sent.because, "fields": sent.fields})
    with shop.turn:
        made = changing.amended(shop.journal, visit, entry, sent.fields, because=sent.because, form=chosen)
    return answered(shop, visit, chosen, [made.id])


def stepped(shop: Behind, code: str, sent: shapes.NewStep) -> answers.Kept:
    """Keep one adjustment; readings after it stand apart from those before."""
    visit = shop.visit(code)
    chosen = sent_once(sent.id, sent.model_dump(exclude={"id"}))
    with shop.turn:
        made = changing.stepped(shop.journal, visit, sent.word, meant=sent.meant, time=sent.time, form=chosen)
    return answered(shop, visit, chosen, [made.id])


def noticed(shop: Behind, code: str, sent: shapes.NewNotice) -> answers.Kept:
    """Keep a danger; it stands first on the sheet and in every letter until it is closed."""
    visit = shop.visit(code)
    told = sent.model_dump(exclude={"id"})
    chosen = sent_once(sent.id, told)
    words = told.pop("words")
    with shop.turn:
        made = changing.noticed(shop.journal, visit, words, **told, form=chosen)
    return answered(shop, visit, chosen, [made.id])


def closed(shop: Behind, code: str, entry: str, sent: shapes.Closed) -> answers.Kept:
    """Say that a danger is over, with the reason."""
    visit = shop.visit(code)
    chosen = sent_once(sent.id, {"of": entry, "because": sent.because})
    with shop.turn:
        made = changing.notice_closed(shop.journal, visit, entry, because=sent.because, form=chosen)
    return answered(shop, visit, chosen, [made.id])


def sealed(shop: Behind, code: str, sent: shapes.NewSeal) -> answers.Kept:
    """Sign a visit; from then on it is read only, but for strike-outs, amendments and a second signature."""
    visit = shop.visit(code)
    chosen = sent_once(sent.id, sent.model_dump(exclude={"id"}))
    name = sent.name or kept.technician_of(shop.journal, visit)
    signer = sealing.signer_for(shop.caller, name=name, recognised=sent.recognised)
    meaning = sent.meaning or sealing.MEANING
    with shop.turn:
        made = sealing.sealed_once(shop.journal, visit, key=shop.key, signer=signer, meaning=meaning, books=shop.books)
    return answered(shop, visit, chosen, [made.id])


ROUTES = (
    Route("POST", "/visits/{code}/lines", line, "work", answers.Kept, 201),
    Route("POST", "/visits/{code}/undo", undone, "work", answers.Kept, 201),
    Route("POST", "/visits/{code}/entries/{entry}/strike", struck, "work", answers.Kept, 201),
    Route("POST", "/visits/{code}/entries/{entry}/amend", amended, "work", answers.Kept, 201),
    Route("POST", "/visits/{code}/steps", stepped, "work", answers.Kept, 201),
    Route("POST", "/visits/{code}/notices", noticed, "work", answers.Kept, 201),
    Route("POST", "/visits/{code}/notices/{entry}/close", closed, "close notice", answers.Kept, 201),
    Route("POST", "/visits/{code}/seal", sealed, "seal", answers.Kept, 201),
)
