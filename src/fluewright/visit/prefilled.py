"""What is known at the door of a visit that begins from the page of a customer, a site, a space or an appliance."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from fluewright.visit import kept, things

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

ABOUT = ("customer", "site", "appliance", "instrument")
"""Kinds whose ids a visit is begun with."""


@dataclass(slots=True)
class Known:
    """What is known: tables as of a visit, and the ids behind them by kind."""

    tables: dict[str, dict[str, str]] = field(default_factory=dict)
    ids: dict[str, str] = field(default_factory=dict)

    def says(self, table: str, key: str, value: Any) -> None:
        """One thing more; nothing is not known."""
        if isinstance(value, str) and value:
            self.tables.setdefault(table, {})[key] = value


def _thing(journal: "Journal", kind: str, id: str, known: Known) -> Mapping[str, Any]:
    body = things.standing(journal, kind, id).body
    known.ids[kind] = id
    return body


def _site(journal: "Journal", id: str, known: Known) -> None:
    body = _thing(journal, "site", id, known)
    known.says("visit", "site", body.get("address"))
    known.says("visit", "jurisdiction", body.get("jurisdiction"))
    known.says("visit", "units", body.get("units"))
    if body.get("customer"):
        _customer(journal, str(body["customer"]), known)


def _customer(journal: "Journal", id: str, known: Known) -> None:
    known.says("visit", "customer", _thing(journal, "customer", id, known).get("name"))


def _appliance(journal: "Journal", id: str, known: Known) -> None:
    body = _thing(journal, "appliance", id, known)
    known.says("appliance", "words", body.get("words"))
    known.says("appliance", "class", body.get("class"))
    known.says("appliance", "serial", body.get("serial"))
    plate = body.get("plate")
    for key in ("input", "output", "burner"):
        known.says("appliance", key, plate.get(key) if isinstance(plate, Mapping) else "")
    if body.get("site"):
        _site(journal, str(body["site"]), known)


def _fuel(journal: "Journal", known: Known) -> None:
    """The fuel of the last visit to the same appliance."""
    from fluewright.record.views import visited
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows = visited.of_these(connection, {"thing": [known.ids["appliance"]]}, most=1)
    for row in rows:
        known.says("fuel", "name", kept.tables_of(journal, row["id"]).get("fuel", {}).get("name"))


def of(journal: "Journal", **ids: str) -> Known:
    """What is known of where a visit begins.

    journal  where it is kept
    ids      by kind: customer, site, appliance, instrument; empty ones are not heeded
    -> tables and ids; EntryError where an id leads to nothing
    """
    known = Known()
    if ids.get("appliance"):
        _appliance(journal, ids["appliance"], known)
        _fuel(journal, known)
    elif ids.get("site"):
        _site(journal, ids["site"], known)
    elif ids.get("customer"):
        _customer(journal, ids["customer"], known)
    if ids.get("instrument"):
        body = _thing(journal, "instrument", ids["instrument"], known)
        known.says("instrument", "words", body.get("words"))
        known.says("instrument", "accuracy", body.get("accuracy"))
    return known
