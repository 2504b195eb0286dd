"""Whom and what a visit is about: customer, site, appliance, instrument, found in the journal or entered new."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from fluewright import clock
from fluewright.record.draft import Draft
from fluewright.record.entry import Source as From
from fluewright.visit.as_entries import plain

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

PLATE = ("input", "input_net", "output", "burner", "condensing", "carrier", "jacket")
"""What of an appliance stands on its plate or goes by it."""


@dataclass(slots=True)
class Belonging:
    """What a visit belongs to.

    ids     of customer, site, appliance and instrument, as far as they are known
    drafts  of those that were not in the journal yet
    """

    source: From
    ids: dict[str, str] = field(default_factory=dict)
    drafts: list[Draft] = field(default_factory=list)

    def of(self, kind: str, body: Mapping[str, Any], known: str) -> None:
        """The thing of this kind: one that is known, or a new one."""
        if not known:
            made = Draft(
                kind, {key: value for key, value in body.items() if value}, source=self.source, id=clock.new_id()
            )
            self.drafts.append(made)
            known = made.id
        self.ids[kind] = known


def _known(journal: "Journal", kind: str, asked: Mapping[str, str]) -> str:
    """The one thing of a kind whose fields are exactly these; empty when there is none, or no saying which.

    Names that are only alike are two until a person says that they are one: a wrong guess would mix two households.
    """
    from sqlalchemy import select

    from fluewright.record.views.catching_up import looked_at
    from fluewright.record.views.shop import OF_KIND

    table = OF_KIND[kind]
    wanted = [table.c[name] == value for name, value in asked.items()]
    with looked_at(journal.store) as connection:
        ids = list(connection.scalars(select(table.c.id).where(*wanted, table.c.retired.is_(False)).limit(2)))
    return str(ids[0]) if len(ids) == 1 else ""


def _text(table: Mapping[str, Any], key: str) -> str:
    return str(plain(table.get(key, "")))


def _one(journal: "Journal", kind: str, asked: Mapping[str, str], chosen: Mapping[str, str]) -> str:
    """The thing that was chosen, where it is still called so; else the only one whose fields are exactly these."""
    found = journal.entry(chosen[kind]) if chosen.get(kind) else None
    first, name = next(iter(asked.items()), ("", ""))
    if found is not None and found.entry.kind == kind:
        from fluewright.record import amend

        now = amend.standing(journal, found.entry.id)
        if now is not None and now.counts and str(now.body.get(first, "")) == name:
            return found.entry.id
    return _known(journal, kind, asked)


def belonging(
    journal: "Journal", tables: Mapping[str, Any], *, source: From, chosen: Mapping[str, str] | None = None
) -> Belonging:
    """Customer, site, appliance and instrument of a visit that is opened.

    journal  where they are looked up
    tables   of the visit: visit, appliance, instrument
    source   typed, from paper, imported
    chosen   ids by kind, where a person began from their page; one counts as long as it is called as it was then
    -> their ids, and drafts of those that are new
    """
    found, chosen = Belonging(source), chosen or {}
    visit, appliance, instrument = (tables.get(name, {}) for name in ("visit", "appliance", "instrument"))
    name, address = _text(visit, "customer"), _text(visit, "site")
    if name:
        found.of("customer", {"name": name}, _one(journal, "customer", {"name": name}, chosen))
    if address:
        customer = found.ids.get("customer", "")
        here = {"address": address, "customer": customer}
        place = {key: plain(value) for key, value in tables.get("place", {}).items()}
        body = {**here, "jurisdiction": _text(visit, "jurisdiction"), "place": place}
        found.of("site", body, _one(journal, "site", here, chosen))
    serial, words = _text(appliance, "serial"), _text(appliance, "words")
    site = found.ids.get("site", "")
    if words:
        same = {"words": words, "serial": serial, "site": site} if serial or site else {}
        plate = {key: plain(appliance[key]) for key in PLATE if key in appliance}
        body = {"words": words, "serial": serial, "site": site, "class": _text(appliance, "class"), "plate": plate}
        known = {"words": words} | same if chosen.get("appliance") else same
        found.of("appliance", body, _one(journal, "appliance", known, chosen) if known else "")
    if words := _text(instrument, "words"):
        accuracy = _text(instrument, "accuracy")
        found.of(
            "instrument", {"words": words, "accuracy": accuracy}, _one(journal, "instrument", {"words": words}, chosen)
        )
    return found
