"""Customers, sites, spaces, appliances, flue groups, vents and instruments: entered, and amended with a reason."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from fluewright.errors import EntryError, FluewrightError, UseError
from fluewright.quantity import names, parse
from fluewright.record.draft import Draft
from fluewright.record.fold import Current
from fluewright.record.kinds import PLACES
from fluewright.visit import once
from fluewright.visit.as_entries import value_of
from fluewright.visit.place import day_of

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

Sort = Literal["text", "list", "plate", "place", "flag", "days", "ids"]
"""How a field is typed. list: several, with semicolons between. plate, place: a key of that table."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One field of a form.

    name     key in the entry, or in the table of its sort
    words    what it is called
    note     what helps to answer, empty for nothing
    value    registry name, where it is a figure with its unit
    choices  where one of a few words is asked for
    """

    name: str
    words: str
    note: str = ""
    sort: Sort = "text"
    value: str = ""
    choices: tuple[str, ...] = ()

    @property
    def field(self) -> str:
        """Its name in a form."""
        return f"{self.sort}-{self.name}" if self.sort in ("plate", "place") else self.name


CHECKS = ("zero", "closing zero", "leak", "span", "response", "filter", "battery")

FORMS: Mapping[str, tuple[Asked, ...]] = {
    "customer": (
        Asked("name", "name"),
        Asked("street", "street"),
        Asked("phone", "telephone"),
        Asked("email", "e-mail"),
        Asked("reference", "number in your own books"),
        Asked("note", "to know beforehand", "a key under a pot, a dog, a deaf bell"),
    ),
    "site": (
        Asked("address", "where it is"),
        Asked("jurisdiction", "country, or country and state", "such as US-MN; it says which rules speak here"),
        Asked("altitude", "height above sea level", "such as 1200 ft", "place", "altitude"),
        Asked("units", "units here", choices=("", "us", "si")),
        Asked("reference", "number in your own books"),
        Asked("note", "to know beforehand"),
    ),
    "space": (
        Asked("name", "what it is called", "cellar, closet under the stairs, garage"),
        Asked("volume", "its volume", "such as 4380 ft3; never guessed", value="room_volume"),
        Asked("openings", "openings to elsewhere", "several with semicolons between", "list"),
        Asked("fans", "fans that draw from it", "several with semicolons between", "list"),
        Asked("note", "to know beforehand"),
    ),
    "appliance": (
        Asked("words", "the appliance, as you would say it"),
        Asked("class", "class of appliance", "the rules and what is proposed depend on it"),
        Asked("serial", "number on its plate"),
        Asked("input", "input", "such as 120 kBtu/h", "plate", "fuel_input"),
        Asked("output", "output", "such as 96 kBtu/h", "plate", "heat_output"),
        Asked("burner", "burner", "atmospheric, induced draft, premix, oil gun, ...", "plate"),
        Asked("points", "where one measures on it", "several with semicolons between", "list"),
        Asked("retired", "out of use", sort="flag"),
    ),
    "flue group": (
        Asked("words", "what they share", "chimney in the middle of the house"),
        Asked("appliances", "what hangs on it", sort="ids"),
    ),
    "vent": (
        Asked("words", "the vent", "connector, liner, plastic vent to the north wall"),
        Asked("category", "category", "as the appliance's maker says, such as I or IV"),
        Asked("material", "material, with what is printed on it"),
        Asked("marked", "hottest flue gas marked on it", "such as 149 F", value="vent_limit_temperature"),
        Asked("ends", "where it ends", "several with semicolons between", "list"),
    ),
    "instrument": (
        Asked("words", "the instrument, as you would say it"),
        Asked("serial", "its number"),
        Asked("accuracy", "its class", "such as service, statutory, portable; it says how far its figures can err"),
        Asked("made", "cells made, or fitted new", "a day such as 2024-03-01; a cell ages from then on", "days"),
        Asked("retired", "out of use", sort="flag"),
    ),
    "calibration": (
        Asked("day", "day", "such as 2026-11-25", "days"),
        Asked("due", "again by", "the day on its certificate", "days"),
        Asked("by", "by whom"),
        Asked("certificate", "number of the certificate"),
    ),
    "check": (
        Asked("what", "what was checked", choices=CHECKS),
        Asked("result", "what came of it", "such as 0 ppm after 60 s, or stalled, no leak in 30 s"),
        Asked("place", "where", "a zero inside cannot clear a room", choices=("", *PLACES)),
    ),
    "due": (
        Asked("what", "what must be done"),
        Asked("due", "by when", "a day such as 2026-11-25", "days"),
    ),
}
"""What is asked of each kind, in the order in which a person tells it."""

PARENTS: Mapping[str, tuple[str, ...]] = {
    "customer": (),
    "site": ("customer",),
    "space": ("site",),
    "appliance": ("site", "space"),
    "flue group": ("site",),
    "vent": ("appliance", "group"),
    "instrument": (),
    "calibration": ("instrument",),
    "check": ("instrument",),
    "due": ("customer", "site", "appliance", "instrument"),
}
"""To what each belongs, by the field that holds its id."""


def _listed(text: str) -> list[str]:
    return [each.strip() for each in text.split(";") if each.strip()]


def _value(asked: Asked, text: str) -> Any:
    """One field as the journal keeps it; QuantityError where it should be a figure and is none."""
    if asked.sort == "list":
        return _listed(text)
    if asked.sort == "flag":
        return text == "yes"
    if asked.sort == "ids":
        return text.split()
    if asked.sort == "days":
        _need_day(asked.words, text)
    if asked.value:
        quantity = names.named(asked.value)
        typed = parse.parse(text, quantity=quantity)
        return text if asked.sort in ("plate", "place") else value_of(text, typed, quantity.name)
    return text


def _need_day(words: str, text: str) -> None:
    if day_of(text) is None:
        raise UseError(
            code="FW-U-140",
            where=words,
            read=repr(text[:40]),
            expected="a day such as 2026-11-25",
            matters="what is due on no day is never due",
            do="write year, month and day",
        )


def body_of(kind: str, typed: Mapping[str, str]) -> dict[str, Any]:
    """What was typed, as the body of an entry; empty fields are left out.

    kind   of entry
    typed  by the names of the form, and ids of what it belongs to
    -> body; EntryError or QuantityError where something cannot be understood
    """
    body: dict[str, Any] = {name: typed[name] for name in PARENTS[kind] if typed.get(name)}
    for asked in FORMS[kind]:
        text = typed.get(asked.field, "").strip()
        if not text:
            continue
        try:
            value = _value(asked, text)
        except FluewrightError as error:
            error.where = error.where or asked.words
            raise
        if asked.sort in ("plate", "place"):
            body[asked.sort] = {**body.get(asked.sort, {}), asked.name: value}
        elif value not in ("", [], False):
            body[asked.name] = value
    return body


def typed_of(kind: str, body: Mapping[str, Any]) -> dict[str, str]:
    """A kept body as it stands in the form."""
    found = {}
    for asked in FORMS[kind]:
        inside = body.get(asked.sort) if asked.sort in ("plate", "place") else body
        value = inside.get(asked.name) if isinstance(inside, Mapping) else None
        found[asked.field] = _told(value, " " if asked.sort == "ids" else "; ")
    return found


def _told(value: Any, between: str) -> str:
    if isinstance(value, Mapping):
        return str(value.get("typed", ""))
    if isinstance(value, list | tuple):
        return between.join(map(str, value))
    return "yes" if value is True else "" if value in (None, False) else str(value)


def entered(journal: "Journal", kind: str, typed: Mapping[str, str], *, form: str) -> "Entry":
    """Something of the shop kept.

    kind   of entry
    typed  by the names of the form
    form   id under which it was sent: the same sent twice is kept once
    -> the entry; EntryError where what it needs is missing
    """
    body = body_of(kind, typed)
    first = FORMS[kind][0]
    if not body.get(first.name):
        raise EntryError(
            code="FW-J-140",
            where=first.words,
            read="nothing",
            expected=f"{first.words}, so that people can find the {kind} again",
            matters="something without a name is found by nobody",
            do="write it; everything else may wait",
        )
    return journal.add(Draft(kind, body, id=once.derived(form, 0)))


def standing(journal: "Journal", kind: str, id: str) -> Current:
    """Something of the shop as it stands now; EntryError when it is not here."""
    from fluewright.record import amend

    found = amend.standing(journal, id)
    if found is None or found.read.entry.kind != kind or not found.counts:
        raise not_here(kind, id)
    return found


def not_here(kind: str, id: str) -> EntryError:
    """An address that leads to nothing."""
    return EntryError(
        code="FW-J-141",
        read=f"the {kind} {id[:40]!r}",
        expected=f"a {kind} of this journal that was not struck out",
        matters="a page of another would show somebody else's readings",
        do="find it by its words",
    )


def amended(journal: "Journal", kind: str, id: str, typed: Mapping[str, str], *, because: str) -> "Sequence[Entry]":
    """Other words for something of the shop; the old stay to be seen.

    because  why; never empty
    -> the amendment; none where nothing differs, as when the same form comes a second time
    """
    from fluewright.record import amend

    old, new = standing(journal, kind, id).body, body_of(kind, typed)
    named = {asked.sort if asked.sort in ("plate", "place") else asked.name for asked in FORMS[kind]}
    for table in ("plate", "place"):
        if table in named and isinstance(old.get(table), Mapping):
            known = {asked.name for asked in FORMS[kind] if asked.sort == table}
            rest = {key: value for key, value in old[table].items() if key not in known}
            new[table] = {**rest, **new.get(table, {})}
    fields = {name: new.get(name) for name in sorted(named) if not _same(old.get(name), new.get(name))}
    if not fields:
        return ()
    return (amend.amended(journal, id, fields, because=because),)


def _same(old: Any, new: Any) -> bool:
    def plain(value: Any) -> Any:
        if isinstance(value, Mapping):
            return value.get("typed") or dict(value)
        return list(value) if isinstance(value, list | tuple) else value

    return (plain(old) or None) == (plain(new) or None)
