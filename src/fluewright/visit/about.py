"""What is known of a customer, a site, a space, an appliance, a flue group, a vent or an instrument, for its page."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from fluewright.report.pen import day_words
from fluewright.visit import history, things
from fluewright.visit.letter import counted

if TYPE_CHECKING:
    from sqlalchemy import RowMapping
    from sqlalchemy.engine import Connection

    from fluewright.record.journal import Journal

PAGE = 30
"""Visits on one page of the list."""

MOST = 60
"""Things that one list names."""

SHOWN = ("customer", "site", "space", "appliance", "flue group", "vent", "instrument")
"""Kinds that have a page of their own."""

LISTS: Mapping[str, tuple[tuple[str, str, str], ...]] = {
    "customer": (("site", "Where", "customer"),),
    "site": (("appliance", "What burns here", "site"), ("space", "Rooms", "site"), ("flue group", "Flues", "site")),
    "space": (("appliance", "What burns in it", "space"),),
    "appliance": (("vent", "Its vents", "appliance"),),
    "flue group": (("vent", "Its vents", "group"),),
}
"""What belongs to a kind: its kind, the head of the list, the field that names what it belongs to."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that has a page: its kind, its id, what it is called, and one thing more."""

    kind: str
    id: str
    name: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class Listed:
    """A list on a page: its head, the kind that may be added to it, the field that ties it, and what stands in it."""

    title: str
    kind: str
    field: str
    things: tuple[Thing, ...]


@dataclass(frozen=True, slots=True)
class About:
    """The page of one thing.

    above    what it belongs to
    facts    what is known of it, as (what, how it was said)
    last     when somebody was there, a sentence
    dangers  open notices, the oldest first
    lists    what belongs to it
    visits   of this page, newest first
    count    of all visits
    due      what is to be done, the first first
    years    the history, of an appliance
    """

    thing: Thing
    above: tuple[Thing, ...]
    facts: tuple[tuple[str, str], ...]
    last: str
    dangers: "Sequence[RowMapping]"
    lists: tuple[Listed, ...]
    visits: "Sequence[RowMapping]"
    count: int
    due: "Sequence[RowMapping]"
    years: history.Years | None = None
    retired: bool = False


def name_of(kind: str, body: Mapping[str, Any]) -> str:
    """What a thing is called: the first field of its form."""
    return str(body.get(things.FORMS[kind][0].name, ""))


def thing_of(kind: str, row: "Mapping[str, Any] | RowMapping") -> Thing:
    """A row of a view as something that has a page."""
    body = json.loads(row["body"])
    more = {"appliance": "serial", "customer": "street", "vent": "material", "instrument": "serial"}.get(kind, "")
    words = str(body.get(more, "")) if more else ""
    out = "out of use" if row["retired"] else ""
    return Thing(kind, str(row["id"]), name_of(kind, body), ", ".join(filter(None, (words, out))))


def _above(connection: "Connection", kind: str, body: Mapping[str, Any]) -> tuple[Thing, ...]:
    """What a thing belongs to, the widest first."""
    from fluewright.record.views import shop

    found: list[Thing] = []
    for field in things.PARENTS[kind]:
        of_kind = "flue group" if field == "group" else field
        row = shop.one(connection, of_kind, str(body.get(field, ""))) if body.get(field) else None
        if row is not None:
            upper = _above(connection, of_kind, json.loads(row["body"])) if field in ("site", "appliance") else ()
            found += [*(each for each in upper if each not in found), thing_of(of_kind, row)]
    return tuple(dict.fromkeys(found))


def _facts(kind: str, body: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    typed = things.typed_of(kind, body)
    left_out = {things.FORMS[kind][0].name, "retired", "appliances"}
    return tuple(
        (asked.words, typed[asked.field])
        for asked in things.FORMS[kind]
        if asked.name not in left_out and typed.get(asked.field)
    )


def _where(connection: "Connection", kind: str, id: str, body: Mapping[str, Any]) -> dict[str, Sequence[str]]:
    """Which visits are of a thing."""
    from fluewright.record.views import shop

    if kind in ("customer", "site"):
        return {kind: [id]}
    if kind in ("appliance", "instrument"):
        return {"thing": [id]}
    if kind == "space":
        ids = [str(row["id"]) for row in shop.all_of(connection, "appliance", most=MOST, space=id)]
    elif kind == "flue group":
        ids = [str(each) for each in body.get("appliances", ())]
    else:
        ids = [str(body["appliance"])] if body.get("appliance") else []
    return {"thing": ids or [id]}


def _lists(connection: "Connection", kind: str, id: str, body: Mapping[str, Any]) -> tuple[Listed, ...]:
    from fluewright.record.views import shop

    found = [
        Listed(title, of_kind, field, tuple(
            thing_of(of_kind, row) for row in shop.all_of(connection, of_kind, most=MOST, **{field: id})))
        for of_kind, title, field in LISTS.get(kind, ())
    ]  # fmt: skip
    if kind == "flue group":
        rows = [shop.one(connection, "appliance", str(each)) for each in body.get("appliances", ())]
        held = tuple(thing_of("appliance", row) for row in rows if row is not None)
        found.insert(0, Listed("What hangs on it", "", "", held))
    return tuple(found)


def _last(kind: str, first: str, last: str, count: int) -> str:
    if not count:
        return "No visit was kept with it yet." if kind == "instrument" else "Nobody has kept a visit here yet."
    since = f", {counted(count, 'visit', 'visits')} since {first[:4]}" if count > 1 else ""
    used = "Last used" if kind == "instrument" else "Last visited"
    return f"{used} on {day_words(date.fromisoformat(last))}{since}."


def found(journal: "Journal", kind: str, code: str, *, after: int = 0) -> About:
    """What is known of one thing.

    journal  where it is kept
    kind     one of `SHOWN`
    code     its id, or the last digits of it
    after    how many newer visits are left out
    -> its page; EntryError when it is not here
    """
    from fluewright.record.views import due, shop, visited
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        row = shop.one(connection, kind, code.strip().lower())
        if row is None:
            raise things.not_here(kind, code)
        id, body = str(row["id"]), json.loads(row["body"])
        where = _where(connection, kind, id, body)
        visits = visited.of_these(connection, where, most=PAGE, after=after)
        count = visited.count_of(connection, where)
        return About(
            thing_of(kind, row),
            _above(connection, kind, body),
            _facts(kind, body),
            _last(kind, *visited.days_of(connection, where), count),
            visited.dangers_of(connection, where),
            _lists(connection, kind, id, body),
            visits,
            count,
            due.of_these(connection, kind, [id]) if kind in ("customer", "site", "appliance", "instrument") else (),
            retired=bool(row["retired"]),
        )


def years_of(journal: "Journal", about: About, memory: history.Memory) -> history.Years | None:
    """The history of an appliance, None for anything else; it opens its last visits, and takes the time for it."""
    if about.thing.kind != "appliance" or not about.count:
        return None
    return history.of_appliance(journal, about.thing.id, about.visits, words=about.thing.name, memory=memory)
