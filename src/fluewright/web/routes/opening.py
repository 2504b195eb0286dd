"""A new visit, with what is known at the door."""

from collections.abc import Mapping
from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from fluewright.errors import FluewrightError
from fluewright.evidence import judge
from fluewright.fuels.load import titles
from fluewright.record.journal import Journal
from fluewright.rules import visits
from fluewright.visit import kept, prefilled, shop_settings, within
from fluewright.web.shop import page, parts_of, shop_in, status_of
from fluewright.web.typed import Typed

FIELDS = {
    "appliance": ("appliance", "words"),
    "fuel": ("fuel", "name"),
    "site": ("visit", "site"),
    "customer": ("visit", "customer"),
    "route": ("visit", "route"),
    "date": ("visit", "date"),
    "technician": ("visit", "technician"),
    "jurisdiction": ("visit", "jurisdiction"),
    "units": ("visit", "units"),
    "emergency": ("visit", "emergency"),
    "supplier": ("visit", "supplier"),
    "class": ("appliance", "class"),
    "serial": ("appliance", "serial"),
    "input": ("appliance", "input"),
    "output": ("appliance", "output"),
    "burner": ("appliance", "burner"),
    "instrument": ("instrument", "words"),
    "zero": ("instrument", "zero"),
    "accuracy": ("instrument", "accuracy"),
    "calibration_due": ("instrument", "calibration_due"),
}
"""Fields of the page by table and key of a visit."""

CARRIED = ("technician", "jurisdiction", "units", "emergency", "supplier", "instrument", "accuracy", "calibration_due")
"""What is not asked twice: it is taken over from the latest visit, and can be written over."""


def _carried(journal: Journal) -> dict[str, str]:
    latest = kept.latest(journal, most=1)
    tables: Mapping[str, Any] = kept.tables_of(journal, latest[0]["id"]) if latest else {}
    found = {name: str(tables.get(FIELDS[name][0], {}).get(FIELDS[name][1], "")) for name in CARRIED}
    settled = {name: value for name, value in shop_settings.told(journal).items() if name in FIELDS}
    first = dict.fromkeys(FIELDS, "") | {"fuel": "natural-gas", "units": "us"} | settled
    return first | {name: value for name, value in found.items() if value}


def new(request: Request, appliance: str = "", site: str = "", customer: str = "", instrument: str = "") -> Response:
    """The page of a new visit; begun from the page of a thing, with what is known of it."""
    shop = shop_in(request)
    known = prefilled.of(shop.journal, appliance=appliance, site=site, customer=customer, instrument=instrument)
    values = _carried(shop.journal) | {
        name: known.tables[table][key] for name, (table, key) in FIELDS.items() if key in known.tables.get(table, {})
    }
    told: dict[str, Any] = {"values": values, "chosen": known.ids, "practice": shop.invented, "errors": []}
    return _page(request, 200, told)


def _page(request: Request, status: int, told: dict[str, Any]) -> Response:
    """The page with the words of the library offered."""
    offered = {"fuels": tuple(titles()), "classes": within.classes()}
    offered |= {"burners": judge.burners(), "routes": visits.routes()}
    return page(request, "new.html", status=status, **offered, **told, title="A new visit")


def begin(request: Request, typed: Typed) -> Response:
    """Open the visit and go to its open line; what was typed stays when it cannot be."""
    shop = shop_in(request)
    day = shop.journal.now().date()
    tables: dict[str, Any] = {"visit": {"date": day.isoformat()}}
    for name, (table, key) in FIELDS.items():
        if typed.text(name):
            tables.setdefault(table, {})[key] = typed.text(name)
    words = typed.text("appliance")
    tables["visit"]["title"] = f"{words[:1].upper()}{words[1:]}" or f"Visit of {day.isoformat()}"
    practice = typed.text("practice") == "yes"
    chosen = {kind: typed.text(f"of-{kind}") for kind in prefilled.ABOUT if typed.text(f"of-{kind}")}
    tables["visit"] |= {"invented": True} if practice else {}
    try:
        with shop.turn:
            entry = kept.begun(shop.journal, tables, form=typed.once(), chosen=chosen)
    except FluewrightError as error:
        values = {name: typed.text(name) for name in FIELDS}
        told: dict[str, Any] = {"values": values, "chosen": chosen, "practice": practice, "errors": parts_of(error)}
        return _page(request, status_of(error), told)
    return RedirectResponse(f"/visit/{entry.id}", status_code=303)


ROUTES = (("GET", "/visit/new", new, "work"), ("POST", "/visit/new", begin, "work"))
