"""The sheet of a visit as a page: the printed tree, and below it, at thumb height, the open line."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from fastapi import Request
from markupsafe import Markup
from starlette.responses import Response

from fluewright.evidence.reading import Account
from fluewright.record.fold import Current, moment
from fluewright.report import html, phrase
from fluewright.report.drawing import spots
from fluewright.visit import kept, pictures, said, same_flue, shown
from fluewright.web import beside, dock
from fluewright.web.dock import Open
from fluewright.web.shop import Shop, page, parts_of, shop_in, status_of


def is_sealed(entries: Sequence[Current]) -> bool:
    """Whether a visit was sealed."""
    return any(each.read.entry.kind == "seal" for each in entries)


def sheet(request: Request, visit: str, opened: Open | None = None) -> Response:
    """The page of a visit.

    request  the request
    visit    its id
    opened   the open line; empty when not given
    -> page; an error of the open line stands beside it, with what was typed
    """
    shop, line = shop_in(request), opened or Open()
    seen = shown.seen(shop.journal, visit, books=shop.settings.books)
    tree, sealed = phrase.linked(seen.sheet), is_sealed(seen.entries)
    plain = replace(tree, lede=tuple(replace(span, ref="") for span in tree.lede), workings=())
    told: dict[str, Any] = {
        "visit": visit,
        "upper": Markup(html.upper(plain, switches=False, behind=f"/visit/{visit}/lines")),
        "lower": Markup(html.lower(plain)),
        "stops": [stop.order for stop in tree.stops],
        "sealed": sealed,
        "notices": [(each.read.entry.id, each.body["words"]) for each in kept.notices_in(seen.entries)],
        "pictures": pictures.of_visit(shop.journal, visit, seen.entries),
        "beside": beside.stretches(seen.entries),
        "later": _later(seen.entries) if sealed else [],
        "errors": parts_of(line.error) if line.error else [],
        "last_kept": _last_kept(seen.entries),
        "on_flue": same_flue.others(shop.journal, seen.entries),
    }
    if not sealed:
        account = dock.account_in(shop, visit, seen)
        told |= dock.told(shop, visit, seen, account, line) | _spots(visit, account, line)
    status = status_of(line.error) if line.error else 200
    return page(request, "visit.html", status=status, title=tree.title, **told)


def _last_kept(entries: Sequence[Current]) -> str:
    """When the last entry was kept, so that who comes back after a fall sees how far the record goes."""
    return max((each.read.entry.entered for each in entries), key=moment)[11:16]


def _spots(visit: str, account: Account | None, opened: Open) -> dict[str, Any]:
    """The appliance with its sampling points, and the same as a table; nothing where its class is not said."""
    of_class = account.appliance.of_class if account is not None else None
    if of_class is None:
        return {"spots": "", "points": []}

    def lead(name: str) -> str:
        return dock.address(visit, opened, at=name)

    drawn = spots.svg(of_class, lead=lambda point: lead(point.name), chosen=opened.at)
    return {
        "spots": Markup(drawn),
        "points": [(*row, lead(row[1])) for row in spots.twin(of_class).rows],
    }


def _later(entries: Sequence[Current]) -> list[dict[str, str]]:
    """What was struck out, amended or closed after the seal, each with its reason, in order."""
    sealed = max(moment(each.read.entry.entered) for each in entries if each.read.entry.kind == "seal")
    words = said.each(entries, entries)
    changes = [
        (read, what, about)
        for each, about in zip(entries, words, strict=True)
        for what, reads in (("struck out", each.struck), ("amended", [change.read for change in each.history]))
        for read in reads
    ]
    changes += [(each.read, "a danger is over", "") for each in entries if each.read.entry.kind == "notice closed"]
    late = [each for each in changes if moment(each[0].entry.entered) >= sealed]
    late.sort(key=lambda each: moment(each[0].entry.entered))
    return [
        {"time": read.entry.entered[:16].replace("T", " "), "what": f"{what}: {about}" if about else what,
         "because": str(read.body.get("because", ""))}
        for read, what, about in late
    ]  # fmt: skip


def visit_of(shop: Shop, code: str) -> str:
    """The id of a visit from what stands in an address."""
    return kept.found(shop.journal, code)
