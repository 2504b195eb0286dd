"""Visits: opened, listed, read back, planned, judged."""

from dataclasses import replace
from typing import Annotated, Any

from fastapi import Depends, Query

from fluewright.api import answers, shapes
from fluewright.api.inside import Inside, inside, sent_once
from fluewright.api.route import Route
from fluewright.errors import FluewrightError
from fluewright.evidence.finding import finding_as_data
from fluewright.record.fold import CHANGES, Current
from fluewright.report.text import text
from fluewright.report.tree import Stop
from fluewright.visit import kept, own_books, said, shown, work
from fluewright.visit.as_data import as_json
from fluewright.visit.plan import account_so_far, plan_of

Behind = Annotated[Inside, Depends(inside)]
Most = Annotated[int, Query(ge=1, le=1000)]

TABLES = ("visit", "appliance", "fuel", "instrument", "place")


def answered(shop: Inside, visit: str, line: str, ids: list[str]) -> answers.Kept:
    """What was kept, read back from the journal and never taken from the request."""
    entries = kept.entries_of(shop.journal, visit)
    found = [each for each in entries if each.read.entry.id in ids]
    return answers.Kept(
        visit=visit,
        line=line,
        entries=[each.read.entry.id for each in found],
        at=found[0].read.entry.entered if found else "",
        understood=list(said.each(entries, found)),
    )


def opened(shop: Behind, sent: shapes.NewVisit) -> answers.Kept:
    """Open a visit."""
    told = {name: dict(table) for name in TABLES if (table := getattr(sent, name))}
    line = sent_once(sent.id, told)
    told["visit"] = {"date": shop.journal.now().date().isoformat(), **told.get("visit", {})}
    with shop.turn:
        entry = kept.begun(shop.journal, told, form=line)
    return answered(shop, entry.id, line, [entry.id])


def latest(shop: Behind, most: Most = 40) -> list[answers.VisitRow]:
    """The latest visits."""
    return [answers.VisitRow(**row) for row in kept.latest(shop.journal, most=most)]


def visit(shop: Behind, code: str) -> answers.Visit:
    """A visit in short, with its tables as a visit file has them."""
    found = shop.visit(code)
    entries = kept.entries_of(shop.journal, found)
    body = next((each.body for each in entries if each.read.entry.id == found), {})
    return answers.Visit(
        id=found,
        title=str(body.get("title", "")),
        day=str(body.get("day", "")),
        sealed=any(each.read.entry.kind == "seal" for each in entries),
        entries=len(entries),
        open_notices=[each.read.entry.id for each in kept.notices_in(entries)],
        tables=dict(kept.tables_of(shop.journal, found)),
    )


def _entry(found: Current, words: str) -> answers.Entry:
    entry = found.read.entry
    return answers.Entry(
        **{name: getattr(entry, name) for name in ("id", "kind", "device", "sequence", "entered", "author", "source")},
        counts=found.counts,
        words=words,
        body=dict(found.body),
        amended=[{"was": dict(c.before), "because": c.read.body.get("because", "")} for c in found.history],
        struck_out=[str(strike.body.get("because", "")) for strike in found.struck],
    )


def entries(shop: Behind, code: str) -> list[answers.Entry]:
    """Every entry of a visit as it stands, with what it was and why it was changed."""
    found = kept.entries_of(shop.journal, shop.visit(code))
    own = [each for each in found if each.read.entry.kind not in CHANGES]
    return [_entry(each, words) for each, words in zip(own, said.each(found, own), strict=True)]


def plan(shop: Behind, code: str) -> answers.Plan:
    """Which readings a visit still needs and why, in walking order."""
    account = replace(
        account_so_far(shop.journal, shop.visit(code)), shop=own_books.of_journal(shop.journal, shop.books)
    )
    try:
        verdict = work.judged(account) if account.stretches or account.parts else None
    except FluewrightError:
        verdict = None
    found = plan_of(account, verdict)
    lines = [
        answers.PlanLine(key=each.key, at=each.at, what=each.what, done=each.done,
                         why=[f"{why.kind}: {why.words}" for why in each.why])
        for each in found.lines
    ]  # fmt: skip
    return answers.Plan(route=found.route, lines=lines, held=found.held)


def _stop(stop: Stop) -> answers.Stop:
    return answers.Stop(order=stop.order, what=stop.what, do=list(stop.do), why=stop.why)


def judgement(shop: Behind, code: str) -> answers.Judgement:
    """Findings and results with uncertainty and working; what stops comes first, also without a verdict."""
    found = shop.visit(code)
    seen = shown.seen(shop.journal, found, books=shop.books)
    tree, verdict = seen.sheet, seen.verdict
    told: dict[str, Any] = {"findings": [], "cannot_tell": [], "results": {}, "parts": {}}
    if verdict is not None:
        system = verdict.account.system
        told["findings"] = [finding_as_data(each) for each in verdict.judged.findings]
        told["cannot_tell"] = list(verdict.judged.cannot_tell)
        told["results"] = {
            stretch.word: {name: as_json(result, system) for name, result in worked.results.items()}
            for stretch, worked in verdict.told
            if worked is not None
        }
        told["parts"] = {
            part.word: {key: as_json(result, system) for key, result in part.results.items()} for part in verdict.parts
        }
    return answers.Judgement(stops=list(map(_stop, tree.stops)), unjudged=tree.unjudged, **told)


def sheet(shop: Behind, code: str, working: bool = False) -> answers.Sheet:
    """The sheet in plain letters, as the terminal prints it."""
    tree = shown.sheet_of(shop.journal, shop.visit(code), books=shop.books)
    return answers.Sheet(title=tree.title, text=text(tree, plain=True, workings=working))


ROUTES = (
    Route("POST", "/visits", opened, "work", answers.Kept, 201),
    Route("GET", "/visits", latest, "read", list[answers.VisitRow]),
    Route("GET", "/visits/{code}", visit, "read", answers.Visit),
    Route("GET", "/visits/{code}/entries", entries, "read", list[answers.Entry]),
    Route("GET", "/visits/{code}/plan", plan, "read", answers.Plan),
    Route("GET", "/visits/{code}/judgement", judgement, "read", answers.Judgement),
    Route("GET", "/visits/{code}/sheet", sheet, "read", answers.Sheet),
)
